"""A leaf spring in lengths, each of which can be bent by a shear. Only to show."""

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import cylinder, prism
from viewer.draw.camera import Floats
from viewer.scene.suspension import EYE, SPRING

LEAVES = 4
"""Steps in which the pack grows thinner from its seat to its eye."""


def leaf_length(eye: Floats, start: float, end: float) -> Mesh:
    """A leaf spring between two shares of the way from its seat to its eye.

    The seat is at the origin, level there, its eye at (3,), mm; the last length has the eye on it.
    """
    pack, tip, width = SPRING
    along, rise = float(eye[0]), float(eye[2])
    share = np.linspace(start, end, 7)
    x, z = along * share, rise * share**2
    thick = tip + (pack - tip) * np.ceil(LEAVES * (1.0 - share) - 1e-9) / LEAVES
    lower = np.column_stack([z + 0.5 * tip - thick, x])
    outline = np.concatenate([lower, np.column_stack([z + 0.5 * tip, x])[::-1]])
    if along > 0.0:  # seen along y an outline is (z, x)
        outline = outline[::-1]
    half = 0.5 * width
    length = prism(outline, "y", -half, half, "leaf").mesh()
    if end < 1.0:
        return length
    ring = cylinder("y", EYE, -half, half, "eye").mesh().moved(np.eye(3), [along, 0.0, rise])
    return Mesh.join([length, ring])
