"""What a remedy does to a vehicle, and how that is put on another one without making its rig."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import isfinite
from typing import Final

import numpy as np

from sim.frames import FloatArray
from sim.vehicle import Slip, TravelRegion, Vehicle

Added = Callable[[Vehicle, Vehicle, Vehicle], Vehicle | None]
"""The effect that a vehicle as it was (second) and with the remedy (third) show, put on the first;
None where that takes a rig."""


@dataclass(frozen=True)
class Effect:
    """What a remedy does to a vehicle.

    Attributes
    ----------
    effort : of putting it on another one; of two remedies the lesser is put on the other.
    added : puts it there.
    """

    effort: int
    added: Added


def _less_travel(vehicle: Vehicle, _was: Vehicle, now: Vehicle) -> Vehicle:
    """Less of the travel: each remedy takes some away."""
    return replace(vehicle, travel=_both(vehicle.travel, now.travel))


def _slip_set(vehicle: Vehicle, was: Vehicle, now: Vehicle) -> Vehicle | None:
    """More or less left in the slip."""
    if was.slip.at == "output":
        return None  # the joint slides along
    return _slipped(vehicle, now.slip.closes - was.slip.closes, now.slip.opens - was.slip.opens)


def _output_moved(vehicle: Vehicle, was: Vehicle, now: Vehicle) -> Vehicle | None:
    """The output moved, with a shaft made anew."""
    if vehicle.still or was.slip.at == "output":
        return None  # a front section goes along, or the joint slides
    return replace(vehicle, p_C_output=vehicle.p_C_output + (now.p_C_output - was.p_C_output))


def _same_shaft_moved(vehicle: Vehicle, was: Vehicle, now: Vehicle) -> Vehicle | None:
    """The output moved, with the same shaft in it: the slip sits elsewhere."""
    moved = _output_moved(vehicle, was, now)
    if moved is None:
        return None
    longer = _length(moved.p_C_output, moved) - _length(vehicle.p_C_output, vehicle)
    return _slipped(moved, longer, -longer)


SLIP: Final = Effect(0, _slip_set)
TRAVEL: Final = Effect(1, _less_travel)
OUTPUT: Final = Effect(2, _output_moved)
SAME_SHAFT: Final = Effect(3, _same_shaft_moved)
LINE: Final = Effect(4, lambda _vehicle, _was, _now: None)
"""Anything else of where the shaft runs, or other joints: always takes a rig."""


def _both(one: TravelRegion, other: TravelRegion) -> TravelRegion:
    """The travel that two remedies leave, each of which takes some away."""
    return replace(
        one,
        bump=min(one.bump, other.bump),
        droop=min(one.droop, other.droop),
        roll=min(one.roll, other.roll),
        nose_up=min(one.nose_up, other.nose_up),
        nose_down=min(one.nose_down, other.nose_down),
        wrap_at_droop=max(one.wrap_at_droop, other.wrap_at_droop),
    )


def _length(p_C_output: FloatArray, vehicle: Vehicle) -> float:
    """Distance of the joints at ride height, mm."""
    return float(np.linalg.norm(vehicle.p_A_pinion - p_C_output))


def _slipped(vehicle: Vehicle, closes: float, opens: float) -> Vehicle:
    """A vehicle whose slip has this much more left, mm."""
    slip = vehicle.slip
    left = _more(slip.closes, closes), _more(slip.opens, opens)
    return replace(vehicle, slip=Slip(slip.at, *left))


def _more(has: float, by: float) -> float:
    """What a slip has after a change; what nobody measured stays unknown."""
    return max(0.0, has + by) if isfinite(has) else has
