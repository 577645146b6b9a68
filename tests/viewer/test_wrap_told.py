"""What a check tells of worked out wrap, as text and as JSON, and how the interview asks for it."""

import json
from math import degrees, radians

import pytest

from sim.check import check
from sim.rig import parse_rig
from tests.sim.rigs import COORDINATES
from tests.sim.test_rig_wrap import EVERY
from tests.viewer.test_interview import PHONE, Person, held
from tests.viewer.whole_text import check_text
from viewer.check.json import check_data
from viewer.interview.answers import AnswerError, number

ASKED = {
    "tested under a known torque": "angles",
    "in the test, without torque": "1 deg down",
    "in the test, under the torque": "4 deg up",
    "torque of the test known": "axle",
    "torque at the axle": "2 kN m",
    "engine's most torque": "400 N m",
    "weight is on this axle": "10 kN",
    "above the ground": "400 mm",
    "first gear": "4",
    "low range": "2.5:1",
    "axle's ratio": "4 to 1",
}


@pytest.mark.slow
def test_text_and_json_tell_the_same_numbers() -> None:
    result = check(parse_rig(EVERY["angles"]))
    told = check_text(result)
    assert "axle wrap, nose up: about 10.0 deg (5.2 to 17.6)" in told
    data = check_data(result, "x")["wrap"]
    assert json.loads(json.dumps(data)) == data
    assert data["nose_up"]["estimate_deg"] == pytest.approx(10.0)
    assert data["nose_up"]["governs"] == "grip"
    assert data["nose_down"]["high_deg"] == pytest.approx(
        degrees(result.derivation.vehicle.travel.nose_down)
    )
    assert data["driving_torque"]["estimate_nm"] == pytest.approx(4000.0)
    assert data["braking_torque"]["low_nm"] == pytest.approx(2880.0)
    wraps = [each["at"]["wrap_deg"] for each in check_data(result, "x")["findings"] if each["at"]]
    assert min(wraps) == pytest.approx(-data["nose_down"]["high_deg"], abs=1e-6)


@pytest.mark.slow
def test_wrap_in_degrees_is_no_object() -> None:
    assert check_data(check(parse_rig(COORDINATES)), "x")["wrap"] is None


def test_the_interview_takes_a_test_of_two_angles() -> None:
    person = Person(PHONE | ASKED)
    rig = held(person)
    assert rig.travel.nose_up is None
    assert rig.typed()["wrap"] == {
        "kind": "angles",
        "before": {"points_down": "1 deg"},
        "under_torque": {"points_up": "4 deg"},
        "torque": "2 kN m",
        "drive": {
            "engine_torque": "400 N m", "low_gear": 4.0, "low_range": 2.5, "axle_ratio": 4.0,
            "axle_load": "10 kN", "tyre_radius": "400 mm",
        },
    }  # fmt: skip
    assert person.heard("Worked out: axle wrap, nose up: about")
    assert not any("wrap up" in prompt for prompt in person.asked)
    assert person.heard("wrap.drive.friction taken as 1.0")


def test_the_interview_takes_a_mark_and_a_pull_on_a_bar() -> None:
    rig = held(
        Person(
            PHONE
            | ASKED
            | {
                "tested under a known torque": "mark",
                "mark go under": "1 in up",
                "center is the mark": "11 in",
                "torque of the test known": "bar",
                "pull on the bar": "200 lb",
                "center was the pull": "60 in",
            }
        )
    )
    wrap = rig.typed()["wrap"]
    assert wrap.pop("drive")
    assert wrap == {
        "kind": "mark", "rises": "1 in", "lever": "11 in", "pull": "200 lb", "arm": "60 in",
    }  # fmt: skip


def test_one_steps_back_out_of_the_test() -> None:
    """Back from the first question of the test to the choice, and to degrees after all."""
    person = Person(
        PHONE
        | {
            "tested under a known torque": ["angles", "no"],
            "in the test, without torque": ["back"],
            "wrap up": "9 deg",
        }
    )
    rig = held(person)
    assert rig.wrap is None
    assert rig.travel.nose_up is not None
    assert rig.travel.nose_up.rad == pytest.approx(radians(9.0))


def test_what_cannot_be_is_asked_again() -> None:
    person = Person(
        PHONE
        | ASKED
        | {
            "torque at the axle": ["2 kN", "back", "2 kN m"],
            "torque of the test known": ["axle", "axle"],
            "weight is on this axle": ["heavy", "10 kN"],
            "first gear": ["low", "4"],
        }
    )
    rig = held(person)
    assert rig.typed()["wrap"]["drive"]["axle_load"] == "10 kN"
    assert person.heard('came "2 kN"')
    assert person.heard('came "heavy"')
    assert person.heard("expected a number without a unit")


@pytest.mark.parametrize("text", ["", "4,1", "4.1 deg", "-4", "4:2", "inf"])
def test_a_ratio_is_a_plain_number(text: str) -> None:
    with pytest.raises(AnswerError, match="a number without a unit"):
        number("x")(text)


def test_the_interview_asks_a_front_axle_for_caster_and_hubs() -> None:
    rig = held(
        Person(
            PHONE
            | {
                "rear or the front": "front",
                "What caster": "5 deg positive",
                "Which hubs": "unlock",
            }
        )
    )
    assert rig.axle.steers == pytest.approx(radians(5.0))
    assert rig.axle.hubs == "unlock"
    assert held(Person(PHONE)).axle.hubs is None
