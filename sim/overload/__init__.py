"""Whether a joint was too small: peak torque, hard pulls until it cracks, play, bind as a lever."""

from sim.overload.band import Band
from sim.overload.duty import Duty, DutyError, duty
from sim.overload.how import HowFailed, When, how_failed
from sim.overload.knock import Knock, KnockError, Train
from sim.overload.lever import Lever
from sim.overload.overload import overload
from sim.overload.pulls import Pulls
from sim.overload.result import AtBend, Overload

__all__ = [
    "AtBend",
    "Band",
    "Duty",
    "DutyError",
    "HowFailed",
    "Knock",
    "KnockError",
    "Lever",
    "Overload",
    "Pulls",
    "Train",
    "When",
    "duty",
    "how_failed",
    "overload",
]
