"""What was seen on the truck, and its visits, in a rig file."""

from typing import Any

import pytest

from sim.rig import Rig, RigError, changed, parse_rig
from sim.rig.demos import load_demo
from viewer.words.problems import error_words


@pytest.fixture
def rig() -> Rig:
    return load_demo("long-legged-trail-wagon")


def problem(rig: Rig, key: str, *entries: dict[str, Any]) -> str:
    """The one line that is told of entries that cannot be."""
    with pytest.raises(RigError) as fault:
        changed(rig, {key: list(entries)})
    assert len(fault.value.problems) == 1
    return error_words(fault.value)


def test_both_are_kept_as_typed(rig: Rig) -> None:
    seen = [
        {"at": "8 in droop", "joint": "pinion", "turned": "touches", "who": "Counter"},
        {"at": "9 in droop", "right_up": "3 deg", "nose_down": "2 deg", "slip_opened": "1 1/4 in"},
        {"paint_ran": "2 in", "tool": "tape", "when": "2026-04-11", "note": "after the hill"},
    ]
    visits = [{"when": "2026-04-11", "state": "crossed up", "output_points_up": "1 deg"}]
    made = changed(rig, {"seen_on_truck": seen, "visits": visits})
    assert made.typed()["seen_on_truck"] == seen
    assert made.typed()["visits"] == visits
    first, second, third = made.seen_on_truck
    assert (first.what, second.what, third.what) == ("turned", "slip_opened", "paint_ran")
    assert second.rolled < 0.0
    assert second.wrapped < 0.0
    output = made.visits[0].output_down
    assert output is not None
    assert output < 0.0


def test_a_rig_without_either_is_typed_without_them(rig: Rig) -> None:
    assert not {"seen_on_truck", "visits"} & rig.typed().keys()


def test_a_day_of_toml_is_a_day() -> None:
    text = (
        'schema = 1\nname = "x"\n[output]\npoints_down = "3 deg"\n'
        '[ride_height]\nlength = "36 in"\nshaft_points_down = "14 deg"\n'
        '[axle]\nposition = "rear"\nsnout = "11 in"\npoints_up = "1 deg"\n'
        '[travel]\nbump = "4 in"\ndroop = "5 in"\n'
        '[[visits]]\nwhen = 2026-04-11\nstate = "ride"\nlength = "36 in"\n'
    )
    assert parse_rig(text).visits[0].when == "2026-04-11"


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ({}, "seen_on_truck[1].turned: nothing typed, expected turned, slip_opened"),
        ({"turned": "free"}, "seen_on_truck[1].at: nothing typed (turned is given)"),
        ({"at": "ride", "turned": "stuck"}, 'seen_on_truck[1].turned: came "stuck"'),
        (
            {"at": "ride", "turned": "free", "slip_opened": "1 in"},
            'slip_opened: came "1 in" (turned is given too), expected only one of',
        ),
        ({"at": "ride", "paint_ran": "2 in"}, 'at: came "ride" (paint_ran is of a whole drive)'),
        (
            {"joint": "pinion", "paint_ran": "2 in"},
            'joint: came "pinion" (paint_ran is of the slip, not of a joint), expected no joint',
        ),
        (
            {"at": "ride", "turned": "free", "joint": "middle"},
            'joint: came "middle" (the shaft is in one piece), expected output or pinion',
        ),
        ({"at": "ride", "turned": "free", "left_up": "1 deg", "right_up": "1 deg"}, "only one of"),
        ({"at": "8 in", "turned": "free"}, 'at: came "8 in" (no direction)'),
        ({"at": "ride", "turned": "free", "when": "11.4.26"}, 'when: came "11.4.26" (not as year'),
    ],
)
def test_what_cannot_have_been_seen(rig: Rig, entry: dict[str, Any], says: str) -> None:
    assert says in problem(rig, "seen_on_truck", entry)


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ({"state": "ride", "length": "36 in"}, "visits[1].when: nothing typed"),
        ({"when": "2026-04-11", "length": "36 in"}, "visits[1].state: nothing typed"),
        ({"when": "2026-04-11", "state": "ride"}, "frame_to_axle: nothing typed (nothing was read"),
        (
            {"when": "2026-02-30", "state": "ride", "length": "36 in"},
            'when: came "2026-02-30" (not in the calendar), expected a day as year',
        ),
        (
            {"when": "2026-04-11", "state": "parked", "length": "36 in"},
            'state: came "parked", expected "ride", "bump", "droop", "crossed up" or',
        ),
        ({"when": "2026-04-11", "state": "ride", "length": "0 in"}, "not above zero"),
    ],
)
def test_what_cannot_be_a_visit(rig: Rig, entry: dict[str, Any], says: str) -> None:
    assert says in problem(rig, "visits", entry)
