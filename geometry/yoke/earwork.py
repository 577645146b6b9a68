"""The forged body that yokes share: two ears running down into one round neck, and the throat.

The body is ruled between a few sections across the shaft, each a rectangle with rounded
corners; the corners grow until the last section is the round of the neck. The edges of the ears
are broken by a bevel of two flats. The generic forging is defined by these sections, so only
its roundings have a chord error.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, pi, sqrt, tan
from typing import NamedTuple

import numpy as np

from geometry.facets import EDGE, arc, circle, facet_gap, facets_around, rounded_rectangle
from geometry.mesh import Floats, Mesh
from geometry.solids import Solid, hull, loft, turned

BEVEL = 3
"""Facets to a quarter of an ear's edge: the two flats of the bevel at 30 and 60 degrees."""

ROOT_STEPS = 6
"""Sections from the root of the ears to the neck; six show no corners."""

SADDLE_FLATS = 15
"""Flats over half a turn of the saddle, 12 degrees each. The throat is round between the ears;
sideways it falls away in these flats, which are the generic part itself and no approximation."""


class Section(NamedTuple):
    """A section across the shaft.

    x : where, from the cross centre; half_y, half_z : half widths; corner : radius; all mm
    quarter : facets to a corner; just enough if left out
    bevel : whether these facets are the flats of a bevel and no approximation
    """

    x: float
    half_y: float
    half_z: float
    corner: float
    quarter: int | None = None
    bevel: bool = False

    @classmethod
    def round(cls, x: float, radius: float, facets: int | None = None) -> Section:
        """Return a round section with as many facets as its neighbour on the shaft."""
        return cls(x, radius, radius, radius, (facets or facets_around(radius)) // 4)

    @classmethod
    def ear(cls, x: float, half_y: float, half_z: float, edge: float) -> Section:
        """Return a section of an ear, its outer edges broken by the bevel."""
        return cls(x, half_y, half_z, edge, BEVEL, bevel=True)

    def outline(self) -> Floats:
        """Return the corners of the section, (n, 2) mm, counter-clockwise in y and z."""
        return rounded_rectangle(self.half_y, self.half_z, self.corner, self.quarter)

    def points(self) -> Floats:
        """Return the corners of the section, (n, 3) mm."""
        flat = self.outline()
        return np.column_stack([np.full(len(flat), self.x), flat])

    def upper(self, floor: float) -> Floats:
        """Return the corners of the part of the section where y is `floor` mm or more."""
        points = self.points()
        foot = [[self.x, floor, self.half_z], [self.x, floor, -self.half_z]]
        return np.concatenate([points[points[:, 1] > floor], foot])

    @property
    def chord(self) -> float:
        """Largest distance of the facets from the corners; none where they are the bevel, mm."""
        if self.bevel:
            return 0.0
        count = 4 * self.quarter if self.quarter else facets_around(self.corner)
        return EDGE * facet_gap(self.corner, count)


def ruled(sections: Sequence[Section], name: str) -> list[Solid]:
    """Return what fills the way between successive sections, to unite with other bodies."""
    body = loft([(section.x, section.outline()) for section in sections], "x", name)
    return [replace(body, chord=max(section.chord for section in sections))]


def blend(start: Section, stop: Section, taper: float = 0.0) -> list[Section]:
    """Return the sections after `start`, up to `stop`, that flow like a forging.

    taper : slope of the flanks where they arrive at `start`
    The flanks go on with their taper and then flare out steeply, or draw in gently; the outside
    runs over in an S; the corners open into the round of the neck.
    """
    rise = stop.half_z - start.half_z
    first = taper * (stop.x - start.x)
    last = 2.0 * rise if rise > 0.0 else 0.0
    found = []
    for t in np.linspace(0.0, 1.0, ROOT_STEPS + 1)[1:]:
        ess = t * t * (3.0 - 2.0 * t)
        half_y = start.half_y + (stop.half_y - start.half_y) * ess
        half_z = start.half_z + rise * ess + t * (1.0 - t) * (first * (1.0 - t) - last * t)
        corner = start.corner + (stop.corner - start.corner) * t**1.5
        place = start.x + (stop.x - start.x) * t
        found.append(Section(place, half_y, half_z, min(corner, half_y, half_z)))
    return [*found[:-1], stop]


def round_ears(
    radius: float, inward: float, outside: float, edge: float, root: Section
) -> list[Solid]:
    """Return the two ears, from their round ends about the bores down to the `root` section.

    radius : of the round ends; inward : y to which the ears go before the throat is cut;
    outside : half of the span over the outside faces; all mm
    """
    flat = circle(radius)
    # Rings of the bevel's corners: the tangent polygon of the edge's rounding.
    first = edge * (1.0 - tan(pi / 12.0))
    middle = edge * (1.0 - cos(pi / 4.0) / cos(pi / 12.0))
    rings = [
        (inward, radius),
        (outside - first, radius),
        (outside - middle, radius - middle),
        (outside, radius - first),
    ]
    points = np.concatenate(
        [
            np.column_stack([z_x[:, 1], np.full(len(flat), y), z_x[:, 0]])
            for y, size in rings
            for z_x in [flat * (size / radius)]
        ]
        + [root.upper(inward)]
    )
    chord = EDGE * facet_gap(radius, len(flat))
    return [hull(points * [1.0, side, side], "ear", chord) for side in (1.0, -1.0)]


def throat_tool(depth: float, half_gap: float, corner: float, saddle: float, reach: float) -> Solid:
    """Return the tool that cuts the throat: a groove over a saddle that falls away sideways.

    depth : cross centre to the floor; half_gap : half of the span between the ears
    corner : radius of the groove's corners; saddle : radius that the flats of the floor touch,
    seen along the bores; reach : how far from the cross centre the tool cuts; all mm
    """
    outer = depth + saddle + reach
    left = arc((corner - half_gap, saddle + corner), corner, pi, 1.5 * pi, hollow=True)
    right = arc((half_gap - corner, saddle + corner), corner, 1.5 * pi, 2.0 * pi, hollow=True)
    if right[0, 0] - left[-1, 0] < 1e-9:
        right = right[1:]
    profile = np.vstack([left, right, [half_gap, outer], [-half_gap, outer]])
    tool = turned(
        profile,
        "y",
        "throat",
        (0.0, depth + saddle),
        sweep=(-pi, 0.0),
        facets=SADDLE_FLATS,
        flats=True,
    )
    chord = EDGE * facet_gap(corner, facets_around(corner, hole=True), hole=True)
    return replace(tool, chord=chord)


def name_ears(mesh: Mesh, half_gap: float) -> Mesh:
    """Return the mesh with the surfaces "ear" and "throat" told apart by where they face.

    half_gap : half of the span between the ears, mm
    """
    x, y, _ = mesh.triangles.mean(axis=1).T
    outward, ear = mesh.normals[:, 1] * np.sign(y), mesh.on("ear")
    tip = (x < 0.0) | (mesh.normals[:, 0] < -0.9)
    return mesh.named(
        {
            "ear tip": ear & tip,
            "ear flank": ear & ~tip,
            "ear outside face": ear & (outward > 0.9),
            "ear inside face": mesh.on("throat")
            & (outward < -0.999)
            & (np.abs(y) > half_gap - 1e-6),
        }
    )


def tangent(radius: float, taper: float) -> tuple[float, float]:
    """Return (x, half width) where a flank of slope `taper` touches a round end of `radius`."""
    along = 1.0 / sqrt(1.0 + taper * taper)
    return -radius * taper * along, radius * along
