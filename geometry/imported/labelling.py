"""Naming the surfaces of an imported yoke by where they are and where they face."""

from __future__ import annotations

import numpy as np

from geometry.imported.bores import Bores
from geometry.imported.repair import FILLED, SURFACE
from geometry.mesh import Labels, Mesh

_NAMES = (
    SURFACE,
    "throat",
    "ear tip",
    "ear flank",
    "ear outside face",
    "ear inside face",
    "ear bore",
    FILLED,
)


def labelled(mesh: Mesh, bores: Bores | None) -> Mesh:
    """Return a placed mesh, in the yoke frame and mm, with its surfaces named.

    bores : its bores in mm, in any frame: only their sizes are used. Without them only what lies
    beyond the bores' line is told apart, as ear tip.
    What nothing can be said of stays "surface"; "filled hole" stays as it is.
    """
    labels = _by_place(mesh, bores)
    if FILLED in mesh.label_names:
        labels[mesh.on(FILLED)] = _NAMES.index(FILLED)
    used = np.unique(labels)
    renumber = np.zeros(len(_NAMES), dtype=np.int16)
    renumber[used] = np.arange(len(used))
    names = tuple(_NAMES[i] for i in used)
    return Mesh(mesh.vertices, mesh.faces, renumber[labels], names, mesh.chord)


def _by_place(mesh: Mesh, bores: Bores | None) -> Labels:
    middle = mesh.triangles.mean(axis=1)
    facing = mesh.area_vectors
    facing = facing / np.maximum(np.linalg.norm(facing, axis=1, keepdims=True), 1e-300)
    labels = np.zeros(len(mesh.faces), dtype=np.int16)
    x, y, _ = middle.T
    if bores is None:
        labels[x < 0.0] = _NAMES.index("ear tip")
        return labels
    radius, half_gap = bores.radius, 0.5 * bores.inside_span
    slack = 0.1 * radius
    ear = np.abs(y) > half_gap - slack
    outward = facing[:, 1] * np.sign(y)
    away = np.linalg.norm(middle[:, [0, 2]], axis=1)
    toward_axis = -np.einsum("ij,ij->i", middle[:, [0, 2]], facing[:, [0, 2]])
    toward_cross = -np.einsum("ij,ij->i", middle, facing)
    floor = _floor(mesh)

    labels[ear & (x < floor) & (np.abs(facing[:, 2]) > 0.7)] = _NAMES.index("ear flank")
    between = np.abs(y) < half_gap + slack
    sees = toward_cross > 0.25 * np.linalg.norm(middle, axis=1)
    labels[between & (x > 0.0) & sees] = _NAMES.index("throat")
    labels[ear & (x < 0.0)] = _NAMES.index("ear tip")
    labels[ear & (x < radius) & (facing[:, 0] < -0.9)] = _NAMES.index("ear tip")
    labels[ear & (outward > 0.9) & (x < floor)] = _NAMES.index("ear outside face")
    flat = ear & (outward < -0.95) & (np.abs(y) < half_gap + slack) & (away < 2.0 * radius)
    labels[flat] = _NAMES.index("ear inside face")
    wall = (np.abs(away - radius) < slack) & (toward_axis > 0.9 * away)
    labels[ear & wall] = _NAMES.index("ear bore")
    return labels


def _floor(mesh: Mesh) -> float:
    depth = depth_on_axis(mesh)
    return float(mesh.bounds[1, 0]) if np.isnan(depth) else depth


def depth_on_axis(mesh: Mesh) -> float:
    """Return where the shaft's axis first meets the metal of a placed mesh, mm; nan if nowhere."""
    a, b, c = (mesh.triangles[:, k] for k in range(3))
    # Seen along x, the axis is the origin: it runs through the triangles whose corners go round it.
    sides = [p[:, 1] * q[:, 2] - p[:, 2] * q[:, 1] for p, q in ((a, b), (b, c), (c, a))]
    total = sides[0] + sides[1] + sides[2]
    same = np.all([s >= 0.0 for s in sides], axis=0) | np.all([s <= 0.0 for s in sides], axis=0)
    through = same & (np.abs(total) > 0.0)
    if not through.any():
        return float("nan")
    weight = np.stack([sides[1], sides[2], sides[0]], axis=1)[through] / total[through, None]
    x = np.einsum("ni,ni->n", weight, mesh.triangles[through, :, 0])
    return float(x[x > 0.0].min()) if (x > 0.0).any() else float("nan")
