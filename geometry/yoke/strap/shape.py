"""The shape of a strap yoke: forging, saddles, straps, and the guard of the seal behind it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt
from typing import ClassVar

import numpy as np

from geometry.dimensions import length
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, hull
from geometry.yoke.base import CLEAR, ROOT_AT, Yoke, YokeShape
from geometry.yoke.earwork import Section, blend, ruled
from geometry.yoke.hardware import bolt_head, strap
from geometry.yoke.reading import Reading
from geometry.yoke.strap.readings import READINGS, SEAT

CORNER_CLEAR = 4.5
"""How far, mm, the inner corners of the ears keep from the planes at 45 degrees between the two
yokes, so that two strap yokes go on one cross."""

CORNER_DOWN = 0.6
"""How far down that bevel goes before it fades out, as a part of the throat depth."""

STRAP_IN = 0.7
"""How far, mm, a strap keeps from the end of the cap."""

GUARD_THICKNESS = 3.0
"""The pressed seal guard, mm."""

HOUSING_REACH = 25.0
"""How much of the seal housing, mm, belongs to what can touch."""


@dataclass(frozen=True, kw_only=True)
class StrapYoke(YokeShape):
    """Dimensions of a strap yoke, mm."""

    kind: ClassVar[str] = "strap yoke"
    sits: ClassVar = "pinion"
    strapped: ClassVar[bool] = True
    proud: ClassVar[frozenset[str]] = YokeShape.proud | {"bolt", "strap"}

    saddle_width: float = length("across the flanks of an ear, over both bolt bosses")
    ear_root_width: float = length("across the flanks of an ear where its sides end")
    web: float = length("metal from the throat floor to where the hub is round")
    hub_diameter: float = length("outside of the hub")
    nut_well: float = length("diameter of the well for the nut in the throat floor")
    nut: float = length("across the flats of the nut")
    strap_width: float = length("the strap along the cap")
    strap_thickness: float = length("the strap's metal")
    strap_bolt_spacing: float = length("between the middles of the two bolts of one strap")
    bolt_head: float = length("across the flats of a strap bolt's head")
    bolt_head_height: float = length("a strap bolt's head above the strap")
    seal_guard_diameter: float = length("outside of the guard in front of the seal")
    seal_guard_at: float = length("from the cross center to the near side of the seal guard")
    housing_diameter: float = length("outside of the housing that holds the seal")
    housing_at: float = length("from the cross center to the near end of that housing")

    def __post_init__(self) -> None:
        super().__post_init__()
        corner = self.bolt_head / sqrt(3.0)
        bolt = 0.5 * self.strap_bolt_spacing
        self.require(
            bolt + corner <= 0.5 * self.saddle_width + 0.5,
            "bolt heads of {bolt_head} at a {strap_bolt_spacing:of} stand over the "
            "{saddle_width:of}",
        )
        self.require(
            bolt - 0.5 * self.bolt_head >= 0.5 * self.bore + self.strap_thickness - 0.5,
            "bolt heads of {bolt_head} at a {strap_bolt_spacing:of} run into the strap over a"
            " {bore:of}",
        )
        self.require(
            self.strap_width < min(self.cap_length, self.ear_thickness),
            "{strap_width} is wider than the cap of {cap_length} or the ear of {ear_thickness}",
        )
        self.require(
            self.ear_root_width <= self.saddle_width,
            "{ear_root_width} is wider than the {saddle_width:of}; the bolt bosses are the "
            "widest place",
        )
        self.require(
            self.nut / sqrt(3.0) < 0.5 * self.nut_well < 0.5 * self.hub_diameter - 2.0,
            "{nut_well} must go over the corners of a {nut:of} and leave 2 mm of wall in a "
            "{hub_diameter:of}",
        )
        self.require(
            ROOT_AT * self.throat_depth > 0.5 * self.bore,
            "{throat_depth} puts the ear's root into the {bore:of}",
        )
        self.require(
            self.throat_depth + self.web < self.seal_guard_at,
            "{seal_guard_at} is not behind {throat_depth} and {web}",
        )
        self.require(
            self.seal_guard_at + GUARD_THICKNESS < self.housing_at,
            "{housing_at} is not behind the seal guard at {seal_guard_at}, {thick:g} mm thick",
            thick=GUARD_THICKNESS,
        )
        self.require(
            min(self.seal_guard_diameter, self.housing_diameter) > self.hub_diameter,
            "{seal_guard_diameter} and {housing_diameter} must be more than the {hub_diameter:of}",
        )

        self.require_arms(self._roots())

    def readings(self) -> tuple[Reading, ...]:
        """Return what to measure."""
        return READINGS

    @property
    def ear_reach(self) -> tuple[float, float]:
        """Saddles end at the middle of the caps, which stand out; see `YokeShape.ear_reach`."""
        return 0.0, 0.5 * self.bore

    @property
    def ear_root(self) -> tuple[float, None]:
        """No ring closes round a cap; see `YokeShape.ear_root`."""
        return self.ear_root_width, None

    @property
    def seat(self) -> float:
        """It sits against the seal."""
        return self.seal_guard_at

    @property
    def datums(self) -> Mapping[str, float]:
        """A tape is held to the flats where the straps are screwed down."""
        return {"yoke flat": SEAT}

    @property
    def strap_middle(self) -> float:
        """From the cross centre to the middle of a strap, along the bores, mm."""
        return 0.5 * self.cap_span - STRAP_IN - 0.5 * self.strap_width

    def build(self) -> Yoke:
        """Return the yoke; straps, bolt heads, seal guard and housing can touch as well."""
        cut, hub, bolts = self._forging(), self._hub(), self._bolts()
        straps = self._straps()
        guard, housing = self._guard_and_housing()
        caps = self.caps(0.5 * self.cap_span)
        contact = self._contact(cut, hub, caps, bolts, housing)
        body = Solid.union([cut, hub]).cut(*self._saddles(), self._well())
        parts = {
            "caps": caps,
            "straps": straps,
            "bolts": bolts,
            "nut": [self._nut()],
            "seal guard": [guard],
            "seal housing": [housing],
        }
        shown = {name: Mesh.join(item.mesh() for item in items) for name, items in parts.items()}
        return self.made(contact, body, shown)

    def touching(self) -> Mesh:
        """Return what can touch."""
        cut, hub, bolts = self._forging(), self._hub(), self._bolts()
        _, housing = self._guard_and_housing()
        caps = self.caps(0.5 * self.cap_span)
        return self.one_mesh(self._contact(cut, hub, caps, bolts, housing))

    def _contact(
        self, cut: Solid, hub: Solid, caps: list[Solid], bolts: list[Solid], housing: Solid
    ) -> Solid:
        """Return all that turns with it and can touch.

        That is only the outside, so the straps are filled and the guard is backed up.
        """
        backed = cylinder(
            "x", 0.5 * self.seal_guard_diameter, self.seal_guard_at, self.housing_at, "seal guard"
        )
        return Solid.union([cut, hub, *caps, *self._straps(filled=True), *bolts, backed, housing])

    def _roots(self) -> list[Section]:
        below = ROOT_AT * self.throat_depth + 2.0
        half_y, half_z = 0.5 * self.outside_span, 0.5 * self.ear_root_width
        root = Section.ear(below, half_y, half_z, self.ear_edge)
        neck = Section.round(self.throat_depth + self.web, 0.5 * self.hub_diameter)
        return [root, *blend(root, neck)]

    def _forging(self) -> Solid:
        roots = self._roots()
        top, side = (
            Section.ear(x, 0.5 * self.outside_span, 0.5 * self.saddle_width, self.ear_edge)
            for x in (SEAT, 0.5 * self.bore)
        )
        tool = self.throat(0.5 * self.saddle_width)
        pieces = [*ruled([top, side, roots[0]], "ear"), *ruled(roots, "ear root")]
        return Solid.union(pieces).cut(tool, *self._corners())

    def _corners(self) -> list[Solid]:
        """Return the tools that bevel the four inner corners of the ears, fading out downward."""
        far = self.outside_span
        top = [(-far, far), (CORNER_CLEAR, 0.0), (far, far - CORNER_CLEAR)]
        foot = [(y, z + 0.3 * self.throat_depth) for y, z in top]
        lines = [(-1.0, top), (CORNER_DOWN * self.throat_depth, top), (self.throat_depth, foot)]
        points = np.array([[x, y, z] for x, line in lines for y, z in line])
        return [
            hull(points * [1.0, y_side, z_side], "ear flank")
            for y_side in (1.0, -1.0)
            for z_side in (1.0, -1.0)
        ]

    def _hub(self) -> Solid:
        radius = 0.5 * self.hub_diameter
        return cylinder("x", radius, self.throat_depth + self.web, self.housing_at, "hub")

    def _guard_and_housing(self) -> tuple[Solid, Solid]:
        at = self.seal_guard_at
        guard = cylinder(
            "x", 0.5 * self.seal_guard_diameter, at, at + GUARD_THICKNESS, "seal guard"
        )
        housing = cylinder(
            "x",
            0.5 * self.housing_diameter,
            self.housing_at,
            self.housing_at + HOUSING_REACH,
            "seal housing",
        )
        return guard, housing

    def _saddles(self) -> list[Solid]:
        """Return the tools for the saddles; beyond the caps a lip stays to hold their ends."""
        radius, outer = 0.5 * self.bore, 0.5 * self.cap_span
        reach = 0.5 * self.outside_span + CLEAR
        return [
            cylinder("y", radius, -outer, outer, "saddle", hole=True),
            cylinder("y", 0.8 * radius, -reach, reach, "saddle", hole=True),
        ]

    def _well(self) -> Solid:
        depth = self.throat_depth
        radius = 0.5 * self.nut_well
        return cylinder("x", radius, 0.5 * depth, depth + 0.9 * self.web, "nut well", hole=True)

    def _nut(self) -> Solid:
        low, high = self.throat_depth + 0.2 * self.web, self.throat_depth + 0.9 * self.web
        nut = bolt_head(self.nut, low, high, (0.0, 0.0), 0.2)
        stud = cylinder("x", 0.28 * self.nut, low - 0.1 * self.web, high, "bolt")
        return Solid.union([nut, stud])

    def _straps(self, filled: bool = False) -> list[Solid]:
        return [
            strap(
                0.5 * self.bore,
                self.strap_thickness,
                self.strap_width,
                SEAT,
                0.5 * self.strap_bolt_spacing,
                0.5 * self.bolt_head,
                side * self.strap_middle,
                filled,
            )
            for side in (1.0, -1.0)
        ]

    def _bolts(self) -> list[Solid]:
        high = SEAT - self.strap_thickness
        half = 0.5 * self.strap_bolt_spacing
        places = [(side * self.strap_middle, z) for side in (1.0, -1.0) for z in (half, -half)]
        return [
            bolt_head(self.bolt_head, high - self.bolt_head_height, high, place) for place in places
        ]
