"""Rows: how near metal of one body can come to metal of another over a box of poses, at least.

A row is two nodes of the trees, or two triangles, with a box of poses. Along one direction n,
fixed in the frame of the first body, the second lies beyond the first by its separation at the
middle of the box, less what the first derivative takes off it over the box, less the rest of the
motion (`geometry.contact.moves`). The rest grows with the radius of what moves, and metal farther
out than any of the other body by the wanted gap is out of reach, so the smaller of both radii
counts. Nodes try the axes of both boxes; three square separations make a distance. Triangles try
both normals and the direction in which they are nearest at the middle.

All arrays have the row last, so that each step is one stroke over many rows.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from geometry.contact.moves import Moves
from geometry.contact.row_tree import RowTree

Array = NDArray[np.float64]
Index = NDArray[np.intp]

ROUNDING = 1e-9
"""mm taken off every bound: double precision leaves 1e-12 of parts of a metre."""

STRIP = 4096
"""Rows done at a time: what they need stays in the cache of the processor."""

_NEXT = (1, 2, 0)


def bounds(
    trees: tuple[RowTree, RowTree],
    moves: Moves,
    rows: tuple[Index, Index, Index],
    gap: float,
    slack: float,
    leaf: bool,
) -> tuple[Array, Array, Array]:
    """Least distance of rows less the gap, the radius that counts, and the distance seen; (n,) mm.

    A row that comes out above 0 leaves more than the gap at every pose of its box. What is seen is
    how near its triangles are at the middle of the box, or more; inf where nobody looked.

    rows : (n,) numbers of the node of the first tree, of the second, and of the box.
    slack : mm, how much farther out than all of the other body metal may lie and yet matter.
    leaf : whether both nodes of every row are leaves.
    """
    row: Callable[..., tuple[Array, Array, Array]] = _triangles if leaf else _nodes
    n = len(rows[0])
    least, radius, seen = np.empty(n), np.empty(n), np.empty(n)
    for start in range(0, n, STRIP):
        part = slice(start, start + STRIP)
        one, other, box = (each[part] for each in rows)
        told = row(*trees, moves, one, other, box, gap, slack)
        least[part], radius[part], seen[part] = told
    return least, radius, seen


def _nodes(
    a: RowTree,
    b: RowTree,
    moves: Moves,
    one: Index,
    other: Index,
    box: Index,
    gap: float,
    slack: float,
) -> tuple[Array, Array, Array]:
    R, (v, w) = moves.turn[:, box], moves.rates[:, :, box]
    p, e, c, f = a.centre[:, one], a.half[:, one], b.centre[:, other], b.half[:, other]
    radius = np.minimum(a.far[one] + slack, b.far[other])
    steep = np.abs(R)
    # What the rates make of the middle of b's box, and of its half sides; in b's frame.
    v_c, w_c = (
        [by + to for by, to in zip(_cross(rate, c), moves.sway[axis][:, box], strict=True)]
        for axis, rate in enumerate((v, w))
    )
    both = np.abs(v) + np.abs(w)
    wide = [f[i] + both[j] * f[k] + both[k] * f[j] for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1))]
    away, square = [], 0.0
    for i in range(3):
        line, along = R[3 * i : 3 * i + 3], steep[3 * i : 3 * i + 3]
        d = _dot(line, c) + moves.place[i, box] - p[i]
        away.append(d)
        room = np.abs(d) - e[i] - _dot(along, wide)
        room -= np.abs(_dot(line, v_c)) + np.abs(_dot(line, w_c))
        square = square + np.maximum(room, 0.0) ** 2
    other_square = 0.0
    for i in range(3):
        room = np.abs(_dot(R[i::3], away)) - _dot(steep[i::3], e) - wide[i]
        room -= np.abs(v_c[i]) + np.abs(w_c[i])
        other_square = other_square + np.maximum(room, 0.0) ** 2
    least = np.sqrt(np.maximum(square, other_square))
    return _less(least, moves, box, radius, gap), radius, np.full(len(box), np.inf)


def _triangles(
    a: RowTree,
    b: RowTree,
    moves: Moves,
    one: Index,
    other: Index,
    box: Index,
    gap: float,
    slack: float,
) -> tuple[Array, Array, Array]:
    radius = np.minimum(a.far[one] + slack, b.far[other])
    one, other = one - a.first, other - b.first
    P, Q, R = a.corners[:, :, one], b.corners[:, :, other], moves.turn[:, box]
    place, ways = moves.place[:, box], (moves.rates[:, :, box], moves.sway[:, :, box])
    n, m = a.normal[:, one], b.normal[:, other]
    least = _apart(P, Q, n, _back(R, n), place, ways)
    least = np.maximum(least, _apart(P, Q, _ahead(R, m), m, place, ways))
    least, seen = _less(least, moves, box, radius, gap), np.full(len(box), np.inf)
    left = np.flatnonzero(least <= 0.0)
    if len(left):
        P, Q, R = P[:, :, left], Q[:, :, left], R[:, left]
        place, ways = place[:, left], (ways[0][:, :, left], ways[1][:, :, left])
        n, seen[left] = nearest(P, np.array([_ahead(R, corner) + place for corner in Q]))
        closer = _apart(P, Q, n, _back(R, n), place, ways)
        closer = _less(closer, moves, box[left], radius[left], gap)
        least[left] = np.maximum(least[left], closer)
    return least, radius, seen


def _less(least: Array, moves: Moves, box: Index, radius: Array, gap: float) -> Array:
    """Take off the rest of the motion, the gap, and a margin for rounding."""
    rest: Array = moves.drift[box] + moves.bow[box] * radius
    return least - rest - (gap + ROUNDING)


def _apart(
    P: Array, Q: Array, n: Array, m: "Array | list[Array]", place: Array, ways: tuple[Array, Array]
) -> Array:
    """Separation of triangles along n (m in the second body's frame), less the first derivative.

    Either may lie ahead of the other. What a corner moves along n is linear over its triangle, so
    the corners tell the least and the most.
    """
    first = [_dot(corner, n) for corner in P]
    (v, w), (to_v, to_w) = (_cross(m, rate) for rate in ways[0]), (_dot(m, to) for to in ways[1])
    ahead = _dot(place, n)
    low, high = [], []
    for corner in Q:
        at, by = (
            _dot(corner, m) + ahead,
            np.abs(_dot(corner, v) + to_v) + np.abs(_dot(corner, w) + to_w),
        )
        low.append(at - by)
        high.append(at + by)
    return np.maximum(_least(low) - _most(first), _least(first) - _most(high))


def nearest(P: Array, Q: Array) -> tuple[Array, Array]:
    """Unit directions (3, n) from triangles P to Q, (3, 3, n) each, and how near they are, (n,) mm.

    By corner and coordinate, between the nearest points. Of triangles that cut each other, which
    are at 0 mm, any direction comes out and any distance.
    """
    n = P.shape[2]
    sides = [[X[_NEXT[k]] - X[k] for k in range(3)] for X in (P, Q)]
    squares = [[_dot(side, side) for side in each] for each in sides]
    best, way = np.full(n, np.inf), np.zeros((3, n))
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for i in range(3):
            for k in range(3):
                apart = P[i] - Q[k]
                u, v, uu, vv = sides[0][i], sides[1][k], squares[0][i], squares[1][k]
                uv, ua, va = _dot(u, v), _dot(u, apart), _dot(v, apart)
                free = uu * vv - uv * uv
                s = np.where(free > 1e-12 * uu * vv, (uv * va - vv * ua) / free, 0.0)
                t = np.clip((uv * np.clip(s, 0.0, 1.0) + va) / vv, 0.0, 1.0)
                s = np.clip((uv * t - ua) / uu, 0.0, 1.0)
                here = apart + s * u - t * v
                square = _dot(here, here)
                nearer = square < best
                best, way = np.where(nearer, square, best), np.where(nearer, -here, way)
        for X, edges, Y, sign in ((P, sides[0], Q, 1.0), (Q, sides[1], P, -1.0)):
            normal = np.array(_cross(edges[0], edges[1]))
            size = _dot(normal, normal)
            inward = [_cross(normal, edge) for edge in edges]
            for corner in Y:
                height = _dot(corner - X[0], normal)
                square = height * height / size
                over = square < best
                for k in range(3):
                    over &= _dot(corner - X[k], inward[k]) >= 0.0
                best = np.where(over, square, best)
                way = np.where(over, (sign * height / size) * normal, way)
        apart = np.sqrt(best)
        unit = way / apart
    return np.where(np.isfinite(unit), unit, 0.0), apart


def _back(R: Array, n: Array) -> list[Array]:
    """Directions of the first body's frame in the second's."""
    return [_dot(R[i::3], n) for i in range(3)]


def _ahead(R: Array, m: Array) -> Array:
    """Directions of the second body's frame in the first's."""
    return np.array([_dot(R[3 * i : 3 * i + 3], m) for i in range(3)])


def _dot(u: "Array | list[Array]", v: "Array | list[Array]") -> Array:
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]


def _cross(u: "Array | list[Array]", v: "Array | list[Array]") -> list[Array]:
    return [
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    ]


def _least(values: list[Array]) -> Array:
    return np.minimum(np.minimum(values[0], values[1]), values[2])


def _most(values: list[Array]) -> Array:
    return np.maximum(np.maximum(values[0], values[1]), values[2])
