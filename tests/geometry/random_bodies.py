"""Bodies of no particular shape, for what must hold of any."""

import numpy as np
import numpy.typing as npt
import trimesh

from geometry.mesh import Mesh
from tests.simple_shapes import as_mesh, hub

Points = npt.NDArray[np.float64]


def random_body(rng: np.random.Generator) -> Mesh:
    """Convex lumps about a shaft, some of them behind the cross, some large, some slender."""
    lumps = [hub(rng.uniform(15, 60), rng.uniform(4, 25), 12, thick=rng.uniform(20, 200))]
    for _ in range(rng.integers(1, 4)):
        size = rng.uniform(1.0, 40.0, 3)
        cloud = rng.uniform(-1, 1, (12, 3)) * size + rng.uniform(-30, 60, 3) * [1, 1, 1]
        lumps.append(as_mesh(trimesh.convex.convex_hull(cloud), "lump"))
    return Mesh.join(lumps)


def random_yoke(rng: np.random.Generator) -> Mesh:
    """A shaft with two lumps where ears would be, each of its own shape, and one anywhere."""
    lumps = [hub(rng.uniform(30, 45), rng.uniform(8, 30), 12, thick=rng.uniform(10, 80))]
    for side in (-1.0, 1.0):
        middle = np.array([rng.uniform(0, 20), side * rng.uniform(26, 34), rng.uniform(-5, 5)])
        lumps.append(_lump(rng, middle, rng.uniform(4, 14, 3)))
    where = rng.normal(size=3)
    lumps.append(_lump(rng, rng.uniform(45, 60) * where / np.linalg.norm(where), [5.0, 5.0, 5.0]))
    return Mesh.join(lumps)


def _lump(rng: np.random.Generator, middle: npt.ArrayLike, size: npt.ArrayLike) -> Mesh:
    cloud = np.asarray(middle) + rng.uniform(-1, 1, (10, 3)) * np.asarray(size)
    return as_mesh(trimesh.convex.convex_hull(cloud), "lump")


def strewn_on(mesh: Mesh, count: int, rng: np.random.Generator) -> Points:
    """Points all over the triangles, each triangle as often as the next, (n, 3)."""
    share = rng.dirichlet(np.full(3, 0.5), (len(mesh.faces), count))
    return np.einsum("fnk,fkc->fnc", share, mesh.triangles).reshape(-1, 3)
