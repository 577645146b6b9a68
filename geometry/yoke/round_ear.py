"""Yokes whose ears close round the caps: the tapering arms, the bores, caps and snap rings."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from math import pi
from typing import Any, Final

import numpy as np

from geometry.dimensions import length
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, turned
from geometry.yoke.base import CLEAR, ROOT_AT, YokeShape
from geometry.yoke.earwork import Section, blend, round_ears, ruled, tangent
from geometry.yoke.reading import (
    ACROSS,
    ALONG_BORES,
    EARS,
    FALLING,
    FLOOR_AT,
    FROM_BORE,
    THROAT_RADIUS,
    Arrow,
    Cut,
    Reading,
    ear_bevel,
    fall,
    rod,
)
from geometry.yoke.reading import CLEAR as STANDS_CLEAR


def _middle_of_ear(shape: Any) -> float:
    return float(0.25 * (shape.inside_span + shape.outside_span))


def _ear_wall(shape: Any) -> Cut:
    ends = (-shape.ear_radius, 0.0), (-0.5 * shape.bore, 0.0)
    return Cut(ALONG_BORES, _middle_of_ear(shape), Arrow(*ends, (0.0, -shape.ear_radius - 4)))


def _ear_bevel(shape: Any) -> Cut:
    x, high = -shape.ear_radius, 0.5 * shape.outside_span
    return Cut(ACROSS, 0.0, Arrow((x, high - shape.ear_edge), (x, high), (-STANDS_CLEAR, 0.0)))


def _root_width(shape: Any) -> Cut:
    x, half = ROOT_AT * shape.throat_depth, 0.5 * shape.ear_root_width
    return Cut(ALONG_BORES, _middle_of_ear(shape), Arrow((x, -half), (x, half)))


def _throat_gap(shape: Any) -> Cut:
    arrow = Arrow((0.5 * shape.bore, 0.0), (shape.throat_depth, 0.0))
    return Cut(ACROSS, 0.0, arrow, rod(shape))


def _floor_fall(shape: Any) -> Cut:
    floor = shape.throat_depth
    edge = (((floor, -1.4 * FLOOR_AT), (floor, 1.4 * FLOOR_AT)),)
    end = floor + fall(FLOOR_AT, shape.saddle_radius), FLOOR_AT
    return Cut(ALONG_BORES, 0.0, Arrow((floor, FLOOR_AT), end, (0.0, STANDS_CLEAR)), edge)


ROUND_EARS: Final = (
    *EARS,
    Reading(
        name="ear wall",
        dimension="ear_radius",
        asks="How much metal is there between the bore and the end of the ear?",
        how="Outside jaws, one in the bore, one on the round end of the ear, in line with the "
        "shaft. This number and the throat decide most often when the yokes touch: take it on "
        "both ears and put down the larger.",
        cut=_ear_wall,
        way=FROM_BORE,
    ),
    ear_bevel(_ear_bevel),
    Reading(
        name="root width",
        dimension="ear_root_width",
        asks="How wide is an ear across its flanks where it begins to spread into the neck?",
        how="Outside jaws across the ear, just before the flanks curve outward.",
        cut=_root_width,
    ),
    Reading(
        name="throat gap",
        dimension="throat_depth",
        asks="How far is it from the bore to the floor of the throat, in the middle between the "
        "ears?",
        how="Put a straight rod as thick as the caps through both bores and take the depth gauge "
        "from its near side down to the floor. With the cross in, from the cap's near side.",
        cut=_throat_gap,
        way=FROM_BORE,
    ),
    THROAT_RADIUS,
    Reading(
        name="floor fall",
        dimension="saddle_radius",
        asks=f"By how much does the floor of the throat fall away {FLOOR_AT:g} mm beside its "
        "middle?",
        how="Lay a straight edge on the floor, square to the bores and to the shaft, and measure "
        f"the gap under it {FLOOR_AT:g} mm from the middle.",
        cut=_floor_fall,
        way=FALLING,
    ),
)
"""What a caliper reads on every yoke with round ears."""


@dataclass(frozen=True, kw_only=True)
class RoundEarShape(YokeShape):
    """Dimensions of the ears of weld, flange and sliding yokes, mm."""

    ear_radius: float = length("from the middle of the bore to the round end of the ear")
    ear_root_width: float = length(
        "across the flanks of an ear where it begins to spread into the neck"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        radius, root = self.ear_radius, 0.5 * self.ear_root_width
        self.require(
            radius >= 0.5 * self.bore + 2.0,
            "{ear_radius} leaves less than 2 mm of metal around the {bore:of}",
        )
        self.require(
            root >= radius,
            "{ear_root_width} is narrower than the round end of {ear_radius}; an ear tapers "
            "toward its end",
        )
        self.require(
            root - radius < 0.6 * ROOT_AT * self.throat_depth,
            "{ear_root_width} is too wide for an ear of {ear_radius} over a {throat_depth:of}",
        )
        self.require(
            ROOT_AT * self.throat_depth > 0.5 * self.bore,
            "{throat_depth} puts the ear's root into the {bore:of}",
        )

    @property
    def ear_reach(self) -> tuple[float, float]:
        """Round ears end at their radius; see `YokeShape.ear_reach`."""
        return -0.5 * self.bore, self.ear_radius

    @property
    def ear_root(self) -> tuple[float, float]:
        """Root and ring of an ear; see `YokeShape.ear_root`."""
        return self.ear_root_width, self.ear_radius

    @abstractmethod
    def neck(self) -> Section:
        """Return the section where the forging ends and the kind's own foot begins."""

    def roots(self) -> list[Section]:
        """Return the sections from the roots of the ears to the neck."""
        at = ROOT_AT * self.throat_depth
        taper = (0.5 * self.ear_root_width - self.ear_radius) / at
        start, width = tangent(self.ear_radius, taper)
        half_z = width + taper * (at - start)
        root = Section.ear(at, 0.5 * self.outside_span, half_z, self.ear_edge)
        return [root, *blend(root, self.neck(), taper)]

    def forged(self) -> list[Solid]:
        """Return the ears and their roots down to the neck, not yet cut."""
        roots = self.roots()
        ears = round_ears(
            self.ear_radius,
            self.half_gap(roots[0].x) - CLEAR,
            0.5 * self.outside_span,
            self.ear_edge,
            roots[0],
        )
        return [*ears, *ruled(roots, "ear root")]

    def bores(self) -> Solid:
        """Return the tool that cuts both bores."""
        reach = 0.5 * self.outside_span + CLEAR
        return cylinder("y", 0.5 * self.bore, -reach, reach, "ear bore", hole=True)

    def snap_rings(self) -> Mesh | None:
        """Return the snap rings outside the caps, or None where the caps come out flush."""
        room = 0.5 * (self.outside_span - self.cap_span)
        if room < 1.0:
            return None
        near, far = 0.5 * self.cap_span, 0.5 * self.cap_span + min(1.6, 0.7 * room)
        radius = 0.5 * self.bore
        wire = [[near, 0.78 * radius], [far, 0.78 * radius], [far, radius], [near, radius]]
        gap = 0.22
        rings = [
            turned(
                np.asarray(wire[::step]) * [side, 1.0],
                "y",
                "snap ring",
                hole=True,
                sweep=(0.5 * pi + gap, 2.5 * pi - gap),
            ).mesh()
            for side, step in ((1.0, 1), (-1.0, -1))
        ]
        return Mesh.join(rings)

    def cap_parts(self) -> dict[str, Mesh]:
        """Return the caps and snap rings to show."""
        caps = [cap.mesh() for cap in self.caps(0.5 * self.cap_span)]
        rings = self.snap_rings()
        return {"caps": Mesh.join(caps)} | ({} if rings is None else {"snap rings": rings})
