"""The picture of one yoke, as data: how it was placed, and what was measured on it.

All in the yoke frame Y, mm: origin at the cross centre, x along its own shaft, y along its bores.
"""

from dataclasses import dataclass

import numpy as np

from geometry.imported.repair import FILLED
from geometry.mesh import Booleans, Mesh
from geometry.yoke.base import Yoke
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart, SceneError, body_parts

CAUTION = (
    "Look whether the blue rings sit in the real bores, the red cross where the cross has its "
    "centre, and the shaft runs where it should. Only what is shown can touch. It is geometry: it "
    "certifies nothing."
)


@dataclass(frozen=True)
class BoreMark:
    """The two bores: their diameter, where each ends along y in rising order, and their shape.

    saddles : whether they are half round, closed by straps
    """

    diameter: float
    ends: tuple[float, float, float, float]
    word: str = "bores"


@dataclass(frozen=True, eq=False)
class YokePicture:
    """One yoke in its own frame.

    Attributes
    ----------
    parts : what is drawn.
    bores : what is ringed; None where no bores are known.
    inside_span : mm between the inside faces of the ears; None where not known.
    throat : mm from the cross centre to the floor of the throat; None where not known.
    headline, lines, caution : words, written as they come.

    Raises SceneError without parts.
    """

    parts: tuple[PosedPart, ...]
    bores: BoreMark | None
    inside_span: float | None
    throat: float | None
    headline: str
    lines: tuple[str, ...] = ()
    caution: str = CAUTION

    def __post_init__(self) -> None:
        if not self.parts:
            raise SceneError("a picture of a yoke needs parts; got none")

    @property
    def bounds(self) -> Floats:
        """Lower and upper corner of the box around all parts, (2, 3)."""
        points = np.concatenate([part.in_chassis for part in self.parts])
        return np.stack([points.min(axis=0), points.max(axis=0)])

    @property
    def guessed(self) -> bool:
        """Whether some of it was not in the scan and closed by the program."""
        return any(part.name == FILLED for part in self.parts)


def shown_parts(yoke: Yoke, without: frozenset[str] = frozenset()) -> tuple[PosedPart, ...]:
    """Pieces of a yoke to show where they are, what fills large holes as a piece of its own."""
    parts: list[PosedPart] = []
    pieces = body_parts("yoke", yoke, np.eye(4), "grey steel")
    for piece, part in zip(yoke.parts, pieces, strict=True):
        if piece in without:
            continue
        if FILLED not in part.mesh.label_names:
            parts.append(part)
            continue
        filled = part.mesh.on(FILLED)
        parts.append(PosedPart("yoke", part.material, _some(part.mesh, ~filled), part.X_CP))
        parts.append(PosedPart(FILLED, "mark", _some(part.mesh, filled), part.X_CP))
    return tuple(parts)


def _some(mesh: Mesh, chosen: Booleans) -> Mesh:
    """The chosen triangles of a mesh, open where the others were."""
    used, faces = np.unique(mesh.faces[chosen], return_inverse=True)
    return Mesh.uniform(mesh.vertices[used], faces.reshape(-1, 3), "surface")
