"""The interview, held without a terminal."""

import math

import numpy as np
import pytest

from sim.derive import vehicle_of
from sim.rig import Rig, parse_rig
from sim.suspension.leaf.table import LeafTable
from sim.suspension.measured.table import MeasuredTable
from sim.suspension.vertical import VerticalTable
from tests.sim import rigs
from tests.sim.rigs import COORDINATES
from viewer.interview import interview
from viewer.interview.conversation import ENDED
from viewer.interview.script import next_question

PHONE_CALL = "schema = 1\n" + rigs.PHONE_CALL


class Person:
    """Answers questions by what they ask for; whatever is not prepared gets an empty answer."""

    def __init__(self, answers: dict[str, str | list[str]]) -> None:
        self.answers = {key: [a] if isinstance(a, str) else list(a) for key, a in answers.items()}
        self.asked: list[str] = []
        self.told: list[str] = []

    def ask(self, prompt: str) -> str:
        self.asked.append(prompt)
        assert len(self.asked) < 150, f"asked without end: {self.asked[-3:]}, {self.told[-3:]}"
        for words, answers in self.answers.items():
            if words in prompt and answers:
                return answers.pop(0)
        return ""

    def tell(self, text: str) -> None:
        self.told.append(text)

    def heard(self, text: str) -> bool:
        return any(text in told for told in self.told)


PHONE = {
    "does the output point, looking": "3 deg down",
    "How long is the shaft, joint": "36 5/16 in",
    "does the shaft point": "14 deg down",
    "does the pinion point, looking": "1 deg up",
    "the snout": "11 in",
    "go up from ride": "4 in",
    "hang down from ride": "8 in",
}
JOINTS = {
    "slopes, or coordinates": "coordinates",
    "does the output point, looking": "3 deg down",
    "output point to a side": "1 deg right",
    "does the output joint lie": "47 in",
    "left or right is the output joint": "1 1/2 in left",
    "than the axle's center is the output joint": "9 in higher",
    "does the pinion point, looking": "1 deg up",
    "does the pinion joint lie": "11 in",
    "left or right is the pinion joint": "0 in",
    "than the axle's center is the pinion joint": "1/2 in up",
    "go up from ride": "4 in",
    "hang down from ride": "8 in",
}


def held(person: Person) -> Rig:
    rig = interview(person.ask, person.tell)
    assert rig is not None
    return rig


def test_a_phone_call() -> None:
    person = Person(PHONE)
    assert held(person) == parse_rig(PHONE_CALL)
    assert person.heard("never with the axle hanging")
    assert person.heard("joint center to joint center")
    assert person.heard("Against level (the ground), not against the shaft")
    assert person.heard("Worked out: the output joint is 46 1/4 in")
    assert person.heard("travel.roll taken as 8 deg")
    assert not person.heard("Check:")


def test_coordinates() -> None:
    rig = held(Person(JOINTS))
    wanted = vehicle_of(parse_rig(COORDINATES))
    vehicle = vehicle_of(rig)
    for name in ("p_C_output", "axis_C_output", "p_A_pinion", "axis_A_pinion"):
        np.testing.assert_allclose(
            getattr(vehicle, name), getattr(wanted, name), rtol=0.0, atol=1e-12
        )


def test_the_joints_of_a_front_axle_lie_behind_it_without_a_sign() -> None:
    person = Person(JOINTS | {"rear or the front": "front"})
    rig = held(person)
    assert any("lie behind the axle's center" in prompt for prompt in person.asked)
    assert rig.output.joint is not None
    assert rig.output.joint[0].typed == "-47 in"
    assert rig.axle.pinion_joint is not None
    assert rig.axle.pinion_joint[0].mm == pytest.approx(-279.4, rel=1e-15)


def test_everything_may_be_answered() -> None:
    person = Person(
        PHONE
        | {
            "rig called": "Test buggy",
            "Who measured": "the owner, springs settled",
            "off to a side": "2 in right",
            "pinion point to a side": "1 deg left",
            "roll each way": "10 deg",
            "stops or straps act": "38 in, middle strap",
            "wheels hanging": ["most of it", "120 %", "40 %"],
            "wrap up": "9 deg",
            "wrap down": "5 deg",
            "Where is the slip": "output",
            "still close": "1 in",
            "still open": "3 in",
            "splines part": "4 1/2 in",
            "cross at the output": "1350",
            "yoke is on the output": "deep-throat sliding yoke",
            "yoke is on the pinion": "flange yoke",
            "outside diameter": "3 1/2 in",
            "tube's wall": "0.083 in",
        }
    )
    rig = held(person)
    assert (rig.name, rig.note) == ("Test buggy", "the owner, springs settled")
    assert rig.ride_height is not None
    assert rig.ride_height.offset_left == -50.8
    assert rig.axle.left == pytest.approx(math.radians(1.0), rel=1e-15)
    assert rig.travel.nose_down.typed == "5 deg"
    assert rig.travel.stops_apart.typed == "38 in"
    assert (rig.travel.droop_strap, rig.travel.wrap_at_droop) == ("middle", "40 %")
    assert person.heard('came "120 %", expected a share from 0 to 100 %')
    assert rig.shaft.slip.comes_apart is not None
    assert rig.shaft.output_end.output_yoke.kind == "deep-throat sliding yoke"
    assert rig.shaft.pinion_end.cross.name == "1350"  # offered, since the other end has it
    assert {each.key for each in rig.assumed} >= {"suspension.kind", "wanted.gap"}


