"""The slip in a shaft: a splined stub that slides in a sleeve, under a boot. Only to show.

Both halves have their origin where their tube seats and x toward the other half, so one of them
is turned round to put the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi

import numpy as np

from geometry.built import Built
from geometry.dimensions import Shape, count, length
from geometry.mesh import Floats, Mesh
from geometry.solids import Solid, turned
from geometry.spline import spline_hole, spline_shaft

CONE = 18.0
"""How far, mm, a half runs from the tube's diameter down to its own (generic, from memory)."""

BOOT_WALL = 1.5
"""Rubber of the boot, mm."""

CLAMP_WIDTH = 6.0
"""A boot clamp, mm."""

CLAMP_HEIGHT = 1.2
"""How far a boot clamp stands off the boot, mm."""

FOLD = 9.0
"""Length of a fold of the boot at rest, mm."""


@dataclass(frozen=True, eq=False)
class Slip(Built):
    """A built slip: two halves that slide and the boot's own shape.

    name : what it is
    sleeve : the outer half, in its own frame
    stub : the inner half, in its own frame
    shape : the dimensions it was built from, which also place the halves
    """

    name: str
    sleeve: Mesh
    stub: Mesh
    shape: SlipShape
    dimensions: Mapping[str, float]


@dataclass(frozen=True, kw_only=True)
class SlipShape(Shape):
    """Dimensions of a slip, mm.

    Raises ShapeError, naming the dimensions that clash, when they make no sound slip.
    """

    name: str

    tube_diameter: float = length("outside of the tube on either half")
    shoulder: float = length("the full round of a half, in front of its weld")
    pilot_diameter: float = length("the press fit inside the tube")
    pilot_length: float = length("how far the press fit goes into the tube")
    spline_diameter: float = length("the stub over its teeth")
    spline_teeth: float = count("teeth of the spline")
    spline_length: float = length("the splined part of the stub")
    neck_length: float = length("the smooth part of the stub between its cone and the spline")
    sleeve_diameter: float = length("outside of the sleeve")
    sleeve_depth: float = length("how deep the spline goes in before it bottoms")
    boot_diameter: float = length("outside of the boot over its folds")

    def __post_init__(self) -> None:
        self.check()
        self.require(
            self.spline_diameter + 4.0 <= self.sleeve_diameter,
            "{spline_diameter} leaves less than 2 mm of wall in a {sleeve_diameter:of}",
        )
        self.require(
            self.sleeve_diameter + 4.0 <= self.boot_diameter,
            "{boot_diameter} does not go over a {sleeve_diameter:of} with 2 mm to spare",
        )
        self.require(
            2.0 < self.pilot_diameter < self.tube_diameter,
            "{pilot_diameter} does not go into a tube of {tube_diameter}",
        )
        self.require(
            self.spline_teeth >= 6,
            "{spline_teeth:is}; expected 6 or more",
        )
        self.require(
            self.spline_length + self.neck_length > self.sleeve_depth,
            "{spline_length} and {neck_length} cannot reach the bottom of a {sleeve_depth:of}",
        )

    @property
    def sleeve_length(self) -> float:
        """From the sleeve's weld land to its mouth, mm."""
        return self.shoulder + CONE + self.sleeve_depth

    @property
    def stub_length(self) -> float:
        """From the stub's weld land to the end of its spline, mm."""
        return self.shoulder + CONE + self.neck_length + self.spline_length

    def between_lands(self, engaged: float) -> float:
        """Return the distance between the two weld lands with `engaged` mm of spline inside."""
        return self.sleeve_length + self.stub_length - engaged

    def sleeve_profile(self) -> Floats:
        """Return the outside of the sleeve, (n, 2) mm along and off its axis from its weld land."""
        return self._profile(self.sleeve_length, 0.5 * self.sleeve_diameter)

    def stub_profile(self) -> Floats:
        """Return the outside of the stub over its teeth, likewise."""
        start, teeth = self._teeth_start, 0.5 * self.spline_diameter
        spline = [[start, teeth], [self.stub_length, teeth]]
        return np.vstack([self._profile(start, 0.42 * self.spline_diameter), spline])

    @property
    def _teeth_start(self) -> float:
        """Where the teeth of the stub begin, mm from its weld land; they run into its neck."""
        return self.shoulder + CONE + self.neck_length - 1.0

    @property
    def boot_ends(self) -> tuple[float, float]:
        """Where the boot ends: mm from the sleeve's weld land, and from the stub's."""
        return self.sleeve_length - 2.0 * CLAMP_WIDTH, self.shoulder + CONE

    @property
    def fold_radii(self) -> tuple[float, float]:
        """Radius over the boot's folds beside its clamps, on sleeve and stub, mm."""
        (near, far), crest = self._boot_seats, 0.5 * self.boot_diameter
        return crest, max(far + 0.6 * (crest - near), far + BOOT_WALL)

    @property
    def clamp_radii(self) -> tuple[float, float]:
        """Radius over the boot's clamps at the sleeve's end and at the stub's, mm."""
        near, far = self._boot_seats
        return near + BOOT_WALL + CLAMP_HEIGHT, far + BOOT_WALL + CLAMP_HEIGHT

    @property
    def _boot_seats(self) -> tuple[float, float]:
        """Radius of what the boot is clamped on, sleeve and stub, mm."""
        return 0.5 * self.sleeve_diameter, 0.42 * self.spline_diameter

    def build(self) -> Slip:
        """Return the two halves with their splines."""
        return Slip(self.name, self._sleeve(), self._stub(), self, self.dimensions())

    def boot(self, engaged: float) -> tuple[Mesh, float]:
        """Return the boot for `engaged` mm of spline, and where it starts in the sleeve's frame.

        Raises ShapeError when the spline is out, or too far in for the boot to fold.
        """
        start = self.boot_ends[0]
        end = self.between_lands(engaged) - self.boot_ends[1]
        stretch = end - start
        self.require(
            engaged > 0.0 and stretch > 3.0 * CLAMP_WIDTH,
            "{engaged:g} mm of spline engaged leaves the boot no place; expected more than 0 "
            "and up to {most:g} mm",
            engaged=engaged,
            most=engaged + stretch - 3.0 * CLAMP_WIDTH,
        )
        rest = self.neck_length + self.spline_length + 2.0 * CLAMP_WIDTH
        return _bellows(self, stretch, max(3, round(0.5 * rest / FOLD))), start

    def _cone(self, radius: float) -> list[list[float]]:
        """Return the outside between the tube's and a half's own radius, the latter first."""
        full = 0.5 * self.tube_diameter
        return [
            [
                self.shoulder + CONE * (1.0 - t),
                radius + (full - radius) * t * t * (3.0 - 2.0 * t),
            ]
            for t in np.linspace(0.0, 1.0, 9)
        ]

    def _profile(self, end: float, radius: float) -> Floats:
        """Return shoulder, cone and a round up to `end`."""
        return np.array([[0.0, 0.5 * self.tube_diameter], *self._cone(radius)[::-1], [end, radius]])

    def _half(self, end: float, radius: float, name: str) -> Solid:
        """Return pilot, shoulder, cone and a round up to `end` as one turned body."""
        full, pilot = 0.5 * self.tube_diameter, 0.5 * self.pilot_diameter
        neck = self.shoulder + CONE
        profile = [
            [-self.pilot_length, 0.0],
            [end, 0.0],
            [end, radius - 1.0],
            [end - 1.0, radius],
            *([[neck + 0.5, radius]] if end > neck + 2.0 else []),
            *self._cone(radius),
            [0.0, full],
            [0.0, pilot],
            [1.0 - self.pilot_length, pilot],
            [-self.pilot_length, pilot - 1.0],
        ]
        return turned(profile, "x", name)

    def _sleeve(self) -> Mesh:
        body = self._half(self.sleeve_length, 0.5 * self.sleeve_diameter, "sleeve")
        bore = spline_hole(
            self.spline_diameter + 0.2,
            round(self.spline_teeth),
            self.shoulder + CONE,
            self.sleeve_length + 1.0,
        )
        return body.cut(bore).mesh()

    def _stub(self) -> Mesh:
        neck = self.shoulder + CONE + self.neck_length
        body = self._half(neck, 0.42 * self.spline_diameter, "stub")
        spline = spline_shaft(
            self.spline_diameter, round(self.spline_teeth), self._teeth_start, self.stub_length
        )
        return Solid.union([body, spline]).mesh()


