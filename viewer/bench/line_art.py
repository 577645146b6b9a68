"""Bodies as a line drawing: corners and outlines, without what other metal hides."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from viewer.draw.camera import Floats
from viewer.draw.shading import outline, sharp_edges
from viewer.scene.parts import PosedPart

CELL = 0.3
"""mm. Depth is known on a grid this fine: under the width of a drawn line."""

STEP = 0.5
"""mm. Lines are judged in pieces no longer than this."""

SKIN = 0.6
"""mm of metal in front of a line that is taken for the line's own body: facets of round surfaces,
and the slope of a surface across one cell."""

CELLS = 1_000_000
"""Cells that are looked at together, so that little room is taken."""

Cells = NDArray[np.int64]


def line_art(parts: Sequence[PosedPart], R_VC: Floats, scale: float = 1.0) -> tuple[Floats, Floats]:
    """The lines that an eye far away sees, outlines first and then corners, (n, 2, 2) mm.

    R_VC : (3, 3) rotation into the drawing V: x to the right, y up, z toward the eye.
    scale : of the drawing; 1 is life size.
    """
    skins = [scale * (part.in_chassis @ R_VC.T)[part.mesh.faces] for part in parts]
    depth = _Depth(np.concatenate(skins))
    rims, corners = [], []
    for part in parts:
        R_VP, p = R_VC @ part.X_CP[:3, :3], R_VC @ part.X_CP[:3, 3]
        rims.append(outline(part.mesh, R_VP[2]) @ R_VP.T + p)
        corners.append(sharp_edges(part.mesh) @ R_VP.T + p)
    return depth.seen(scale * np.concatenate(rims)), depth.seen(scale * np.concatenate(corners))


class _Depth:
    """How near to the eye the nearest metal is, cell by cell. triangles : (m, 3, 3) mm in V."""

    def __init__(self, triangles: Floats) -> None:
        flat = triangles[..., :2].reshape(-1, 2)
        self._low = flat.min(axis=0) - CELL
        wide, tall = np.ceil((flat.max(axis=0) - self._low) / CELL).astype(int) + 2
        self._z = np.full((tall, wide), -np.inf)
        at = (triangles[..., :2] - self._low) / CELL
        low = np.ceil(at.min(axis=1) - 0.5).astype(int)
        size = np.floor(at.max(axis=1) - 0.5).astype(int) - low + 1
        count = np.maximum(size, 0).prod(axis=1)
        batch = np.cumsum(count) // CELLS
        for number in np.unique(batch):
            some = (batch == number) & (count > 0)
            self._lay(triangles[some], at[some], low[some], size[some], count[some])

    def _lay(self, triangles: Floats, at: Floats, low: Cells, size: Cells, count: Cells) -> None:
        """Lay some triangles over the grid, all the cells about them at once.

        at : (m, 3, 2) corners in cells. low, size : (m, 2) of the box about each. count : (m,).
        """
        of = np.repeat(np.arange(len(at)), count)
        place = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
        column, line = low[of, 0] + place % size[of, 0], low[of, 1] + place // size[of, 0]
        point = np.stack([column, line], axis=-1) + 0.5
        corner, way = at, np.roll(at, -1, axis=1) - at
        turn = _cross(way[of], point[:, None] - corner[of])
        area = turn.sum(axis=1)
        inside = ((turn >= 0.0).all(axis=1) | (turn <= 0.0).all(axis=1)) & (np.abs(area) > 1e-9)
        of, turn, area = of[inside], turn[inside], area[inside]
        # The share of a corner is the triangle opposite to it.
        share = np.roll(turn, -1, axis=1) / area[:, None]
        z = (share * triangles[of, :, 2]).sum(axis=1)
        np.maximum.at(self._z, (line[inside], column[inside]), z)

    def seen(self, lines: Floats) -> Floats:
        """The pieces (n, 2, 2) of lines (m, 2, 3) in V that no metal lies in front of."""
        if not len(lines):
            return np.empty((0, 2, 2))
        start, way = lines[:, 0], lines[:, 1] - lines[:, 0]
        count = np.maximum(np.ceil(np.linalg.norm(way, axis=1) / STEP).astype(int), 1)
        of = np.repeat(np.arange(len(lines)), count)
        number = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
        middle = start[of] + way[of] * ((number + 0.5) / count[of])[:, None]
        free = ~self._hides(middle)
        # Neighbours that are both seen become one line again.
        first = free & (np.r_[True, ~free[:-1]] | (number == 0))
        last = free & (np.r_[~free[1:], True] | (number + 1 == count[of]))
        a = (number / count[of])[first]
        b = ((number + 1) / count[of])[last]
        whose = of[first]
        ends = np.stack([start[whose] + way[whose] * s[:, None] for s in (a, b)], axis=1)
        return np.asarray(ends[..., :2])

    def _hides(self, points: Floats) -> NDArray[np.bool_]:
        """Whether metal hides points (n, 3): in every cell around, so that rims stay whole."""
        cell = np.floor((points[:, :2] - self._low) / CELL).astype(int)
        nearest = np.full(len(points), np.inf)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                x = np.clip(cell[:, 0] + dx, 0, self._z.shape[1] - 1)
                y = np.clip(cell[:, 1] + dy, 0, self._z.shape[0] - 1)
                nearest = np.minimum(nearest, self._z[y, x])
        return np.asarray(nearest > points[:, 2] + SKIN)


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])
