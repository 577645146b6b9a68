"""The last step of `bindpoint new`: what was seen on the truck and read on other days."""

import pytest

from sim.rig import Rig, parse_rig
from sim.rig.document import rig_text
from tests.viewer.test_interview import PHONE, Person, held

ASKS = "Anything seen on the truck"

SEEN = {
    ASKS: "seen",
    "What did you see": "touches",
    "What else did you see": ["slip open", "paint o", "done"],
    "At which height of the axle was that": ["8 in droop +- 1/4 in", "7 in droop"],
    "How far was the axle rolled": ["", "5 deg left up"],
    "Which joint was": "pinion",
    "How far open did the slip": "1 1/4 in",
    "the slip ran out": "2 in +- 1/8 in",
    "What was it read with": "steel",
    "On which day?": "2026-04-11",
    "Who saw it": ["", "counter"],
}
VISITS = {
    ASKS: "visits",
    "On which day was it read": ["2026-04-12", "2026-06-01", "done"],
    "How did the truck stand": ["ride", "crossed"],
    "frame over the axle tube": ["7 1/2 in +- 1/16 in", "7 in"],
    "How did the pinion point, seen": ["1 deg up +- 1/4 deg", "0.5 deg down"],
    "What was it read with": "digital",
    "Who read it": ["counter", ""],
}


def typed(rig: Rig, table: str) -> list[dict[str, str]]:
    listed = rig.typed().get(table, [])
    assert parse_rig(rig_text(rig)) == rig
    return list(listed)


def test_leaving_it_out_is_one_key_press() -> None:
    person = Person(PHONE)
    rig = held(person)
    assert not rig.seen_on_truck
    assert not rig.visits
    assert [ASKS in prompt for prompt in person.asked] == [False] * (len(person.asked) - 1) + [True]
    assert person.asked[-1].endswith("[no] ")


def test_what_was_seen_goes_into_the_file_with_its_errors_and_tools() -> None:
    """An error behind a value is not asked for again; without one the tool is."""
    person = Person(PHONE | SEEN)
    assert typed(held(person), "seen_on_truck") == [
        {
            "at": "8 in droop +- 1/4 in",
            "joint": "pinion",
            "turned": "touches",
            "when": "2026-04-11",
        },
        {
            "at": "7 in droop",
            "left_up": "5 deg",
            "slip_opened": "1 1/4 in",
            "tool": "steel rule",
            "who": "counter",
        },
        {"paint_ran": "2 in +- 1/8 in"},
    ]
    assert sum("read with" in prompt for prompt in person.asked) == 1
    assert sum("At which height" in prompt for prompt in person.asked) == len(("touch", "slip"))


def test_visits_go_into_the_file_by_their_days() -> None:
    person = Person(PHONE | VISITS)
    assert typed(held(person), "visits") == [
        {
            "when": "2026-04-12",
            "state": "ride",
            "who": "counter",
            "pinion_points_up": "1 deg +- 1/4 deg",
            "frame_to_axle": "7 1/2 in +- 1/16 in",
        },
        {
            "when": "2026-06-01",
            "state": "crossed up",
            "tool": "digital level",
            "pinion_points_down": "0.5 deg",
            "frame_to_axle": "7 in",
        },
    ]


def test_both_are_asked_after_one_another() -> None:
    rig = held(Person(PHONE | SEEN | VISITS | {ASKS: "both", "read with": ["steel", "tape"]}))
    assert len(rig.seen_on_truck) == len(SEEN["What else did you see"])
    assert len(rig.visits) == len(VISITS["How did the truck stand"])


def test_a_day_at_which_nothing_was_read_is_no_visit() -> None:
    rig = held(Person(PHONE | {ASKS: "visits", "On which day was it read": "2026-04-12"}))
    assert not rig.visits


def test_a_step_back_over_it_takes_it_back() -> None:
    person = Person(PHONE | SEEN | {ASKS: ["seen", "no"], "What did you see": "back"})
    assert not held(person).seen_on_truck


@pytest.mark.parametrize(
    ("words", "wrong", "says"),
    [
        ("On which day?", "4/11/26", "year, month and day"),
        ("At which height of the axle was that", "8 in sideways", "direction"),
        ("What was it read with", "micrometer screw", "expected one of tape"),
        ("Which joint was", "middle", "expected one of output, pinion"),
        ("What did you see", "smoke", "expected one of touches"),
    ],
)
def test_what_cannot_be_read_is_asked_again(words: str, wrong: str, says: str) -> None:
    right = SEEN[words]
    answers = [wrong, *([right] if isinstance(right, str) else right)]
    person = Person(PHONE | SEEN | {words: answers})
    assert typed(held(person), "seen_on_truck") == typed(
        held(Person(PHONE | SEEN)), "seen_on_truck"
    )
    assert person.heard(says)
