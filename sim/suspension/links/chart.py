"""A polynomial guess of the closure, which saves the way from ride height for nearly every pose.

The unknowns are smooth functions of travel and roll; polynomials through closures at a grid of
poses foresee them to some thousandths of a mm, and Newton's method settles the rest in two steps.
A guess decides nothing: what is not closed from it is followed from ride height.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.frames import FloatArray
from sim.suspension.links.closure import Closed, Closure

TRAVEL: Final = 330.0
"""mm of travel up and down that the chart covers where the links reach it: 13 in."""

ROLL: Final = 0.35
"""rad of roll each way that the chart covers: 20 deg."""

SHRINK: Final = 0.75
SHRINKS: Final = 12
DEGREES: Final = (9, 7)
"""Highest powers of travel and of roll."""

NODES: Final = (19, 15)


@dataclass(frozen=True, eq=False)
class Chart:
    """Polynomials of travel and roll, without a constant: ride height is exactly nothing."""

    travel: float
    roll: float
    """Half sizes (mm, rad) of the box that the chart covers."""
    coefficients: FloatArray
    """(4, powers of travel, powers of roll), of travel and roll as shares of the half sizes."""

    def share(self, travel: FloatArray, roll: FloatArray) -> FloatArray:
        """How far along the straight way from ride height each pose stays in the box, 0 to 1."""
        size = np.maximum(np.abs(travel) / self.travel, np.abs(roll) / self.roll)
        share: FloatArray = 1.0 / np.maximum(size, 1.0)
        return share

    def guess(self, travel: FloatArray, roll: FloatArray) -> FloatArray:
        """Unknowns (4, poses), nearly."""
        t, r = travel / self.travel, roll / self.roll
        by_roll = np.tensordot(self.coefficients, _powers(r, DEGREES[1]), axes=1)
        guess: FloatArray = by_roll[:, DEGREES[0]]
        for power in reversed(range(DEGREES[0])):
            guess = guess * t + by_roll[:, power]
        return guess


def chart(closure: Closure) -> Chart:
    """Lay a chart over the largest box, within its usual size, that the links reach wholly."""
    travel, roll = TRAVEL, ROLL
    shares = [np.cos(np.pi * np.arange(n) / (n - 1)) for n in NODES]
    t, r = (grid.ravel() for grid in np.meshgrid(*shares, indexing="ij"))
    still = Closed(np.zeros((4, t.size)), np.ones(t.shape, dtype=bool))
    found = closure.follow(travel * t, roll * r, still, np.zeros(t.size))
    for _ in range(SHRINKS):
        if found.closed.all():
            break
        travel, roll = SHRINK * travel, SHRINK * roll
        found = closure.follow(travel * t, roll * r, still, np.zeros(t.size))
    powers = [_powers(values, degree) for values, degree in zip((t, r), DEGREES, strict=True)]
    terms = (powers[0][:, None] * powers[1][None]).reshape(-1, t.size)
    known = found.closed
    solved = np.linalg.lstsq(terms[1:, known].T, found.q[:, known].T, rcond=None)[0]
    coefficients = np.concatenate([np.zeros((1, 4)), solved]).T
    return Chart(travel, roll, coefficients.reshape(4, *(degree + 1 for degree in DEGREES)))


def _powers(values: FloatArray, degree: int) -> FloatArray:
    """(degree + 1, poses) powers from 0."""
    powers = np.empty((degree + 1, values.size))
    powers[0] = 1.0
    for power in range(1, degree + 1):
        np.multiply(powers[power - 1], values, out=powers[power])
    return powers
