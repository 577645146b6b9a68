"""Halving and golden section against scipy's root and minimum of the same functions."""

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from geometry.seeking import edge, edges, last_of, summits

LEVELS = np.array([0.1, 0.4, 0.77])


def test_the_edge_lies_at_the_root_from_either_side() -> None:
    """Of cos(x) - x, whichever end it holds at; the two that come back hold it between them."""
    root = brentq(lambda x: np.cos(x) - x, 0.0, 1.0, xtol=1e-15)
    last, first = edge(lambda x: np.cos(x) > x, 0.0, 1.0, within=1e-9)
    assert last <= root <= first
    assert first - last <= 1e-9
    last, first = edge(lambda x: np.cos(x) < x, 1.0, 0.0, within=1e-9)
    assert first <= root <= last
    assert last - first <= 1e-9


def test_the_edge_ends_after_so_many_halvings() -> None:
    asked: list[float] = []

    def holds(x: float) -> bool:
        asked.append(x)
        return x < 0.3

    assert edge(holds, 0.0, 1.0, halvings=3) == (0.25, 0.375)
    assert asked == [0.5, 0.25, 0.375]


def test_many_edges_are_those_of_each() -> None:
    """sin(x) below each level from 0 to a quarter turn: arcsine, by numpy."""
    last, first = edges(
        lambda x: np.sin(x) < LEVELS, np.zeros(3), np.full(3, 0.5 * np.pi), within=1e-12
    )
    np.testing.assert_allclose(last, np.arcsin(LEVELS), rtol=0.0, atol=2e-12)
    assert (first >= last).all()
    assert (np.sin(first) >= LEVELS).all()
    none = edges(lambda x: x < 0.0, np.empty(0), np.empty(0))
    assert [each.size for each in none] == [0, 0]


@pytest.mark.parametrize("last", [-1, 0, 3, 16])
def test_the_last_of_a_count_is_the_last_that_holds(last: int) -> None:
    asked: list[int] = []

    def holds(step: int) -> bool:
        asked.append(step)
        return step <= last

    assert last_of(holds, 16) == last
    assert set(asked) <= set(range(17))
    assert len(asked) <= 5


def test_summits_are_where_scipy_has_the_least_of_the_negative() -> None:
    tops = summits(
        lambda x: x * np.exp(-x / (1.0 + LEVELS)), np.zeros(3), np.full(3, 4.0), within=1e-8
    )
    for top, level in zip(tops, LEVELS, strict=True):
        found = minimize_scalar(
            lambda x, level=level: -x * np.exp(-x / (1.0 + level)),
            bounds=(0.0, 4.0),
            method="bounded",
            options={"xatol": 1e-9},
        )
        assert top == pytest.approx(found.x, abs=1e-6)
