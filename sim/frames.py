"""Frames, rotations and directions, in monogram notation.

Axes as in [ISO8855]: x forward, y left, z up. `C` is the chassis frame with its origin at the
centre of the axle housing at ride height, `A` the axle housing frame, equal to `C` at ride height.
`R_CA` turns a vector given in A into C, `p_C_Pinion` is a point in C, and `X_CA` is the 4x4 pose
of A in C. Adjacent letters match in a product: ``p_C = R_CA @ p_A + p_C_A``.

Arrays keep the batch first: vectors are (..., 3), rotations (..., 3, 3). Many functions store
vectors component by component, which is what makes a million poses a second possible, and hand
out a view that has the components last.
"""

from math import cos, sin

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.tolerances import TOL

FloatArray = NDArray[np.float64]
Vec3 = tuple[float, float, float]


def read_only(values: ArrayLike) -> FloatArray:
    """Copy of `values` as float64 with the write flag off."""
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


def locked(array: FloatArray) -> FloatArray:
    """Give back `array` itself with the write flag off; for arrays nobody else holds."""
    held = np.asarray(array)
    held.setflags(write=False)
    return held


def components_last(stacked: FloatArray) -> FloatArray:
    """View (..., 3) of a vector batch that is stored (3, ...)."""
    return np.moveaxis(stacked, 0, -1)


def _rotation(axis: int, angle: ArrayLike) -> FloatArray:
    theta = np.asarray(angle, dtype=np.float64)
    c, s = np.cos(theta), np.sin(theta)
    first, second = (axis + 1) % 3, (axis + 2) % 3
    R = np.zeros((*theta.shape, 3, 3))
    R[..., axis, axis] = 1.0
    R[..., first, first] = c
    R[..., second, second] = c
    R[..., first, second] = -s
    R[..., second, first] = s
    return R


def Rx(angle: ArrayLike) -> FloatArray:
    """Right-hand rotation about x (forward), rad: positive lifts the left. (..., 3, 3)."""
    return _rotation(0, angle)


def Ry(angle: ArrayLike) -> FloatArray:
    """Right-hand rotation about y (left), rad: positive lowers what points forward."""
    return _rotation(1, angle)


def Rz(angle: ArrayLike) -> FloatArray:
    """Right-hand rotation about z (up), rad: positive turns forward to the left."""
    return _rotation(2, angle)


def unit(vector: ArrayLike) -> FloatArray:
    """Vector (..., 3) scaled to length one; a zero vector gives nan."""
    v = np.asarray(vector, dtype=np.float64)
    length = np.sqrt(np.sum(v * v, axis=-1, keepdims=True))
    return v / np.where(length > 0.0, length, np.nan)


def dot(u: ArrayLike, v: ArrayLike) -> FloatArray:
    """Scalar product over the last axis, (...)."""
    product: FloatArray = np.sum(np.asarray(u, np.float64) * np.asarray(v, np.float64), axis=-1)
    return product


def angle_between(u: ArrayLike, v: ArrayLike) -> FloatArray:
    """Angle between two vectors, rad in [0, pi], (...).

    Taken as atan2(|u x v|, u . v), which keeps full accuracy at 0 and at pi, where the arc
    cosine loses half of the digits. Neither vector needs to have length one.
    """
    u, v = np.asarray(u, np.float64), np.asarray(v, np.float64)
    across = np.cross(u, v)
    angle: FloatArray = np.arctan2(np.sqrt(np.sum(across * across, axis=-1)), dot(u, v))
    return angle


def spoken_direction(*, forward: bool, down: float = 0.0, left: float = 0.0) -> FloatArray:
    """Give the unit direction (3,) in C of a part that *points down* and *points left*.

    `forward` says whether the part points forward or rearward. Both angles (rad) are read as a
    shop reads them, in the side view and in the plan view: the direction is along
    (+-1, tan left, -tan down). A part that points up has a negative `down`.
    """
    along = 1.0 if forward else -1.0
    return locked(unit([along, np.tan(left), -np.tan(down)]))


def housing_turned(point: FloatArray, nose_up: float, front: bool) -> FloatArray:
    """A point of the housing (3,) after the nose has come up by an angle (rad)."""
    way = -1.0 if front else 1.0
    x, y, z = point
    c, s = cos(nose_up), way * sin(nose_up)
    return np.array([x * c - z * s, y, x * s + z * c])


def mirrored(point: Vec3) -> Vec3:
    """The same point on the other side of the vehicle."""
    return point[0], -point[1], point[2]


def pose(R: ArrayLike, p: ArrayLike) -> FloatArray:
    """Homogeneous pose (..., 4, 4) of rotation (..., 3, 3) and position (..., 3)."""
    R, p = np.asarray(R, np.float64), np.asarray(p, np.float64)
    X = np.zeros((*np.broadcast_shapes(R.shape[:-2], p.shape[:-1]), 4, 4))
    X[..., :3, :3] = R
    X[..., :3, 3] = p
    X[..., 3, 3] = 1.0
    return X


def bend_frame(x1: FloatArray, x2: FloatArray, bend: FloatArray) -> FloatArray:
    """Rotation R_CJ (..., 3, 3) of the joint frame J of two yokes with these x axes in C.

    x along the driving yoke's axis `x1`, the driven yoke's axis `x2` in the half plane of +y. With
    the joint straight, y points as far up as it can.
    """
    up = np.where(np.abs(x1[..., 2:]) < 0.9, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
    aside = np.where((bend > TOL.straight)[..., None], x2, up)
    y = unit(aside - dot(aside, x1)[..., None] * x1)
    return np.stack([x1, y, np.cross(x1, y)], axis=-1)
