"""What every yoke has: named dimensions, a body to touch with and parts to show."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import ClassVar, Literal

import numpy as np

from geometry.built import Built
from geometry.dimensions import Shape, length
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder
from geometry.yoke.earwork import Section, name_ears, throat_tool
from geometry.yoke.reading import Reading

LEAST_METAL = 2.0
"""Least metal, mm, left anywhere by a cut; less is no part but a slip of the pen."""

ROOT_AT = 0.6
"""Where the straight sides of an ear end and its root begins, as a part of the throat depth
(generic, from memory)."""

CLEAR = 1.0
"""How far, mm, a cutting tool reaches beyond what it cuts."""

ARM_STATIONS = 25
"""Places along the arms where their metal is checked; a millimetre or two apart."""


HELD = 0.5
"""Least share of a cap's length that sits in its ear; with less its needles run outside, and no
cross is meant for ears that far apart. Generic yokes hold 0.8. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Yoke(Built):
    """A built yoke in its own frame: origin at the cross centre, x along its shaft, y its bores.

    contact : one closed solid of everything that turns with the yoke and can touch; recesses
        that nothing enters (outside the caps, the nut's well, under the straps) are filled
    parts : the pieces to draw, by name ("body", "caps", "straps", "bolts", ...)
    tube_from : mm from the cross centre to where the tube seats; None without a weld
    dimensions : what it was built from, mm, rad or a count
    """

    name: str
    kind: str
    contact: Mesh
    parts: Mapping[str, Mesh]
    tube_from: float | None
    dimensions: Mapping[str, float]


@dataclass(frozen=True)
class Barrel:
    """The barrel of a yoke that slides, mm; start and end from the cross centre."""

    start: float
    end: float
    spline_diameter: float

    @property
    def length(self) -> float:
        """How much of it there is, mm."""
        return self.end - self.start


@dataclass(frozen=True)
class BoltRing:
    """Bolts round a flange: how many, on which circle, and how thick, mm."""

    count: int
    circle: float
    diameter: float


