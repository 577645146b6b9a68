"""A cut through bodies: where a plane crosses their skin, and what of the plane is metal.

Whether a place is metal is decided line by line, by counting how often a line has crossed the
skin (odd is inside), so no contour has to be put together.
"""

import numpy as np

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
    if not len(segments):
        return np.empty((0, 2, 2))
    c, s = np.cos(angle), np.sin(angle)
    R = np.array([[c, s], [-s, c]])
    ends = segments @ R.T
    low, high = ends[..., 1].min(axis=1), ends[..., 1].max(axis=1)
    first = np.ceil(low / pitch - 0.5).astype(np.int64)
    after = np.ceil(high / pitch - 0.5).astype(np.int64)
    times = after - first
    which = np.repeat(np.arange(len(ends)), times)
    line = np.arange(len(which)) - np.repeat(np.cumsum(times) - times, times) + first[which]
    y = (line + 0.5) * pitch
    a, b = ends[which, 0], ends[which, 1]
    x = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    order = np.lexsort((x, line))
    x, y = x[order], y[order]
    pairs = np.stack([np.stack([x, y], -1)[0::2], np.stack([x, y], -1)[1::2]], axis=1)
    return np.asarray(pairs @ R)


def filled(segments: Floats, pitch: float) -> Floats:
    """Triangles, (m, 3, 2), that cover what closed `segments` go around, in strips of `pitch`."""
    rows = hatch(segments, 0.0, pitch)
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
