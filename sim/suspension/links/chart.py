"""A polynomial guess of the closure, which saves the way from ride height for nearly every pose.

The unknowns are smooth functions of travel and roll; polynomials through closures at a grid of
poses foresee them to some thousandths of a mm, and Newton's method settles the rest in two steps.
A guess decides nothing: what is not closed from it is followed from ride height.
"""

from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np

from sim.frames import FloatArray
from sim.suspension.links.closure import Closure

TRAVEL: Final = 330.0
"""mm of travel up and down that the chart covers where the links reach it: 13 in."""

ROLL: Final = 0.35
"""rad of roll each way that the chart covers: 20 deg."""

DEGREES: Final = (9, 7)
"""Highest powers of travel and of roll."""

NODES: Final = (15, 13)
"""Poses of travel and of roll that the polynomials are laid through, as Chebyshev's."""

WITHIN: Final = 0.9
"""Share of the way to the nearest end of the links' reach that a smaller chart covers."""

TRIES: Final = 4
COARSE: Final = 2.0**-7
"""To which share of its length an end of the reach is looked for."""


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
    t, r, fit = _nodes()
    size = 1.0
    for _ in range(TRIES):
        travel, roll = size * TRAVEL, size * ROLL
        found = closure.follow(travel * t, roll * r, closure.ride(t.size), 0.0 * t, COARSE)
        if found.closed.all():
            break
        size *= WITHIN * max(float(found.share.min()), COARSE)
    solved = np.where(found.closed, found.q, 0.0) @ fit.T
    coefficients = np.concatenate([np.zeros((4, 1)), solved], axis=1)
    return Chart(travel, roll, coefficients.reshape(4, *(degree + 1 for degree in DEGREES)))


@cache
def _nodes() -> tuple[FloatArray, FloatArray, FloatArray]:
    """Nodes of travel and roll as shares (poses,), and (terms, poses) what fits the terms to them.

    The terms are all products of powers but the constant.
    """
    shares = [np.cos(np.pi * np.arange(n) / (n - 1)) for n in NODES]
    t, r = (grid.ravel() for grid in np.meshgrid(*shares, indexing="ij"))
    powers = [_powers(values, degree) for values, degree in zip((t, r), DEGREES, strict=True)]
    terms = (powers[0][:, None] * powers[1][None]).reshape(-1, t.size)
    fit = np.asarray(np.linalg.pinv(terms[1:].T), dtype=np.float64)
    return t, r, fit


def _powers(values: FloatArray, degree: int) -> FloatArray:
    """(degree + 1, poses) powers from 0."""
    powers = np.empty((degree + 1, values.size))
    powers[0] = 1.0
    for power in range(1, degree + 1):
        np.multiply(powers[power - 1], values, out=powers[power])
    return powers