def test_a_leaf_spring() -> None:
    rig = held(
        Person(
            PHONE
            | {
                "known of the suspension": "leaf",
                "behind the axle's center is the fixed eye": "24 in ahead",
                "left of the axle's middle is the fixed eye": "20 in",
                "center is the fixed eye": "4 in higher",
                "behind the axle's center is the spring seat": "0 in",
                "left of the axle's middle is the spring seat": "20 in",
                "center is the spring seat": "3 in higher",
            }
        )
    )
    assert isinstance(rig.suspension, LeafTable)
    assert [each.typed for each in rig.suspension.fixed_eye] == ["24 in", "20 in", "4 in"]


def test_readings() -> None:
    person = Person(
        PHONE
        | {
            "known of the suspension": "meas",
            "at which height": ["4 in bump", "four inches", "done", "ride", "8 in droop", "done"],
            "shaft there": ["35 1/2 in", "36 5/16 in", "39 1/8 in"],
            "pinion point there": ["1/2 deg up", "1 deg up", "3 deg up"],
        }
    )
    rig = held(person)
    assert isinstance(rig.suspension, MeasuredTable)
    assert [reading.at.mm for reading in rig.suspension.readings] == [101.6, 0.0, -203.2]
    assert person.heard('came "four inches"')
    assert person.heard('came "done"')  # two readings are too few


def test_back_goes_one_step_back_each_time() -> None:
    person = Person(
        PHONE
        | {
            "does the shaft point": ["back", "14 deg down"],
            "How long is the shaft, joint": ["30 in", "back", "36 5/16 in"],
            "Between which points": ["1", "1"],
        }
    )
    assert held(person) == parse_rig(PHONE_CALL)
    lengths = [p for p in person.asked if p.startswith("How long is the shaft, joint")]
    assert len(lengths) == 3


def test_back_at_the_first_question() -> None:
    person = Person(PHONE | {"rig called": ["back", "<", "b", ""]})
    held(person)
    assert person.told.count("This is the first question.") == 3


def test_going_back_over_the_way_in_leaves_nothing_of_the_other_way() -> None:
    person = Person(
        PHONE
        | {
            "slopes, or coordinates": ["coordinates", "length"],
            "does the output joint lie": ["47 in", "back"],
            "left or right is the output joint": ["back"],
            "output point to a side": ["", "back", ""],
            "does the output point, looking": ["3 deg down", "back", "3 deg down"],
        }
    )
    assert held(person) == parse_rig(PHONE_CALL)


@pytest.mark.parametrize("word", ["?", "help", "h"])
def test_help_says_what_goes_wrong_with_a_measurement(word: str) -> None:
    person = Person(PHONE | {"How long is the shaft, joint": [word, "36 5/16 in"]})
    held(person)
    assert person.heard("A tape started at its 1 in mark reads 1 in too much")


def test_help_on_the_datum_says_what_another_one_does() -> None:
    person = Person(PHONE | {"Between which points": ["?", "joint"]})
    assert held(person) == parse_rig(PHONE_CALL)
    assert person.heard("other places than you say makes a scrap shaft")


@pytest.mark.parametrize(
    ("question", "answer", "says"),
    [
        ("How long is the shaft, joint", "-36 in", "without a sign"),
        ("How long is the shaft, joint", "nan in", "not a number"),
        ("How long is the shaft, joint", "36 mm", "shorter than two yokes"),
        ("does the output point, looking", "-3 deg down", "say the direction as a word"),
        ("does the output point, looking", "3 in down", "measures a length"),
        ("does the output point, looking", "", "An answer is needed here"),
        ("does the shaft point", "14 deg lower", "expected down or up after it"),
        ("does the shaft point", "40 in lower", "too short"),
        ("rear or the front", "middle", "expected one of rear, front"),
        ("cross at the output", "27 x 83", "27 x 82, the nearest of"),
        ("yoke is on the pinion", "strp yoke", "strap yoke, the nearest of"),
        ("yoke is on the output", "sliding yoke", 'the slip is at "shaft"'),
        ("tube's wall", "2 in", "at most half the outside"),
        ("roll each way", "60 deg", "under 45 deg"),
    ],
)
def test_an_answer_that_cannot_be_is_told_at_once_and_asked_again(
    question: str, answer: str, says: str
) -> None:
    right = PHONE.get(question, "")
    person = Person(PHONE | {question: [answer, right]})
    assert held(person) == parse_rig(PHONE_CALL)
    assert person.heard(says)
    assert sum(question in prompt for prompt in person.asked) == 2


