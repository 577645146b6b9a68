"""Round bars with flat ends, straight or tapered: nearest points and how far they reach.

Closed forms, many pairs at once; every array has the batch first. Own derivation, compared with
another library in the tests.
"""

import numpy as np
from numpy.typing import NDArray

from geometry.contact.triangles import dot

Array = NDArray[np.float64]


def project_to_cone(start: Array, stop: Array, radius: Array, points: Array) -> Array:
    """Nearest point of tapered bars to one point each.

    start, stop, points : (n, 3) mm; radius : (n, 2) mm at start and at stop.

    In the half plane through the axis and the point a bar is a four-sided figure, one side of
    which is the axis; the nearest point lies on one of the other three, or is the point itself.
    """
    axis = stop - start
    length = np.linalg.norm(axis, axis=-1)
    u = axis / np.where(length > 0.0, length, 1.0)[:, None]
    along = dot(points - start, u)
    across = points - start - along[:, None] * u
    size = np.linalg.norm(across, axis=-1)
    low, high = radius[:, 0], radius[:, 1]
    taper = high - low
    square = length * length + taper * taper
    down = along * length + (size - low) * taper
    share = np.clip(down / np.where(square > 0.0, square, 1.0), 0.0, 1.0)
    sides = (
        (share * length, low + share * taper),
        (np.zeros_like(length), np.minimum(size, low)),
        (length, np.minimum(size, high)),
    )
    at, out = sides[0]
    least = (along - at) ** 2 + (size - out) ** 2
    for where, how_far in sides[1:]:
        away = (along - where) ** 2 + (size - how_far) ** 2
        nearer = away < least
        at, out = np.where(nearer, where, at), np.where(nearer, how_far, out)
        least = np.minimum(away, least)
    there = low * length + along * taper
    inside = (along >= 0.0) & (along <= length) & (size * length <= there)
    at, out = np.where(inside, along, at), np.where(inside, size, out)
    shrink = out / np.where(size > 0.0, size, 1.0)
    return np.asarray(start + at[:, None] * u + shrink[:, None] * across)


def highest_of_cone(start: Array, stop: Array, radius: Array, along: Array) -> Array:
    """Most of `along` . x over tapered bars, (n,): one of the two rims.

    start, stop, along : (n, 3); radius : (n, 2) mm at start and at stop.
    """
    axis = stop - start
    length = np.linalg.norm(axis, axis=-1)
    u = axis / np.where(length > 0.0, length, 1.0)[:, None]
    size, part = dot(along, along), dot(along, u)
    rim = np.sqrt(np.maximum(size - part * part, 0.0))
    first, last = (dot(along, end) + radius[:, i] * rim for i, end in enumerate((start, stop)))
    return np.asarray(np.maximum(first, last))
