"""The weld yoke: its shoulder is pressed into the end of a tube and welded round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar, Final

from geometry.dimensions import length
from geometry.facets import facets_around
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, turned
from geometry.yoke.base import CLEAR, Yoke
from geometry.yoke.earwork import Section
from geometry.yoke.reading import ACROSS, FROM_BORE, Arrow, Cut, Point, Reading, rod
from geometry.yoke.reading import CLEAR as STANDS_CLEAR
from geometry.yoke.round_ear import ROUND_EARS, RoundEarShape

TUBE_REACH = 60.0
"""How much tube, mm, belongs to what can touch: more than any ear of the mating yoke reaches."""


def _tube(shape: Any) -> tuple[tuple[Point, Point], ...]:
    near, far, radius = shape.weld_land, shape.weld_land + 25.0, 0.5 * shape.tube_diameter
    return tuple(((near, y), (far, y)) for y in (-radius, radius))


def _shoulder_gap(shape: Any) -> Cut:
    start = (0.5 * shape.bore, 0.5 * shape.outside_span)
    end = (shape.weld_land, 0.5 * shape.tube_diameter)
    return Cut(ACROSS, 0.0, Arrow(start, end, (0.0, STANDS_CLEAR)), (*_tube(shape), *rod(shape)))


def _shoulder(shape: Any) -> Cut:
    radius = 0.5 * shape.tube_diameter
    arrow = Arrow(
        (shape.weld_land - shape.shoulder, radius), (shape.weld_land, radius), (0, STANDS_CLEAR)
    )
    return Cut(ACROSS, 0.0, arrow, _tube(shape))


def _tube_diameter(shape: Any) -> Cut:
    x, radius = shape.weld_land + 18.0, 0.5 * shape.tube_diameter
    return Cut(ACROSS, 0.0, Arrow((x, -radius), (x, radius)), _tube(shape))


READINGS: Final = (
    *ROUND_EARS,
    Reading(
        name="shoulder gap",
        dimension="weld_land",
        asks="How far is it from the bore to the shoulder that the tube butts against?",
        how="From the bore's near edge, along the shaft, to the end of the tube or the middle of "
        "the weld.",
        cut=_shoulder_gap,
        way=FROM_BORE,
    ),
    Reading(
        name="shoulder",
        dimension="shoulder",
        asks="How long is the full round behind the ears, up to where the tube begins?",
        how="Along the shaft, where the yoke is as thick as the tube.",
        cut=_shoulder,
    ),
    Reading(
        name="tube diameter",
        dimension="tube_diameter",
        asks="What is the outside diameter of the tube?",
        how="Outside jaws on bare tube beside the weld.",
        cut=_tube_diameter,
    ),
)


@dataclass(frozen=True, kw_only=True)
class WeldYoke(RoundEarShape):
    """Dimensions of a weld yoke, mm."""

    kind: ClassVar[str] = "weld yoke"

    tube_diameter: float = length("outside of the tube, which is that of the shoulder")
    weld_land: float = length("from the cross center to the shoulder that the tube butts against")
    shoulder: float = length("the full round behind the ears, up to the weld land")
    weld_bead: float = length("width of the weld bead along the tube")
    pilot_diameter: float = length("the press fit inside the tube")
    pilot_length: float = length("how far the press fit goes into the tube")

    def __post_init__(self) -> None:
        super().__post_init__()
        floor = self.weld_land - self.throat_depth
        self.require(
            floor >= self.shoulder + 2.0,
            "{weld_land} less {throat_depth} leaves {floor:g} mm of web, less than the "
            "{shoulder:of} and 2 mm more",
            floor=floor,
        )
        self.require(
            self.pilot_diameter < self.tube_diameter,
            "{pilot_diameter} does not go into a tube of {tube_diameter}",
        )
        self.require(
            self.weld_bead < self.shoulder,
            "{weld_bead} is wider than the {shoulder:of}",
        )

        self.require_arms(self.roots())

    def neck(self) -> Section:
        """Return the round where the shoulder begins."""
        start = self.weld_land - self.shoulder
        return Section.round(start, 0.5 * self.tube_diameter, self._facets)

    def build(self) -> Yoke:
        """Return the yoke; the tube's first stretch and the bead belong to its contact solid."""
        ends = self.weld_land, self.weld_land + self.pilot_length
        pilot = cylinder("x", 0.5 * self.pilot_diameter, *ends, "pilot")
        cut = self._cut()
        body = Solid.union([cut, pilot]).cut(self.bores())
        return self.made(self._contact(cut), body, self.cap_parts())

    def touching(self) -> Mesh:
        """Return what can touch."""
        return self.one_mesh(self._contact(self._cut()))

    def _cut(self) -> Solid:
        """Return the forging with its throat, bores and pilot still to come."""
        ends = self.weld_land - self.shoulder, self.weld_land
        radius = 0.5 * self.tube_diameter
        shoulder = cylinder("x", radius, *ends, "weld shoulder", facets=self._facets)
        return Solid.union([*self.forged(), shoulder]).cut(self.throat(self.ear_radius + CLEAR))

    def _contact(self, cut: Solid) -> Solid:
        return Solid.union([cut, *self.caps(0.5 * self.outside_span), self._tube()])

    @property
    def tube_from(self) -> float:
        """The tube begins at the weld land."""
        return self.weld_land

    def readings(self) -> tuple[Reading, ...]:
        """Return what to measure."""
        return READINGS

    @property
    def _crown(self) -> float:
        """Radius over the crown of the weld bead, mm."""
        return 0.5 * self.tube_diameter + 0.3 * self.weld_bead

    @property
    def _facets(self) -> int:
        """Facets round the tube; shoulder and bead take the same so that they meet cleanly."""
        return facets_around(self._crown)

    def _tube(self) -> Solid:
        """Return the weld bead and the first stretch of tube as one body."""
        radius, half, land = 0.5 * self.tube_diameter, 0.5 * self.weld_bead, self.weld_land
        bead = [
            [land - half, 0.0],
            [land + half, 0.0],
            [land + half, radius],
            [land, self._crown],
            [land - half, radius],
        ]
        ends = land, land + TUBE_REACH
        return Solid.union(
            [
                turned(bead, "x", "weld shoulder"),
                cylinder("x", radius, *ends, "tube end", facets=self._facets),
            ]
        )
