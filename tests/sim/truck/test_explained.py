"""What would have to be wrong, against closed forms and other solvers."""

import numpy as np
import pytest
from scipy.linalg import lstsq
from scipy.optimize import minimize

from sim.truck.explained import MOST, alone, together
from sim.truck.observed import Sense
from tests.sim.truck.linear import linear


def test_one_thing_seen_takes_what_it_is_off_over_the_slope() -> None:
    """[derivation: a straight line]."""
    slopes = np.array([[2.0, -0.5, 0.25]])
    found = alone(linear([-3.0], slopes))
    assert [each.of.key for each in found] == ["n0", "n1", "n2"]
    assert [each.deviations for each in found] == pytest.approx([1.5, -6.0, 12.0], abs=1e-3)
    assert all(each.explains for each in found)
    assert [each.would_be for each in found] == pytest.approx([1.5, -6.0, 12.0], abs=1e-3)


@pytest.mark.parametrize("seed", range(8))
def test_several_are_met_by_generalised_least_squares(seed: int) -> None:
    """numpy's least squares of equations that were whitened by Cholesky's factor."""
    random = np.random.default_rng(seed)
    slopes, start = random.normal(size=(4, 9)), 4.0 * random.normal(size=4)
    numbers = linear(start, slopes)
    found = {each.of.key: each for each in alone(numbers)}
    for column in range(9):
        slope = slopes[:, [column]]
        white = np.linalg.inv(np.linalg.cholesky(slopes @ slopes.T - slope @ slope.T))
        (off,), (rest,), *_ = np.linalg.lstsq(white @ slope, -white @ start, rcond=None)
        if abs(off) < 1e-2 or abs(off) > MOST:
            continue
        each = found[f"n{column}"]
        assert each.deviations == pytest.approx(off, rel=2e-3, abs=2e-3)
        assert each.rest == pytest.approx(rest, rel=1e-3, abs=1e-3)


@pytest.mark.parametrize("seed", range(8))
def test_the_least_unlikely_combination_is_the_shortest_solution(seed: int) -> None:
    """scipy's least squares of too few equations gives the shortest solution."""
    random = np.random.default_rng(seed)
    slopes, start = random.normal(size=(3, 8)), random.normal(size=3)
    found = together(linear(start, slopes))
    shortest = lstsq(slopes, -start)[0]
    assert found is not None
    assert found.squares == pytest.approx(float(shortest @ shortest), rel=1e-9)
    told = {each.of.key: each.deviations for each in found.parts}
    for column, off in enumerate(shortest):
        assert told.get(f"n{column}", 0.0) == pytest.approx(off, abs=0.06)
        assert f"n{column}" not in told or told[f"n{column}"] == pytest.approx(off, rel=1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_inequalities_are_met_and_no_more(seed: int) -> None:
    """A general solver for the same: least squares under constraints."""
    random = np.random.default_rng(100 + seed)
    senses: list[Sense] = ["is", "at least", "at most", "at least"]
    slopes, start = random.normal(size=(4, 7)), 2.0 * random.normal(size=4)
    signs = [-1.0 if sense == "at most" else 1.0 for sense in senses]
    constraints = [
        {
            "type": "eq" if sense == "is" else "ineq",
            "fun": lambda z, i=i, sign=sign: sign * float(start[i] + slopes[i] @ z),
        }
        for i, (sense, sign) in enumerate(zip(senses, signs, strict=True))
    ]
    other = minimize(
        lambda z: float(z @ z), np.zeros(7), method="SLSQP", constraints=constraints, tol=1e-12
    )
    found = together(linear(start, slopes, senses))
    assert found is not None
    assert found.squares == pytest.approx(float(other.fun), rel=1e-6)


def test_what_turns_free_needs_no_more_than_just_free() -> None:
    (most, *_) = alone(linear([2.0], np.array([[1.0, 0.1]]), ["at most"]))
    assert most.deviations == pytest.approx(-2.0, abs=1e-3)
    assert most.rest == pytest.approx(0.0, abs=1e-6)


def test_a_number_that_changes_nothing_is_not_told() -> None:
    found = alone(linear([1.0], np.array([[1.0, 0.0]])))
    assert [each.of.key for each in found] == ["n0"]


def test_what_explains_one_and_spoils_another_does_not_explain() -> None:
    slopes = np.array([[1.0, 0.1, 0.0], [5.0, 0.0, 0.1]])
    found = {each.of.key: each for each in alone(linear([-4.0, 0.0], slopes))}
    assert found["n1"].explains == (found["n1"].rest < 3.85)
    assert not found["n0"].explains
