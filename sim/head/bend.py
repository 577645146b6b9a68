"""The double-Cardan head: two crosses, a center yoke and a centring ball.

One outer yoke carries a ball on its own axis, `ball` beyond its cross; the other outer yoke's
axis passes through that ball and may slide on it. The center yoke holds the two crosses `span`
apart. So the two shaft axes meet in the ball, and the head bends there like one joint; how the
bend splits between the two crosses follows from the triangle of the first cross, the ball and
the second cross:

    tan(second) = ball sin(first) / (span - ball cos(first)),    first + second = bend,

and, since the shaft axes meet in the ball under that bend, by the rule of sines

    sin(second) = ball sin(bend) / span.

The halves are equal at one bend only, where 2 ball cos(bend / 2) = span (and when straight); that
is what a maker picks `ball` for. Own derivation (docs/theory.md, "The double-Cardan head").
"""

from dataclasses import dataclass
from math import degrees, isfinite

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.errors import BindpointError
from sim.front_section import shaft_drives

Array = NDArray[np.float64]


class HeadError(BindpointError, ValueError):
    """A head whose dimensions cannot be."""


@dataclass(frozen=True)
class Split:
    """How a head's bend divides, batch first.

    Attributes
    ----------
    fixed : (...) rad, bend at the cross of the yoke that carries the ball.
    sliding : (...) rad, bend at the other cross.
    reach : (...) mm, from the ball to the other cross, along the sliding axis.
    """

    fixed: Array
    sliding: Array
    reach: Array

    def ordered(self, carrying_drives: bool) -> tuple[Array, Array]:
        """Bend (...) at the cross nearer the engine and at the other one, rad."""
        first, second = self.fixed, self.sliding
        return (first, second) if carrying_drives else (second, first)


@dataclass(frozen=True)
class Head:
    """A double-Cardan head.

    Attributes
    ----------
    span : mm, between the two crosses.
    ball : mm, from the cross of the yoke that carries the ball to the ball's centre.
    limit : rad, bend at which the ball and socket run out of travel.
    """

    span: float
    ball: float
    limit: float

    def __post_init__(self) -> None:
        if not (isfinite(self.span) and self.span > 0.0):
            raise HeadError(f"head span: got {self.span} mm, expected a length above zero")
        if not 0.35 * self.span < self.ball < 0.65 * self.span:
            raise HeadError(
                f"head ball: got {self.ball:g} mm from the cross, expected about half of the "
                f"span of {self.span:g} mm"
            )
        if not 0.0 < self.limit < 1.2:
            raise HeadError(
                f"head limit: got {degrees(self.limit):g} deg, expected above 0 and under 69 deg"
            )

    def split(self, bend: ArrayLike) -> Split:
        """Divide the head's bend (rad) between its crosses."""
        total = np.asarray(bend, dtype=np.float64)
        second = np.arcsin(self.ball * np.sin(total) / self.span)
        first = total - second
        reach = np.sqrt(self.span**2 + self.ball**2 - 2.0 * self.span * self.ball * np.cos(first))
        return Split(np.asarray(first), np.asarray(second), np.asarray(reach))


def carrying_drives(joint: str) -> bool:
    """Whether the yoke with the ball, on the vehicle's side, is the one nearer the engine."""
    return not shaft_drives(joint)


def ball_of(head: Head | None) -> float:
    """From the cross of the yoke on the vehicle to the joint's centre, mm; 0 without a head."""
    return 0.0 if head is None else head.ball


def reach_of(head: Head | None, bend: ArrayLike) -> Array:
    """From the joint's centre to the shaft's own cross (...), mm; 0 without a head."""
    return np.zeros(np.shape(bend)) if head is None else head.split(bend).reach
