"""Every way through the interview: answers to a file, the file read back, and it is checked."""

from math import radians
from pathlib import Path

import pytest

from sim.check import check
from sim.derive import ride_height_of
from sim.rig import Rig, load_rig, parse_rig
from sim.rig.datum import datums_of, taped
from sim.suspension.links.table import LinksTable
from tests.viewer.test_interview import JOINTS, PHONE, PHONE_CALL, Person
from viewer.interview import new_rig_file

NO_LENGTH = {key: answer for key, answer in PHONE.items() if "How long is the shaft" not in key}


def written(person: Person, folder: Path) -> Rig:
    """Rig read back from the file that the interview wrote."""
    path = folder / "new.toml"
    rig = new_rig_file(path, person.ask, person.tell)
    back = load_rig(path)
    assert rig == back
    assert all(
        line.startswith(("#", "[")) or "=" in line or not line
        for line in path.read_text(encoding="utf-8").splitlines()
    )
    return back


def asked(person: Person, words: str) -> int:
    return sum(words in prompt for prompt in person.asked)


DRIVE = {
    "Do you know engine": "yes",
    "engine's most torque": "300 lb-ft",
    "ratio of first gear": "3.8",
    "ratio of low range": "2.7 to 1",
    "torque converter multiply": "1",
    "gearbox let through": "0.85",
    "transfer case let through": "0.95",
    "can this shaft get": "1",
    "axle's ratio": "4.1",
    "weight is on this axle": "1900 lb",
    "above the ground": "16 1/2 in",
    "friction of the tires": "1",
    "road or the trail": "trail",
    "torque come on": "slowly",
    "fast is it on the road": "70 mph",
    "highest gear": "0.75",
    "fast does the engine turn": "4500 rpm",
    "steady cruise take": "0.35",
    "balance grade": "g16",
}


def test_a_phone_call_stays_short(tmp_path: Path) -> None:
    person = Person(PHONE)
    assert written(person, tmp_path) == parse_rig(PHONE_CALL)
    assert len(person.asked) <= 36
    assert asked(person, "plain shaft") == asked(person, "Do you know engine") == 1
    assert asked(person, "engine's most torque") == 0
    assert asked(person, "tape held") == asked(person, "carrier") == 0


def test_the_whole_drive(tmp_path: Path) -> None:
    rig = written(Person(PHONE | DRIVE), tmp_path)
    assert rig.typed()["drive"] == {
        "engine_torque": "300 lb-ft",
        "low_gear": 3.8,
        "low_range": 2.7,
        "converter": 1.0,
        "gearbox_efficiency": 0.85,
        "case_efficiency": 0.95,
        "share": 1.0,
        "axle_ratio": 4.1,
        "axle_load": "1900 lb",
        "tyre_radius": "16 1/2 in",
        "friction": 1.0,
        "use": "trail",
        "comes_on": "slowly",
        "top_speed": "70 mph",
        "top_gear": 0.75,
        "engine_top": "4500 rpm",
        "cruise": 0.35,
        "balance": "g16",
    }


def test_whatever_is_not_known_of_the_drive_is_left_out(tmp_path: Path) -> None:
    known = {"Do you know engine": "yes", "axle's ratio": "4.1"}
    person = Person(PHONE | known)
    rig = written(person, tmp_path)
    assert rig.typed()["drive"] == {"axle_ratio": 4.1}
    assert any("ratio of low range? [1]" in prompt for prompt in person.asked)
    assert any("first gear? [not known]" in prompt for prompt in person.asked)
    assert written(Person(PHONE | {"Do you know engine": "yes"}), tmp_path / "..").drive is None


def test_a_step_back_over_the_drive_takes_it_back(tmp_path: Path) -> None:
    person = Person(
        PHONE
        | {
            "Do you know engine": ["yes", "no"],
            "engine's most torque": ["300 lb-ft"],
            "ratio of first gear": ["back"],
        }
    )
    person.answers["engine's most torque"].append("back")
    assert written(person, tmp_path).drive is None


