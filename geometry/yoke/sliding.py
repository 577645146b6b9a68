"""The sliding yoke: its barrel is splined inside and slides on the output shaft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar, Final

import numpy as np

from geometry.dimensions import count, length
from geometry.mesh import Mesh
from geometry.solids import Solid, turned
from geometry.spline import spline_hole
from geometry.yoke.base import CLEAR, Barrel, Yoke
from geometry.yoke.earwork import Section
from geometry.yoke.reading import ACROSS, Arrow, Cut, Reading, shank
from geometry.yoke.reading import CLEAR as STANDS_CLEAR
from geometry.yoke.round_ear import ROUND_EARS, RoundEarShape

CHAMFER = 1.5
"""Chamfer at the open end of the barrel, mm, so that it enters the seal."""


def _web(shape: Any) -> Cut:
    start, end = (shape.throat_depth, 0.0), (shape.throat_depth + shape.web, 0.0)
    side = 0.5 * shape.barrel_diameter + STANDS_CLEAR
    return Cut(ACROSS, 0.0, Arrow(start, end, (0.0, side)))


READINGS: Final = (
    *ROUND_EARS,
    Reading(
        name="web",
        dimension="web",
        asks="How much metal is there from the floor of the throat to where the shank is round?",
        how="Along the shaft, from the floor to where the ears' roots have gone over into the "
        "round.",
        cut=_web,
    ),
    shank(
        "barrel diameter",
        "barrel_diameter",
        "What is the outside diameter of the barrel?",
        "Outside jaws where the seal runs.",
    ),
)


@dataclass(frozen=True, kw_only=True)
class SlidingYoke(RoundEarShape):
    """Dimensions of a sliding splined yoke, mm."""

    kind: ClassVar[str] = "sliding yoke"
    sits: ClassVar = "output"
    slides: ClassVar[bool] = True

    web: float = length("metal from the throat floor to where the barrel is round")
    barrel_diameter: float = length("outside of the barrel, on which the seal runs")
    barrel_end: float = length("from the cross center to the open end of the barrel")
    spline_diameter: float = length("inside spline over the bottoms of its grooves")
    spline_teeth: float = count("teeth of the inside spline")

    def __post_init__(self) -> None:
        super().__post_init__()
        self.require(
            self.barrel_end > self.barrel_start + 2.0 * CHAMFER,
            "{barrel_end} leaves no barrel behind {throat_depth} and {web}",
        )
        self.require(
            self.spline_diameter < self.barrel_diameter - 4.0,
            "{spline_diameter} leaves less than 2 mm of wall in a {barrel_diameter:of}",
        )
        self.require(
            self.spline_teeth >= 6,
            "{spline_teeth:is}; expected 6 or more",
        )

        self.require_arms(self.roots())

    def neck(self) -> Section:
        """Return the round where the barrel begins."""
        return Section.round(self.barrel_start, 0.5 * self.barrel_diameter)

    def readings(self) -> tuple[Reading, ...]:
        """Return what to measure."""
        return READINGS

    @property
    def seat(self) -> float:
        """The barrel stands out of its seal."""
        return self.barrel_start

    @property
    def barrel(self) -> Barrel:
        """The barrel, up to its open end."""
        return Barrel(self.barrel_start, self.barrel_end, self.spline_diameter)

    @property
    def barrel_start(self) -> float:
        """From the cross centre to where the barrel is round, mm."""
        return self.throat_depth + self.web

    def build(self) -> Yoke:
        """Return the yoke; what can touch is smooth, the spline is only shown."""
        cut = self._cut()
        hole = spline_hole(
            self.spline_diameter,
            round(self.spline_teeth),
            self.barrel_start,
            self.barrel_end + CLEAR,
        )
        return self.made(self._contact(cut), cut.cut(self.bores(), hole), self.cap_parts())

    def touching(self) -> Mesh:
        """Return what can touch."""
        return self.one_mesh(self._contact(self._cut()))

    def _cut(self) -> Solid:
        """Return the forging with its throat and barrel, bores and spline still to come."""
        forging = self.forged()
        radius, end = 0.5 * self.barrel_diameter, self.barrel_end
        profile = [
            [self.barrel_start, 0.0],
            [end, 0.0],
            [end, radius - CHAMFER],
            [end - CHAMFER, radius],
            [self.barrel_start, radius],
        ]
        barrel = turned(np.asarray(profile), "x", "sleeve")
        return Solid.union([*forging, barrel]).cut(self.throat(self.ear_radius + CLEAR))

    def _contact(self, cut: Solid) -> Solid:
        return Solid.union([cut, *self.caps(0.5 * self.outside_span)])
