"""Pins of a hundredth of a millimetre, put where they are hardest to see coming.

Two of them, one on either yoke, meet in one pose of the joint and in hardly another, so whatever
claims a way to be clear must know of that one pose. Where they sit square to the axis about which
the one yoke turns in the other on its way there, nothing can close faster.
"""

import numpy as np
import numpy.typing as npt
from scipy.spatial.transform import Rotation

from geometry.contact.pair import ClosingPair
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from tests.simple_shapes import box

SIZE = 0.005
"""Half the width of a pin, mm."""

Pose = tuple[float, float]
"""Bend and spin, rad."""


def pin(at: npt.ArrayLike, size: float = SIZE) -> Mesh:
    """A cube about a point, its corners no farther than sqrt(3) sizes from it."""
    x, y, z = np.asarray(at, float)
    return box((x - size, y - size, z - size), (x + size, y + size, z + size), "pin")


def way(start: Pose, end: Pose) -> npt.NDArray[np.float64]:
    """Turn of the driven yoke in the driving yoke's frame from one pose to another, as a rotation
    vector (3,), rad: the shortest there is."""
    turned = driven_in_driving(*end) @ driven_in_driving(*start).T
    return np.asarray(Rotation.from_matrix(turned).as_rotvec())


def meeting(start: Pose, end: Pose, radius: float, about: float = 0.0) -> ClosingPair:
    """Pins at a radius (mm) that meet at `end`, coming from `start` as fast as can be.

    about : rad, where on the circle square to the turn's axis they sit.
    """
    axis = way(start, end)
    aside = np.cross(axis, np.eye(3)[np.argmin(np.abs(axis))])
    aside /= np.linalg.norm(aside)
    along = np.cross(axis / np.linalg.norm(axis), aside)
    driving = radius * (np.cos(about) * aside + np.sin(about) * along)
    return ClosingPair(pin(driving), pin(driving @ driven_in_driving(*end)))
