"""Nearest points of straight segments, many pairs at once.

Closed forms; every array has the batch first. Own derivation, compared with another library in
the tests.
"""

import numpy as np
from numpy.typing import NDArray

from geometry.contact.triangles import dot

Array = NDArray[np.float64]


def nearest_of_segments(p: Array, q: Array, a: Array, b: Array) -> tuple[Array, Array]:
    """Where two segments, p to q and a to b, (n, 3) mm, are nearest: shares (n,) of each.

    The squared distance is a convex paraboloid in the two shares. Its lowest point within the
    unit square is where one share is best for the other: the free minimum if that lies inside,
    else one on a side. Of a parallel pair that faces each other the middle of the stretch is
    given.
    """
    d, e, r = q - p, b - a, p - a
    dd, ee, de = dot(d, d), dot(e, e), dot(d, e)
    dr, er = dot(d, r), dot(e, r)
    square = dd * ee - de * de
    parallel = square <= PARALLEL * dd * ee
    free = np.clip((de * er - ee * dr) / np.where(parallel, 1.0, square), 0.0, 1.0)
    low, high = _facing(dd, de, dr)
    s = np.where(parallel, 0.5 * (low + high), free)
    t = np.clip(_share(de * s + er, ee), 0.0, 1.0)
    s = np.clip(_share(de * t - dr, dd), 0.0, 1.0)
    return s, t


def _facing(dd: Array, de: Array, dr: Array) -> tuple[Array, Array]:
    """Shares of the first segment between which the ends of a parallel one lie beside it."""
    ends = _share(-dr, dd), _share(de - dr, dd)
    low, high = np.minimum(*ends), np.maximum(*ends)
    return np.clip(low, 0.0, 1.0), np.clip(high, 0.0, 1.0)


def _share(part: Array, whole: Array) -> Array:
    """Ratio, 0 for a segment without length."""
    return np.asarray(np.where(whole > 0.0, part / np.where(whole > 0.0, whole, 1.0), 0.0))


PARALLEL = 1e-12
"""Squared sine of the angle below which two segments count as parallel: a millionth of a radian,
where either answer differs by less than a nanometre on a metre."""
