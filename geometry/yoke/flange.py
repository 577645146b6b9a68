"""The flange yoke: its ears stand on a round flange that is bolted to another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, pi, sin, sqrt
from typing import Any, ClassVar, Final

from geometry.dimensions import count, length
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder
from geometry.yoke.base import CLEAR, BoltRing, Yoke
from geometry.yoke.earwork import Section
from geometry.yoke.hardware import bolt_head
from geometry.yoke.reading import (
    ACROSS,
    ALONG_SHAFT,
    FROM_BORE,
    Arrow,
    Cut,
    Reading,
    bolt_heads,
    rod,
)
from geometry.yoke.reading import CLEAR as STANDS_CLEAR
from geometry.yoke.round_ear import ROUND_EARS, RoundEarShape

SHANK = 1.0 / 3.0
"""Radius of a bolt's shank against the width of its head; common practice, from memory: 9/16 in
across the flats on a 3/8 in bolt, 3/4 in on 1/2 in."""

SHAFT_REACH = 40.0
"""How far, mm, the mating flange's hub is shown behind it."""


def _flange_gap(shape: Any) -> Cut:
    start = (0.5 * shape.bore, 0.5 * shape.outside_span)
    end = (shape.flange_face, 0.5 * shape.flange_diameter)
    return Cut(ACROSS, 0.0, Arrow(start, end, (0.0, STANDS_CLEAR)), rod(shape))


def _flange_thickness(shape: Any) -> Cut:
    rim = 0.5 * shape.flange_diameter
    ends = (shape.plate, rim), (shape.flange_face, rim)
    return Cut(ACROSS, 0.0, Arrow(*ends, (0.0, STANDS_CLEAR)))


def _flange_diameter(shape: Any) -> Cut:
    x, rim = shape.flange_face, 0.5 * shape.flange_diameter
    aside = (shape.mate_thickness + STANDS_CLEAR, 0.0)
    return Cut(ACROSS, 0.0, Arrow((x, -rim), (x, rim), aside))


def _bolt(shape: Any) -> tuple[float, float, float]:
    """A bolt of the flange: (y, z), and what its head is screwed down on, mm."""
    return (*shape.bolt_places()[0], shape.plate)


def _bolt_circle(shape: Any) -> Cut:
    y, z, plate = _bolt(shape)
    return Cut(ALONG_SHAFT, plate - 0.5 * shape.bolt_head_height, Arrow((-y, -z), (y, z)))


READINGS: Final = (
    *ROUND_EARS,
    Reading(
        name="flange gap",
        dimension="flange_face",
        asks="How far is it from the bore to the face of the flange that is bolted up?",
        how="Stand the yoke on its face and measure up to the bore's near edge.",
        cut=_flange_gap,
        way=FROM_BORE,
    ),
    Reading(
        name="flange thickness",
        dimension="flange_thickness",
        asks="How thick is the flange at its rim?",
        how="Outside jaws at the rim, without the locating ring.",
        cut=_flange_thickness,
    ),
    Reading(
        name="flange diameter",
        dimension="flange_diameter",
        asks="What is the outside diameter of the flange?",
        how="Outside jaws across the rim.",
        cut=_flange_diameter,
    ),
    Reading(
        name="bolt circle",
        dimension="bolt_circle",
        asks="What is the diameter of the circle through the middles of the bolts?",
        how="Between two opposite bolts, from the left edge of the one to the left edge of the "
        "other.",
        cut=_bolt_circle,
    ),
    *bolt_heads(_bolt),
)


