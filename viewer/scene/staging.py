"""Bodies put before the eye: drawn with their edges, framed, and the ground they cover."""

from collections.abc import Sequence

import numpy as np

from viewer.draw.base import BLACK, Canvas, Pen
from viewer.draw.camera import Camera, Floats, Region
from viewer.draw.shading import outline, sharp_edges
from viewer.scene.labels import CELL, Ground
from viewer.scene.parts import PosedPart

UP = np.array([0.0, 0.0, 1.0])


def upward(toward: Floats) -> Floats:
    """What points up on the page: up in the vehicle, or forward when seen from straight above."""
    steep = abs(toward[2]) > 0.95 * np.linalg.norm(toward)
    return np.array([1.0, 0.0, 0.0]) if steep else UP


def show(canvas: Canvas, parts: Sequence[PosedPart], camera: Camera, scale: float) -> None:
    """Draw bodies with their edges and outlines in the open view."""
    for part in parts:
        toward = part.X_CP[:3, :3].T @ camera.R_VC[2]
        canvas.solid(part.name, part.mesh, part.paint, part.X_CP)
        canvas.lines(part.name, sharp_edges(part.mesh), Pen(BLACK, 1.3 * scale), part.X_CP)
        canvas.lines(part.name, outline(part.mesh, toward), Pen(BLACK, 2.4 * scale), part.X_CP)


def covered(parts: Sequence[PosedPart], camera: Camera, region: Region, strip: Region) -> Ground:
    """Ground of a region and the strip below, every square that shows a body taken."""
    ground = Ground(Region(region.left, strip.bottom, region.width, region.top - strip.bottom))
    for part in parts:
        corners = camera.project(part.in_chassis, region)[part.mesh.faces]
        size = np.ptp(corners, axis=1).max(axis=1)
        coarse = 0.0
        for steps in (1, 8, 32, 128):
            fine = steps * CELL
            _cover(ground, corners[(size > coarse) & (size <= fine)], steps)
            coarse = fine
        _cover(ground, corners[size > coarse], 256)
    return ground


def _cover(ground: Ground, corners: Floats, steps: int) -> None:
    """Take the squares of triangles (n, 3, 2) px, looking at so many steps along each side."""
    step = np.linspace(0.0, 1.0, steps + 1)
    share = np.stack(np.meshgrid(step, step), axis=-1).reshape(-1, 2)
    share = share[share.sum(axis=1) <= 1.0]
    for some in np.array_split(corners, 1 + len(corners) * len(share) // 1_000_000):
        places = some[:, :1] + share @ (some[:, 1:] - some[:, :1])
        ground.cover(places.reshape(-1, 2))


def inside(point: Floats, region: Region, margin: float = 0.0) -> bool:
    """Whether a place (2,) px lies in a region, at least a margin from its edges."""
    low, high = region.corners
    return bool((point >= low + margin).all() and (point <= high - margin).all())
