"""What is assumed when a file leaves something out."""

import pytest

from sim.rig import parse_rig, rig_from_data
from sim.rig.assumed import fill, without
from sim.rig.defaults import DEFAULTS
from sim.table.default import at
from sim.table.reading import parse_toml
from tests.sim.rigs import COORDINATES, PHONE_CALL, spoilt
from viewer.words.remarks import said

OPTIONAL = ("carrier.", "shaft.output_end.head", "shaft.pinion_end.head", "suspension.bush",
            "suspension.most_give", "wrap.")  # fmt: skip
"""Asked for only where there is a carrier, a double-Cardan head, links that bind, or [wrap]."""


def assumed(text: str) -> dict[str, object]:
    return {each.key: each.value for each in parse_rig(text).assumed}


def test_every_value_left_out_is_listed_with_its_reason() -> None:
    rig = parse_rig(PHONE_CALL)
    keys = {each.key for each in rig.assumed}
    elsewhere = {key for key in (default.key for default in DEFAULTS) if key.startswith(OPTIONAL)}
    assert keys == {default.key for default in DEFAULTS} - {"axle.snout"} - elsewhere
    for each in rig.assumed:
        assert each.why
        assert said(each.remark).startswith(f"{each.key} taken as ")
        assert (
            at(rig.model_dump(mode="json", by_alias=True, exclude_none=True), each.key)
            == each.value
        )


@pytest.mark.parametrize("default", DEFAULTS, ids=lambda default: default.key)
def test_every_default_is_marked_as_no_measurement(default: object) -> None:
    words = ("generic", "from memory", "no name", "only schema", "its own center")
    assert any(word in default.why for word in words)  # type: ignore[attr-defined]


def test_a_typed_value_is_never_listed_as_assumed_even_if_it_is_the_same() -> None:
    assert "travel.roll" in assumed(PHONE_CALL)
    assert "travel.roll" not in assumed(spoilt(PHONE_CALL, ('"4 in"', '"4 in"\nroll = "8 deg"')))


def test_the_opposite_word_is_an_answer_too() -> None:
    text = spoilt(
        PHONE_CALL, ('points_down = "3 deg"\n\n', 'points_down="3 deg"\npoints_right="2 deg"\n')
    )
    assert "output.points_left" not in assumed(text)
    offset = spoilt(PHONE_CALL, ('"14 deg"', '"14 deg"\npinion_right = "1 in"'))
    assert "ride_height.shaft_points_left" not in assumed(offset)


def test_coordinates_leave_the_side_of_the_shaft_alone() -> None:
    assert assumed(COORDINATES + '\n[ride_height]\nlength = "37 in"\n') == {}


def test_the_wrap_of_a_front_axle_is_mirrored() -> None:
    rear = assumed(PHONE_CALL)
    front = assumed(spoilt(PHONE_CALL, ("[axle]", '[axle]\nposition = "front"')))
    assert (rear["travel.nose_up"], rear["travel.nose_down"]) == ("7 deg", "4 deg")
    assert (front["travel.nose_up"], front["travel.nose_down"]) == ("4 deg", "7 deg")


def test_a_slip_on_the_output_slides_on_a_sliding_yoke() -> None:
    text = PHONE_CALL + '[shaft.slip]\nat = "output"\ncloses = "1 in"\nopens = "3 in"\n'
    assert assumed(text)["shaft.output_end.output_yoke"] == "sliding yoke"


@pytest.mark.parametrize(("end", "other"), [("output", "pinion"), ("pinion", "output")])
def test_one_joint_size_goes_for_both_ends(end: str, other: str) -> None:
    text = PHONE_CALL + f'[shaft.{end}_end]\ncross = "30 x 92"\n'
    assert assumed(text)[f"shaft.{other}_end.cross"] == "30 x 92"


def test_a_kind_of_suspension_is_never_guessed_beside_its_numbers() -> None:
    filled, _ = fill({"suspension": {"fixed_eye": ["24 in", "20 in", "4 in"]}})
    assert filled["suspension"] == {"fixed_eye": ["24 in", "20 in", "4 in"]}


@pytest.mark.parametrize("text", [COORDINATES, PHONE_CALL])
def test_filling_in_and_taking_out_again(text: str) -> None:
    data = parse_toml(text)
    filled, assumed = fill(data)
    assert without(filled, assumed) == data == parse_toml(text)
    rig = parse_rig(text)
    assert rig.typed() == data
    assert rig_from_data(rig.typed()) == rig
