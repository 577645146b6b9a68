"""The outline of a body that turns about x: the round, tapered stretches that hold it.

Where such a body goes, each of its points sweeps a circle; the outline is the largest radius at
each place along x. It is kept on the safe side: never inside the body, and outside of it by at most
`TOL.outline`, but for a slice of `STEP` beside a place where the radius jumps.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from geometry.errors import ShapeError
from geometry.mesh import Floats, Mesh
from geometry.tolerances import TOL

STEP = 0.5
"""mm. Length of the slices that a body is measured in."""


@dataclass(frozen=True)
class Taper:
    """A round stretch: from x = start to stop, mm, with its radius at either end, mm."""

    start: float
    stop: float
    radius: tuple[float, float]


def outline(mesh: Mesh, start: float = -np.inf, stop: float = np.inf) -> tuple[Taper, ...]:
    """Outline of a mesh turned about its x axis, between two places along it (mm).

    Raises ShapeError when nothing of the mesh lies between the two.
    """
    low, high = float(mesh.vertices[:, 0].min()), float(mesh.vertices[:, 0].max())
    low, high = max(low, start), min(high, stop)
    if not low < high:
        raise ShapeError(f"nothing of the body lies between x = {start:g} and {stop:g} mm")
    x = np.linspace(low, high, max(2, int(np.ceil((high - low) / STEP)) + 1))
    across = np.stack([x, _widest_at(mesh, x)], axis=1)
    corners = _corners(mesh, x)
    slices = []
    for i in range(len(x) - 1):
        held = np.concatenate([across[i : i + 2], corners[i]])
        slices.append(Slice(held, across[i : i + 2]))
    return fitted(slices)


def outline_of_profile(profile: ArrayLike) -> tuple[Taper, ...]:
    """Outline of what a profile, (n, 2) mm along and off the axis, sweeps about the axis.

    Its places along the axis rise, or stay where the radius steps.
    """
    points = np.asarray(profile, dtype=np.float64)
    pairs = pairwise(points)
    ends = [np.stack(pair) for pair in pairs if pair[1][0] > pair[0][0]]
    return fitted([Slice(end, end) for end in ends])


@dataclass(frozen=True, eq=False)
class Slice:
    """What is known of a body between two places along x.

    held : (n, 2) mm, x and radius of points, both ends among them, such that a straight line over
        all of them is over the body
    body : (m, 2) mm, x and radius of points of the body, to tell how far off a line is
    """

    held: Floats
    body: Floats

    @property
    def ends(self) -> tuple[float, float]:
        """Where it begins and ends, mm."""
        return float(self.held[:, 0].min()), float(self.held[:, 0].max())


def fitted(slices: Sequence[Slice], within: float = TOL.outline) -> tuple[Taper, ...]:
    """Few tapers around slices that lie end to end, outside of them by `within` mm at most.

    A slice in which no line keeps to that gets its largest radius throughout.
    """
    found, first = [], 0
    while first < len(slices):
        most = float(slices[first].held[:, 1].max())
        last, best, reach = first, (most, most), 0
        while True:
            # Longer runs are hardly ever held where shorter ones are not: steps double and halve.
            tried = None
            if last + reach < len(slices):
                tried = _line_over(slices[first : last + reach + 1], within)
            if tried is not None:
                last, best, reach = last + reach, tried, max(1, 2 * reach)
            elif reach <= 1:
                break
            else:
                reach //= 2
        found.append(Taper(slices[first].ends[0], slices[last].ends[1], best))
        first = last + 1
    return tuple(found)


def _line_over(slices: Sequence[Slice], within: float) -> tuple[float, float] | None:
    """Radii at both ends of a straight line over slices; None where all stand off by too much."""
    held = np.concatenate([each.held for each in slices])
    body = np.concatenate([each.body for each in slices])
    ends = np.array([slices[0].ends[0], slices[-1].ends[1]])
    top = held[_upper_hull(held)]
    best, least = None, within
    for (x, r), (next_x, next_r) in pairwise(top):
        slope = (next_r - r) / (next_x - x)
        off = float((r + slope * (body[:, 0] - x) - body[:, 1]).max())
        if off <= least:
            low, high = r + slope * (ends - x)
            best, least = (float(low), float(high)), off
    return best


def _upper_hull(points: Floats) -> list[int]:
    """Which of points (n, 2) are corners of their hull, from above, from left to right."""
    x, y = points.T
    hull: list[int] = []
    for i in np.lexsort((-y, x)):
        if hull and x[i] == x[hull[-1]]:
            continue
        while len(hull) >= 2:
            o, p = hull[-2], hull[-1]
            if (x[p] - x[o]) * (y[i] - y[o]) < (y[p] - y[o]) * (x[i] - x[o]):
                break
            hull.pop()
        hull.append(int(i))
    return hull


def _widest_at(mesh: Mesh, x: Floats) -> Floats:
    """Largest radius of a mesh where it is cut across at places (n,) along x, (n,) mm."""
    edges = mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    a, b = mesh.vertices[edges.min(axis=1)], mesh.vertices[edges.max(axis=1)]
    low, high = np.minimum(a[:, 0], b[:, 0]), np.maximum(a[:, 0], b[:, 0])
    widest = np.zeros(len(x))
    for i, at in enumerate(x):
        through = (low <= at) & (high >= at)
        p, q = a[through], b[through]
        length = q[:, 0] - p[:, 0]
        share = np.where(length == 0.0, 0.0, (at - p[:, 0]) / np.where(length == 0.0, 1.0, length))
        cut = p[:, 1:] + share[:, None] * (q[:, 1:] - p[:, 1:])
        flat = q[length == 0.0, 1:]
        radius = np.hypot(*np.concatenate([cut, flat]).T)
        widest[i] = radius.max(initial=0.0)
    return widest


def _corners(mesh: Mesh, x: Floats) -> list[Floats]:
    """Vertices of a mesh in each slice between places along x, as (n, 2) mm of x and radius.

    The radius is convex along a triangle, so a straight line over its corners is over all of it;
    where a triangle reaches over an end of the slice, over what `_widest_at` finds there. Only the
    topmost are kept.
    """
    at = mesh.vertices[:, 0]
    points = np.stack([at, np.hypot(mesh.vertices[:, 1], mesh.vertices[:, 2])], axis=1)
    order = np.lexsort((at,))
    sorted_x = at[order]
    begin = np.searchsorted(sorted_x, x[:-1], side="left")
    end = np.searchsorted(sorted_x, x[1:], side="right")
    slices = (points[order[i:j]] for i, j in zip(begin, end, strict=True))
    return [each[_upper_hull(each)] for each in slices]
