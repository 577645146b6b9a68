"""A pose of the axle as a shop says it."""

from collections.abc import Iterator
from math import radians

from sim.vehicle import Pose
from viewer.words.units import format_angle, format_fraction


def pose_words(at: Pose) -> str:
    """A pose as a shop says it: "6 5/16 in droop, 4 deg nose down"."""
    words = [travel_words(at.travel)]
    if abs(at.roll) > LEVEL:
        side = "left" if at.roll > 0.0 else "right"
        words.append(f"crossed up {format_angle(abs(at.roll))} ({side} wheel up)")
    if abs(at.wrap) > LEVEL:
        words.append(f"{format_angle(abs(at.wrap))} nose {'up' if at.wrap > 0.0 else 'down'}")
    return ", ".join(words)


def travel_words(travel: float) -> str:
    """Axle height as a shop says it: "6 5/16 in droop", "ride height"."""
    if abs(travel) < _AT_RIDE:
        return "ride height"
    return f"{format_fraction(abs(travel))} {'bump' if travel > 0.0 else 'droop'}"


def ways(at: Pose) -> Iterator[str]:
    """How the axle stands besides its height, without numbers."""
    if abs(at.roll) > LEVEL:
        yield "crossed up"
    if abs(at.wrap) > LEVEL:
        yield f"nose {'up' if at.wrap > 0.0 else 'down'}"


_AT_RIDE = 0.4
"""mm. Less than 1/64 in from ride height is ride height."""


LEVEL = radians(0.05)
"""Angles below this print as 0.0 deg."""
