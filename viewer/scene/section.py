"""A cut through bodies: where a plane crosses their skin, and what of the plane is metal.

Whether a place is metal is decided line by line, by counting how often a line has crossed the
skin (odd is inside), so no contour has to be put together.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geometry.mesh import Mesh
from viewer.draw.camera import Floats


def cut(mesh: Mesh, X_VP: Floats) -> Floats:
    """Segments, (n, 2, 2), in which the plane z = 0 of a frame V crosses the skin of a mesh.

    X_VP : (4, 4) pose of the mesh in V, mm. The segments are (x, y) in V, mm.
    """
    vertices = mesh.vertices @ X_VP[:3, :3].T + X_VP[:3, 3]
    corners = vertices[mesh.faces]
    # A vertex in the plane counts as above it, for all its triangles alike, so cuts stay closed.
    above = corners[..., 2] >= 0.0
    crossing = above.any(axis=1) & ~above.all(axis=1)
    corners, above = corners[crossing], above[crossing]
    if not len(corners):
        return np.empty((0, 2, 2))
    # Turn each triangle until the corner that is alone on its side comes first.
    lone = np.argmax(above == (above.sum(axis=1) == 1)[:, None], axis=1)
    turn = (lone[:, None] + np.arange(3)) % 3
    corners = np.take_along_axis(corners, turn[..., None], axis=1)
    alone, others = corners[:, :1], corners[:, 1:]
    share = alone[..., 2:] / (alone[..., 2:] - others[..., 2:])
    return np.asarray((alone + share * (others - alone))[..., :2])


def hatched(mesh: Mesh, R: Floats, pitch: float) -> Floats:
    """Lines, (n, 2, 3) mm, over the skin of a mesh: cuts by planes `pitch` mm apart.

    R : (3, 3), a rotation whose last row is square to the planes.
    """
    heights = mesh.vertices @ R[2] / pitch
    pieces, X_VP = [np.empty((0, 2, 3))], np.eye(4)
    X_VP[:3, :3] = R
    for number in np.arange(np.ceil(heights.min()), np.floor(heights.max()) + 1.0):
        X_VP[2, 3] = -number * pitch
        flat = cut(mesh, X_VP)
        deep = np.concatenate([flat, np.full((*flat.shape[:2], 1), number * pitch)], axis=2)
        pieces.append(deep @ R)
    return np.concatenate(pieces)


def hatch(segments: Floats, angle: float, pitch: float) -> Floats:
    """Lines of a hatching, (m, 2, 2), inside what closed `segments`, (n, 2, 2), go around.

    angle : rad, of the lines against x. pitch : distance from line to line.
    """
    return hatch_common((segments,), angle, pitch)


def hatch_common(
    outlines: Sequence[Floats], angle: float, pitch: float, near: Floats | None = None
) -> Floats:
    """Lines of a hatching, (m, 2, 2), of what lies inside each of some closed outlines (n, 2, 2).

    angle : rad, of the lines against x. pitch : distance from line to line. near : low and high
    corner (2, 2) of a box; lines that pass it by are left out.
    """
    if not all(map(len, outlines)):
        return np.empty((0, 2, 2))
    c, s = np.cos(angle), np.sin(angle)
    R = np.array([[c, s], [-s, c]])
    ends = np.concatenate(outlines) @ R.T
    of = np.repeat(np.arange(len(outlines)), [len(each) for each in outlines])
    low, high = ends[..., 1].min(axis=1), ends[..., 1].max(axis=1)
    first = np.ceil(low / pitch - 0.5).astype(np.int64)
    after = np.ceil(high / pitch - 0.5).astype(np.int64)
    if near is not None:
        beside = near[[0, 0, 1, 1], 0] * R[1, 0] + near[[0, 1, 0, 1], 1] * R[1, 1]
        first = np.maximum(first, int(np.floor(beside.min() / pitch)))
        after = np.minimum(after, int(np.ceil(beside.max() / pitch)))
    times = np.maximum(after - first, 0)
    which = np.repeat(np.arange(len(ends)), times)
    line = np.arange(len(which)) - np.repeat(np.cumsum(times) - times, times) + first[which]
    y = (line + 0.5) * pitch
    a, b = ends[which, 0], ends[which, 1]
    x = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    order = np.lexsort((x, line))
    points = np.stack([x, y], axis=-1)[order]
    # A line leaves every outline as often as it comes in, so each begins outside of all.
    crossed = np.cumsum(of[which[order], None] == np.arange(len(outlines)), axis=0)
    inside = np.flatnonzero((crossed % 2 == 1).all(axis=1))
    return np.asarray(np.stack([points[inside], points[inside + 1]], axis=1) @ R)


def within(points: Floats, outline: Floats) -> NDArray[np.bool_]:
    """Whether points (n, 2) lie inside what a closed outline, (m, 2, 2), goes around."""
    a, b = outline[:, 0], outline[:, 1]
    x, y = points[:, :1], points[:, 1:]
    passes = (a[:, 1] <= y) != (b[:, 1] <= y)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    return np.asarray((passes & (at > x)).sum(axis=1) % 2 == 1)


def kept_within(segments: Floats, outline: Floats) -> Floats:
    """The pieces of segments, (n, 2, 2), inside what a closed outline, (m, 2, 2), goes around."""
    if not (len(segments) and len(outline)):
        return np.empty((0, 2, 2))
    a, along = segments[:, None, 0], (segments[:, 1] - segments[:, 0])[:, None]
    c, across = outline[None, :, 0], (outline[:, 1] - outline[:, 0])[None]
    turn = along[..., 0] * across[..., 1] - along[..., 1] * across[..., 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = ((c - a)[..., 0] * across[..., 1] - (c - a)[..., 1] * across[..., 0]) / turn
        there = ((c - a)[..., 0] * along[..., 1] - (c - a)[..., 1] * along[..., 0]) / turn
    meets = (share > 0.0) & (share < 1.0) & (there >= 0.0) & (there <= 1.0)
    row, column = np.nonzero(meets)
    count = np.arange(len(segments))
    rows = np.concatenate([count, count, row])
    shares = np.concatenate([np.zeros(len(count)), np.ones(len(count)), share[row, column]])
    order = np.lexsort((shares, rows))
    rows, shares = rows[order], shares[order]
    same = rows[:-1] == rows[1:]
    rows, low, high = rows[:-1][same], shares[:-1][same, None], shares[1:][same, None]
    start, way = segments[rows, 0], segments[rows, 1] - segments[rows, 0]
    pieces = np.stack([start + low * way, start + high * way], axis=1)
    return np.asarray(pieces[within(pieces.mean(axis=1), outline)])


def filled(segments: Floats, pitch: float) -> Floats:
    """Triangles, (m, 3, 2), that cover what closed `segments` go around, in strips of `pitch`."""
    return filled_common((segments,), pitch)


def filled_common(outlines: Sequence[Floats], pitch: float, near: Floats | None = None) -> Floats:
    """The same of what lies inside each of some closed outlines (n, 2, 2)."""
    rows = hatch_common(outlines, 0.0, pitch, near)
    a, b = rows[:, 0], rows[:, 1]
    half = np.array([0.0, 0.5 * pitch])
    strips = np.array([[a - half, b - half, b + half], [a - half, b + half, a + half]])
    return np.asarray(strips.transpose(2, 0, 1, 3).reshape(-1, 3, 2))


def clipped(segments: Floats, low: Floats, high: Floats) -> Floats:
    """The pieces of segments, (n, 2, 2), that lie in the rectangle from `low` to `high`, (2,)."""
    if not len(segments):
        return segments
    start, along = segments[:, 0], segments[:, 1] - segments[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        one, other = (low - start) / along, (high - start) / along
    still = along == 0.0
    inside = (start >= low) & (start <= high)
    one = np.where(still, np.where(inside, -np.inf, np.inf), one)
    other = np.where(still, np.where(inside, np.inf, -np.inf), other)
    enter = np.clip(np.minimum(one, other).max(axis=1), 0.0, 1.0)
    leave = np.clip(np.maximum(one, other).min(axis=1), 0.0, 1.0)
    outside = (still & ~inside).any(axis=1)
    kept = (enter < leave) & ~outside
    pieces = np.stack([start + enter[:, None] * along, start + leave[:, None] * along], axis=1)
    return np.asarray(pieces[kept])
