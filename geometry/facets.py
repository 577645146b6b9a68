"""Flat facets for round shapes, always on the safe side of the metal.

An outer surface gets facets that touch the true circle from outside, a hole gets facets whose
corners lie on the true circle: either way the true metal lies inside the mesh. The derivations
are our own; the largest gap is at the corners, r (1 / cos(pi / n) - 1), or at the middle of the
facets of a hole, r (1 - cos(pi / n)).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, cos, pi

import numpy as np
import numpy.typing as npt

from geometry.errors import ShapeError
from geometry.mesh import Floats
from geometry.tolerances import TOL

GAP = 0.7 * TOL.chord
"""Largest gap of a facet, mm. Where two surfaces meet at a right angle their gaps add up to
sqrt(2) times as much at the edge, and that must stay within `TOL.chord`."""

EDGE = 2.0**0.5
"""What a gap of two surfaces grows to at the edge between them, at a right angle."""

PARALLEL = 1e-9
"""Directions, rad, closer than this are one; facets are degrees apart."""

CUT = 0.0123
"""Direction, rad, from which the edges of an outline are counted."""


def facets_around(radius: float, hole: bool = False, gap: float = GAP) -> int:
    """Return the least number of facets round a full circle, a multiple of 4.

    radius, gap : mm; the facets stay within `gap` of the circle
    hole : whether the circle is a hole, whose facets lie inside it
    """
    if not radius > 0.0:
        raise ShapeError(f"a circle of radius {radius:g} mm; expected more than 0")
    cosine = 1.0 - gap / radius if hole else 1.0 / (1.0 + gap / radius)
    count = 8 if cosine <= 0.0 else pi / acos(cosine)
    return max(8, 4 * -int(-count // 4))


def facet_gap(radius: float, facets: int, hole: bool = False) -> float:
    """Return the largest gap, mm, of `facets` facets round a full circle of `radius` mm."""
    cosine = cos(pi / facets)
    return radius * (1.0 - cosine) if hole else radius * (1.0 / cosine - 1.0)


def circle(radius: float, hole: bool = False, facets: int | None = None) -> Floats:
    """Return the corners, (n, 2) mm, counter-clockwise, of a faceted circle about the origin.

    The facets of an outer circle are tangent in the four axis directions and a hole has corners
    there, so both measure exactly the stated diameter across the axes.
    facets : their number, a multiple of 4; just enough if left out
    """
    number = facets or facets_around(radius, hole)
    angle = 2.0 * pi * (np.arange(number) + (0.0 if hole else 0.5)) / number
    size = radius if hole else radius / cos(pi / number)
    return size * np.stack([np.cos(angle), np.sin(angle)], axis=1)


def arc(
    centre: Sequence[float],
    radius: float,
    start: float,
    stop: float,
    hollow: bool = False,
    gap: float = GAP,
) -> Floats:
    """Return corners, (n, 2) mm, along an arc from angle `start` to `stop`, rad, either way.

    The first and the last corner lie on the arc. A bulging arc gets facets outside it, tangent
    at both ends; a `hollow` one gets facets inside it. A radius of 0 gives one sharp corner.
    """
    middle = np.asarray(centre, dtype=np.float64)
    if radius <= 0.0:
        return middle[None, :]
    span = abs(stop - start)
    count = max(1, -int(-facets_around(radius, hollow, gap) * span // (2.0 * pi)))
    if hollow:
        angle = np.linspace(start, stop, count + 1)
        size = np.full(count + 1, radius)
    else:
        step = (stop - start) / count
        between = start + step * (np.arange(count) + 0.5)
        angle = np.concatenate([[start], between, [stop]])
        size = np.concatenate([[radius], np.full(count, radius / cos(step / 2.0)), [radius]])
    turn: Floats = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    return middle + size[:, None] * turn


def rounded_rectangle(
    half_y: float, half_z: float, corner: float, quarter: int | None = None
) -> Floats:
    """Return the corners, (n, 2) mm, counter-clockwise, of a rectangle with rounded corners.

    half_y, half_z : half the width across each axis, mm
    corner : radius of the corners, mm; as large as both halves it gives a circle
    quarter : facets to a corner, counting the two flats as one; just enough if left out
    """
    if not 0.0 < corner <= min(half_y, half_z) * (1.0 + 1e-12):
        raise ShapeError(
            f"corners of radius {corner:g} mm do not fit a section of half widths "
            f"{half_y:g} and {half_z:g} mm"
        )
    count = quarter or facets_around(corner) // 4
    step = pi / 2.0 / count
    angle = step * (np.arange(4 * count) + 0.5)
    size = corner / cos(step / 2.0)
    points: Floats = size * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    shift: Floats = np.sign(points) * np.array([half_y - corner, half_z - corner])
    return points + shift


def joined(near: Floats, far: Floats) -> npt.NDArray[np.int64]:
    """Return triangles, (k, 3), of the skin between two outlines, one behind the other.

    near, far : (n, 2) and (m, 2) corners, counter-clockwise; numbered 0 to n - 1 and n to
    n + m - 1. The skin faces outward when seen along the way from near to far.
    Outlines of one length are joined corner to corner. Others must be convex: each edge then
    goes to the corner of the other outline that is furthest out in its direction, which gives
    the hull of the two.
    """
    n, m = len(near), len(far)
    if n == m:
        here = np.arange(n)
        there = np.roll(here, -1)
        return np.concatenate(
            [np.stack([here, there, there + n], 1), np.stack([here, there + n, here + n], 1)]
        )
    (a, first), (b, second) = _by_direction(near), _by_direction(far)
    faces = []
    i = j = 0
    while i < n or j < m:
        one, two = first[i % n], second[j % m] + n
        one_next, two_next = first[(i + 1) % n], second[(j + 1) % m] + n
        step_near = i < n and (j == m or a[i] < b[j] + PARALLEL)
        step_far = j < m and (i == n or b[j] < a[i] + PARALLEL)
        if step_near:
            faces.append((one, one_next, two))
            one = one_next
        if step_far:
            faces.append((one, two_next, two))
        i, j = i + step_near, j + step_far
    return np.array(faces, dtype=np.int64)


def _by_direction(outline: Floats) -> tuple[Floats, npt.NDArray[np.int64]]:
    """Return the directions, rad, of the edges in rising order and the corners they start at."""
    edge = np.roll(outline, -1, axis=0) - outline
    # Counted from a direction that no facet has, so that rounding swaps none of them.
    direction: Floats = (np.arctan2(edge[:, 1], edge[:, 0]) - CUT) % (2.0 * pi)
    order = np.roll(np.arange(len(outline)), -int(np.argmin(direction)))
    return direction[order], order
