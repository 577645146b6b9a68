"""Changing values of a rig."""

import pytest

from sim.rig import RigError, changed, parse_rig
from sim.rig.change import key_path
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL


def test_other_values_at_some_keys() -> None:
    rig = parse_rig(COORDINATES)
    other = changed(rig, {"travel.droop": "6 in", "output.joint": ["48 in", "0 in", "9 in"]})
    assert (rig.travel.droop.typed, other.travel.droop.typed) == ("8 in", "6 in")
    assert other.output.joint is not None
    assert other.output.joint[0].typed == "48 in"
    assert changed(other, {"travel.droop": "8 in", "output.joint[1]": "47 in",
                           "output.joint[2]": "1 1/2 in"}) == rig  # fmt: skip
    assert changed(rig, {}) == rig


def test_an_assumed_value_becomes_a_typed_one() -> None:
    rig = changed(parse_rig(PHONE_CALL), {"travel.roll": "10 deg"})
    assert "travel.roll" not in {each.key for each in rig.assumed}
    assert changed(rig, {"travel.roll": None}) == parse_rig(PHONE_CALL)


def test_the_opposite_word_makes_way() -> None:
    rig = changed(parse_rig(PHONE_CALL), {"output.points_up": "1 deg"})
    assert rig.output.points_down is None
    assert rig.output.down < 0.0


def test_entries_of_an_array_count_from_one() -> None:
    rig = changed(
        parse_rig(PHONE_CALL + MEASURED),
        {"suspension.readings[3].length": "39 in", "suspension.readings[3].points_down": "1 deg"},
    )
    reading = rig.suspension.readings[2]  # type: ignore[union-attr]
    assert (reading.length.typed, reading.points_up) == ("39 in", None)


def test_what_is_given_in_a_new_way_is_checked_like_a_file() -> None:
    with pytest.raises(RigError) as caught:
        changed(parse_rig(PHONE_CALL), {"travel.droop": "6", "travel.bumb": "1 in"}, "study.csv")
    assert {problem.key for problem in caught.value.problems} == {"travel.droop", "travel.bumb"}
    assert str(caught.value).startswith("study.csv: travel.")


@pytest.mark.parametrize(
    "key",
    ["", "travel.", "travel droop", "travel[1].droop", "surroundings[9].name", "travel.droop.x",
     "surroundings[0].name", "output.joint[4]"],
)  # fmt: skip
def test_a_place_that_is_not_there(key: str) -> None:
    with pytest.raises(RigError, match="a key path such as"):
        changed(parse_rig(COORDINATES), {key: "1 in"})


def test_key_paths() -> None:
    assert key_path("a.b[2].c") == ("a", "b", 1, "c")
    assert key_path("a..b") is None