@dataclass(frozen=True, kw_only=True)
class YokeShape(Shape, ABC):
    """Dimensions common to all yokes, mm.

    Raises ShapeError, naming the dimensions that clash, when they make no sound yoke.
    """

    kind: ClassVar[str]
    """Its name in a rig file; with _ between the words, that of its file in the catalogue."""
    sits: ClassVar[Literal["output", "shaft", "pinion"]] = "shaft"
    """Where it mostly sits: at the end of the shaft, or on what it is bolted or slid to."""
    slides: ClassVar[bool] = False
    """Whether it slides on the output, so that it goes nowhere else."""
    strapped: ClassVar[bool] = False
    """Whether straps hold its caps, in ears that are open toward the cross."""
    proud: ClassVar[frozenset[str]] = frozenset({"ear tip", "cap"})
    """Surfaces of its contact solid that are said to run into others, not the other way round."""

    name: str

    bore: float = length("diameter of the bores in the ears, which is that of the caps")
    cap_span: float = length("over the outer ends of two opposite caps")
    cap_length: float = length("one cap from end to end")
    inside_span: float = length("between the inside faces of the two ears")
    ear_thickness: float = length("one ear from inside face to outside face, at the bore")
    ear_edge: float = length("width of the bevel that breaks the outer edges of the ears")
    throat_depth: float = length("from the cross center to the floor of the throat, at its middle")
    throat_radius: float = length("radius between the throat floor and the ear inside face")
    saddle_radius: float = length(
        "radius over which the throat floor falls away sideways, seen along the bores"
    )

    def __post_init__(self) -> None:
        self.check()
        bore, inside, outside = self.bore, self.inside_span, self.outside_span
        self.require(
            outside >= self.cap_span,
            "inside_span {inside_span:g} and ear_thickness {ear_thickness:g} make {outside:g} mm "
            "over the ears, less than the {cap_span:of}",
            outside=outside,
        )
        self.require(
            self.cap_span - 2.0 * self.cap_length < inside,
            "caps of {cap_length} end inside ears of {inside_span}; they must reach the "
            "inside face",
        )
        held = max(0.0, 0.5 * (self.cap_span - inside))
        self.require(
            held >= HELD * self.cap_length,
            "inside_span {inside_span:.4g} mm is too wide for a cross of cap_span {cap_span:.4g} "
            "mm: only {held:.3g} mm of a cap of cap_length {cap_length:.4g} mm would sit in its "
            "ear; measure inside_span again, or choose the cross that goes in",
            held=held,
        )
        self.require(
            self.cap_span > 2.0 * self.cap_length + 0.5 * bore,
            "caps of {cap_length} meet at the middle of {cap_span}; there is no room for the cross",
        )
        self.require(
            self.throat_radius <= 0.5 * inside,
            "{throat_radius} is more than half of the {inside_span}",
        )
        self.require(
            self.throat_depth > 0.5 * bore + 3.0,
            "{throat_depth} leaves less than 3 mm of metal below the {bore:of}",
        )
        self.require(
            self.ear_edge < 0.4 * self.ear_thickness,
            "{ear_edge} eats up an {ear_thickness:of}",
        )

    @property
    def outside_span(self) -> float:
        """Over the outside faces of the two ears, mm."""
        return self.inside_span + 2.0 * self.ear_thickness

    def half_gap(self, x: float) -> float:
        """Return half of the gap between the ears at x, mm, which closes toward the floor."""
        into = max(0.0, x - (self.throat_depth - self.throat_radius))
        rest = sqrt(max(0.0, self.throat_radius**2 - into**2))
        return 0.5 * self.inside_span - self.throat_radius + rest

    def require_arms(self, sections: Sequence[Section]) -> None:
        """Raise ShapeError unless the arms keep metal outside of the throat.

        sections : across the body, from the ears' root to the neck
        """
        places = np.linspace(sections[0].x, self.throat_depth, ARM_STATIONS)
        outside = np.interp(places, [s.x for s in sections], [s.half_y for s in sections])
        left = float(min(outside - [self.half_gap(x) for x in places]))
        self.require(
            left >= LEAST_METAL,
            "{throat_depth} with {throat_radius} leaves {left:.1f} mm of metal in the arms, "
            "which draw in to a neck of {neck:g} mm at {at:g} mm "
            "from the cross center; expected {least:g} mm or more",
            left=left,
            neck=2.0 * sections[-1].half_y,
            at=sections[-1].x,
            least=LEAST_METAL,
        )

    def caps(self, outer: float) -> list[Solid]:
        """Return the two caps, their ends `outer` mm from the cross centre."""
        inner = 0.5 * self.cap_span - self.cap_length
        ends = (inner, outer), (-outer, -inner)
        return [cylinder("y", 0.5 * self.bore, *each, "cap") for each in ends]

    def throat(self, reach: float) -> Solid:
        """Return the tool that cuts the throat as far as `reach` mm from the cross centre."""
        half_gap = 0.5 * self.inside_span
        return throat_tool(
            self.throat_depth, half_gap, self.throat_radius, self.saddle_radius, reach
        )

    def one_mesh(self, solid: Solid) -> Mesh:
        """Return the mesh of the whole yoke, the surfaces of its ears told apart.

        Raises ShapeError when the cuts leave it in pieces.
        """
        clean = solid.without_crumbs()
        pieces = clean.pieces
        self.require(
            pieces == 1,
            "the dimensions leave the yoke in {pieces} pieces; expected one body. Less "
            "throat_depth ({throat_depth:g} mm) or more saddle_radius ({saddle_radius:g} mm) "
            "keeps more metal",
            pieces=pieces,
        )
        return name_ears(clean.mirrored_mesh(), 0.5 * self.inside_span)

    def made(self, contact: Solid, body: Solid, parts: Mapping[str, Mesh]) -> Yoke:
        """Return the yoke that can touch with one solid and is shown as a body and other parts."""
        shown = {"body": self.one_mesh(body), **parts}
        touching, measured = self.one_mesh(contact), self.dimensions()
        return Yoke(self.name, self.kind, touching, shown, self.tube_from, measured)

    @abstractmethod
    def build(self) -> Yoke:
        """Return the yoke with its contact solid and its parts to show."""

    def touching(self) -> Mesh:
        """Return the contact solid of the built yoke; kinds that can make it alone do."""
        return self.build().contact

    @abstractmethod
    def readings(self) -> tuple[Reading, ...]:
        """Return what to measure, that which most often decides a touch among the first."""

    @property
    @abstractmethod
    def ear_reach(self) -> tuple[float, float]:
        """Along x, mm: the ears' nearest metal beside the bores; how far they reach from there."""

    @property
    @abstractmethod
    def ear_root(self) -> tuple[float, float | None]:
        """Width of an ear's root, and radius round its bore where that is closed, mm."""

    @property
    def seat(self) -> float | None:
        """From the cross centre to where it sits on what carries it, mm; None on a tube."""
        return None

    @property
    def tube_from(self) -> float | None:
        """From the cross centre to where a tube butts against it, mm; None without a tube."""
        return None

    @property
    def datums(self) -> Mapping[str, float]:
        """Faces that a tape is held to, by name, mm from the cross centre along its shaft."""
        return {}

    @property
    def barrel(self) -> Barrel | None:
        """The barrel of a yoke that slides."""
        return None

    @property
    def bolt_ring(self) -> BoltRing | None:
        """The bolts of a yoke with a flange."""
        return None
