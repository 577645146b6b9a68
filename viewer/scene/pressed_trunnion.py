"""The pressure on a trunnion, on the cross itself: shades on its skin, lines, cones at corners."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from geometry.mesh import Mesh
from sim.cocked import Corner, CrossAt, PressureMap, cap_axes
from sim.seen.words import CapName
from viewer.draw.base import BLACK, WHITE, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Space
from viewer.scene.pressed import LEVELS, LIMIT, SHADES, THIN, level_lines, shaded

SKIN: Final = 0.15
"""mm that shades lie over the trunnion, so that its facets stay under them."""

GLOW: Final = 0.8
"""Share of the shades' light that no lamp changes: a shade is a number."""

CONE: Final = 5.0
"""mm, length of a cone that points at a corner; half as wide."""


class TrunnionSkin:
    """Places of one trunnion's skin: round it from its drive side, along it from the needles.

    cap, at : which trunnion, of which cross.
    """

    def __init__(self, cap: CapName, at: CrossAt) -> None:
        self.e, self.d, self.a = cap_axes(at, cap)
        self.arm, self.radius = at.trunnion.arm, 0.5 * at.trunnion.diameter + SKIN

    def at(self, places: Floats, off: float = 0.0) -> Floats:
        """Points (..., 3) mm in the cross frame of places (..., 2), rad and mm, so far off it."""
        angle, along = places[..., :1], places[..., 1:]
        round_it = np.cos(angle) * self.d + np.sin(angle) * self.a
        return np.asarray((self.arm + along) * self.e + (self.radius + off) * round_it)

    def patch(self, low: Floats, high: Floats) -> Mesh:
        """Skin of boxes by their corners (n, 2), facing out."""
        both = np.stack([low, high])
        corners = np.stack([both[[0, 1, 1, 0], :, 0], both[[0, 0, 1, 1], :, 1]], axis=-1)
        vertices = self.at(corners.transpose(1, 0, 2)).reshape(-1, 3)
        # Round and along are a left-handed pair where e, d, a are right-handed.
        turned = float(np.linalg.det([self.e, self.d, self.a])) > 0.0
        one = np.array([[0, 2, 1], [0, 3, 2]] if not turned else [[0, 1, 2], [0, 2, 3]])
        faces = (4 * np.arange(len(low))[:, None, None] + one).reshape(-1, 3)
        return Mesh.uniform(vertices, faces, "pressed")

    def cone(self, corner: Corner, half: float, round_it: int = 12) -> Mesh:
        """A cone whose tip points at a corner; `half` of the needles' length, mm."""
        place = np.array([corner.angle, half if corner.end == "outer" else -half])
        tip, base = self.at(place, 0.5), self.at(place, 0.5 + CONE)
        up = (base - tip) / np.linalg.norm(base - tip)
        turn = np.arange(round_it) * (2.0 * np.pi / round_it)
        one, other = np.cos(turn)[:, None] * self.e, np.sin(turn)[:, None] * np.cross(up, self.e)
        rim = base + 0.25 * CONE * (one + other)
        ahead = np.roll(np.arange(round_it), -1)
        here = np.arange(round_it)
        sides = np.stack([np.zeros_like(here), 2 + ahead, 2 + here], axis=1)
        lid = np.stack([np.ones_like(here), 2 + here, 2 + ahead], axis=1)
        vertices = np.concatenate([[tip], [base], rim])
        return Mesh.uniform(vertices, np.concatenate([sides, lid]), "corner")


def press_on(
    space: Space, name: str, skin: TrunnionSkin, found: PressureMap,
    corners: Sequence[Corner], X_CX: Floats,
) -> None:  # fmt: skip
    """Put the pressure of one trunnion up, all of it under one name.

    X_CX : (4, 4) pose of the cross frame. Every second line is drawn. Corners on drive are black
    cones, on coast white ones.
    """
    for number, low, high in shaded(found, fine=1):
        paint = Paint(SHADES[number], 0.1, glow=GLOW)
        space.solid(name, skin.patch(low, high), paint, X_CX)
    for level, lines in level_lines(found)[1::2]:
        inside = lines[(np.abs(lines[..., 0]) <= np.pi).all(axis=1)]
        if len(inside):
            pen = LIMIT if level == LEVELS[-1] else Pen(THIN.colour, 1.5)
            space.lines(name, skin.at(inside), pen, X_CX)
    half = 0.5 * len(found.along) * float(found.along[1] - found.along[0])
    for corner in corners:
        paint = Paint(BLACK if corner.way == "drive" else WHITE, 0.2, glow=0.5)
        space.solid(name, skin.cone(corner, half), paint, X_CX)
