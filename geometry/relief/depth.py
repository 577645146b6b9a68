"""How deep below the old surface a place on the ground one lies."""

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import KDTree

from geometry.contact.triangles import strewn
from geometry.mesh import Mesh
from geometry.relief.field import TriangleTable

Array = NDArray[np.float64]

GROUND = "ground"
"""Name of the surface that grinding leaves."""

SPACING = 0.5
"""mm between the points by which the nearest triangles of the old surface are found."""

CANDIDATES = 4
"""Of those points, so many nearest ones whose triangles are measured."""


class Depth:
    """The old surface that was ground away, made ready to be measured from.

    chips : what was taken off; all of its surface that is not ground is old
    """

    def __init__(self, chips: Mesh) -> None:
        old = chips.triangles[~chips.on(GROUND) & (chips.areas > 1e-9)]
        points, self._owner = strewn(old, SPACING)
        self._tree, self._table = KDTree(points), TriangleTable(old)

    def __call__(self, places: Array) -> Array:
        """Distance (n,) mm of places (n, 3) on the ground surface from the old one."""
        _, near = self._tree.query(places, k=CANDIDATES)
        asked = np.repeat(places, CANDIDATES, axis=0).T
        square = self._table.square(self._owner[near].ravel(), asked)
        return np.asarray(np.sqrt(square.reshape(-1, CANDIDATES).min(axis=1)))
