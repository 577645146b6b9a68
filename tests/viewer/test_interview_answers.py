"""How one answer is read, and what is made of the answers."""

import pytest

from viewer.interview.answers import AnswerError, choice, coordinate, spoken, stops
from viewer.interview.asking_back import OpenError
from viewer.interview.assembling import assemble


@pytest.mark.parametrize(
    "said", ["32 in middle", "32 in, middle strap", "32 in, one strap in the middle"]
)
def test_a_strap_in_the_middle_is_said_with_the_distance(said: str) -> None:
    keys = {"travel.stops_apart": "32 in", "travel.droop_strap": "middle"}
    assert stops(*keys)(said) == keys
    assert stops(*keys)("32 in") == {"travel.stops_apart": "32 in"}
    with pytest.raises(AnswerError):
        stops(*keys)("in the middle")


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("3 deg down", {"d": "3 deg"}),
        ("3 1/4 deg  Up", {"u": "3 1/4 deg"}),
        ("3\N{DEGREE SIGN} down", {"d": "3\N{DEGREE SIGN}"}),
        ("9 in lower", {"l": "9 in"}),
        ('9-1/2" higher', {"h": '9-1/2"'}),
        ("level", {"d": "0 deg"}),
        ("0 deg", {"d": "0 deg"}),
        ("0 in", {"l": "0 in"}),
        ("3 deg down +- 1/2 deg", {"d": "3 deg +- 1/2 deg"}),
        ("3 deg +- 1/2 deg down", {"d": "3 deg +- 1/2 deg"}),
        ("3 deg up by digital level", {"u": "3 deg by digital level"}),
        ("9 in lower ± 1/8 in", {"l": "9 in ± 1/8 in"}),
    ],
)
def test_spoken_answers(text: str, keys: dict[str, str]) -> None:
    assert spoken({"down": "d", "up": "u"}, {"lower": "l", "higher": "h"})(text) == keys


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("2 in left", "2 in"),
        ("2 in right", "-2 in"),
        ("0 in", "0 in"),
        ("none", "0 in"),
        ("0 in right", "0 in"),
    ],
)
def test_coordinates_are_spoken_too(text: str, typed: str) -> None:
    assert coordinate("k", ("left",), ("right",), None)(text) == {"k": typed}


@pytest.mark.parametrize("text", ["-2 in left", "left", "2 bananas left"])
def test_a_coordinate_is_a_length_without_a_sign(text: str) -> None:
    with pytest.raises(AnswerError):
        coordinate("k", ("left",), ("right",), None)(text)


@pytest.mark.parametrize(("text", "whole"), [("2 in", "2 in left"), ("2 left", "2 in left")])
def test_a_coordinate_needs_its_word_and_unit_which_are_asked_back(text: str, whole: str) -> None:
    with pytest.raises(OpenError) as caught:
        coordinate("k", ("left",), ("right",), None)(text)
    assert whole in caught.value.left.options.values()


@pytest.mark.parametrize("text", ["length", "L", "1", "LEN"])
def test_choices_go_by_number_or_beginning(text: str) -> None:
    assert choice("k", {"length": 1, "coordinates": 2})(text) == {"k": 1}


def test_points_and_readings_are_left_out_until_they_are_complete() -> None:
    said = {"(way)": "length", "output.joint[1]": "47 in", "output.joint[2]": "0 in"}
    assert assemble(said) == {}
    said |= {"output.joint[3]": "9 in", "output.points_up": "1 deg"}
    assert assemble(said) == {"output": {"joint": ["47 in", "0 in", "9 in"], "points_up": "1 deg"}}


def test_readings_and_links_are_left_out_until_they_are_complete() -> None:
    """By what the schema needs: a reading its slope, a link both ends, a set its third reading."""
    said: dict[str, object] = {"suspension.kind": "measured"}
    for place, height in enumerate(("4 in bump", "ride", "8 in droop"), start=1):
        key = f"suspension.readings[{place}]"
        said |= {f"{key}.at": height, f"{key}.length": "36 in"}
        assert assemble(said) == {"suspension": {"kind": "measured"}}
        said[f"{key}.points_down"] = "1 deg"
    readings = assemble(said)["suspension"]["readings"]
    assert [each["at"] for each in readings] == ["4 in bump", "ride", "8 in droop"]
    fourth = said | {"suspension.readings[4].at": "ride"}
    assert len(assemble(fourth)["suspension"]["readings"]) == 3
    link: dict[str, object] = {"suspension.kind": "links", "suspension.links[1].name": "lower"}
    link |= {f"suspension.links[1].chassis[{place}]": "1 in" for place in (1, 2, 3)}
    assert assemble(link) == {"suspension": {"kind": "links"}}
    link |= {f"suspension.links[1].axle[{place}]": "2 in" for place in (1, 2, 3)}
    assert assemble(link)["suspension"]["links"] == [
        {"name": "lower", "chassis": ["1 in"] * 3, "axle": ["2 in"] * 3}
    ]
