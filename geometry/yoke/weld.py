"""The weld yoke: its shoulder is pressed into the end of a tube and welded round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from geometry.dimensions import length, require
from geometry.solids import Solid, cylinder, turned
from geometry.yoke.base import Yoke
from geometry.yoke.earwork import Section
from geometry.yoke.round_ear import RoundEarShape

TUBE_REACH = 60.0
"""How much tube, mm, belongs to what can touch: more than any ear of the mating yoke reaches."""


@dataclass(frozen=True, kw_only=True)
class WeldYokeShape(RoundEarShape):
    """Dimensions of a weld yoke, mm."""

    kind: ClassVar[str] = "weld yoke"

    tube_diameter: float = length("outside of the tube, which is that of the shoulder")
    weld_land: float = length("from the cross centre to the shoulder that the tube butts against")
    shoulder: float = length("the full round behind the ears, up to the weld land")
    weld_bead: float = length("width of the weld bead along the tube")
    pilot_diameter: float = length("the press fit inside the tube")
    pilot_length: float = length("how far the press fit goes into the tube")

    def __post_init__(self) -> None:
        super().__post_init__()
        floor = self.weld_land - self.throat_depth
        require(
            floor >= self.shoulder + 2.0,
            f"weld_land {self.weld_land:g} mm, less throat_depth {self.throat_depth:g} mm, leaves "
            f"{floor:g} mm of web; the shoulder of {self.shoulder:g} mm needs 2 mm more than itself",
        )
        require(
            self.pilot_diameter < self.tube_diameter,
            f"pilot_diameter {self.pilot_diameter:g} mm does not go into a tube of tube_diameter "
            f"{self.tube_diameter:g} mm",
        )
        require(
            0.5 * self.tube_diameter > 0.5 * self.ear_root_width,
            f"ear_root_width {self.ear_root_width:g} mm is wider than the tube_diameter of "
            f"{self.tube_diameter:g} mm",
        )
        require(
            self.weld_bead < self.shoulder,
            f"weld_bead {self.weld_bead:g} mm is wider than the shoulder of {self.shoulder:g} mm",
        )

    def build(self) -> Yoke:
        """Return the yoke; the tube's first stretch and the bead belong to its contact solid."""
        radius = 0.5 * self.tube_diameter
        neck = Section(self.weld_land - self.shoulder, radius, radius, radius)
        forging = [*self.forged(neck)]
        round_ = cylinder("x", radius, neck.x, self.weld_land, "weld shoulder")
        pilot = cylinder(
            "x",
            0.5 * self.pilot_diameter,
            self.weld_land,
            self.weld_land + self.pilot_length,
            "pilot",
        )
        cut = Solid.union([*forging, round_]).cut(self.throat())
        contact = Solid.union([cut, *self.caps(0.5 * self.outside_span), self._tube()])
        body = Solid.union([cut, pilot]).cut(self.bores())
        return Yoke(
            self.name,
            self.kind,
            self.named(contact),
            {"body": self.named(body), **self.cap_parts()},
            self.weld_land,
            self.dimensions(),
        )

    def _tube(self) -> Solid:
        """Return the weld bead and the first stretch of tube as one body."""
        radius, half = 0.5 * self.tube_diameter, 0.5 * self.weld_bead
        land = self.weld_land
        bead = [
            [land - half, 0.0],
            [land + half, 0.0],
            [land + half, radius],
            [land, radius + 0.6 * half],
            [land - half, radius],
        ]
        return Solid.union(
            [
                turned(np.asarray(bead), "x", "weld shoulder"),
                cylinder("x", radius, land, land + TUBE_REACH, "tube end"),
            ]
        )
