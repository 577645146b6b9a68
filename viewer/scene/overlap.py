"""The metal that would have to give: what two bodies have in common, in pieces."""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from geometry.errors import MeshError
from geometry.mesh import Mesh
from geometry.solids import Solid
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart

CRUMB = 1e-3
"""mm3. Pieces smaller than this are rounding where two skins run along each other."""


@dataclass(frozen=True, eq=False)
class Bite:
    """One piece of overlap.

    mesh : in C, closed, mm.
    thin : (3,) in C, direction in which it is thinnest: the way one body has to back out.
    depth : mm, its size in that direction.
    """

    mesh: Mesh
    thin: Floats
    depth: float

    @property
    def middle(self) -> Floats:
        """Middle of its box, (3,) mm in C."""
        return np.asarray(self.mesh.bounds.mean(axis=0))


def overlap(a: PosedPart, b: PosedPart) -> Mesh | None:
    """What closed bodies have in common, in C; None when there is nothing, or no clean answer.

    Names no surface: it belongs to both.
    """
    try:
        common = _solid(a).common(_solid(b)).mesh()
    except MeshError:
        return None
    return Mesh.uniform(common.vertices, common.faces, "overlap")


def bites(mesh: Mesh) -> tuple[Bite, ...]:
    """Pieces of an overlap, the largest first."""
    faces = mesh.faces
    links = np.concatenate([faces[:, :2], faces[:, 1:]])
    count = len(mesh.vertices)
    graph = coo_array((np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(count, count))
    _, piece = connected_components(graph, directed=False)
    found = []
    for number in np.unique(piece[faces[:, 0]]):
        own = faces[piece[faces[:, 0]] == number]
        used, index = np.unique(own, return_inverse=True)
        part = Mesh.uniform(mesh.vertices[used], index.reshape(own.shape), "overlap")
        if part.volume > CRUMB:
            found.append(_bite(part))
    return tuple(sorted(found, key=lambda bite: -bite.mesh.volume))


def _bite(mesh: Mesh) -> Bite:
    """Find the thin direction: across the two skins, from the directions its triangles face."""
    areas = mesh.area_vectors
    size = np.linalg.norm(areas, axis=-1)
    spread = np.einsum("ni,nj,n->ij", areas, areas, 1.0 / np.maximum(size, 1e-12))
    _, axes = np.linalg.eigh(spread)
    thin = axes[:, -1]
    return Bite(mesh, thin, float(np.ptp(mesh.vertices @ thin)))


def _solid(part: PosedPart) -> Solid:
    return Solid.of(part.in_chassis, part.mesh.faces, part.name)