def test_what_the_test_of_wrap_told_of_the_drive_is_not_asked_again(tmp_path: Path) -> None:
    person = Person(
        PHONE
        | DRIVE
        | {
            "tested under a known torque": "angles",
            "in the test, without torque": "1 deg down",
            "in the test, under the torque": "4 deg up",
            "torque of the test known": "axle",
            "torque at the axle": "2 kN m",
            "ratio of first gear": "3.8",
        }
    )
    rig = written(person, tmp_path)
    assert asked(person, "engine's most torque") == asked(person, "axle's ratio") == 1
    assert set(rig.typed()["drive"]) & set(rig.typed()["wrap"]["drive"]) <= {"converter"}
    assert rig.typed()["drive"]["top_speed"] == "70 mph"


@pytest.mark.parametrize(
    ("question", "answer", "says"),
    [
        ("engine's most torque", "300", "a torque with its unit"),
        ("fast is it on the road", "70", "a road speed with its unit"),
        ("gearbox let through", "85", "up to 1"),
        ("ratio of first gear", "0", "a number above zero"),
        ("road or the trail", "track", "expected one of road, trail"),
    ],
)
def test_a_drive_that_cannot_be_is_asked_again(
    question: str, answer: str, says: str, tmp_path: Path
) -> None:
    person = Person(PHONE | {"Do you know engine": "y", question: [answer]})
    assert written(person, tmp_path).drive is None
    assert person.heard(says)
    assert asked(person, question) == 2


TAPES = {
    "flange face": (
        {"held at the output": "flange face", "held at the pinion": "joint centre"},
        {"at_output": "flange face", "at_pinion": "joint centre"},
    ),
    "both faces": (
        {
            "on the pinion?": "flange yoke",
            "held at the output": "flange",
            "held at the pinion": "flange",
        },
        {"at_output": "flange face", "at_pinion": "flange face"},
    ),
    "seal": (
        {
            "Where is the slip": "output",
            "held at the output": "output seal",
            "held at the pinion": "yoke flat",
        },
        {"at_output": "output seal", "at_pinion": "yoke flat"},
    ),
    "shaft end": (
        {
            "Where is the slip": "output",
            "held at the output": "shaft end",
            "held at the pinion": "joint",
            "out of its seal": "1 3/8 in",
            "center of the slip yoke's joint": "4 1/4 in",
        },
        {
            "at_output": "shaft end",
            "at_pinion": "joint centre",
            "stick_out": "1 3/8 in",
            "seal_to_joint": "4 1/4 in",
        },
    ),
    "cross of a head": (
        {
            "plain shaft": "no",
            "joint at the output single": "double",
            "held at the output": "outer cross",
            "held at the pinion": "joint",
        },
        {"at_output": "outer cross", "at_pinion": "joint centre"},
    ),
}


@pytest.mark.parametrize("way", TAPES)
def test_a_tape_held_to_other_places(way: str, tmp_path: Path) -> None:
    answers, tape = TAPES[way]
    person = Person(
        NO_LENGTH | {"Between which points": "other"} | answers | {"the tape read": "38 3/4 in"}
    )
    rig = written(person, tmp_path)
    assert rig.ride_height is not None
    assert rig.ride_height.tape is not None
    assert rig.ride_height.length is None
    assert rig.typed()["ride_height"]["tape"] == tape | {"reads": "38 3/4 in"}
    assert person.heard("Worked out: ")
    there = taped(ride_height_of(rig), *datums_of(rig.ride_height.tape, rig.shaft, None))
    assert there == pytest.approx(38.75 * 25.4, abs=1e-6)
    assert asked(person, "tube's wall") == 1


