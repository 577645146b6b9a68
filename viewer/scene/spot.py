"""A place where metal meets or comes nearest: the metal that would have to give, and its best view.

In one frame, whichever the bodies are given in, mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from geometry.errors import MeshError
from geometry.mesh import Mesh
from geometry.solids import Solid
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart
from viewer.scene.side import telling_side

CRUMB = 1e-3
"""mm3. Pieces of overlap smaller than this are rounding where two skins run along each other."""


@dataclass(frozen=True, eq=False)
class Spot:
    """A place that a picture points to.

    Attributes
    ----------
    at : (3,) its middle.
    across : (3,) direction across the gap, or in which the overlap is thinnest: the way one body
        has to back out; None where unknown.
    size : mm, the gap or the depth of the overlap.
    places : (n, 3) what stands for all of it: points along a gap or all over an overlap.
    bite : the overlap, closed; None where there is none, or it is not known.
    """

    at: Floats
    across: Floats | None
    size: float
    places: Floats
    bite: Mesh | None = None

    @classmethod
    def between(cls, ends: Floats, size: float) -> "Spot":
        """The room between two points, (2, 3)."""
        apart = ends[1] - ends[0]
        length = float(np.linalg.norm(apart))
        across = apart / length if length > 1e-6 and size > 0.0 else None
        middle = ends.mean(axis=0)
        return cls(middle, across, size, np.concatenate([ends, middle[None]]))

    @classmethod
    def bitten(cls, mesh: Mesh) -> "Spot":
        """One piece of overlap; thin across the two skins, by the directions its triangles face."""
        areas = mesh.area_vectors
        size = np.linalg.norm(areas, axis=-1)
        spread = np.einsum("ni,nj,n->ij", areas, areas, 1.0 / np.maximum(size, 1e-12))
        thin = np.linalg.eigh(spread)[1][:, -1]
        depth = float(np.ptp(mesh.vertices @ thin))
        places = mesh.vertices[:: max(1, len(mesh.vertices) // 12)]
        return cls(mesh.bounds.mean(axis=0), thin, depth, places, mesh)

    @property
    def skin(self) -> float:
        """Metal in front of it, mm, with which it still counts as seen: it lies on metal or in."""
        if self.bite is None and self.size == 0.0:
            return 2.5  # how deep is not known
        return 0.6 + (1.2 * self.size if self.bite else 0.0)


def spots_of(points: Floats, size: float, common: Mesh | None) -> list[Spot]:
    """Places to point at: the pieces of overlap, largest first, or else between the points (2, 3).

    size : mm of room between these, 0 where they touch.
    """
    pieces = () if common is None else bites(common)
    return [Spot.bitten(piece) for piece in pieces] or [Spot.between(points, size)]


def look(
    spots: Sequence[Spot], bodies: Sequence[PosedPart], axes: Floats
) -> tuple[Floats, list[Spot]]:
    """Direction (3,) toward the eye, and the spots with the best shown one first.

    bodies : what can stand in the way. axes : (2, 3) of the two shafts, for their bend.
    """
    views = [
        telling_side(bodies, axes, spot.places, spot.across, spot.skin) for spot in spots[:_TRIED]
    ]
    # A little more shown is no reason to pass over the larger overlap, which comes first.
    best = max(range(len(views)), key=lambda i: views[i][1] - 0.05 * i)
    return views[best][0], [spots[best], *(spot for i, spot in enumerate(spots) if i != best)]


_TRIED = 2
"""Spots tried as the main one; by the symmetry of a joint there are two alike."""


def overlap(a: PosedPart, b: PosedPart) -> Mesh | None:
    """What closed bodies have in common; None when there is nothing, or no clean answer.

    Names no surface: it belongs to both.
    """
    try:
        one, other = (Solid.of(each.in_chassis, each.mesh.faces, each.name) for each in (a, b))
        common = one.common(other).mesh()
    except MeshError:
        return None
    return Mesh.uniform(common.vertices, common.faces, "overlap")


def bites(mesh: Mesh) -> tuple[Mesh, ...]:
    """Pieces of an overlap, the largest first."""
    faces = mesh.faces
    links = np.concatenate([faces[:, :2], faces[:, 1:]])
    count = len(mesh.vertices)
    graph = coo_array((np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(count, count))
    piece = connected_components(graph, directed=False)[1][faces[:, 0]]
    found = [part_of(mesh, piece == number, "overlap") for number in np.unique(piece)]
    return tuple(sorted((p for p in found if p.volume > CRUMB), key=lambda p: -p.volume))


def part_of(mesh: Mesh, chosen: np.ndarray[tuple[int], np.dtype[np.bool_]], name: str) -> Mesh:
    """The chosen triangles of a mesh as one surface of that name."""
    used, faces = np.unique(mesh.faces[chosen], return_inverse=True)
    return Mesh.uniform(mesh.vertices[used], faces.reshape(-1, 3), name)
