"""Cycles of a torque that goes up and down, counted by rainflow.

The `rainflow` package counts as the standard's text does, half cycles told as such, each with its
mean, which the steel asks for; it is pure Python and needs nothing else. `fatpack`, the other one
that is kept, sorts stress into classes and leaves what does not close to its caller; the tests hold
one to the other.
"""

from collections.abc import Sequence
from math import cos
from typing import NamedTuple

import rainflow


class Cycle(NamedTuple):
    """Cycles alike."""

    span: float
    """From the least to the greatest."""
    mean: float
    number: float
    """1, or 1/2 for one way only."""


def cycles(series: Sequence[float]) -> tuple[Cycle, ...]:
    """Count the cycles of a history [ASTM-E1049, from memory]."""
    points = list(series)
    # The library drops a history of one single way; a point said twice changes no other count.
    found = rainflow.extract_cycles([*points, *points[-1:]])
    return tuple(Cycle(span, mean, part) for span, mean, part, *_ in found if span > 0.0)


def pull(torque: float, bend: float, coast: float, turns: int) -> tuple[Cycle, ...]:
    """Cycles of one pull and the coast after it, as the cross feels them.

    A joint bent by b passes T at one spin and T/cos b a quarter turn later, so the torque on a
    trunnion ripples between the two, twice a turn; off the throttle it comes back to -coast T,
    and the next pull closes the cycle. torque : N mm.
    """
    peak = torque / cos(bend)
    ripple = [peak, torque] * (2 * turns) if turns else []
    return cycles([*ripple, peak, -coast * peak, peak])
