"""The triangle mesh every part is made of: named surfaces, read-only, double precision.

A mesh keeps to the safe side of the true part: curved outer surfaces are tessellated from
outside and bores from inside the hole, so the true metal lies inside the mesh. `chord` states
by how much the two differ at most.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, wraps
from hashlib import sha256
from typing import Any, Self, TypeVar
from weakref import WeakKeyDictionary

import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.int32]
Indices = npt.NDArray[np.int64]
Labels = npt.NDArray[np.int16]
Booleans = npt.NDArray[np.bool_]
T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles in millimetres, each belonging to one named surface.

    vertices : (n, 3) float64, in the frame of the part
    faces : (m, 3) int32, indices into `vertices`, counter-clockwise seen from outside
    labels : (m,) int16, indices into `label_names`
    label_names : names of the surfaces ("ear tip", "throat", ...)
    chord : largest distance between the true surface and this mesh, mm; the true metal lies
        inside the mesh

    Two meshes are equal only if they are the same object; compare `key()` for equal content.
    Raises MeshError for wrong shapes, indices that point nowhere, numbers that are not finite.
    """

    vertices: Floats
    faces: Integers
    labels: Labels
    label_names: tuple[str, ...]
    chord: float = 0.0

    def __post_init__(self) -> None:
        vertices = _frozen(self.vertices, np.float64)
        faces = _frozen(self.faces, np.int32)
        labels = _frozen(self.labels, np.int16)
        names = tuple(self.label_names)
        _check_triples("vertices", vertices)
        _check_triples("faces", faces)
        if labels.shape != (len(faces),):
            raise MeshError(
                f"labels have shape {labels.shape}; expected one a face, ({len(faces)},)"
            )
        if not np.isfinite(vertices).all():
            raise MeshError("vertices hold numbers that are not finite (nan or inf)")
        if len(faces) and (faces.min() < 0 or faces.max() >= len(vertices)):
            raise MeshError(f"faces point outside the {len(vertices)} vertices")
        if len(labels) and (labels.min() < 0 or labels.max() >= len(names)):
            raise MeshError(f"labels point outside the names {names}")
        if not (np.isfinite(self.chord) and self.chord >= 0.0):
            raise MeshError(f"chord is {self.chord}; expected a finite length of 0 mm or more")
        object.__setattr__(self, "vertices", vertices)
        object.__setattr__(self, "faces", faces)
        object.__setattr__(self, "labels", labels)
        object.__setattr__(self, "label_names", names)
        object.__setattr__(self, "chord", float(self.chord))

    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]:
        """Return how to make this mesh again, so that a copy from a pickle is read-only too."""
        return Mesh, (self.vertices, self.faces, self.labels, self.label_names, self.chord)

    @classmethod
    def uniform(
        cls, vertices: npt.ArrayLike, faces: npt.ArrayLike, name: str, chord: float = 0.0
    ) -> Self:
        """Return a mesh whose triangles all belong to the one surface `name`."""
        triangles = np.asarray(faces, dtype=np.int32)
        return cls(
            np.asarray(vertices, dtype=np.float64),
            triangles,
            np.zeros(len(triangles), dtype=np.int16),
            (name,),
            chord,
        )

    @classmethod
    def join(cls, meshes: Iterable[Mesh]) -> Mesh:
        """Return the triangles of all meshes side by side, without a boolean.

        Equal surface names become one; the largest chord is stated. Raises MeshError when
        there is nothing to join.
        """
        parts = list(meshes)
        if not parts:
            raise MeshError("nothing to join; expected at least one mesh")
        names = tuple(dict.fromkeys(name for part in parts for name in part.label_names))
        index = {name: i for i, name in enumerate(names)}
        starts = np.cumsum([0, *(len(part.vertices) for part in parts[:-1])])
        return cls(
            np.concatenate([part.vertices for part in parts]),
            np.concatenate([p.faces + s for p, s in zip(parts, starts, strict=True)]),
            np.concatenate(
                [
                    np.array([index[name] for name in part.label_names], np.int16)[part.labels]
                    for part in parts
                ]
            ),
            names,
            max(part.chord for part in parts),
        )

    @cached_property
    def triangles(self) -> Floats:
        """Corners of the triangles, (m, 3, 3), mm."""
        return _frozen(self.vertices[self.faces], np.float64)

    @cached_property
    def boxes(self) -> Floats:
        """Lowest and highest corner of the box around each triangle, (2, m, 3), mm."""
        corner = self.triangles
        return _frozen(np.stack([corner.min(axis=1), corner.max(axis=1)]), np.float64)

    @cached_property
    def area_vectors(self) -> Floats:
        """Outward normal of each triangle times its area, (m, 3), mm2."""
        corner = self.triangles
        edges = corner[:, 1:] - corner[:, :1]
        return _frozen(0.5 * np.cross(edges[:, 0], edges[:, 1]), np.float64)

    @cached_property
    def areas(self) -> Floats:
        """Area of each triangle, (m,), mm2."""
        return _frozen(np.linalg.norm(self.area_vectors, axis=1), np.float64)

    @cached_property
    def normals(self) -> Floats:
        """Outward unit normal of each triangle, (m, 3); nothing where it has no area."""
        return _frozen(self.area_vectors / np.maximum(self.areas, 1e-300)[:, None], np.float64)

    @cached_property
    def volume(self) -> float:
        """Enclosed volume by the divergence theorem, mm3; negative when turned inside out.

        Means something only for a watertight mesh.
        """
        return float(np.einsum("ij,ij->", self.triangles[:, 0], self.area_vectors) / 3.0)

    @cached_property
    def is_watertight(self) -> bool:
        """Whether every edge is shared by exactly two triangles of the same sense of turn."""
        if not len(self.faces):
            return False
        edges = self.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2).astype(np.int64)
        if (edges[:, 0] == edges[:, 1]).any():
            return False
        count = len(self.vertices)
        there = np.sort(edges[:, 0] * count + edges[:, 1])
        back = np.sort(edges[:, 1] * count + edges[:, 0])
        return bool((np.diff(there) > 0).all() and np.array_equal(there, back))

    @cached_property
    def radius(self) -> float:
        """Largest distance of the part from the origin of its frame, mm."""
        return float(np.sqrt(np.einsum("ij,ij->i", self.vertices, self.vertices).max(initial=0.0)))

    @cached_property
    def bounds(self) -> Floats:
        """Lowest and highest corner of the box around the mesh, (2, 3), mm."""
        if not len(self.vertices):
            raise MeshError("an empty mesh has no bounds")
        box = np.stack([self.vertices.min(axis=0), self.vertices.max(axis=0)])
        return _frozen(box, np.float64)

    def moved(self, R: npt.ArrayLike, p: npt.ArrayLike = 0.0) -> Mesh:
        """Return this mesh turned by R, (3, 3), then shifted by p, (3,) mm.

        Raises MeshError unless R is a rotation: a mirror would turn the mesh inside out.
        """
        turn = np.asarray(R, dtype=np.float64)
        if turn.shape != (3, 3) or not np.allclose(turn @ turn.T, np.eye(3), rtol=0.0, atol=1e-9):
            raise MeshError("R is not a rotation; expected a 3 x 3 orthonormal matrix")
        if np.linalg.det(turn) < 0.0:
            raise MeshError("R is a mirror; expected a rotation, with determinant +1")
        return replace(self, vertices=self.vertices @ turn.T + np.asarray(p, dtype=np.float64))

    def scaled(self, factor: float) -> Mesh:
        """Return this mesh with numbers `factor` times as large."""
        return replace(self, vertices=self.vertices * factor, chord=self.chord * factor)

    def named(self, surfaces: Mapping[str, Booleans]) -> Mesh:
        """Return this mesh with some triangles, (m,) bool each, on other surfaces.

        A triangle of several goes to the last of them. A name that nobody has any more is gone.
        """
        names = list(dict.fromkeys([*self.label_names, *surfaces]))
        labels = np.array(self.labels)
        for name, faces in surfaces.items():
            labels[faces] = names.index(name)
        used, number = np.unique(labels, return_inverse=True)
        kept = tuple(names[i] for i in used)
        return replace(self, labels=number.astype(np.int16), label_names=kept)

    def on(self, name: str) -> Booleans:
        """Return the mask, (m,) bool, of the triangles on the surface `name`."""
        if name not in self.label_names:
            raise MeshError(f"no surface {name!r}; there are {', '.join(self.label_names)}")
        return np.asarray(self.labels == self.label_names.index(name))

    def label_of(self, face: int) -> str:
        """Return the name of the surface that triangle number `face` belongs to."""
        return self.label_names[int(self.labels[face])]

    def key(self) -> str:
        """Return the SHA-256, in hex, of the whole content: equal keys, equal meshes."""
        digest = sha256()
        # Little-endian, so that a key means the same on every machine.
        for array, kind in ((self.vertices, "<f8"), (self.faces, "<i4"), (self.labels, "<i2")):
            digest.update(repr(array.shape).encode())
            digest.update(np.ascontiguousarray(array, dtype=kind).tobytes())
        digest.update(repr((self.label_names, self.chord)).encode())
        return digest.hexdigest()


def compact(vertices: Floats, faces: Indices) -> tuple[Floats, Indices]:
    """Return vertices and faces without the vertices that no face uses."""
    used = np.zeros(len(vertices), dtype=bool)
    used[faces] = True
    return vertices[used], (np.cumsum(used) - 1)[faces]


def once_a_mesh(make: Callable[[Mesh], T]) -> Callable[[Mesh], T]:
    """Make it once of each mesh: what is made is kept for as long as the mesh is.

    It must not hold the mesh itself, which would then be kept for good.
    """
    made: WeakKeyDictionary[Mesh, T] = WeakKeyDictionary()

    @wraps(make)
    def of(mesh: Mesh) -> T:
        if mesh not in made:
            made[mesh] = make(mesh)
        return made[mesh]

    return of


def _frozen(values: npt.ArrayLike, kind: Any) -> npt.NDArray[Any]:
    """Return a private read-only copy, so that nobody can change a mesh behind its back."""
    array = np.array(values, dtype=kind, order="C")
    array.flags.writeable = False
    return array


def _check_triples(what: str, array: npt.NDArray[Any]) -> None:
    if array.ndim != 2 or array.shape[1] != 3:
        raise MeshError(f"{what} have shape {array.shape}; expected (n, 3)")
