"""How the parts of one single Cardan (Hooke) joint sit to each other.

Two yokes around a cross turn about one fixed point, the cross centre, so their relative pose is
a pure rotation, and it depends on two numbers only:

bend
    angle between the two shaft axes, 0 when straight;
spin
    turn of the driving yoke, 0 when its bores lie in the plane of the bend.

Frames (all with their origin at the cross centre):

J   x along the driving shaft away from the cross, z normal to the plane of the bend;
D   driving yoke: x as in J, y along its bores;
N   driven yoke: x along the driven shaft away from the cross, y along its bores;
X   cross: x along the driving bores, y along the driven bores.

The derivation is the project's own (docs/theory.md, "The joint"); it yields the tan law of
[CARVILL] and is compared with an independent multibody library in the tests.
"""

from dataclasses import dataclass
from math import cos, sin, sqrt, tan
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class JointRotations:
    """Rotations of the three parts in the joint frame J, each of shape (..., 3, 3)."""

    R_JD: Array
    R_JN: Array
    R_JX: Array


def rotations(bend: ArrayLike, spin: ArrayLike) -> JointRotations:
    """Orientations of both yokes and the cross in the joint frame.

    bend, spin : (...) float, rad, broadcast against each other; bend in [0, pi/2).

    At a bend of 90 deg with the driving bores in the plane of the bend the driven bores have
    no direction; the result there is not a number.
    """
    if isinstance(bend, float) and isinstance(spin, float):  # asked for thousands of times
        cb, sb, c, s = cos(bend), sin(bend), cos(spin), sin(spin)
        return _rotations((cb, sb), (c, s), sqrt(s**2 + (c * cb) ** 2), 0.0, 1.0)
    bent, spun = np.broadcast_arrays(np.asarray(bend, float), np.asarray(spin, float))
    zero, one = np.zeros_like(bent), np.ones_like(bent)
    along, aside = np.cos(bent), np.sin(bent)
    length = np.hypot(np.sin(spun), np.cos(spun) * along)
    with np.errstate(invalid="ignore", divide="ignore"):
        return _rotations((along, aside), (np.cos(spun), np.sin(spun)), length, zero, one)


def _rotations(
    bend: tuple[Any, Any], spin: tuple[Any, Any], length: Any, zero: Any, one: Any
) -> JointRotations:
    """From cosine and sine of bend and spin, numbers or arrays (...) alike.

    Shaft axes x1 = (1, 0, 0), x2 = (-cb, sb, 0); bores y1 = (0, c, s), y2 along y1 x x2, which has
    this length; the third column of each matrix is the cross product of the other two.
    """
    (cb, sb), (c, s) = bend, spin
    u, v, w = -s * sb / length, -s * cb / length, c * cb / length
    return JointRotations(
        R_JD=_matrix([[one, zero, zero], [zero, c, -s], [zero, s, c]]),
        R_JN=_matrix([[-cb, u, sb * w], [sb, v, cb * w], [zero, w, -cb * v - sb * u]]),
        R_JX=_matrix([[zero, u, c * w - s * v], [c, v, s * u], [s, w, -c * u]]),
    )


def driven_in_driving(bend: ArrayLike, spin: ArrayLike) -> Array:
    """Rotation R_DN of the driven yoke in the driving yoke's frame, (..., 3, 3)."""
    if isinstance(bend, float) and isinstance(spin, float):  # asked for thousands of times
        cb, sb, c, s = cos(bend), sin(bend), cos(spin), sin(spin)
        length = sqrt(s**2 + (c * cb) ** 2)
        aside = s * sb / length
        return np.array(
            (
                (-cb, -aside, sb * c * cb / length),
                (c * sb, 0.0, length),
                (-s * sb, cb / length, c * sb * aside),
            )
        )
    joint = rotations(bend, spin)
    return np.swapaxes(joint.R_JD, -1, -2) @ joint.R_JN


def turn_per_spin(bend: float) -> float:
    """Bound on the relative turn of any two parts per radian of spin, at this bend.

    With the speed ratio k between cos(bend) and 1/cos(bend), the relative angular velocity of
    two axes at the angle `bend` has the square 1 + k^2 - 2 k cos(bend), at most tan(bend)^2.
    """
    return tan(bend)


def _matrix(rows: list[list[Any]]) -> Array:
    """Matrices (..., 3, 3) from their entries (...) each."""
    matrix = np.array(rows)
    return (
        matrix if matrix.ndim == 2 else np.ascontiguousarray(np.moveaxis(matrix, (0, 1), (-2, -1)))
    )
