"""A part: what it is called, what it is made of and what it hangs on, built once and then posed.

The window moves parts from pose to pose; a sheet and an export take them where they stand in one.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from itertools import groupby

import numpy as np

from geometry.cross import Cross
from geometry.mesh import Mesh
from geometry.solids import Solid
from geometry.yoke import Yoke
from viewer.draw.base import Paint
from viewer.draw.camera import Floats
from viewer.scene.mount import Frames, Mount
from viewer.scene.parts import MATERIALS, PosedPart, body_parts

GROUPS = ("joints", "shaft", "vehicle", "suspension", "surroundings")
"""What parts are listed under."""


@dataclass(frozen=True)
class Facts:
    """What is worth knowing of a part.

    title : what a shop calls it. kind : what sort it is, or "". rows : a word and a value each.
    """

    title: str
    kind: str = ""
    rows: tuple[tuple[str, str], ...] = ()

    @property
    def says(self) -> str:
        """All of it in lines."""
        head = f"{self.title}: {self.kind}" if self.kind else self.title
        return "\n".join([head, *(f"{name}  {value}" for name, value in self.rows)])


@dataclass(frozen=True, eq=False)
class Piece:
    """A material and a mesh, and the pose (4, 4) of its frame in that of the part."""

    material: str
    mesh: Mesh
    X_LP: Floats = field(default_factory=lambda: np.eye(4))

    @cached_property
    def in_part(self) -> Mesh:
        """The mesh in the frame of the part."""
        if np.array_equal(self.X_LP, np.eye(4)):
            return self.mesh
        return self.mesh.moved(self.X_LP[:3, :3], self.X_LP[:3, 3])


@dataclass(frozen=True, eq=False)
class Part:
    """A part.

    Attributes
    ----------
    name : what the stage of a window calls it.
    group : one of `GROUPS`.
    mount : what it hangs on.
    pieces : what it is made of.
    facts : what is told when it is picked.
    opacity : how dense it is when nobody has said otherwise.
    caption : whether its title is written beside it.
    of : name of the part that it is a length of, and with which it is seen; "" for none.
    body : what it is called on a sheet and in an export; lengths that share it are one body there.
    """

    name: str
    group: str
    mount: Mount
    pieces: tuple[Piece, ...]
    facts: Facts
    opacity: float = 1.0
    caption: bool = False
    of: str = ""
    body: str = ""

    @property
    def whole(self) -> str:
        """Name of the part as the user knows it."""
        return self.of or self.name

    @property
    def title(self) -> str:
        """What a shop calls it."""
        return self.facts.title

    @property
    def meshes(self) -> tuple[tuple[Mesh, Paint], ...]:
        """What a stage is told: meshes in the frame of the part, and how they look."""
        return tuple((piece.in_part, MATERIALS[piece.material]) for piece in self.pieces)

    @property
    def bounds(self) -> Floats:
        """Lower and upper corner (2, 3) of each piece in the frame of the part, (n, 2, 3)."""
        return np.stack([piece.in_part.bounds for piece in self.pieces])

    @property
    def middle(self) -> Floats:
        """Middle (3,) of it in its frame, mm."""
        return np.asarray(self.bounds.reshape(-1, 3).mean(axis=0))

    def posed(self, frames: Frames) -> tuple[PosedPart, ...]:
        """Its pieces where they stand; raises SceneError where its mount bends it."""
        X_CL, name = self.mount.pose(frames), self.body or self.name
        return tuple(PosedPart(name, p.material, p.mesh, X_CL @ p.X_LP) for p in self.pieces)


def posed(parts: Iterable[Part], frames: Frames) -> tuple[PosedPart, ...]:
    """Parts where they stand, given the frames of a pose; lengths of one bent body as one."""
    found: list[PosedPart] = []
    for (body, bends), some in groupby(parts, lambda part: (part.body, part.mount.bends)):
        if bends:
            found.append(_bent(body, list(some), frames))
        else:
            found += (each for part in some for each in part.posed(frames))
    return tuple(found)


def _bent(name: str, lengths: list[Part], frames: Frames) -> PosedPart:
    """One closed body of lengths, each as its mount bends it, in a frame at the first of them."""
    X_CP = np.eye(4)
    X_CP[:3, 3] = lengths[0].mount.pose(frames)[:3, 3]
    solids = []
    for part in lengths:
        X = part.mount.pose(frames)
        for mesh, _ in part.meshes:
            vertices = mesh.vertices @ X[:3, :3].T + X[:3, 3] - X_CP[:3, 3]
            # Ends that meet are to meet exactly, or a gap too thin to see is left between them.
            solids.append(Solid.of(np.round(vertices, 6), mesh.faces, name, mesh.chord))
    return PosedPart(name, lengths[0].pieces[0].material, Solid.union(solids).mesh(), X_CP)


def hardware_pieces(part: Yoke | Cross, steel: str) -> tuple[Piece, ...]:
    """What a yoke, its forging in `steel` (a material), or a cross is made of."""
    return tuple(Piece(p.material, p.mesh) for p in body_parts("", part, np.eye(4), steel))


def same_pieces(one: Part, other: Part) -> bool:
    """Whether two parts are made of the same."""
    return len(one.pieces) == len(other.pieces) and all(
        a.material == b.material and a.in_part.key() == b.in_part.key()
        for a, b in zip(one.pieces, other.pieces, strict=True)
    )
