"""Counting of cycles and adding of damage, against the standard's example and a second library."""

from collections import Counter

import fatpack
import numpy as np
import pytest

from sim.overload.cycles import cycles
from sim.overload.steel import SteelLine

LINE = SteelLine(
    endures=400.0, knee=1e6, thousand=4.0, scatter=1.0, mean_weight=0.0, source="made up"
)


def counted(series: list[float]) -> dict[float, float]:
    found: Counter[float] = Counter()
    for cycle in cycles(series):
        found[cycle.span] += cycle.number
    return dict(found)


def test_the_example_of_the_standard() -> None:
    """ASTM E1049, worked example of rainflow counting, from memory."""
    found = counted([-2, 1, -3, 5, -1, 3, -4, 4, -2])
    assert found == {3: 0.5, 4: 1.5, 6: 0.5, 8: 1.0, 9: 0.5}


def closed(series: np.ndarray) -> np.ndarray:
    """The turning points of a history begun at its greatest and ended there: no residue to argue.

    fatpack would sort them into classes first, which is told apart from counting.
    """
    start = int(np.argmax(series))
    turned = np.concatenate([series[start:], series[: start + 1]])
    moved = turned[np.concatenate([[True], np.diff(turned) != 0.0])]
    turns = np.diff(np.sign(np.diff(moved))) != 0.0
    return moved[np.concatenate([[True], turns, [True]])]


@pytest.mark.parametrize("seed", range(6))
def test_spans_and_means_are_those_of_a_second_library(seed: int) -> None:
    series = closed(np.random.default_rng(seed).integers(-40, 40, 300).astype(float))
    whole, residue = fatpack.find_rainflow_cycles(series)
    again = fatpack.concatenate_reversals(residue, residue)
    rest, _ = fatpack.find_rainflow_cycles(again)
    every = np.concatenate([whole, rest])
    theirs = np.stack([np.abs(np.diff(every, axis=1)).ravel(), every.mean(axis=1)], axis=1)
    found = cycles(series.tolist())
    ours = np.repeat([[c.span, c.mean] for c in found], [round(2 * c.number) for c in found], 0)
    theirs, ours = (each[np.lexsort(each.T)] for each in (theirs, ours))
    np.testing.assert_allclose(ours[::2], theirs, rtol=0, atol=1e-9)


def test_damage_is_that_of_a_second_library() -> None:
    """Miner on one straight line, slope 5: fatpack's trilinear one with a single slope."""
    rng = np.random.default_rng(3)
    spans = rng.uniform(450.0, 900.0, 200)
    theirs = fatpack.LinearEnduranceCurve(400.0)
    theirs.Nc, theirs.m = 1e6, LINE.slope
    ours = LINE.damage([(span, 0.0, 1.0) for span in spans], 2.0 / 2.0)
    # Without a weight of the mean, a span from nothing is a pulsating stress of that span.
    assert ours == pytest.approx(float(theirs.find_miner_sum(spans)), rel=1e-12)
