"""The sliding yoke: its barrel is splined inside and slides on the output shaft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from geometry.dimensions import count, length, require
from geometry.solids import Solid, turned
from geometry.spline import spline_hole
from geometry.yoke.base import Yoke
from geometry.yoke.earwork import Section
from geometry.yoke.round_ear import CLEAR, RoundEarShape

CHAMFER = 1.5
"""Chamfer at the open end of the barrel, mm, so that it enters the seal."""


@dataclass(frozen=True, kw_only=True)
class SlidingYoke(RoundEarShape):
    """Dimensions of a sliding splined yoke, mm."""

    kind: ClassVar[str] = "sliding yoke"

    web: float = length("metal from the throat floor to where the barrel is round")
    barrel_diameter: float = length("outside of the barrel, on which the seal runs")
    barrel_end: float = length("from the cross centre to the open end of the barrel")
    spline_diameter: float = length("inside spline over the bottoms of its grooves")
    spline_teeth: float = count("teeth of the inside spline")

    def __post_init__(self) -> None:
        super().__post_init__()
        require(
            self.barrel_end > self.barrel_start + 2.0 * CHAMFER,
            f"barrel_end {self.barrel_end:g} mm leaves no barrel behind throat_depth "
            f"{self.throat_depth:g} mm and web {self.web:g} mm",
        )
        require(
            self.spline_diameter < self.barrel_diameter - 4.0,
            f"spline_diameter {self.spline_diameter:g} mm leaves less than 2 mm of wall in a "
            f"barrel_diameter of {self.barrel_diameter:g} mm",
        )
        require(
            self.spline_teeth >= 6,
            f"spline_teeth is {self.spline_teeth:g}; expected 6 or more",
        )

        self.require_arms(self.roots())

    def neck(self) -> Section:
        """Return the round where the barrel begins."""
        return Section.round(self.barrel_start, 0.5 * self.barrel_diameter)

    @property
    def barrel_start(self) -> float:
        """From the cross centre to where the barrel is round, mm."""
        return self.throat_depth + self.web

    def build(self) -> Yoke:
        """Return the yoke; what can touch is smooth, the spline is only shown."""
        radius = 0.5 * self.barrel_diameter
        forging = self.forged()
        end = self.barrel_end
        profile = [
            [self.barrel_start, 0.0],
            [end, 0.0],
            [end, radius - CHAMFER],
            [end - CHAMFER, radius],
            [self.barrel_start, radius],
        ]
        barrel = turned(np.asarray(profile), "x", "sleeve")
        cut = Solid.union([*forging, barrel]).cut(self.throat())
        contact = Solid.union([cut, *self.caps(0.5 * self.outside_span)])
        hole = spline_hole(
            self.spline_diameter,
            round(self.spline_teeth),
            self.barrel_start,
            self.barrel_end + CLEAR,
        )
        body = cut.cut(self.bores(), hole)
        return Yoke(
            self.name,
            self.kind,
            self.one_mesh(contact),
            {"body": self.one_mesh(body), **self.cap_parts()},
            None,
            self.dimensions(),
        )
