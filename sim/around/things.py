"""What lives near the shaft, ready to be asked: a box, a pipe, a mesh from a file."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from geometry.contact.containment import winding_number
from geometry.contact.convex import Bars, Boxes, Pieces, Triangles
from geometry.contact.piece_tree import PieceTree
from geometry.errors import MeshError
from geometry.mesh import Mesh
from sim.frames import FloatArray
from sim.rig import Rig
from sim.rig.surroundings import MeshFile, Surrounding
from sim.table.fields import millimetres

UNITS: Final[Mapping[str, float]] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
"""What a unit of a mesh file is, mm."""

MOST_TRIANGLES: Final = 250_000
"""Triangles of one thing; with these a sweep takes a few seconds and some 300 MB."""


@dataclass(frozen=True, eq=False)
class Thing:
    """Something near the shaft, in C as it lies at ride height, mm.

    name : what it is called
    pieces : what it is made of
    moves : whether it moves with the axle
    mesh : its surface, where it was read from a file
    """

    name: str
    pieces: Pieces
    moves: bool = False
    mesh: Mesh | None = None

    @cached_property
    def tree(self) -> PieceTree:
        """Its pieces, made ready to be searched."""
        return PieceTree(self.pieces)

    def holds(self, point: FloatArray) -> bool:
        """Whether its mesh goes round a point (3,), mm: inside it no surface need be met.

        Which way its triangles face does not matter.
        """
        if self.mesh is None:
            return False
        return bool(abs(winding_number(self.mesh, point)) > 0.5)


def thing_of(rig: Rig, surrounding: Surrounding) -> Thing:
    """Make a thing ready; a mesh is read from its file.

    Raises MeshError for a mesh file that cannot be read.
    """
    name, moves = surrounding.name, surrounding.moves
    if surrounding.box is not None:
        box = surrounding.box
        size = np.array([[length.mm for length in box.size]])
        return Thing(name, Boxes(np.array([millimetres(box.at)]), 0.5 * size), moves)
    if surrounding.cylinder is not None:
        pipe = surrounding.cylinder
        start, stop = (np.array([millimetres(end)]) for end in (pipe.start, pipe.to))
        return Thing(name, Bars(start, stop, np.array([0.5 * pipe.outside.mm])), moves)
    if surrounding.mesh is None:
        raise MeshError(f"{name}: no shape; expected one of box, cylinder and mesh")
    mesh = _read(rig, name, surrounding.mesh)
    return Thing(name, Triangles(mesh.triangles), moves, mesh)


def _read(rig: Rig, name: str, said: MeshFile) -> Mesh:
    # Reading mesh files is rare, and what it needs is slow to start.
    from geometry.imported.reading import read_mesh  # noqa: PLC0415

    try:
        raw = read_mesh(rig.folder / said.file)
    except MeshError as error:
        raise MeshError(f"{rig.name}: surroundings, {name}: {error}") from None
    if len(raw.faces) > MOST_TRIANGLES:
        raise MeshError(
            f"{name}: {said.file} has {len(raw.faces):,} triangles; expected at most "
            f"{MOST_TRIANGLES:,}. Reduce the mesh where it was scanned or drawn"
        )
    vertices = raw.vertices * UNITS[said.unit] + np.array(millimetres(said.at))
    return Mesh.uniform(vertices, raw.faces, name)
