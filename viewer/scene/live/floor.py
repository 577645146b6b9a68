"""What tells up, level and forward: a level grid under the axle, and an arrow on it."""

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import prism
from sim.vehicle import Vehicle
from viewer.draw.base import Colour, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.scene.live.looks import Look

GRID, ARROW, WORD = "level", "forward arrow", "forward word"

SQUARE = 200.0
"""Side of a square, mm."""

UNDER = 230.0
"""How far the grid lies under the axle's centre at full droop, mm."""


def lay_floor(stage: Stage, vehicle: Vehicle, look: Look) -> None:
    """Put up grid and arrow for a vehicle, in place of those of another."""
    for name in (GRID, ARROW, WORD):
        stage.remove(name)
    ends = np.stack([np.zeros(3), vehicle.p_C_output])
    if vehicle.section is not None:
        ends = np.concatenate([ends, vehicle.section.p_C_output[None]])
    low = np.floor((ends[:, 0].min() - 350.0) / SQUARE) * SQUARE
    high = np.ceil((ends[:, 0].max() + 350.0) / SQUARE) * SQUARE
    z = -vehicle.travel.droop - UNDER
    still = np.eye(4)
    grey = _mixed(look.floor, look.ink, 0.28)
    stage.lines(GRID, _grid(low, high, 2.0 * SQUARE, z), Pen(grey, 1.0), still)
    tip = np.array([0.5 * (low + high) + 150.0, -1.5 * SQUARE, z])
    paint = Paint(look.ink, 0.0, glow=1.0)
    X = np.eye(4)
    X[:3, 3] = tip
    stage.solid(ARROW, _arrow(), paint, X)
    stage.words(
        WORD, "FORWARD", np.array([-150.0, 0.0, 40.0]), look.letters(15.0, True), look.plate
    )
    stage.move(WORD, X)


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


def _arrow() -> Mesh:
    """A flat arrow, its tip at the origin, pointing along x."""
    outline = [
        [0.0, 0.0],
        [-110.0, 60.0],
        [-110.0, 24.0],
        [-300.0, 24.0],
        [-300.0, -24.0],
        [-110.0, -24.0],
        [-110.0, -60.0],
    ]
    return prism(np.array(outline), "z", 0.0, 4.0, "arrow").mesh()
