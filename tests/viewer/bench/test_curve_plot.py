"""Where readings stand in the plot of a joint's touch."""

from math import nan, pi, radians

import pytest
from matplotlib.figure import Figure

from sim.bench.fitted import ReadingFit, Turned, Way
from viewer.bench.curve_plot import _mark


def marked(
    turned: Turned, driving: bool, counts: bool = True, way: Way = "bench"
) -> tuple[list[float], str]:
    """Turns (deg) at which a reading of 28 deg is marked, and what is said of it."""
    axes = Figure().subplots()
    reading = ReadingFit(2, "k", way, turned, radians(28.0), radians(0.5), nan, (0.0, 1.0), counts)
    _mark(axes, reading, driving)
    (drawn,) = axes.containers
    points = drawn.lines[0].get_xydata()
    assert points[:, 1] == pytest.approx(28.0)
    return sorted(points[:, 0].tolist()), str(drawn.get_label())


def test_ears_in_line_of_the_yoke_nearer_the_engine_are_where_the_turn_begins() -> None:
    assert marked(Turned("shaft_yoke", 0.0), True)[0] == pytest.approx([0.0, 180.0, 360.0])


def test_ears_in_line_of_the_other_yoke_are_a_quarter_turn_on() -> None:
    """The cross carries both bores at right angles."""
    assert marked(Turned("pinion_yoke", 0.0), False)[0] == pytest.approx([90.0, 270.0])
    assert marked(Turned("shaft_yoke", 0.5 * pi), True)[0] == pytest.approx([90.0, 270.0])


def test_the_lowest_of_a_turn_stands_once_and_says_so() -> None:
    turns, says = marked(Turned(), False)
    assert len(turns) == 1
    assert says == "reading 2, lowest of a turn"


def test_what_is_left_out_says_so() -> None:
    assert marked(Turned("shaft_yoke", 0.0), True, counts=False)[1] == "reading 2, left out"


def test_what_did_not_touch_is_no_touch() -> None:
    assert marked(Turned(), False, way="clear")[1] == "reading 2, clear up to there"