@dataclass(frozen=True, kw_only=True)
class FlangeYoke(RoundEarShape):
    """Dimensions of a flange yoke, mm."""

    kind: ClassVar[str] = "flange yoke"
    sits: ClassVar = "output"
    proud: ClassVar[frozenset[str]] = RoundEarShape.proud | {"bolt"}

    flange_face: float = length("from the cross center to the face that is bolted up")
    flange_diameter: float = length("outside of the flange")
    flange_thickness: float = length("the flange plate at its rim")
    pilot_diameter: float = length("the locating ring on the flange face")
    pilot_height: float = length("how far the locating ring stands out of the flange face")
    bolt_circle: float = length("diameter of the circle through the middles of the bolts")
    bolts: float = count("bolts round the flange; they straddle the ears")
    bolt_head: float = length("across the flats of a bolt head")
    bolt_head_height: float = length("a bolt head, washer included, above the flange plate")
    mate_thickness: float = length("the flange that this one is bolted to")

    def __post_init__(self) -> None:
        super().__post_init__()
        floor = self.plate - self.throat_depth
        self.require(
            floor >= 0.0,
            "{throat_depth} cuts into the flange; {flange_face} less {flange_thickness} is "
            "{plate:g} mm",
            plate=self.plate,
        )
        corner = self.bolt_head / sqrt(3.0)
        self.require(
            0.5 * self.bolt_circle + corner <= 0.5 * self.flange_diameter,
            "bolt heads of {bolt_head} on a {bolt_circle:of} stand over the {flange_diameter:of}",
        )
        self.require(
            self.bolts >= 2,
            "{bolts:is}; expected 2 or more",
        )
        beside = min(abs(z) for _, z in self.bolt_places())
        self.require(
            beside - self.spot_radius >= self.ear_radius,
            "bolt heads of {bolt_head} on a {bolt_circle:of} run into ears of {ear_radius}",
        )
        self.require(
            self.pilot_diameter < self.bolt_circle,
            "{pilot_diameter} reaches the {bolt_circle:of}",
        )
        self.require(
            0.5 * self.flange_diameter > 0.5 * self.ear_root_width,
            "{ear_root_width} is wider than the {flange_diameter:of}",
        )

        self.require_arms(self.roots())

    def neck(self) -> Section:
        """Return the foot of the ears, which stands half a millimetre into the plate."""
        half_y = min(0.5 * self.outside_span, 0.5 * self.flange_diameter - 2.0)
        half_z = min(0.5 * self.ear_root_width + 6.0, half_y)
        return Section(self.plate + 0.5, half_y, half_z, 0.8 * half_z)

    def readings(self) -> tuple[Reading, ...]:
        """Return what to measure."""
        return READINGS

    @property
    def seat(self) -> float:
        """It is bolted up at its face."""
        return self.flange_face

    @property
    def datums(self) -> Mapping[str, float]:
        """A tape is held to the face of the flange."""
        return {"flange face": self.flange_face}

    @property
    def bolt_ring(self) -> BoltRing:
        """Its bolts, as thick as goes with their heads."""
        return BoltRing(round(self.bolts), self.bolt_circle, 2.0 * SHANK * self.bolt_head)

    @property
    def plate(self) -> float:
        """From the cross centre to the ears' side of the flange plate, mm."""
        return self.flange_face - self.flange_thickness

    @property
    def spot_radius(self) -> float:
        """Radius of the spot face a bolt head sits in, mm."""
        return self.bolt_head / sqrt(3.0) + 0.5

    def bolt_places(self) -> list[tuple[float, float]]:
        """Return (y, z), mm, of every bolt."""
        step = 2.0 * pi / self.bolts
        radius = 0.5 * self.bolt_circle
        return [
            (radius * cos(step * (i + 0.5)), radius * sin(step * (i + 0.5)))
            for i in range(round(self.bolts))
        ]

    def build(self) -> Yoke:
        """Return the yoke; bolt heads and the flange it is bolted to can touch as well."""
        rim = 0.5 * self.flange_diameter
        ears = self._ears()
        contact = self._contact(ears)
        plate = cylinder("x", rim, self.plate, self.flange_face, "flange")
        hub = self._mate_hub()
        body = Solid.union([ears, plate, self._pilot()]).cut(self.bores(), *self._bolt_holes())
        bolts = Mesh.join(bolt.mesh() for bolt in self._bolts(self._bolt_heads()))
        parts = {**self.cap_parts(), "bolts": bolts, "mating flange": self._mate(hub)}
        return self.made(contact, body, parts)

    def touching(self) -> Mesh:
        """Return what can touch."""
        return self.one_mesh(self._contact(self._ears()))

    def _ears(self) -> Solid:
        """Return the ears down to the plate, their bores still to come."""
        return Solid.union(self.forged()).cut(
            self.throat(self.ear_radius + CLEAR), *self._spot_faces()
        )

    def _contact(self, ears: Solid) -> Solid:
        """Return ears, bolt heads and both flanges.

        The mating hub is shown, but the flange before it keeps everything off.
        """
        both = cylinder("x", 0.5 * self.flange_diameter, self.plate, self._behind, "flange")
        heads = self._bolt_heads()
        return Solid.union([ears, *self.caps(0.5 * self.outside_span), *heads, both])

    @property
    def _behind(self) -> float:
        """From the cross centre to the far side of the mating flange, mm."""
        return self.flange_face + self.mate_thickness

    def _spot_faces(self) -> list[Solid]:
        return [
            cylinder("x", self.spot_radius, 0.0, self.plate, "ear root", place, hole=True)
            for place in self.bolt_places()
        ]

    def _bolt_heads(self) -> list[Solid]:
        low = self.plate - self.bolt_head_height
        return [bolt_head(self.bolt_head, low, self.plate, place) for place in self.bolt_places()]

    def _bolts(self, heads: list[Solid]) -> list[Solid]:
        """Return the whole bolts with their nuts behind the mating flange."""
        low, high = self._behind, self._behind + 0.55 * self.bolt_head
        found = []
        for head, place in zip(heads, self.bolt_places(), strict=True):
            shank = cylinder("x", SHANK * self.bolt_head, self.plate, high + 3.0, "bolt", place)
            nut = bolt_head(self.bolt_head, low, high, place, 0.3)
            found.append(Solid.union([head, shank, nut]))
        return found

    def _bolt_holes(self) -> list[Solid]:
        radius = SHANK * self.bolt_head + 0.3
        ends = self.plate - CLEAR, self.flange_face + CLEAR
        return [
            cylinder("x", radius, *ends, "bolt hole", place, hole=True)
            for place in self.bolt_places()
        ]

    def _pilot(self) -> Solid:
        ends = self.flange_face, self.flange_face + self.pilot_height
        return cylinder("x", 0.5 * self.pilot_diameter, *ends, "pilot")

    def _mate_hub(self) -> Solid:
        radius = 0.3 * self.bolt_circle
        return cylinder("x", radius, self._behind, self._behind + SHAFT_REACH, "hub")

    def _mate(self, hub: Solid) -> Mesh:
        """Return the mating flange, its hub and the recess that takes the pilot."""
        rim = cylinder("x", 0.5 * self.flange_diameter, self.flange_face, self._behind, "flange")
        return Solid.union([rim, hub]).cut(self._pilot()).mesh()
