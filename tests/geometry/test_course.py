"""The course of a touch curve, against curves that are known in closed form.

A valley of straight sides, its floor anywhere: what a straight line between two places lies over it
is a concave function, nothing at either end, so half way it is at least half of its most. What is
good to half of the allowed half way is therefore good to all of it everywhere.
"""

from math import pi, radians, tau

import numpy as np
import numpy.typing as npt
import pytest

from geometry.contact.course import LEAST, course

Array = npt.NDArray[np.float64]

SLOPE, TRUE = 0.3, radians(0.02)
FINE = np.arange(0.0, tau, radians(0.01))
SPINS = np.arange(24) * (tau / 24)


@pytest.mark.parametrize("floor", np.linspace(0.0, tau, 31)[:-1] + radians(0.3))
def test_the_course_is_over_the_touch_by_no_more_than_it_may_be(floor: float) -> None:
    """All round, between the last spin and the first as well."""

    def touch(spin: Array) -> Array:
        return 0.5 + SLOPE * np.abs((spin - floor + pi) % tau - pi)

    def lower(spin: Array, bend: Array) -> Array:
        return np.where(touch(spin) < bend, touch(spin), np.inf)

    spin, bend = course(SPINS, touch(SPINS), lower, TRUE)
    assert (np.diff(spin) > 0.0).all()
    assert set(SPINS) <= set(spin)
    np.testing.assert_allclose(bend, touch(spin), rtol=0.0, atol=1e-12)
    # A line shorter than is asked about lies over a valley by half its length at most.
    most = max(TRUE, 0.5 * SLOPE * LEAST)
    over = np.interp(FINE, spin, bend, period=tau) - touch(FINE)
    assert over.max() <= most + 1e-12


def test_a_course_that_is_good_is_left_as_it_is() -> None:
    """A hill is under no straight line; nothing is added to it."""
    touch = 0.5 + 0.2 * np.sin(SPINS[:12])
    spin, bend = course(SPINS[:12], touch, lambda at, _: np.full(len(at), np.inf), TRUE)
    np.testing.assert_array_equal([spin, bend], [SPINS[:12], touch])
