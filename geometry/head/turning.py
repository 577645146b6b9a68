"""How the parts of a bent, turned head sit to each other.

Both crosses bend in one plane, since ball and crosses lie in it, so a head is two joints of the
same bend plane in a row. Head frame H: that of the joint at the driving outer yoke (J there), with
its origin at that cross, x along the driving outer yoke's axis away from the cross, and the bend
toward +y. The parallel bores of the center yoke carry the turn from one joint to the other.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.joint import rotations
from geometry.mesh import Floats


@dataclass(frozen=True)
class HeadPoses:
    """Poses of a head's parts in H, (..., 4, 4), mm, and the second joint's own spin.

    The center yoke is posed in its yoke frame at the first cross.
    """

    X_H_driving: Floats
    X_H_cross: Floats
    X_H_centre: Floats
    X_H_second_cross: Floats
    X_H_driven: Floats
    second_spin: Floats


def head_poses(first: ArrayLike, second: ArrayLike, spin: ArrayLike, span: float) -> HeadPoses:
    """Place the parts.

    first, second : (...) rad, bends at the driving and at the driven outer yoke's cross.
    spin : (...) rad, turn of the driving outer yoke, 0 with its bores in the plane of the bend.
    span : mm, between the crosses.
    """
    f, g, s = np.broadcast_arrays(*(np.asarray(v, float) for v in (first, second, spin)))
    near = rotations(f, s)
    spin_there = second_spin(f, s)
    far = rotations(g, spin_there)
    R_HK = _about_z(-f)
    p_H_second = span * near.R_JN[..., 0]
    here = np.zeros_like(p_H_second)
    return HeadPoses(
        X_H_driving=_pose(near.R_JD, here),
        X_H_cross=_pose(near.R_JX, here),
        X_H_centre=_pose(near.R_JN, here),
        X_H_second_cross=_pose(R_HK @ far.R_JX, p_H_second),
        X_H_driven=_pose(R_HK @ far.R_JN, p_H_second),
        second_spin=spin_there,
    )


def second_spin(first: ArrayLike, spin: ArrayLike) -> Floats:
    """Spin (rad) of the joint at the driven outer yoke, in (-pi, pi].

    There the center yoke drives, and its bores stand square to the driving outer yoke's.
    """
    f, s = np.asarray(first, float), np.asarray(spin, float)
    return np.asarray(np.arctan2(np.cos(s) * np.cos(f), -np.sin(s)))


def _about_z(angle: Floats) -> Floats:
    c, s = np.cos(angle), np.sin(angle)
    none, one = np.zeros_like(angle), np.ones_like(angle)
    rows = [[c, -s, none], [s, c, none], [none, none, one]]
    return np.stack([np.stack(row, -1) for row in rows], -2)


def _pose(R: Floats, p: Floats) -> Floats:
    X = np.zeros((*R.shape[:-2], 4, 4))
    X[..., :3, :3] = R
    X[..., :3, 3] = p
    X[..., 3, 3] = 1.0
    return X
