"""The best phase of the ears at both ends of a shaft, when the end bends differ or lie askew."""

from collections.abc import Sequence
from itertools import product
from math import atan2, pi

import numpy as np
from numpy.typing import ArrayLike

from sim.cardan import ChainError, chain
from sim.frames import FloatArray, dot, unit
from sim.quantities import require_positive
from sim.speed.road import SpeedError

GRID = 24
"""Phases tried over half a turn before the search settles; what is searched swings once over
that, so two dozen find its valley."""


def cancelling_phase(axes: ArrayLike) -> float:
    """Best phase (rad in (-pi/2, pi/2]) of the one shaft between two joints, in closed form.

    The angle about the middle axis from the normal of the first bend plane to that of the
    second: then both joints work against each other at every instant. What is left is
    sqrt(|b1^2 - b2^2|) as a bend, the least there is [FISCHER-PAUL]; nothing for equal bends.
    A straight joint has no bend plane; the phase is then any, and 0 is returned. [derivation]
    """
    first, middle, last = _three(axes)
    one, other = np.cross(first, middle), np.cross(middle, last)
    if min(float(np.linalg.norm(one)), float(np.linalg.norm(other))) < 1e-12:
        return 0.0
    turn = atan2(float(dot(middle, np.cross(one, other))), float(dot(one, other)))
    return _half_turn(turn)


def best_phase(axes: ArrayLike) -> tuple[float, ...]:
    """Search the phases of one or two shafts between joints for the least acceleration left.

    One for each shaft between two joints, rad in (-pi/2, pi/2].

    axes : (3 or 4, 3) directions of the shafts along the flow of power. Uses nothing but the
    exact chain, so it also holds for large bends, where the closed form is not proven.
    Raises ChainError for another number of axes.
    """
    directions = unit(np.asarray(axes, dtype=np.float64))
    count = len(directions) - 2
    if count not in (1, 2):
        raise ChainError(
            f"best phase: got {len(directions)} axes, expected 3 or 4: one or two shafts between "
            "joints"
        )

    # The optimisers are slow to start, and most that import this ask nothing of them.
    from scipy.optimize import minimize  # noqa: PLC0415

    def left(phases: Sequence[float] | FloatArray) -> float:
        return chain(directions, [float(p) for p in phases], samples=96).greatest_acceleration

    steps = np.arange(GRID) * (pi / GRID)
    start = min(product(steps, repeat=count), key=left)
    found = minimize(
        left,
        np.array(start),
        method="Nelder-Mead",
        options={
            "xatol": 1e-7,
            "fatol": 1e-13,
            "initial_simplex": _simplex(np.array(start), 0.5 * pi / GRID),
        },
    )
    return tuple(_half_turn(float(p)) for p in found.x)


def whole_teeth(phase: float, teeth: int) -> tuple[int, float]:
    """Nearest phase that a spline can be put together in: teeth moved, and that phase (rad).

    Half a turn looks the same, so the phase is counted within it where that is nearer.
    """
    require_positive(SpeedError, teeth=float(teeth))
    step = 2.0 * pi / teeth
    moved = round(_half_turn(phase) / step)
    return moved, moved * step


def _simplex(start: FloatArray, size: float) -> FloatArray:
    corners: FloatArray = np.vstack([start, start + size * np.eye(len(start))])
    return corners


def _half_turn(turn: float) -> float:
    """Bring an angle into (-pi/2, pi/2]: ears look the same after half a turn."""
    wrapped = turn % pi
    return wrapped - pi if wrapped > 0.5 * pi else wrapped


def _three(axes: ArrayLike) -> FloatArray:
    directions = unit(np.asarray(axes, dtype=np.float64))
    if directions.shape != (3, 3):
        raise ChainError(
            f"cancelling phase: got axes of shape {directions.shape}, expected three of them"
        )
    return directions
