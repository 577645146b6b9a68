"""Life of needles slice by slice: how much sooner a cocked cap's give out than a straight one's.

The reference life of [ISO16281], by equations of a public implementation. It is no number of hours
for a cross: the standards do not hold for needles that run right on a trunnion [ISO281, scope],
nor for a swing this small. Only the ratio of two such lives is told.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from sim.cocked.slices import Row
from sim.frames import FloatArray

Moves = Literal["cap", "trunnion"]
"""Which ring turns against the load. In a joint the load stays with the cross, so the cap does."""

_TURNING, _STANDING = 4.0, 4.5
"""Powers of the mean load on the ring that turns against the load and on the other [ISO16281]."""


def reference_life(
    row: Row,
    force: FloatArray,
    weight: ArrayLike = 1.0,
    rating_factor: float = 1.1,
    moves: Moves = "cap",
    edges: bool = True,
) -> float:
    """Life in million turns by slices, to be divided by another; inf where nothing is loaded.

    force : (n, z, k) N of every slice of every needle at n moments.
    weight : (n,) how much the needles roll at each of these moments.
    rating_factor : b_m of the row's rating [ISO281].
    edges : with the factor for the stress at a needle's ends [ISO16281].

    Each ring's slices are given the mean of what the needles carry, over the needles and the
    moments, to the power 4 or 9/2; {sum over slices of (q/q_c)^(9/2) of both rings}^(-8/9).
    """
    share = np.broadcast_to(np.asarray(weight, dtype=np.float64), len(force))
    share = np.full(len(force), 1.0 / len(force)) if not share.any() else share / share.sum()
    needles = row.needles
    inner, outer = _capacities(row, rating_factor)
    worn = np.zeros(row.count)
    for capacity, ring in ((inner, "trunnion"), (outer, "cap")):
        power = _TURNING if ring == moves else _STANDING
        mean = np.einsum("n,nzk->k", share, force**power) / needles.count
        worn += (mean ** (1.0 / power) * (edge_factor(row.count) if edges else 1.0) / capacity) ** (
            4.5
        )
    total = float(worn.sum())
    return float(total ** (-8.0 / 9.0)) if total > 0.0 else float("inf")


def edge_factor(slices: int) -> FloatArray:
    """(k,) by how much a slice's stress is raised near a needle's end [ISO16281, eq. 60].

    1 - 0.01 / ln(1.985 |2k - n - 1| / (2n - 2)).
    """
    k = np.arange(1, slices + 1)
    near = 1.985 * np.abs(2 * k - slices - 1) / (2.0 * slices - 2.0)
    with np.errstate(divide="ignore"):  # the very middle of an odd number of slices: exactly 1
        value: FloatArray = 1.0 - 0.01 / np.log(near)
    return value


def _capacities(row: Row, rating_factor: float) -> tuple[float, float]:
    """Load (N) of a slice that lasts a million turns, on the trunnion and in the cap.

    C / (0.83 x 0.378 Z) {1 + [1.038 ((1-g)/(1+g))^(143/108)]^(9/2)}^(2/9), and with 0.364 and -9/2
    in the cap, each by the 7/9 power of the number of slices [ISO16281, eq. 47 to 57].
    """
    needles = row.needles
    rating, count, g = needles.dynamic_rating(rating_factor), needles.count, needles.gamma
    ratio = 1.038 * ((1.0 - g) / (1.0 + g)) ** (143.0 / 108.0)
    slices = float(row.count) ** (-7.0 / 9.0)
    inner = rating / (0.83 * 0.378 * count) * (1.0 + ratio**4.5) ** (2.0 / 9.0)
    outer = rating / (0.83 * 0.364 * count) * (1.0 + ratio**-4.5) ** (2.0 / 9.0)
    return inner * slices, outer * slices
