"""What the bridges carry: the ball on its stalk, and the socket it slides in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, pi

import numpy as np

from geometry.facets import facets_around
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, turned
from geometry.tolerances import TOL
from geometry.yoke.base import CLEAR

FLOOR_PLAY = 1.0
"""mm between the ball and the bottom of its bore when the head is straight."""

BALL_GAP = 0.48 * TOL.chord
"""Largest gap, mm, of the ball's facets each way; along and around they add up."""


@dataclass(frozen=True)
class Ball:
    """A ball on a stalk, at negative x in the frame of the yoke that carries it; mm.

    root : from the cross centre to where the stalk leaves the bridge.
    centre : from the cross centre to the ball's centre.
    radius, stalk_radius : of the ball and of the stalk.
    """

    root: float
    centre: float
    radius: float
    stalk_radius: float

    def outside(self) -> Solid:
        """Return what of it can touch: the stalk, from inside the bridge into the ball."""
        return cylinder("x", self.stalk_radius, -self.centre, 1.0 - self.root, "stalk")

    def hollowed(self, body: Solid) -> Solid:
        """Return the body of its yoke, which it leaves as it is."""
        return body

    def shown(self) -> dict[str, Mesh]:
        """Return its parts to show."""
        return {"stalk": self.outside().mesh(), "ball": self._ball().mesh()}

    def _ball(self) -> Solid:
        facets = facets_around(self.radius, gap=BALL_GAP)
        step = 2.0 * pi / facets
        angle = step * (np.arange(facets // 2) + 0.5)
        size = self.radius / cos(0.5 * step)
        bulge = np.stack([size * np.cos(angle), size * np.sin(angle)], axis=1)
        ends = size * cos(0.5 * step)
        profile = np.vstack([[-ends, 0.0], [ends, 0.0], bulge]) - [self.centre, 0.0]
        body = turned(profile, "x", "ball", facets=facets)
        # A corner stands out both along and around.
        chord = self.radius * (1.0 / cos(0.5 * step) ** 2 - 1.0)
        return replace(body, chord=chord)


@dataclass(frozen=True)
class Socket:
    """A socket, at negative x in the frame of the yoke that slides on the ball; mm.

    root : from the cross centre to where the socket leaves the bridge.
    floor : from the cross centre to the bottom of the bore.
    mouth : from the cross centre to the mouth of the bore.
    bore_radius, radius : of the bore and of the outside.
    """

    root: float
    floor: float
    mouth: float
    bore_radius: float
    radius: float

    def outside(self) -> Solid:
        """Return what of it can touch: the socket without its bore."""
        return cylinder("x", self.radius, -self.mouth, 1.0 - self.root, "socket")

    def hollowed(self, body: Solid) -> Solid:
        """Return the body of its yoke with the bore cut into it."""
        return body.cut(self._bore())

    def shown(self) -> dict[str, Mesh]:
        """Return its parts to show."""
        return {"socket": self.outside().cut(self._bore()).mesh()}

    def _bore(self) -> Solid:
        ends = -self.mouth - CLEAR, -self.floor
        return cylinder("x", self.bore_radius, *ends, "socket bore", hole=True)
