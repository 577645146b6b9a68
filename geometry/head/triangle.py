"""The triangle of a bent head: the cross of the yoke that carries the ball, the ball, the other.

The center yoke holds the crosses `span` apart, the ball stays `ball` from its own cross. With the
first angle at the carrying cross, plane trigonometry gives everything else. `sim.head.bend` solves
the same triangle the other way round, from the whole bend.
"""

from dataclasses import dataclass
from math import atan2, cos, hypot, sin


@dataclass(frozen=True)
class Triangle:
    """A bent head, rad and mm.

    carrying, sliding : bend at the cross of the ball's yoke and at that of the socket's.
    reach : from the sliding cross to the ball, along the socket's axis.
    """

    carrying: float
    sliding: float
    reach: float

    @classmethod
    def of(cls, span: float, ball: float, carrying: float) -> "Triangle":
        """Solve the triangle from the bend at the carrying cross (rad); lengths in mm."""
        across, along = ball * sin(carrying), span - ball * cos(carrying)
        return cls(carrying, atan2(across, along), hypot(across, along))

    @property
    def bend(self) -> float:
        """Bend of the whole head, rad."""
        return self.carrying + self.sliding