def _bellows(shape: SlipShape, stretch: float, folds: int) -> Mesh:
    """Return a bellows of `stretch` mm along x: clamps at both ends, folds between."""
    near, far = 0.5 * shape.sleeve_diameter, 0.42 * shape.spline_diameter
    crest = 0.5 * shape.boot_diameter
    along = np.linspace(CLAMP_WIDTH, stretch - CLAMP_WIDTH, 6 * folds + 1)
    share = (along - along[0]) / (along[-1] - along[0])
    base = near + (far - near) * share + BOOT_WALL
    top = crest + (far + 0.6 * (crest - near) - crest) * share
    radius = base + (top - base) * 0.5 * (1.0 - np.cos(2.0 * pi * folds * share))
    outer = np.column_stack([along, radius])
    ends = [[0.0, near + BOOT_WALL], [stretch, far + BOOT_WALL]]
    # Its inside follows its outside, so that the boot is a skin and not a lump.
    line = np.vstack([ends[0], outer, ends[1]])
    inner = np.column_stack([line[:, 0], line[:, 1] - BOOT_WALL])
    boot = turned(np.concatenate([inner, line[::-1]]), "x", "boot", gap=0.2)
    bands = [
        turned(
            [
                [at, size + 0.2],
                [at + CLAMP_WIDTH, size + 0.2],
                [at + CLAMP_WIDTH, size + BOOT_WALL + CLAMP_HEIGHT],
                [at, size + BOOT_WALL + CLAMP_HEIGHT],
            ],
            "x",
            "clamp",
        )
        for at, size in ((0.0, near), (stretch - CLAMP_WIDTH, far))
    ]
    return Mesh.join([boot.mesh(), *(band.mesh() for band in bands)])
