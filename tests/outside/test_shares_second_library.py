"""Shares of a doubt against closed forms and against a second library's estimates (SALib)."""

from collections.abc import Callable

import numpy as np
import pytest
from SALib.analyze import sobol
from scipy.special import ndtr

from sim.bars.shares import Crossed
from sim.frames import FloatArray
from tests.sim.bars.test_shares import in_closed_form, ishigami


def product(z: FloatArray) -> FloatArray:
    """Sobol's g-function with a = 0, 1, 4.5."""
    even = ndtr(z)
    told: FloatArray = np.prod((np.abs(4.0 * even - 2.0) + G) / (1.0 + G), axis=1)
    return told


G = np.array([0.0, 1.0, 4.5])


def of_product() -> tuple[list[float], list[float]]:
    """In closed form [derivation: the variance of a product of independent factors]."""
    each = 1.0 / 3.0 / (1.0 + G) ** 2
    whole = np.prod(1.0 + each) - 1.0
    others = np.array([np.prod(1.0 + np.delete(each, n)) for n in range(3)])
    return list(each / whole), list(each * others / whole)


@pytest.mark.parametrize(
    ("function", "known"), [(ishigami, in_closed_form()), (product, of_product())]
)
def test_both_libraries_and_the_closed_form_agree(
    function: Callable[[FloatArray], FloatArray], known: tuple[list[float], list[float]]
) -> None:
    crossed = Crossed.drawn(3, [[0], [1], [2]], 2**13, seed=1)
    told = function(crossed.all)
    mine = crossed.shares(told)
    # It wants each draw with all of its crossings in a row: a, its crossings, b.
    a, b, *others = told.reshape(5, -1)
    names = {"num_vars": 3, "names": list("xyz"), "bounds": [[0.0, 1.0]] * 3}
    other = sobol.analyze(
        names, np.stack([a, *others, b], axis=1).ravel(), calc_second_order=False, seed=1
    )
    assert mine.first == pytest.approx(other["S1"], abs=0.01)
    assert mine.total == pytest.approx(other["ST"], abs=0.01)
    assert mine.first == pytest.approx(known[0], abs=0.015)
    assert mine.total == pytest.approx(known[1], abs=0.015)
