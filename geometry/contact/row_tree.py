"""A mesh as a tree of boxes that rows of a search read column by column."""

from dataclasses import dataclass

import numpy as np

from geometry.contact.box_tree import Array, BoxTree, box_tree, upward
from geometry.contact.reach import nearness
from geometry.mesh import Mesh, once_a_mesh


@dataclass(frozen=True)
class RowTree(BoxTree):
    """The boxes of a mesh, with what rows want to know of its nodes and triangles.

    Attributes
    ----------
    size : (2 first,) mm, longest half side.
    near, far : (2 first,) mm, between which distances from the origin its metal lies; a leaf
        without a triangle of its own has none.
    corners : (3, 3, first) mm, of the triangle in each leaf by corner and coordinate.
    normal : (3, first) unit normals; zero of a triangle without area.
    """

    size: Array
    near: Array
    far: Array
    corners: Array
    normal: Array


@once_a_mesh
def row_tree(mesh: Mesh) -> RowTree:
    """Grow the tree of a mesh of at least one triangle."""
    boxes = box_tree(mesh.triangles)
    triangles, nearest = mesh.triangles[boxes.order], nearness(mesh)[boxes.order]
    farthest = np.sqrt(np.einsum("nij,nij->ni", triangles, triangles).max(axis=1))
    nearest[boxes.twin], farthest[boxes.twin] = np.inf, -np.inf
    edges = triangles[:, 1:] - triangles[:, :1]
    normal = np.cross(edges[:, 0], edges[:, 1])
    length = np.linalg.norm(normal, axis=1)
    normal /= np.where(length > 0.0, length, 1.0)[:, None]
    return RowTree(
        **vars(boxes),
        size=boxes.half.max(axis=0),
        near=upward(nearest, np.minimum),
        far=upward(farthest, np.maximum),
        corners=np.ascontiguousarray(triangles.transpose(1, 2, 0)),
        normal=np.ascontiguousarray(normal.T),
    )
