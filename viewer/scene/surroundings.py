"""What lives around the shaft, as bodies where they stand: crossmember, exhaust, scanned parts."""

from collections.abc import Iterable

import numpy as np

from geometry.contact.convex import Bars, Boxes
from geometry.mesh import Mesh
from geometry.solids import cylinder, hull
from sim.around.things import Thing
from sim.frames import pose
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart, SceneError

LOOK = "surrounding"
"""The material of things around the shaft: pale and seen through, so that they hide nothing."""


def surrounding_parts(things: Iterable[Thing], X_CA: Floats) -> tuple[PosedPart, ...]:
    """Bodies of things near the shaft; those that move with the axle are posed by X_CA, (4, 4)."""
    return tuple(
        PosedPart(thing.name, LOOK, mesh, X_CA @ X if thing.moves else X)
        for thing in things
        for mesh, X in thing_bodies(thing)
    )


def thing_bodies(thing: Thing) -> list[tuple[Mesh, Floats]]:
    """Meshes of a thing with their poses as it lies at ride height."""
    if thing.mesh is not None:
        return [(thing.mesh, np.eye(4))]
    pieces = thing.pieces
    if isinstance(pieces, Boxes):
        signs = np.array(np.meshgrid(*[[-1.0, 1.0]] * 3)).reshape(3, -1).T
        boxes = zip(pieces.centre, pieces.half, strict=True)
        return [(hull(signs * half, "side").mesh(), pose(np.eye(3), at)) for at, half in boxes]
    if isinstance(pieces, Bars):
        bars = zip(pieces.start, pieces.stop, pieces.radius, strict=True)
        return [
            (cylinder("x", radius, 0.0, float(np.linalg.norm(b - a)), "side").mesh(), toward(a, b))
            for a, b, radius in bars
        ]
    raise SceneError(f"{thing.name}: no mesh to draw; expected boxes, bars or a mesh")


def toward(start: Floats, stop: Floats) -> Floats:
    """Pose (4, 4) at `start` with x toward `stop`, (3,) mm."""
    x = (stop - start) / np.linalg.norm(stop - start)
    aside = np.cross([0.0, 0.0, 1.0] if abs(x[2]) < 0.9 else [0.0, 1.0, 0.0], x)
    y = aside / np.linalg.norm(aside)
    return pose(np.stack([x, y, np.cross(x, y)], axis=-1), start)
