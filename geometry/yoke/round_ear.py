"""Yokes whose ears close round the caps: the tapering arms, the bores, caps and snap rings."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from math import pi

import numpy as np

from geometry.dimensions import length, require
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, turned
from geometry.yoke.base import YokeShape
from geometry.yoke.earwork import (
    Section,
    blend,
    round_ears,
    ruled,
    tangent,
    throat_tool,
)

ROOT_AT = 0.6
"""Where the straight taper of an ear ends and its root begins, as a part of the throat depth
(generic, from memory)."""

CLEAR = 1.0
"""How far, mm, a cutting tool reaches beyond what it cuts."""


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
        require(
            radius >= 0.5 * self.bore + 2.0,
            f"ear_radius {radius:g} mm leaves less than 2 mm of metal around the bore of "
            f"{self.bore:g} mm",
        )
        require(
            root >= radius,
            f"ear_root_width {self.ear_root_width:g} mm is narrower than the round end of "
            f"ear_radius {radius:g} mm; an ear tapers toward its end",
        )
        require(
            root - radius < 0.6 * ROOT_AT * self.throat_depth,
            f"ear_root_width {self.ear_root_width:g} mm is too wide for an ear of ear_radius "
            f"{radius:g} mm over a throat_depth of {self.throat_depth:g} mm",
        )
        require(
            ROOT_AT * self.throat_depth > 0.5 * self.bore,
            f"throat_depth {self.throat_depth:g} mm puts the ear's root into the bore of "
            f"{self.bore:g} mm",
        )

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

    def throat(self) -> Solid:
        """Return the tool that cuts the throat."""
        return throat_tool(
            self.throat_depth,
            0.5 * self.inside_span,
            self.throat_radius,
            self.saddle_radius,
            self.ear_radius + CLEAR,
        )

    def bores(self) -> Solid:
        """Return the tool that cuts both bores."""
        reach = 0.5 * self.outside_span + CLEAR
        return cylinder("y", 0.5 * self.bore, -reach, reach, "ear bore", hole=True)

    def caps(self, outer: float) -> list[Solid]:
        """Return the two caps, their ends `outer` mm from the cross centre."""
        inner = 0.5 * self.cap_span - self.cap_length
        return [
            cylinder("y", 0.5 * self.bore, *ends, "cap")
            for ends in ((inner, outer), (-outer, -inner))
        ]

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
