"""A rig file takes on the values of another rig: the rig is that one, and the remarks stay."""

from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.rig import parse_rig
from sim.rig.change import changed
from sim.rig.demos import demo_names, demo_text
from sim.table.reading import parse_toml
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, spoilt
from tests.sim.test_rig_writing import TEXTS
from viewer.session.text.retyping import differences, retyped

CHANGES: tuple[dict[str, Any], ...] = (
    {"name": "Another"},
    {"travel.droop": "2 1/4 in", "travel.roll": "3 deg"},
    {"shaft.slip.closes": "1 1/4 in"},
    {"axle.points_down": "2 deg"},
    {"surroundings": None},
    {"wanted": {"bend": "3 deg"}},
    {"note": None},
)


def remarks(text: str) -> list[str]:
    return [line.split("#", 1)[1] for line in text.splitlines() if "#" in line]


@pytest.mark.slow
@settings(max_examples=25, deadline=None)
@given(st.sampled_from(demo_names()), st.lists(st.sampled_from(CHANGES), min_size=1, unique_by=str))
def test_the_text_becomes_that_of_the_other_rig_with_its_remarks(
    name: str, several: list[dict[str, Any]]
) -> None:
    text = demo_text(name)
    wanted = parse_rig(text, name)
    for values in several:
        wanted = changed(wanted, values)
    made = retyped(text, wanted)
    assert parse_rig(made, name).typed() == wanted.typed()
    if all(None not in values.values() for values in several):
        kept, had = remarks(made), remarks(text)
        assert [each for each in had if each in kept] == had


@pytest.mark.parametrize("name", demo_names())
def test_nothing_to_change_changes_nothing(name: str) -> None:
    text = demo_text(name)
    assert retyped(text, parse_rig(text, name)) == text


def test_what_cannot_be_typed_into_the_text_is_written_anew() -> None:
    text = demo_text("long-legged-trail-wagon")
    wanted = parse_rig(demo_text("timber-crew-carrier"), "other")
    assert parse_rig(retyped(text, wanted), "other").typed() == wanted.typed()


_scalars = st.integers(0, 3) | st.sampled_from(["a", "b"])
_data = st.recursive(
    st.dictionaries(st.sampled_from("abc"), _scalars, max_size=3),
    lambda inner: st.dictionaries(st.sampled_from("abc"), _scalars | inner, max_size=3),
    max_leaves=6,
)


@given(_data, _data)
def test_differences_lead_from_one_to_the_other(old: dict[str, Any], new: dict[str, Any]) -> None:
    made = tomlkit.parse(tomlkit.dumps(old)).unwrap()
    for key, value in differences(old, new):
        *way, last = key.split(".")
        here = made
        for step in way:
            here = here[step]
        if value is None:
            del here[last]
        else:
            here[last] = value
    assert made == new


@pytest.mark.parametrize("text", TEXTS)
def test_a_rig_that_did_not_change_leaves_its_text_as_it_was(text: str) -> None:
    assert retyped(text, parse_rig(text)) == text


def test_remarks_order_and_spelling_stay_when_one_value_changes() -> None:
    text = (
        "# measured by the owner\n"
        + spoilt(PHONE_CALL, ('droop = "8 in"', 'droop   = "8 in" # to the straps'))
        + "\n# end\n"
    )
    made = retyped(text, changed(parse_rig(text), {"travel.droop": "6 1/2 in"}))
    assert made == spoilt(text, ('"8 in"', '"6 1/2 in"'))


def test_a_choice_written_as_a_table_stays_one() -> None:
    text = spoilt(
        COORDINATES, ('pinion_yoke = "strap yoke"', 'pinion_yoke = { kind = "strap yoke" }')
    )
    assert retyped(text, parse_rig(text)) == text
    assert parse_rig(text) == parse_rig(COORDINATES)


def test_keys_come_and_go() -> None:
    rig = changed(
        parse_rig(COORDINATES),
        {
            "ride_height.length": "37 in",
            "shaft.slip.comes_apart": None,
            "surroundings[1].name": "tank",
            "wanted": None,
        },
    )
    text = retyped(COORDINATES, rig)
    assert parse_rig(text) == rig
    assert "comes_apart" not in text
    assert "[wanted]" not in text
    assert 'name = "tank"' in text


def test_readings_come_and_go() -> None:
    text = PHONE_CALL + MEASURED
    fewer = changed(
        parse_rig(text),
        {
            "suspension": {
                "kind": "measured",
                "readings": [*parse_toml(MEASURED)["suspension"]["readings"],
                             {"at": "6 in droop", "length": "38 1/4 in", "points_up": "2 deg"}],
            }
        },
    )  # fmt: skip
    assert parse_rig(retyped(text, fewer)) == fewer
    assert retyped(text, fewer).count("[[suspension.readings]]") == 4
