"""What a place on a body is called: one name, also on an edge where two surfaces meet.

Sharp corners are what touches first, and there the nearest triangle is as often that of the one
surface as that of the other. A place near an edge is therefore called after the surface that comes
first in a fixed order, whichever triangle was met.
"""

from collections.abc import Iterable

import numpy as np

from geometry.contact.triangles import Array, distance_to_origin
from geometry.mesh import Mesh
from geometry.tolerances import TOL

FIRST = (
    "ear tip",
    "bolt",
    "strap",
    "cap",
    "grease fitting",
    "bridge",
    "ring",
    "flange",
    "throat",
)
"""Names that go before others; of others the first by the alphabet. What sticks out says more than
what it sticks out of, and a shop speaks of the throat where its floor meets the root of an ear."""


def surface_at(mesh: Mesh, triangle: int, point: Array) -> str:
    """Name of the surface at a point (3,), mm in the frame of the mesh, on a triangle of it."""
    own = mesh.label_of(triangle)
    if len(mesh.label_names) == 1:
        return own
    low, high = mesh.boxes
    close = ((low <= point + TOL.edge) & (high >= point - TOL.edge)).all(axis=1)
    about = np.flatnonzero(close & (mesh.labels != mesh.labels[triangle]))
    near = about[distance_to_origin(mesh.triangles[about] - point) <= TOL.edge]
    met = {own, *(mesh.label_names[label] for label in np.unique(mesh.labels[near]))}
    return first_name(met)


def first_name(names: Iterable[str]) -> str:
    """Of the names of surfaces that meet at a place the one it is called by."""
    return min(names, key=_place)


def _place(name: str) -> tuple[int, str]:
    return FIRST.index(name) if name in FIRST else len(FIRST), name
