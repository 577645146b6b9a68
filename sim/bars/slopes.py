"""Where the shaft runs by slopes alone: each number changes with each source in straight lines."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sim.bars.look import FIRST
from sim.bars.model import Model
from sim.frames import FloatArray


@dataclass(frozen=True, eq=False)
class Slopes:
    """What a model has of motion, to first order.

    A number may be creased at the numbers as they are, as the worse of two poses is: so each way
    has a slope of its own.

    Attributes
    ----------
    middle : (looked at, numbers) as it is.
    ends : mm, full droop and full bump; no height lies beyond them, however straight lines run.
    up, down : (k, looked at, numbers) change with each column one deviation more, and less.
    """

    middle: FloatArray
    ends: tuple[float, float]
    up: FloatArray
    down: FloatArray

    def moved(self, z: FloatArray) -> FloatArray:
        """Where the shaft runs in draws `z` (n, k), as `Model.moved` has it."""
        shape = self.middle.shape
        up, down = (each.reshape(len(each), self.middle.size) for each in (self.up, self.down))
        moved: FloatArray = np.maximum(z, 0.0) @ up + np.maximum(-z, 0.0) @ down
        moved = moved.reshape(-1, *shape) + self.middle
        heights = moved[..., FIRST:]
        np.clip(heights, *self.ends, out=heights)
        return moved


def slopes(model: Model) -> Slopes:
    """Slopes of a model; a column that leaves nothing possible one way has the slope of the other.

    A number that there is not both at the middle and one deviation off, such as a height of first
    contact, has no slope.
    """
    columns = len(model.keys)
    (middle,) = model.moved(np.zeros((1, columns)))
    asked = [column for column in range(columns) if _moves(model, column, middle)]
    steps = np.eye(columns)[asked]
    ways = model.moved(np.concatenate([steps, -steps])) - middle
    up, down = np.zeros((columns, *middle.shape)), np.zeros((columns, *middle.shape))
    up[asked], down[asked] = ways[: len(asked)], ways[len(asked) :]
    up, down = np.where(np.isnan(up), -down, up), np.where(np.isnan(down), -up, down)
    travel = model.found.vehicle.travel
    ends = -travel.droop, travel.bump
    return Slopes(middle, ends, np.nan_to_num(up), np.nan_to_num(down))


def _moves(model: Model, column: int, middle: FloatArray) -> bool:
    """Whether a column changes where the shaft runs, or where a joint first touches."""
    if column < len(model.moving):
        return True
    row = model.looked_at.index(("bend", model.shaped[column - len(model.moving)]))
    return bool(np.isfinite(middle[row, FIRST]))
