"""A patch of metal that met, as it is drawn: by depth, in color, hatching and rim.

It is told from plain metal by its hatching and its rim as well as by its color, and the deeper it
is the darker and the closer its hatching.
"""

from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np

from geometry.contact.patches import Patch
from geometry.mesh import Mesh
from viewer.draw.base import BLACK, WHITE, Colour, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Space
from viewer.scene.section import hatched

PROUD: Final = 0.15
"""mm that a patch is drawn off the metal, so that it is seen on it."""


@dataclass(frozen=True)
class Band:
    """How depths up to `upto` mm look: color, and mm from line to line of the hatching."""

    upto: float
    colour: Colour
    pitch: float


BANDS: Final = (
    Band(0.25, (0.99, 0.86, 0.45), 3.2),
    Band(1.0, (0.95, 0.55, 0.16), 2.2),
    Band(inf, (0.72, 0.10, 0.05), 1.3),
)
"""From light to dark, so that they are told apart in grey."""


@dataclass(frozen=True, eq=False)
class MetPiece:
    """What is drawn of one band of a patch, in the frame of its part.

    mesh : open, a little proud of the metal. band : how it looks. lines : (n, 2, 3) its hatching.
    """

    mesh: Mesh
    band: Band
    lines: Floats


def met_pieces(patch: Patch) -> tuple[MetPiece, ...]:
    """The pieces of a patch by depth, to put on a stage."""
    whole, depths = patch.surface_mesh(PROUD)
    depth, found, low = depths[whole.faces].mean(axis=1), [], 0.0
    R = _slant(patch.facing)
    for band in BANDS:
        own = (depth >= low) & (depth < band.upto)
        low = band.upto
        if own.any():
            mesh = Mesh.uniform(whole.vertices, whole.faces[own], "met")
            found.append(MetPiece(mesh, band, hatched(mesh, R, band.pitch)))
    return tuple(found)


def rim_of(patch: Patch) -> Floats:
    """The rim of a patch, (n, 2, 3) mm, in the frame of its part."""
    mesh, _ = patch.surface_mesh(PROUD)
    sides = np.sort(mesh.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    _, first, count = np.unique(sides, axis=0, return_index=True, return_counts=True)
    return np.asarray(mesh.vertices[sides[first[count == 1]]])


def put_met(space: Space, name: str, patch: Patch, X_CP: Floats) -> None:
    """Put up a patch on its part, all of it by one name, so that it is moved and faded as one."""
    for piece in met_pieces(patch):
        space.solid(name, piece.mesh, Paint(piece.band.colour, 0.1, glow=0.55), X_CP)
        space.lines(name, piece.lines, Pen(BLACK, 1.3), X_CP)
    rim = rim_of(patch)
    for pen in (Pen(WHITE, 5.0), Pen(BLACK, 2.4)):
        space.lines(name, rim, pen, X_CP)


def _slant(facing: Floats) -> Floats:
    """Rotation (3, 3) whose last row is square to planes that hatch a patch aslant."""
    aside = np.cross(facing, [0.0, 0.0, 1.0] if abs(facing[2]) < 0.9 else [1.0, 0.0, 0.0])
    aside = aside / np.linalg.norm(aside)
    up = np.cross(facing, aside)
    slant = (aside + up) / np.sqrt(2.0)
    return np.stack([facing, np.cross(slant, facing), slant])
