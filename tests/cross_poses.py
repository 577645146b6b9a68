"""Where the cross is in either yoke, by bend and spin: the product of both in the joint frame."""

import numpy as np
from numpy.typing import ArrayLike

from geometry.joint import Array, rotations


def cross_in_driving(bend: ArrayLike, spin: ArrayLike) -> Array:
    """Rotation R_DX of the cross in the driving yoke's frame, (..., 3, 3)."""
    joint = rotations(bend, spin)
    return np.swapaxes(joint.R_JD, -1, -2) @ joint.R_JX


def cross_in_driven(bend: ArrayLike, spin: ArrayLike) -> Array:
    """Rotation R_NX of the cross in the driven yoke's frame, (..., 3, 3)."""
    joint = rotations(bend, spin)
    return np.swapaxes(joint.R_JN, -1, -2) @ joint.R_JX
