"""Points all over the surface of a body, each with the area that it stands for.

The triangles are halved across their longest sides until none is longer than the spacing; the
points are their corners, so that sharp edges, which touch first, are among them. A corner on the
edge of two surfaces is a point of either. What does not matter is left out on the way down.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.mesh import Booleans, Floats, Indices, Labels, Mesh

COARSE = 4.0
"""mm, the length of sides at which pieces of a surface are first told apart."""

FAR = 2.0 / 3.0
"""No point of a triangle is farther from its middle than this share of its longest side: from the
middle to a corner are two thirds of a median, which is no longer than the longer side beside it."""

Near = Callable[[Floats, float], Booleans]
"""Which of some places, (3, n) mm, come within a distance, mm, of what may touch them."""


@dataclass(frozen=True, eq=False)
class Skin:
    """Points on the surface of a body, in its own frame.

    points : (n, 3) mm
    normals : (n, 3) outward
    areas : (n,) mm2 that each stands for
    labels : (n,) numbers of the surfaces
    names : of the surfaces
    faces : (m, 3) the triangles between points that are all there
    """

    points: Floats
    normals: Floats
    areas: Floats
    labels: Labels
    names: tuple[str, ...]
    faces: Indices

    def __len__(self) -> int:
        """How many points."""
        return len(self.points)

    def only(self, which: Booleans) -> Skin:
        """The points of a mask, (n,)."""
        points, normals, areas = (each[which] for each in (self.points, self.normals, self.areas))
        faces = (np.cumsum(which) - 1)[self.faces[which[self.faces].all(axis=1)]]
        return Skin(points, normals, areas, self.labels[which], self.names, faces)

    def flipped(self, flip: Floats) -> Skin:
        """The image of it, (3,) of +-1."""
        faces = self.faces if np.prod(flip) > 0.0 else self.faces[:, ::-1]
        return replace(self, points=self.points * flip, normals=self.normals * flip, faces=faces)


def skin(mesh: Mesh, spacing: float, near: Near) -> Skin:
    """Points on a mesh no farther apart than `spacing`, mm, where something comes near.

    near : whether something comes near to places; a no has to be certain
    """
    size = max(spacing, COARSE)
    corners: Floats = mesh.triangles
    face: Indices = np.arange(len(mesh.faces))
    while True:
        corners, face = _halved(corners, face, size)
        kept = near(corners.mean(axis=1).T, FAR * size)
        corners, face = corners[kept], face[kept]
        if size <= spacing:
            return _points(mesh, corners, face)
        size = max(spacing, 0.5 * size)


def _halved(corners: Floats, face: Indices, longest: float) -> tuple[Floats, Indices]:
    """Triangles (m, 3, 3) with no side longer, and the face that each is a piece of."""
    done = []
    while len(corners):
        sides = np.linalg.norm(corners[:, [1, 2, 0]] - corners, axis=2)
        long = sides.max(axis=1) > longest
        done.append((corners[~long], face[~long]))
        split, at = corners[long], sides[long].argmax(axis=1)
        rows = np.arange(len(split))
        a, b, c = (split[rows, (at + k) % 3] for k in range(3))
        middle = 0.5 * (a + b)
        halves = np.stack([a, middle, c], axis=1), np.stack([middle, b, c], axis=1)
        corners, face = np.concatenate(halves), np.tile(face[long], 2)
    if not done:
        return corners, face
    return np.concatenate([each for each, _ in done]), np.concatenate([each for _, each in done])


def _points(mesh: Mesh, corners: Floats, face: Indices) -> Skin:
    """The corners of triangles, each once a surface, with a third of the areas around."""
    size = 0.5 * np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    )
    share = np.repeat(size / 3.0, 3)
    label: Labels = np.repeat(mesh.labels[face], 3)
    places = corners.reshape(-1, 3)
    first, own = _once(places, label)
    count = len(first)
    facing = np.repeat(mesh.normals[face], 3, axis=0) * share[:, None]
    normals = np.stack([np.bincount(own, facing[:, k], count) for k in range(3)], axis=-1)
    length = np.maximum(np.linalg.norm(normals, axis=-1, keepdims=True), 1e-300)
    return Skin(
        places[first],
        normals / length,
        np.bincount(own, share, count).astype(np.float64),
        label[first].astype(np.int16),
        mesh.label_names,
        _proper(own.reshape(-1, 3)),
    )


def joined(skins: Sequence[Skin]) -> tuple[Skin, Indices]:
    """Several pieces of one surface as one, and which of all their points each of its is."""
    points = np.concatenate([each.points for each in skins])
    labels = np.concatenate([each.labels for each in skins])
    starts = np.cumsum([0, *map(len, skins)])
    faces = np.concatenate([s.faces + start for s, start in zip(skins, starts, strict=False)])
    first, own = _once(points, labels)
    normals, areas = (
        np.concatenate([getattr(each, name) for each in skins])[first]
        for name in ("normals", "areas")
    )
    faces = _proper(own[faces])
    return Skin(points[first], normals, areas, labels[first], skins[0].names, faces), first


def _once(points: Floats, labels: Labels) -> tuple[Indices, Indices]:
    """The first of the points that are one, and which of these each of all is."""
    key = np.column_stack([np.round(points / SAME).astype(np.int64), labels])
    _, first, own = np.unique(key, axis=0, return_index=True, return_inverse=True)
    return first, own.reshape(-1)


def _proper(faces: Indices) -> Indices:
    """Without those that have a corner twice."""
    once = (faces != faces[:, [1, 2, 0]]).all(axis=1)
    kept: Indices = faces[once]
    return kept


SAME = 1e-5
"""mm, nearer than which two corners are one."""
