"""Needles in slices: stiffness, tilt, load round the row, reference life, against outside numbers.

The numbers of the slice model were worked apart from its equations [ISO16281], one needle of 2.5 x
12 mm and the row of a made-up cross.
"""

import numpy as np
import pytest

from sim.bearing import Needles
from sim.cocked import Row, balance, reference_life

NEEDLES = Needles.full(2.5, 12.0, 17.5)
FORCE = 6666.667
MRAD = 1e-3


def one(ends: str) -> Row:
    """One needle alone: the others are too far down the row to see that."""
    return Row(NEEDLES, ends=ends)


def carried(row: Row, deep: float, tilt: float) -> np.ndarray:
    """Slices of the needle under the load where the trunnion goes `deep` mm and leans."""
    force, _ = row.carried(np.array([[deep, 0.0]]), np.array([[tilt, 0.0]]), np.zeros((1, 1)))
    return force[0, 0]


@pytest.mark.parametrize(("deep", "force"), [(2.0, 328.164), (5.0, 908.337), (10.0, 1962.116)])
def test_one_needle_pressed_straight(deep, force):
    assert carried(one("straight"), deep * 1e-3, 0.0).sum() == pytest.approx(force, abs=5e-4)


@pytest.mark.parametrize(
    ("tilt", "deep", "peak", "loaded", "moment"),
    [
        (0.0, 1.28078, 1.0, 30, 0.0),
        (0.5, 0.792328, 3.24278, 19, 711.762),
        (1.0, -0.733348, 4.60901, 13, 860.524),
        (2.0, -4.685597, 6.51097, 9, 963.556),
    ],
)
def test_one_tilted_needle_under_200_newton(tilt, deep, peak, loaded, moment):
    row = one("straight")
    force = carried(row, deep * 1e-3, tilt * MRAD)
    assert force.sum() == pytest.approx(200.0, abs=1e-3)
    assert force.max() / (force.sum() / 30.0) == pytest.approx(peak, abs=2e-5)
    assert np.count_nonzero(force) == loaded
    assert force @ row.along == pytest.approx(moment, abs=5e-3)


@pytest.mark.parametrize(
    ("ends", "edges", "tilt", "life"),
    [
        ("straight", False, 0.0, 158.704),
        ("straight", False, 0.5, 89.978),
        ("straight", False, 1.0, 36.862),
        ("relieved", True, 0.0, 107.147),
        ("relieved", True, 0.5, 71.270),
    ],
)
def test_reference_life_of_the_row(ends, edges, tilt, life):
    """Worked apart to 6 digits, the inner ring turning against the load."""
    row = Row(NEEDLES, ends=ends)
    found = balance(row, [[FORCE, 0.0]], [tilt * MRAD, 0.0])
    told = reference_life(row, found.force, moves="trunnion", edges=edges)
    assert told == pytest.approx(life, abs=6e-4)


@pytest.mark.parametrize(
    ("clearance", "most", "loaded"), [(0.0, 1089.608, 13), (0.01, 1313.752, 9), (0.03, 1608.130, 7)]
)
def test_load_round_the_row(clearance, most, loaded):
    found = balance(Row(NEEDLES, clearance, "straight"), [[FORCE, 0.0]], [0.0, 0.0])
    needles = found.force[0].sum(axis=1)
    assert needles.max() == pytest.approx(most, abs=2e-3)
    assert np.count_nonzero(needles) == loaded
    if clearance == 0.0:
        assert found.moved[0, 0] * 1e3 == pytest.approx(5.88967, abs=5e-6)
