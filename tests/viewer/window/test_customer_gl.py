"""The customer view with Qt and OpenGL over a window that has a view too, on a real screen."""

import pytest

from tests.viewer.window.gl_program import seen_by


@pytest.mark.needs_gl
@pytest.mark.slow
def test_two_views_live_side_by_side_and_one_leaves_nothing_behind() -> None:
    told = seen_by("gl_customer_child")
    for seen in told["seen"]:
        # Metal has many shades; a driver that draws nothing leaves a few.
        assert min(seen["colours"]) > 500
        assert seen["changed"] > 0.01
        assert seen["at"] == pytest.approx(-25.4, abs=1e-9)
    assert min(told["window"]) > 500, "the window's own view draws before and after"
    first, second = told["held"]
    assert second <= first


@pytest.mark.needs_gl
@pytest.mark.slow
def test_before_and_after_are_seen_by_one_eye_and_leave_nothing_behind() -> None:
    told = seen_by("gl_pair_child")
    for left, right in told["eyes"]:
        assert left == right, "to the bit, as VTK has it"
    places = [tuple(left) for left, _ in told["eyes"]]
    assert len(set(places)) == len(places), "each hand on either of them moved it"
    assert min(told["colours"]) > 500
    assert told["sizes"][0][1] == told["sizes"][1][1]
    assert abs(told["sizes"][0][0] - told["sizes"][1][0]) <= 1
    assert told["poses"] == [pytest.approx(-228.6), pytest.approx(-101.6)]
    assert told["marks"] == told["verdicts"]
    assert told["verdicts"][0] == "touches"
    first, second = told["held"]
    assert second <= first
