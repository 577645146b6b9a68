"""Residual unbalance against numbers worked apart from the table of grades."""

from math import pi

import pytest

from sim.balance import FINE, OUNCE_INCH, ROAD, balance

RPM = pi / 30.0


@pytest.mark.parametrize(
    ("grade", "mass", "rpm", "off", "total", "short", "plane", "weight", "ounces"),
    [
        (FINE, 8.0, 3000.0, 50.9296, 407.437, 407.424, 203.718, 5.3469, 0.56582),
        (FINE, 12.0, 3600.0, 42.4413, 509.296, 509.280, 254.648, 6.6837, 0.70728),
        (ROAD, 8.0, 3000.0, 127.3240, 1018.592, 1018.560, 509.296, 13.3673, 1.41456),
    ],
)
def test_residual_of_a_grade(grade, mass, rpm, off, total, short, plane, weight, ounces):
    """[ISO21940-11] worked apart: um, g mm (and by 9549 G m / n), g mm a plane, g at 38.1 mm."""
    found = balance(mass, rpm * RPM, grade)
    assert found.total / mass == pytest.approx(off, abs=5.1e-5)
    assert found.total == pytest.approx(total, abs=5.1e-4)
    assert 9549.0 * grade * mass / rpm == pytest.approx(short, abs=5e-4)
    assert found.total == pytest.approx(short, rel=5e-5)
    assert (found.first, found.last) == pytest.approx((plane, plane), abs=5.1e-4)
    assert found.weights(38.1)[0] == pytest.approx(weight, abs=6e-5)
    assert sum(found.per_plane_oz_in) == pytest.approx(ounces, abs=5.1e-6)


def test_ounce_inch():
    """720.0779 g mm."""
    assert pytest.approx(720.0779, abs=5e-5) == OUNCE_INCH
