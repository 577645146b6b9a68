"""Bodies on hinges and slides for the multibody library, written as it reads them."""

import numpy as np
from scipy.spatial.transform import Rotation


def words(values):
    return " ".join(repr(float(value)) for value in np.ravel(values))


def turned(R):
    """Orientation attribute of a rotation (3, 3)."""
    x, y, z, w = Rotation.from_matrix(R).as_quat()
    return f'quat="{words([w, x, y, z])}"'


def columns(*axes):
    return np.stack(axes, axis=-1)


X, Y, Z = np.eye(3)
DRIVEN_FROM_DRIVING = columns(-X, Z, Y)
"""Driven yoke in the driving yoke's frame, joint straight: x away from the cross, bores along z."""


def body(name, inside="", *, pos=(0, 0, 0), R=None, hinge=None, slide=None):
    """A body with one hinge or one slide of its own name; with neither it is fixed."""
    kind, axis = ("slide", slide) if hinge is None else ("hinge", hinge)
    joint = "" if axis is None else f'<joint name="{name}" type="{kind}" axis="{words(axis)}"/>'
    mass = '<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'
    place = f'pos="{words(pos)}" {turned(np.eye(3) if R is None else R)}'
    return f'<body name="{name}" {place}>{joint}{mass}{inside}</body>'
