"""How often a vehicle pulls, by what it is used for: a guess, said to be one."""

from dataclasses import dataclass
from typing import get_args

from geometry.errors import BindpointError
from sim.overload.steel import fatigue_data
from sim.seen.words import Use


class DutyError(BindpointError, ValueError):
    """A use that is not known."""


@dataclass(frozen=True)
class Duty:
    """Pulls of a vehicle's ordinary days.

    Attributes
    ----------
    pulls : each as a share of the hardest pull while tires can slip, and how many of them a mile.
    wedged : how many a mile with a tire that cannot slip.
    coast : torque that comes back off the throttle, over the pull before.
    turns : of the shaft while it pulls.
    off : times as many of all or as few it may be as well. source : where this is from.
    """

    pulls: tuple[tuple[float, float], ...]
    wedged: float
    coast: float
    turns: int
    off: float
    source: str


def duty(use: str) -> Duty:
    """Pulls of a use. Raises DutyError for one that is not known."""
    legal = get_args(Use)
    if use not in legal:
        raise DutyError(f"use: got {use!r}, expected one of {', '.join(legal)}")
    data = fatigue_data()["use"]
    found = data[use]
    pulls = tuple((float(share), float(count)) for share, count in found["pulls"])
    return Duty(pulls, found["wedged"], found["coast"], found["turns"], data["off"], data["source"])
