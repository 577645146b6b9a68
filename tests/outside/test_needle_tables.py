"""Ratings, pressures and life of needle bearings, against tables and numbers worked apart."""

from math import pi, radians

import pytest

from sim.bearing import Needles, joint_life
from sim.bearing.needles import hertz_line

CROSS = Needles.full(2.5, 12.0, 17.5)
"""A made-up cross: trunnion 17.5 mm, needles 2.5 x 12 mm, 30 mm from its centre."""

RPM = pi / 30.0


@pytest.mark.parametrize(
    ("gamma", "worked", "table"),
    [
        (0.02, 60.79, 60.8),
        (0.04, 70.71, 70.7),
        (0.06, 76.89, 76.9),
        (0.08, 81.18, 81.2),
        (0.10, 84.23, 84.2),
        (0.12, 86.35, 86.4),
        (0.14, 87.74, 87.7),
        (0.16, 88.54, 88.5),
        (0.18, 88.83, 88.8),
    ],
)
def test_rating_factor(gamma, worked, table):
    """Worked apart, and as the table of [ISO281] has it, from memory: last printed digit."""
    needles = Needles(gamma * 100.0, 10.0, 100.0 * (1.0 - gamma), 1)
    assert needles.gamma == pytest.approx(gamma, rel=1e-14)
    assert needles.rating_factor == pytest.approx(worked, abs=5.1e-3)
    assert needles.rating_factor == pytest.approx(table, abs=0.06)


def test_ratings():
    """Worked apart, to the printed digits."""
    assert CROSS.count == 25
    assert CROSS.gamma == 0.125
    assert CROSS.rating_factor == pytest.approx(86.76395, abs=5e-6)
    assert CROSS.dynamic_rating(1.1) == pytest.approx(19_722.74, abs=5e-3)
    assert CROSS.dynamic_rating() == pytest.approx(17_929.76, abs=5e-3)
    assert CROSS.static_rating == pytest.approx(28_875.0, rel=1e-12)


@pytest.mark.parametrize(("bend", "hours"), [(5.0, 5575.532), (10.0, 2787.766)])
def test_life(bend, hours):
    """Worked apart for T / 2R, 400 N m at 2000 rpm with rings machined; here the load is greater
    by 1 / cos b, which takes (cos b)^(10/3) off the life."""
    from math import cos

    found = joint_life(CROSS, 30.0, 400e3, 2000.0 * RPM, radians(bend), factor=1.1)
    share = cos(radians(bend)) ** (10.0 / 3.0)
    assert found.hours == pytest.approx(hours * share, rel=2e-7)
    assert found.load == pytest.approx(6666.667 / cos(radians(bend)), rel=1e-7)


@pytest.mark.parametrize(
    ("torque", "pressure"), [(400.0, 1917.76), (2000.0, 4288.24), (4000.0, 6064.49)]
)
def test_pressure_under_the_top_needle(torque, pressure):
    """Worked apart: 5 P / Z on the inner contact, E 207 GPa, nu 0.3."""
    load = torque * 1e3 / 60.0
    assert CROSS.contact_pressure(load) == pytest.approx(pressure, abs=5e-3)


def test_static_rating_stands_for_4000_mpa():
    """3991 MPa: [ISO76] says 4000, and its rating rounds."""
    assert CROSS.contact_pressure(CROSS.static_rating) == pytest.approx(3991.0, abs=0.5)


def test_swing_under_which_the_needles_do_not_overlap():
    """25.600 deg of the whole swing, inner raceway: worked apart from rolling without slip."""
    assert 2.0 * CROSS.overlap_swing == pytest.approx(radians(25.600), abs=radians(5e-4))


def test_two_cylinders_in_a_textbook():
    """[BORESI, ex. 17.3]: 40 mm each, 20 mm long, 24.1 kN, 200 GPa, 0.29: 1445 MPa printed,
    1447.037 in full precision."""
    found = hertz_line(24_100.0, 20.0, 20.0, 200e3 / (2.0 * (1.0 - 0.29**2)))
    assert found == pytest.approx(1447.037, abs=5e-4)
    assert found == pytest.approx(1445.0, rel=2e-3)


def test_a_half_space_measured_with_a_contact_solver():
    """R 10 mm, 20 N/mm, E 207 GPa, nu 0.3: 380.544 MPa by Hertz, 380.895 in the solver."""
    found = hertz_line(20.0, 1.0, 10.0, 207e3 / (1.0 - 0.3**2))
    assert found == pytest.approx(380.544, abs=5e-4)
    assert found == pytest.approx(380.895, rel=1e-3)
