"""Bench readings in a rig file: how they are typed, and what is wrong with them."""

from typing import Any

import pytest

from sim.rig import Rig, RigError, changed
from sim.rig.change import EditError
from sim.rig.demos import load_demo
from sim.rig.notes import notes
from viewer.words.problems import error_words

KEY = "shaft.pinion_end.bench"


@pytest.fixture
def rig() -> Rig:
    return load_demo("long-legged-trail-wagon")


def problem(rig: Rig, *readings: dict[str, Any], key: str = KEY) -> str:
    """The one line that is told of readings that cannot be."""
    with pytest.raises(RigError) as fault:
        changed(rig, {key: list(readings)})
    assert len(fault.value.problems) == 1
    return error_words(fault.value)


def test_readings_are_kept_as_typed(rig: Rig) -> None:
    readings = [
        {"clamped": "pinion yoke", "ears": "in line", "touches_at": "34 1/2 deg", "who": "Counter"},
        {"turned": "30 deg", "clear_to": "28 deg", "tool": "dial protractor"},
        {"catches_at": "6 1/2 in droop", "when": "2026-04-11"},
        {"maker_says": "30 deg"},
    ]
    made = changed(rig, {KEY: readings})
    assert made.typed()["shaft"]["pinion_end"]["bench"] == readings
    first, second, third, _ = made.shaft.pinion_end.bench
    assert (first.held, second.held) == ("pinion yoke", "shaft yoke")
    assert third.catches_at is not None
    assert third.catches_at.mm == pytest.approx(-165.1, abs=1e-9)


def test_a_rig_without_readings_is_typed_without_them(rig: Rig) -> None:
    made = changed(changed(rig, {KEY: [{"maker_says": "30 deg"}]}), {KEY: None})
    assert made.typed() == rig.typed()
    assert "bench" not in made.typed()["shaft"]["pinion_end"]


@pytest.mark.parametrize(
    ("reading", "says"),
    [
        ({}, "touches_at: nothing typed, expected touches_at, clear_to"),
        ({"touches_at": "30 deg"}, "ears: nothing typed (touches_at is given), expected ears"),
        (
            {"ears": "any", "turned": "10 deg", "touches_at": "30 deg"},
            'turned: came "10 deg" (ears is given too), expected only one of',
        ),
        (
            {"ears": "any", "touches_at": "30 deg", "clear_to": "20 deg"},
            'clear_to: came "20 deg" (touches_at is given too), expected only one of',
        ),
        ({"ears": "any", "catches_at": "6 in droop"}, 'ears: came "any" (catches_at is of a whole'),
        ({"ears": "any", "touches_at": "0 deg"}, 'touches_at: came "0 deg" (a joint that touches'),
        ({"ears": "any", "touches_at": "-3 deg"}, 'touches_at: came "-3 deg" (negative)'),
        ({"ears": "any", "touches_at": 30}, "touches_at: came 30 (a number without a unit)"),
        ({"ears": "any", "touches_at": "95 deg"}, 'touches_at: came "95 deg" (90 deg or more)'),
        ({"catches_at": "6 in"}, 'catches_at: came "6 in" (no direction)'),
        (
            {"clamped": "output yoke", "ears": "any", "touches_at": "30 deg"},
            'clamped: came "output yoke" (that yoke is not of this joint), expected one of shaft',
        ),
    ],
)
def test_what_cannot_be_is_told_in_one_line(rig: Rig, reading: dict[str, Any], says: str) -> None:
    assert f"{KEY}[1].{says}" in problem(rig, reading)


def test_the_second_reading_is_told_as_the_second(rig: Rig) -> None:
    right = {"ears": "any", "touches_at": "30 deg"}
    assert f"{KEY}[2].ears" in problem(rig, right, {"touches_at": "30 deg"})


def test_readings_of_what_is_not_fitted_are_kept_and_told(rig: Rig) -> None:
    readings = [{"maker_says": "30 deg"}]
    head = changed(
        rig,
        {
            "shaft.output_end": {
                "joint": "double",
                "cross": "27 x 82",
                "output_yoke": "flange yoke",
                "shaft_yoke": "weld yoke",
                "bench": readings,
            }
        },
    )
    told = [note for note in notes(head) if note.code == "bench_of_head"]
    assert [note.key for note in told] == ["shaft.output_end.bench"]
    assert not [note for note in notes(changed(rig, {KEY: readings})) if "bench" in note.code]


def test_a_middle_joint_that_is_not_there_has_no_readings(rig: Rig) -> None:
    with pytest.raises((RigError, EditError)):
        changed(rig, {"carrier.middle.bench": [{"maker_says": "30 deg"}]})