def test_only_places_that_the_parts_have_are_offered(tmp_path: Path) -> None:
    person = Person(
        NO_LENGTH
        | {
            "Between which points": "2",
            "held at the output": ["output seal", "flange face"],
            "held at the pinion": ["flange face", "yoke flat"],
            "the tape read": "38 3/4",
            "38 3/4 of what": "in",
        }
    )
    rig = written(person, tmp_path)
    assert rig.typed()["ride_height"]["tape"]["at_pinion"] == "yoke flat"
    assert person.heard('came "output seal", expected one of joint centre, flange face')
    assert person.heard('came "flange face", expected one of joint centre, yoke flat')
    assert rig.typed()["ride_height"]["tape"]["reads"] == "38 3/4 in"


def test_stepping_back_from_the_tape_to_joint_centres(tmp_path: Path) -> None:
    person = Person(
        NO_LENGTH
        | {
            "Between which points": ["other", "joint"],
            "Where is the slip": ["back", ""],
            "How long is the shaft, joint": "36 5/16 in",
        }
    )
    assert written(person, tmp_path) == parse_rig(PHONE_CALL)


TWO_PIECES = JOINTS | {
    "plain shaft": "no",
    "in two pieces": "yes",
    "does the output joint lie": "80 in",
    "higher or lower than the axle's center is the output joint": "10 in higher",
    "does the carrier bearing lie": "48 in",
    "left or right is the carrier bearing": "1 in left",
    "than the axle's center is the carrier bearing": "8 in higher",
    "center of the middle joint": "3 1/4 in",
    "stub between": "4 in",
    "ears at the middle joint": "0 deg",
    "cross of the middle joint": "1310",
}


def test_two_pieces(tmp_path: Path) -> None:
    person = Person(TWO_PIECES)
    rig = written(person, tmp_path)
    assert rig.carrier is not None
    assert [each.typed for each in rig.carrier.bearing] == ["48 in", "1 in", "8 in"]
    assert rig.carrier.middle_joint_beyond.mm == pytest.approx(3.25 * 25.4)
    assert rig.carrier.bearing_stub is not None
    assert rig.carrier.middle.cross.name == "1310"
    assert rig.output.joint is not None
    assert asked(person, "slopes, or coordinates") == asked(person, "Where is the slip") == 0
    assert not person.heard("shafts of one piece end at")


def test_a_bearing_that_is_not_on_the_way_is_told(tmp_path: Path) -> None:
    person = Person(
        TWO_PIECES
        | {
            "does the carrier bearing lie": ["90 in", "48 in"],
            "left or right is the carrier bearing": ["1 in left", "back", "1 in left"],
            "than the axle's center is the carrier bearing": ["8 in up", "back", "8 in up"],
        }
    )
    assert written(person, tmp_path).carrier is not None
    assert person.heard("not on the way from the output to the axle")


def test_heads_at_both_ends(tmp_path: Path) -> None:
    person = Person(
        PHONE
        | {
            "plain shaft": "n",
            "joint at the output single": "double",
            "kind of head is at the output": "high-angle head",
            "joint at the pinion single": "double",
        }
    )
    rig = written(person, tmp_path)
    assert rig.carrier is None
    assert (rig.shaft.output_end.joint, rig.shaft.pinion_end.joint) == ("double", "double")
    assert rig.shaft.output_end.head is not None
    assert rig.shaft.output_end.head.name == "high-angle head"
    assert rig.shaft.pinion_end.head is not None
    assert rig.shaft.pinion_end.head.name == "ordinary head"
    assert rig.shaft.pinion_end.pinion_yoke.name == "flange yoke"


def test_what_cannot_go_with_a_head_is_told(tmp_path: Path) -> None:
    person = Person(
        PHONE
        | {
            "plain shaft": "no",
            "joint at the pinion single": "double",
            "yoke is on the pinion": ["strap yoke", "flange yoke"],
        }
    )
    written(person, tmp_path)
    assert person.heard("strap yoke")
    assert asked(person, "yoke is on the pinion") == 2


PAIR = [("33 in ahead", "14 in left", "1 in higher"), ("1 in ahead", "21 in left", "3 in lower")]
UPPER = [("27 in ahead", "15 in left", "8 in higher"), ("1 in ahead", "3 in left", "7 in higher")]


