"""How far a head bends before its ball and socket run out of travel.

The ball, of radius R, sits on a stalk of radius s in a straight bore of radius R whose mouth lies
m beyond the ball's centre. Seen from that centre the rim of the mouth stands at the angle
atan(R / m) from the socket's axis and at the distance sqrt(R^2 + m^2), so the stalk meets it at

    bend = atan(R / m) - asin(s / sqrt(R^2 + m^2)).

As the head bends the ball is drawn toward the mouth: m = mouth - reach, with the reach of the
head's triangle. Where m comes to nothing first, the ball leaves its bore. Own derivation,
compared with the distance of the meshes in the tests.
"""

from dataclasses import dataclass
from math import asin, atan2, hypot, radians

from geometry.head.triangle import Triangle
from geometry.seeking import edge

STEPS = 1200
"""Steps of the bend at the carrying cross, of 0.05 deg. The ball drawn toward the mouth gives the
stalk room again, so what is wanted is the first place where it runs out, not any."""

HALVINGS = 50
"""Bisections of the step in which it runs out: to the last digit."""

MOST = radians(60.0)
"""Bend of the carrying cross at which the search ends; no head comes near."""


@dataclass(frozen=True)
class BallAndSocket:
    """The centring of a head, mm.

    span : between the two crosses.
    ball : from the carrying cross to the ball's centre.
    ball_radius : of the ball and of the socket's bore.
    stalk_radius : of the stalk behind the ball.
    mouth : from the sliding cross to the mouth of the socket.
    """

    span: float
    ball: float
    ball_radius: float
    stalk_radius: float
    mouth: float

    @property
    def limit(self) -> float:
        """Bend (rad) of the head at which the stalk meets the rim or the ball leaves its bore."""
        low, high = 0.0, MOST / STEPS
        while high < MOST and self._free(high):
            low, high = high, high + MOST / STEPS
        low, _ = edge(self._free, low, high, halvings=HALVINGS)
        return Triangle.of(self.span, self.ball, low).bend

    def _free(self, carrying: float) -> bool:
        return self.room(Triangle.of(self.span, self.ball, carrying)) > 0.0

    def room(self, bent: Triangle) -> float:
        """Bend (rad) left to the stalk in this state; zero or less where the travel is used up."""
        hold = self.mouth - bent.reach
        if hold <= 0.0:
            return 0.0
        rim = hypot(self.ball_radius, hold)
        return atan2(self.ball_radius, hold) - asin(self.stalk_radius / rim) - bent.bend
