"""Turning triangles the right way round: alike within a piece, and outward."""

from __future__ import annotations

import numpy as np

from geometry.errors import MeshError
from geometry.imported.edges import Edges, components
from geometry.imported.raw import Faces
from geometry.mesh import Booleans, Floats


def turned_outward(vertices: Floats, faces: Faces) -> tuple[Faces, int]:
    """Return the faces all facing outward, and how many of them were turned.

    Every face is taken twice, as it is and turned over; two neighbours belong together as they
    are when they run along their common edge in opposite ways, else one of them turned. Of the
    two connected pieces that come out for each shell, the one of positive volume is right.

    Raises MeshError for a surface with only one side.
    """
    over = _against_first(faces)
    inward = _volume(vertices, faces, over, Edges(faces).shell) < 0.0
    over = over ^ inward
    return np.where(over[:, None], faces[:, ::-1], faces), int(over.sum())


def _against_first(faces: Faces) -> Booleans:
    """Return which faces run against the first one of their shell, (m,)."""
    edges, count = Edges(faces), len(faces)
    pairs = edges.shared_by(2)
    one, other = (pairs // 3).T
    start = edges.directed[pairs, 0]
    alike = start[:, 0] != start[:, 1]
    shift = np.where(alike, 0, count)
    sheet = components(
        2 * count,
        np.concatenate([one, one + count]),
        np.concatenate([other + shift, other + count - shift]),
    )
    upper, lower = sheet[:count], sheet[count:]
    if (upper == lower).any():
        raise MeshError(
            "the surface has only one side, like a twisted band; expected the skin of a solid"
        )
    return np.asarray(upper > lower)


def _volume(vertices: Floats, faces: Faces, over: Booleans, shell: Faces) -> Floats:
    """Return for each face the volume of its shell about the shell's own middle."""
    count = int(shell.max()) + 1
    corner = vertices[faces]
    weight = np.bincount(shell, minlength=count)
    middle = np.stack(
        [np.bincount(shell, corner[..., k].mean(axis=1), count) / weight for k in range(3)], 1
    )
    a, b, c = ((corner[:, k] - middle[shell]) for k in range(3))
    part = np.einsum("ij,ij->i", a, np.cross(b, c)) * np.where(over, -1.0, 1.0)
    return np.asarray(np.bincount(shell, part, count)[shell])