def test_splines_part_after_an_opening_that_was_measured_and_wherever_it_was_not() -> None:
    parting = {"splines part": ["1 in", "4 in"]}
    measured = Person(PHONE | parting | {"slip still open": "2 1/4 in"})
    apart = held(measured).shaft.slip.comes_apart
    assert measured.heard("at least as much as it opens")
    assert apart is not None
    assert apart.typed == "4 in"
    unmeasured = Person(PHONE | parting)
    apart = held(unmeasured).shaft.slip.comes_apart
    assert apart is not None
    assert apart.typed == "1 in"


def test_an_impossible_set_is_told_when_its_last_number_comes() -> None:
    person = Person(
        PHONE
        | {
            "known of the suspension": "leaf",
            "behind the axle's center is the fixed eye": "24 in ahead",
            "left of the axle's middle is the fixed eye": "20 in",
            "center is the fixed eye": "4 in higher",
            "behind the axle's center is the spring seat": ["24 in ahead", "0 in"],
            "left of the axle's middle is the spring seat": "20 in",
            "center is the spring seat": ["3 in higher", "back", "3 in higher"],
        }
    )
    person.answers["left of the axle's middle is the spring seat"] = ["20 in", "back", "20 in"]
    assert isinstance(held(person).suspension, LeafTable)
    assert person.heard("the eye ahead of the seat or behind it")
    assert person.heard("Answer again, or go back to an earlier answer.")


def test_what_is_odd_is_warned_of_once_and_taken() -> None:
    person = Person(
        PHONE
        | {
            "does the output point, looking": "4 deg down",
            "does the shaft point": "10 deg down",
            "does the pinion point, looking": "4 deg down",
            "hang down from ride": "0 in",
        }
    )
    rig = held(person)
    assert rig.axle.up < 0.0
    checks = [told for told in person.told if told.startswith("Check: ")]
    assert len(checks) == 2
    assert "with axle.points_up instead they would be bent 6.0 deg and 6.0 deg" in checks[0]
    assert "was the truck measured hanging" in checks[1]


def test_swapped_and_hanging_measurements_are_asked_back() -> None:
    """Bump 12 in with droop 1/4 in, and a shaft that points up."""
    person = Person(
        PHONE
        | {
            "does the shaft point": "14 deg up",
            "does the output point, looking": "3 deg up",
            "does the pinion point, looking": "1 deg down",
            "go up from ride": "12 in",
            "hang down from ride": "1/4 in",
        }
    )
    held(person)
    assert person.heard("Check: the shaft points up toward the axle, 14.0 deg")
    assert person.heard("was the truck measured hanging, not on its wheels")


@pytest.mark.slow
def test_a_joint_that_touches_as_the_vehicle_stands_is_asked_before_it_is_written() -> None:
    steep = {"does the shaft point": ["31 deg down", "14 deg down"]}
    person = Person(PHONE | steep | {"keeps it as it is": ["back", "quit"]})
    assert interview(person.ask, person.tell) is None
    assert person.heard("Check: the pinion joint binds as the truck stands")
    kept = Person(PHONE | steep)
    assert held(kept).ride_height is not None
    assert len([each for each in kept.asked if "keeps it as it is" in each]) == 1


@pytest.mark.parametrize("word", ["quit", "q", "Exit"])
def test_quitting(word: str) -> None:
    person = Person(PHONE | {"does the shaft point": word})
    assert interview(person.ask, person.tell) is None
    assert person.told[-1] == ENDED


def test_the_end_of_input() -> None:
    def ask(_: str) -> str:
        raise EOFError

    told: list[str] = []
    assert interview(ask, told.append) is None
    assert told[-1] == ENDED


def test_every_question_explains_its_datum_and_ends_with_a_question_mark() -> None:
    for extra in (PHONE, JOINTS):
        person = Person(extra)
        held(person)
        assert all("?" in prompt for prompt in person.asked)
    question = next_question({}, [])
    assert question is not None
    assert question.means


def test_the_least_that_is_answered_gives_the_vertical_suspension() -> None:
    assert isinstance(held(Person(PHONE)).suspension, VerticalTable)
