"""What tells up, level and forward: a level grid under the axle, and an arrow on it."""

import numpy as np

from geometry.mesh import Mesh
from sim.frames import Rx, pose
from sim.vehicle import Vehicle
from viewer.draw.base import Colour, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.live.looks import SIZE, Look
from viewer.scene.page import arrow

GRID, ARROW, WORD = "level", "forward arrow", "forward word"

SQUARE = 200.0
"""Side of a square, mm."""

UNDER = 230.0
"""How far the grid lies under the axle's centre at full droop, mm."""


def lay_floor(stage: Stage, vehicle: Vehicle, look: Look) -> None:
    """Put up grid and arrow for a vehicle, in place of those of another."""
    for name in (GRID, ARROW, WORD):
        stage.remove(name)
    low, high = _along(vehicle)
    z, still = _level(vehicle), np.eye(4)
    grey = _mixed(look.floor, look.ink, 0.28)
    stage.lines(GRID, _grid(low, high, 2.0 * SQUARE, z), Pen(grey, 1.0), still)
    X = arrow_on_floor(vehicle)
    stage.solid(ARROW, _arrow(), Paint(look.ink, 0.0, glow=1.0), X)
    stage.words(
        WORD, "FORWARD", np.array([-150.0, 75.0, 70.0]), look.letters(SIZE, True), look.plate
    )
    stage.move(WORD, X)


def arrow_on_floor(vehicle: Vehicle) -> Floats:
    """Pose (4, 4) in C of the arrow on the grid, to the right of the shaft."""
    low, high = _along(vehicle)
    return pose(np.eye(3), [0.5 * (low + high) + 150.0, -1.5 * SQUARE, _level(vehicle)])


def beneath(points: Floats) -> Floats:
    """Pose (4, 4) in C of the arrow close under what takes up `points`, (n, 3) mm in C."""
    low, high = points.min(axis=0), points.max(axis=0)
    x, y, _ = 0.5 * (low + high)
    return pose(np.eye(3), [x + 150.0, y, low[2] - 120.0])


ARROW_SIZE = np.array([[-300.0, -60.0, -60.0], [0.0, 60.0, 60.0]])
"""Lowest and highest corner of the arrow from its tip, mm."""


def _mixed(a: Colour, b: Colour, share: float) -> Colour:
    """A colour so far on the way from one to another."""
    red, green, blue = ((1.0 - share) * x + share * y for x, y in zip(a, b, strict=True))
    return red, green, blue


def _grid(low: float, high: float, half: float, z: float) -> Floats:
    along = np.arange(low, high + 1.0, SQUARE)
    across = np.arange(-half, half + 1.0, SQUARE)
    rows = [[[low, y, z], [high, y, z]] for y in across]
    columns = [[[x, -half, z], [x, half, z]] for x in along]
    return np.array(rows + columns)


def _along(vehicle: Vehicle) -> tuple[float, float]:
    """Rear and front end of the grid, mm."""
    ends = np.stack([np.zeros(3), vehicle.p_C_output])
    if vehicle.section is not None:
        ends = np.concatenate([ends, vehicle.section.p_C_output[None]])
    low = np.floor((ends[:, 0].min() - 350.0) / SQUARE) * SQUARE
    return float(low), float(np.ceil((ends[:, 0].max() + 350.0) / SQUARE) * SQUARE)


def _level(vehicle: Vehicle) -> float:
    """Height of the grid, mm."""
    return -vehicle.travel.droop - UNDER


def _arrow() -> Mesh:
    """The arrow of the sheets lying flat, an upright one through it: seen from above and beside.

    Its tip is at the origin and it points along x.
    """
    low, size = ARROW_SIZE[0], np.ptp(ARROW_SIZE, axis=0)
    lying = arrow(size[0], size[1], 4.0).moved(np.eye(3), [0.5 * low[0], 0.0, 0.0])
    return Mesh.join([lying, lying.moved(Rx(0.5 * np.pi))])
