"""Whether a joint was too small: peak torque, hard pulls until it cracks, play, bind as a lever."""

from sim.overload.band import Band
from sim.overload.duty import Duty, DutyError, UseCode, duty
from sim.overload.knock import Knock, KnockError, Train
from sim.overload.lever import Lever
from sim.overload.overload import overload
from sim.overload.pulls import Pulls, repeats
from sim.overload.result import AtBend, Overload, Told, When

__all__ = [
    "AtBend",
    "Band",
    "Duty",
    "DutyError",
    "Knock",
    "KnockError",
    "Lever",
    "Overload",
    "Pulls",
    "Told",
    "Train",
    "UseCode",
    "When",
    "duty",
    "overload",
    "repeats",
]