def link_answers(*links: list[tuple[str, str, str]], names: list[str]) -> dict[str, list[str]]:
    ends = [end for link in links for end in link]
    return {
        "link 1 called": [names[0]],
        "link 2 called": [names[1]],
        "link 3 called": [names[2]],
        "behind the axle's center is the": [end[0] for end in ends],
        "axle's middle is the": [end[1] for end in ends],
        "lower than the axle's center is the": [end[2] for end in ends],
        "on the other side": ["yes"] * len(links),
    }


def test_links(tmp_path: Path) -> None:
    person = Person(
        PHONE
        | {"known of the suspension": "links"}
        | link_answers(PAIR, UPPER, names=["lower", "upper", "done"])
    )
    rig = written(person, tmp_path)
    assert rig.typed()["suspension"] == {
        "kind": "links",
        "links": [
            {
                "name": "lower",
                "mirrored": True,
                "chassis": ["33 in", "14 in", "1 in"],
                "axle": ["1 in", "21 in", "-3 in"],
            },
            {
                "name": "upper",
                "mirrored": True,
                "chassis": ["27 in", "15 in", "8 in"],
                "axle": ["1 in", "3 in", "7 in"],
            },
        ],
    }
    assert not person.heard("one that holds the axle")


def test_links_with_a_track_bar(tmp_path: Path) -> None:
    bar = [("8 in behind", "17 in left", "4 in up"), ("8 in behind", "17 in right", "3 in up")]
    upper = [("27 in ahead", "3 in left", "8 in higher"), ("1 in ahead", "3 in left", "7 in up")]
    answers = link_answers(bar, PAIR, upper, names=["lower", "upper", "done"])
    person = Person(
        PHONE
        | {"known of the suspension": "links", "a track bar?": "yes"}
        | answers
        | {"on the other side": ["yes", "no"]}
    )
    rig = written(person, tmp_path)
    assert isinstance(rig.suspension, LinksTable)
    assert rig.suspension.track_bar is not None
    assert rig.suspension.track_bar.name == "track bar"
    assert [each.mirrored for each in rig.suspension.links] == [True, False]


def test_too_few_links_are_told_when_there_are_no_more_and_further_ones_taken(
    tmp_path: Path,
) -> None:
    answers = link_answers(PAIR, UPPER, names=["lower", "upper", "done"])
    answers["link 2 called"] = ["done", "upper"]
    person = Person(PHONE | {"known of the suspension": "links"} | answers)
    assert isinstance(written(person, tmp_path).suspension, LinksTable)
    assert person.heard("expected one that holds the axle")
    assert sum("one that holds the axle" in told for told in person.told) == 1


def test_swapped_ends_of_a_link_are_told_at_once(tmp_path: Path) -> None:
    answers = link_answers(PAIR[::-1], UPPER, names=["lower", "upper", "done"])
    answers["lower than the axle's center is the"].insert(2, "quit")
    person = Person(PHONE | {"known of the suspension": "links"} | answers)
    assert new_rig_file(tmp_path / "new.toml", person.ask, person.tell) is None
    assert person.heard("swapped")


FRONT = {"rear or the front": "front"}
SUMS = {
    "phone": PHONE,
    "front": PHONE | FRONT,
    "drive": PHONE | DRIVE,
    "tape": NO_LENGTH
    | {"Between which points": "other"}
    | TAPES["seal"][0]
    | {"the tape read": "38 3/4 in"},
    "two pieces": TWO_PIECES,
    "heads": PHONE | {"plain shaft": "no", "joint at the output single": "double"},
    "links": PHONE
    | {"known of the suspension": "links"}
    | link_answers(PAIR, UPPER, names=["lower", "upper", "done"]),
}


@pytest.mark.slow
@pytest.mark.parametrize("way", SUMS)
def test_what_every_way_writes_can_be_checked(way: str, tmp_path: Path) -> None:
    result = check(written(Person(dict(SUMS[way])), tmp_path))
    assert result.verdict in {"clear", "close", "touches"}
    assert result.rig.output.down == pytest.approx(radians(3.0))
