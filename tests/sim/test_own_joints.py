"""Bench readings and cures: they go with the joint, and stay what they were."""

import numpy as np
import pytest

from sim.bench.readings import FELT, told, unreached
from sim.cures.own_joints import with_own_joints
from sim.derive import vehicle_of
from sim.line import line
from sim.rig import Rig, RigError, changed
from sim.rig.demos import load_demo
from viewer.words.problems import error_words

KEY = "shaft.pinion_end.bench"
READ = {"clamped": "pinion yoke", "ears": "in line", "touches_at": "29 deg"}


@pytest.fixture
def rig() -> Rig:
    caught = {"catches_at": "5 in droop +- 1/4 in"}
    return changed(load_demo("long-legged-trail-wagon"), {KEY: [READ, caught]})


def bend_at(rig: Rig, height: float) -> float:
    return float(line(vehicle_of(rig), height, 0.0, 0.0).bends["pinion"])


def test_a_height_stands_for_the_bend_of_the_joint_there(rig: Rig) -> None:
    first, caught = told(rig, "pinion")
    assert (first.way, caught.way) == ("bench", "catch")
    assert caught.read == pytest.approx(bend_at(rig, -127.0), abs=1e-12)


def test_it_is_off_by_its_height_and_by_what_was_measured(rig: Rig) -> None:
    """At least as far as its height alone, by a finite difference."""
    caught = told(rig, "pinion")[1]
    far = float(np.hypot(6.35, FELT))
    by_height = abs(bend_at(rig, -127.0 + far) - bend_at(rig, -127.0 - far)) / 2.0
    assert caught.off > by_height
    sharper = changed(rig, {"measured_with": {"angles": "digital level"}})
    assert told(sharper, "pinion")[1].off < caught.off


@pytest.mark.parametrize("height", ["300 in droop", "10 in droop", "5 in bump"])
def test_a_height_that_is_never_reached_says_nothing_and_is_told(height: str) -> None:
    """The axle of this rig goes from 9 in droop to 4 in bump, whatever its shaft would do."""
    start = load_demo("long-legged-trail-wagon")
    rig = changed(start, {KEY: [READ, {"catches_at": height}]})
    assert unreached(rig, "pinion") == (f"{KEY}[2]",)
    assert [each.number for each in told(rig, "pinion")] == [1]


def test_a_height_that_a_tape_may_have_missed_counts() -> None:
    start = load_demo("long-legged-trail-wagon")
    rig = changed(start, {KEY: [READ, {"catches_at": "9 1/8 in droop"}]})
    assert not unreached(rig, "pinion")


@pytest.mark.parametrize(
    ("reading", "degrees"),
    [
        ({}, 0.5),
        ({"tool": "spirit protractor"}, 0.25),
        ({"touches_at": "29 deg +- 2 deg"}, 2.0),
        ({"touches_at": "29 deg by phone", "tool": "spirit protractor"}, 1.0),
    ],
)
def test_a_reading_is_off_as_typed_as_its_tool_or_as_is_usual(
    rig: Rig, reading: dict[str, str], degrees: float
) -> None:
    read = changed(rig, {KEY: [READ | reading]})
    assert np.degrees(told(read, "pinion")[0].off) == pytest.approx(degrees, abs=1e-9)


def test_what_a_maker_says_weighs_little(rig: Rig) -> None:
    said = told(changed(rig, {KEY: [{"maker_says": "30 deg"}]}), "pinion")[0]
    assert said.turned.ears is None
    assert np.degrees(said.off) > 3.0


def test_a_tool_that_nobody_knows_is_told(rig: Rig) -> None:
    with pytest.raises(RigError) as fault:
        changed(rig, {KEY: [READ | {"tool": "dial protracter"}]})
    assert f"{KEY}[1].tool" in error_words(fault.value)
    assert "dial protractor, the nearest of" in error_words(fault.value)


def test_a_height_on_a_cured_truck_stays_the_bend_it_was(rig: Rig) -> None:
    cured = with_own_joints(rig, changed(rig, {"axle.points_up": "8 deg"}))
    was, now = told(rig, "pinion"), told(cured, "pinion")
    assert now[1].read == pytest.approx(was[1].read, abs=1e-9)
    assert now[1].off == pytest.approx(was[1].off, abs=1e-9)
    assert now[1].turned.ears is None
    assert now[0] == was[0]


@pytest.mark.parametrize(
    "other",
    [
        {"shaft.pinion_end.pinion_yoke": "deep-throat strap yoke"},
        {"shaft.pinion_end.shaft_yoke": "deep-throat weld yoke"},
        {"shaft.pinion_end.cross": "1350"},
    ],
)
def test_other_parts_have_no_readings(rig: Rig, other: dict[str, str]) -> None:
    cured = with_own_joints(rig, changed(rig, other))
    assert cured.shaft.pinion_end.bench == ()


def test_a_cure_of_another_joint_keeps_them(rig: Rig) -> None:
    cured = with_own_joints(rig, changed(rig, {"shaft.output_end.cross": "1350"}))
    assert len(cured.shaft.pinion_end.bench) == 2
