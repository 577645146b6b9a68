"""Marks of a demo rig: where the trade says that they are, and back from them to the travel."""

from functools import cache
from math import degrees, pi, radians

import pytest

from sim.assessment import Assessment, Assessor
from sim.marks import Marks, SeenMark, backward, marks_of, overlap
from sim.rig.demos import load_demo
from sim.rig.typed_joints import NoSuchJointError

pytestmark = pytest.mark.slow

HOUR = pi / 6.0


@cache
def assessed(name: str) -> Assessment:
    return Assessor().assess(load_demo(name))


@cache
def marks(name: str, joint: str) -> Marks:
    return marks_of(assessed(name), joint)  # type: ignore[arg-type]


def test_tips_at_twelve_and_six_meet_the_other_throat_at_three_and_nine() -> None:
    # Half-moons on two opposite ear tips, mating dents either side of the other throat: common
    # practice, no source.
    found = marks("marsh-runner", "pinion").at_touch
    tips = {round(m.patch.clock / HOUR) % 12 for m in found if m.patch.surface == "ear tip"}
    dents = {
        round(m.patch.clock / HOUR) for m in found if m.patch.surface == "throat" and m.on == "end"
    }
    assert tips == {0, 6}
    assert dents == {3, 9}
    assert all(mark.patch.pair for mark in found)


def test_the_first_to_touch_is_what_the_touch_curve_says() -> None:
    for name, joint in (("marsh-runner", "pinion"), ("long-legged-trail-wagon", "pinion")):
        curve = assessed(name).joints[joint].curve  # type: ignore[index]
        found = marks(name, joint)
        assert found.touch == pytest.approx(curve.touch_min, abs=radians(0.1))
        first = min(found.at_touch, key=lambda mark: mark.bend)
        assert curve.first is not None
        assert {first.patch.surface, first.patch.against} == set(curve.first.surfaces)


def test_no_touch_no_marks() -> None:
    found = marks("goat-path-buggy", "pinion")
    assert not found.touches
    assert found.at_touch == found.forced == ()


def test_marks_where_they_are_computed_speak_for_it_and_elsewhere_against() -> None:
    found = marks("marsh-runner", "pinion")
    there = [SeenMark("shaft", "ear tip", 0.0), SeenMark("end", "throat", 3 * HOUR)]
    away = [SeenMark("shaft", "ear tip", 3 * HOUR), SeenMark("end", "throat", 0.0)]
    assert overlap(there, found).share > 0.8
    assert overlap(there, found).ratio > 5.0
    assert overlap(away, found).share < 0.1
    assert overlap(away, found).ratio < 0.1
    assert overlap([], found).ratio == 1.0


def test_back_from_a_mark_to_the_bend_that_first_makes_it() -> None:
    found = assessed("marsh-runner")
    made = backward(found, "pinion", SeenMark("shaft", "ear tip", 0.0))
    first = min(
        m.bend for m in marks("marsh-runner", "pinion").forced if m.patch.surface == "ear tip"
    )
    assert degrees(made.low) == pytest.approx(degrees(first), abs=0.1)
    assert made.reached
    assert made.first


def test_a_joint_that_there_is_not() -> None:
    with pytest.raises(NoSuchJointError, match="no middle joint; this shaft has output, pinion"):
        marks("marsh-runner", "middle")
