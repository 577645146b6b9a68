"""The center yoke of a head: a pair of ears at either end and a ring with a window between them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import sqrt
from typing import ClassVar

import numpy as np

from geometry.dimensions import length
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder
from geometry.yoke.base import CLEAR, LEAST_METAL, Yoke
from geometry.yoke.earwork import Section, ruled
from geometry.yoke.reading import Reading
from geometry.yoke.round_ear import RoundEarShape

RING_CORNER = 0.45
"""Corner radius of the ring against half of its width; a forging has no sharp corners."""

RING_LAND = 0.14
"""How much of the span the ring keeps its full section, before the ears grow out of it."""

HALF_TURN_Y = ((-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))
"""Turns the frame of one cross into that of the other, but for the span."""


@dataclass(frozen=True, kw_only=True)
class CentreYoke(RoundEarShape):
    """Dimensions of a center yoke, mm; both ends are alike.

    Built in its yoke frame at one cross, x toward the other; by symmetry the same mesh serves in
    its frame at the other cross.
    """

    kind: ClassVar[str] = "center yoke"

    span: float = length("between the two cross centers")
    ring_width: float = length("across the ring in the middle, square to the bores")
    window_diameter: float = length("the hole in the ring, for ball and socket")

    def __post_init__(self) -> None:
        super().__post_init__()
        self.require(
            self.window_diameter <= self.inside_span,
            "{window_diameter} cuts into ears of {inside_span}",
        )
        self.require(
            self.window_diameter + 2.0 * LEAST_METAL <= self.ring_width,
            "{window_diameter} leaves less than {least:g} mm of ring on either side in "
            "a {ring_width:of}",
            least=LEAST_METAL,
        )
        self.require(
            0.5 * self.window_diameter < self.saddle_radius,
            "{window_diameter} is wider than the saddle of {saddle_radius}",
        )
        self.require(
            self.ring_thickness >= LEAST_METAL,
            "{throat_depth} from either cross leaves a ring {left:.1f} mm thick in "
            "a {span:of}; expected {least:g} mm or more",
            left=self.ring_thickness,
            least=LEAST_METAL,
        )
        self.require_arms(self.roots())

    @property
    def ring_thickness(self) -> float:
        """Metal between the two throats at the sides of the window, mm."""
        across = 0.5 * self.window_diameter
        fall = self.saddle_radius - sqrt(self.saddle_radius**2 - across**2)
        return self.span - 2.0 * (self.throat_depth + fall)

    def neck(self) -> Section:
        """Return the section of the ring where the ears grow out of it."""
        return self._ring(0.5 * (1.0 - RING_LAND) * self.span)

    def roots(self) -> list[Section]:
        """Return the sections from the roots of the ears to the ring: every other one will do."""
        return super().roots()[::2]

    def readings(self) -> tuple[Reading, ...]:
        """It is measured with its head."""
        return ()

    def build(self) -> Yoke:
        """Return the center yoke; it has caps at both ends."""
        near = Solid.union(self.forged())
        ring = ruled([self.neck(), self._ring(self.span - self.neck().x)], "ear root")
        throat = self.throat(self.ear_radius + CLEAR)
        cut = Solid.union([near, self._other_end(near), *ring]).cut(
            throat, self._other_end(throat), self._window()
        )
        # What of a cap is within its ear touches nothing.
        caps = Solid.union(self.caps(0.5 * self.inside_span + CLEAR))
        bores = self.bores()
        contact = Solid.union([cut, caps, self._other_end(caps)])
        body = cut.cut(bores, self._other_end(bores))
        parts = {name: self._both_ends(mesh) for name, mesh in self.cap_parts().items()}
        return self.made(contact, body, parts)

    def one_mesh(self, solid: Solid) -> Mesh:
        """Return the mesh with the ring named: the floor of both throats and what is between."""
        mesh = super().one_mesh(solid)
        x = mesh.triangles.mean(axis=1)[:, 0]
        middle = (x > self.throat_depth) & (x < self.span - self.throat_depth)
        ring = mesh.on("throat") | (mesh.on("ear root") & middle)
        names = ("ring" if name == "throat" else name for name in mesh.label_names)
        labels = np.where(ring, mesh.label_names.index("throat"), mesh.labels)
        return replace(mesh, labels=labels, label_names=tuple(names))

    def _ring(self, x: float) -> Section:
        half_y, half_z = 0.5 * self.outside_span, 0.5 * self.ring_width
        return Section(x, half_y, half_z, RING_CORNER * min(half_y, half_z))

    def _window(self) -> Solid:
        ends = self.throat_depth - self.throat_radius, self.span
        return cylinder("x", 0.5 * self.window_diameter, *ends, "window", hole=True)

    def _other_end(self, solid: Solid) -> Solid:
        return Solid.from_mesh(solid.mesh().moved(HALF_TURN_Y, (self.span, 0.0, 0.0)))

    def _both_ends(self, mesh: Mesh) -> Mesh:
        return Mesh.join([mesh, mesh.moved(HALF_TURN_Y, (self.span, 0.0, 0.0))])
