"""The bridge of an outer yoke: its ears go on past the cross and meet in front of it.

A bar with broken edges is ruled between sections across it, from inside one ear over the cross to
inside the other; what it carries, ball or socket, stands on its middle.
"""

from __future__ import annotations

from dataclasses import dataclass

from geometry.facets import rounded_rectangle
from geometry.mesh import Floats
from geometry.solids import Solid, loft
from geometry.yoke.earwork import BEVEL
from geometry.yoke.round_ear import RoundEarShape

FOOT = 0.7
"""How far into an ear, as a part of its thickness inside of the bevel, the bar reaches."""

WALL = 1.5
"""Metal, mm, between the bar's feet and the bores."""

HAUNCH = 0.05
"""How far the bar's shoulders stand out past the ends of the ears, as a part of their radius."""

FLAT = 0.4
"""Where the bar turns straight across, as a part of the way from the middle to the ears."""

EDGE_SHARE = 0.3
"""Width of the bevel on the bar's edges against its thickness."""


@dataclass(frozen=True)
class Bridge:
    """Dimensions of a bridge, mm.

    at : from the cross centre to the bar's face on the cross's side.
    thickness : of the bar in the middle.
    width : of the bar, square to the bores.
    """

    at: float
    thickness: float
    width: float

    @property
    def far(self) -> float:
        """From the cross centre to the bar's face toward the middle of the head, mm."""
        return self.at + self.thickness

    def bar(self, yoke: RoundEarShape) -> Solid:
        """Return the bar for this yoke, in its yoke frame, where it lies at negative x."""
        inside = 0.5 * yoke.inside_span
        foot = inside + FOOT * (yoke.ear_thickness - yoke.ear_edge)
        wall = 0.5 * yoke.bore + WALL
        shoulder = (1.0 + HAUNCH) * yoke.ear_radius
        half = [
            (FLAT * inside, self.at, self.far),
            (inside, wall, max(shoulder, wall + 0.5 * self.thickness)),
            (foot, wall, max(yoke.ear_radius, wall + 1.0)),
        ]
        stations = [(-y, near, far) for y, near, far in reversed(half)] + half
        return loft([(y, self._outline(near, far)) for y, near, far in stations], "y", "bridge")

    def _outline(self, near: float, far: float) -> Floats:
        """Return the corners, (n, 2) mm in z and x, of the bar's section between two places."""
        edge = EDGE_SHARE * min(far - near, self.thickness)
        flat = rounded_rectangle(0.5 * self.width, 0.5 * (far - near), edge, BEVEL)
        return flat - [0.0, 0.5 * (near + far)]
