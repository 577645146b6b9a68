"""The tube of a shaft with its two weld beads, to show and to keep clear of other things.

Tube frame: origin where one end of the tube seats, x along the tube.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi

import numpy as np

from geometry.built import Built
from geometry.dimensions import Shape, length
from geometry.facets import circle
from geometry.mesh import Floats, Mesh
from geometry.solids import cylinder

RIPPLE = 3.0
"""Pitch of the ripples of a weld bead, mm; about what a wire-fed bead shows, from memory."""

RIPPLE_STEPS = 2
"""Stations to a ripple."""


@dataclass(frozen=True, eq=False)
class Tube(Built):
    """A built tube.

    contact : one closed solid around everything of it that can touch
    parts : the pieces to draw, by name ("tube", "weld beads")
    dimensions : what it was built from, mm
    """

    contact: Mesh
    parts: Mapping[str, Mesh]
    dimensions: Mapping[str, float]


@dataclass(frozen=True, kw_only=True)
class TubeShape(Shape):
    """Dimensions of a tube, mm.

    Raises ShapeError, naming the dimensions that clash, when they make no tube.
    """

    outside: float = length("outside diameter")
    wall: float = length("wall thickness")
    cut_length: float = length("between its two ends, which is what is cut")
    weld_bead: float = length("width of a weld bead along the tube")

    def __post_init__(self) -> None:
        self.check()
        self.require(
            self.wall < 0.5 * self.outside,
            "{wall} is more than half of the outside diameter of {outside:g} mm",
        )
        self.require(
            self.weld_bead < self.cut_length,
            "{weld_bead} is wider than the {cut_length:of}",
        )

    def build(self) -> Tube:
        """Return the tube with a bead over each end."""
        radius = 0.5 * self.outside
        solid = cylinder("x", radius, 0.0, self.cut_length, "tube")
        bore = cylinder(
            "x", radius - self.wall, -1.0, self.cut_length + 1.0, "tube bore", hole=True
        )
        beads = [weld_bead(radius, self.weld_bead, at) for at in (0.0, self.cut_length)]
        return Tube(
            solid.mesh(),
            {"tube": solid.cut(bore).mesh(), "weld beads": Mesh.join(beads)},
            self.dimensions(),
        )


def weld_bead(radius: float, width: float, at: float) -> Mesh:
    """Return a rippled weld bead round a tube of `radius`, its middle at x = `at`; mm."""
    ripples = max(12, round(2.0 * pi * radius / RIPPLE))
    around = 2.0 * pi * np.arange(ripples * RIPPLE_STEPS) / (ripples * RIPPLE_STEPS)
    wave = 1.0 - 0.16 * np.abs(np.cos(0.5 * ripples * around))
    half = 0.5 * width
    cap = circle(1.0, facets=12)
    crown = cap[cap[:, 1] > 0.0]
    profile: Floats = np.concatenate([[[half, -0.3]], crown * [half, 0.5], [[-half, -0.3]]])
    lift = np.where(profile[:, 1] > 0.0, profile[:, 1], 0.0)
    sink = np.where(profile[:, 1] < 0.0, profile[:, 1] * half, 0.0)
    size = radius + sink + half * lift * wave[:, None]
    ring = np.stack(
        [
            np.broadcast_to(at + profile[:, 0], size.shape),
            size * np.cos(around)[:, None],
            size * np.sin(around)[:, None],
        ],
        axis=-1,
    )
    return Mesh.uniform(ring.reshape(-1, 3), _ring_faces(*size.shape), "weld bead")


def _ring_faces(rows: int, columns: int) -> np.ndarray[tuple[int, int], np.dtype[np.int64]]:
    """Return the faces of a closed ring of closed profiles."""
    row, column = np.meshgrid(np.arange(rows), np.arange(columns), indexing="ij")
    here = row * columns + column
    aside = row * columns + (column + 1) % columns
    after = (row + 1) % rows * columns + column
    across = (row + 1) % rows * columns + (column + 1) % columns
    faces = [np.stack([here, aside, across], -1), np.stack([here, across, after], -1)]
    return np.concatenate([face.reshape(-1, 3) for face in faces])
