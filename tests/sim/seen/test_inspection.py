"""The inspection file: written and read it is the same, and what is wrong is told in one line."""

from math import pi, radians
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings

from sim.rig.reading import parse_rig
from sim.seen import (
    Inspection,
    clock_angle,
    inspection_from_data,
    inspection_schema,
    inspection_text,
    load_inspection,
    parse_inspection,
    retyped,
    save_inspection,
)
from sim.table.problems import RigError
from sim.table.reading import parse_toml
from tests.sim.seen.inspections import INSPECTIONS

HEAD = 'schema = 1\nkind = "inspection"\n'
SLOW = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.fixture(scope="module")
def editor() -> jsonschema.Draft202012Validator:
    schema = inspection_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@SLOW
@given(INSPECTIONS)
def test_written_and_read_it_is_the_same(data: dict[str, Any]) -> None:
    inspection = inspection_from_data(data)
    again = parse_inspection(inspection_text(inspection))
    assert again == inspection
    assert again.typed() == data


@SLOW
@given(INSPECTIONS)
def test_an_editor_takes_what_the_program_takes(data: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator(inspection_schema()).validate(data)


def test_a_file_is_replaced_whole(tmp_path: Path) -> None:
    file = tmp_path / "joint-seen.toml"
    save_inspection(parse_inspection(f"{HEAD}marks = []\n"), file)
    save_inspection(parse_inspection(f'{HEAD}came = "wore"\n'), file)
    assert load_inspection(file) == parse_inspection(f'{HEAD}came = "wore"\n')
    assert [each.name for each in tmp_path.iterdir()] == ["joint-seen.toml"]


BY_HAND = """\
# Brought in by the owner in a bucket.
schema = 1
kind = "inspection"

[history]
distance = "3000 mi"  # says he
changed = [ "lift",   "gears" ]

# the dry one
[caps.end_b]
seen = ["dry"]
"""


def test_remarks_and_order_of_a_file_by_hand_stay() -> None:
    wanted = inspection_from_data(
        parse_inspection(BY_HAND).typed()
        | {
            "came": "wore",
            "caps": {"end_b": {"seen": ["dry", "rust dust"]}, "shaft_a": {"seen": []}},
            "tube": {"seen": []},
        }
    )
    made = retyped(BY_HAND, wanted)
    assert parse_inspection(made) == wanted
    assert made.startswith("# Brought in by the owner in a bucket.\n")
    for kept in ('"3000 mi"  # says he', '[ "lift",   "gears" ]', "# the dry one\n[caps.end_b]"):
        assert kept in made


def test_remarks_stay_where_a_key_is_taken_away() -> None:
    data = parse_inspection(BY_HAND).typed()
    del data["history"]["changed"]
    made = retyped(BY_HAND, inspection_from_data(data))
    assert "changed" not in made
    assert "# says he" in made


@SLOW
@given(INSPECTIONS, INSPECTIONS)
def test_any_inspection_can_be_typed_over_any_other(
    one: dict[str, Any], other: dict[str, Any]
) -> None:
    text = inspection_text(inspection_from_data(one))
    wanted = inspection_from_data(other)
    assert parse_inspection(retyped(text, wanted)) == wanted


def test_missing_and_empty_are_two_things() -> None:
    missing, empty = parse_inspection(HEAD), parse_inspection(f"{HEAD}marks = []\n")
    assert missing.marks is None
    assert empty.marks == ()
    assert missing.is_blank
    assert not empty.is_blank
    assert parse_inspection(f'{HEAD}rig = "truck.toml"\njoint = "pinion"\n[cross]\n').is_blank


BAD = [
    ("schema = 2", "schema: came 2 (a schema this program does not know), expected schema = 1"),
    ('joint = "front"', 'joint: came "front", expected one of output, middle, pinion'),
    ("came = 1", "came: came 1 (not a text in quotes), expected one of broke, wore, runs"),
    ('cam = "wore"', 'cam: came "wore" (unknown key), expected came, the nearest known key'),
    ("[caps.shaft_c]", "caps.shaft_c: came a table (unknown key), expected shaft_"),
    ('[caps.shaft_a]\nseen = "dry"', "(not a list), expected a list of words in [ ]"),
    ('[caps.shaft_a]\nseen = ["rust"]', 'caps.shaft_a.seen[1]: came "rust", expected rust dust'),
    ('[caps.shaft_a]\nseen = ["dry", "dry"]', '("dry" is there twice), expected each word once'),
    ('[caps.shaft_a]\nbore = "1 in"', "caps.shaft_a.bore: came"),
    ('[caps.shaft_a]\nbore = ["1 in", "1 in", "1 in"]', "(3 in place of one or two)"),
    ('[caps.shaft_a]\nbore = ["0 in"]', "caps.shaft_a.bore[1]: came"),
    ('[caps.shaft_a]\ngouge = "-0.01 in"', "caps.shaft_a.gouge: came"),
    ("[caps.shaft_a]\ngouge = 0.01", "(a number without a unit)"),
    (
        '[caps.shaft_a]\nclock = "13"',
        'caps.shaft_a.clock: came "13", expected a place on the clock',
    ),
    ('[[marks]]\nyoke = "shaft"', "marks[1].surface: nothing typed"),
    ('[history]\ndistance = "3000"', "history.distance: came"),
    ("[history]\nfailed_before = -1", "history.failed_before: came -1, expected a whole number"),
    ("[symptoms]\nper_turn = 4", "symptoms.per_turn: came 4, expected a whole number from 0 to 2"),
    ('cross = "broken"', 'cross: came "broken", expected a table'),
]

ONLY_THE_READER = {'[caps.shaft_a]\nbore = ["0 in"]', '[caps.shaft_a]\ngouge = "-0.01 in"'}
"""A pattern sees that a text has a number and a unit, not which number."""


@pytest.mark.parametrize(("typed", "says"), BAD)
def test_what_is_wrong_is_told_with_its_place(typed: str, says: str) -> None:
    text = typed if typed.startswith("schema") else HEAD + typed
    with pytest.raises(RigError) as fault:
        parse_inspection(text, "mine.toml")
    lines = str(fault.value).splitlines()
    assert any(line.startswith("mine.toml: ") and says in line for line in lines), lines


@pytest.mark.parametrize("typed", [typed for typed, _ in BAD if typed not in ONLY_THE_READER])
def test_an_editor_refuses_it_too(editor: jsonschema.Draft202012Validator, typed: str) -> None:
    assert not editor.is_valid(parse_toml(typed if typed.startswith("schema") else HEAD + typed))


def test_everything_wrong_is_told_at_once() -> None:
    with pytest.raises(RigError) as fault:
        parse_inspection(f'{HEAD}came = "bent"\n[history]\nwater = "wet"\n[tube]\nsen = []\n')
    assert len(fault.value.problems) == 3


def test_a_rig_file_is_told_apart() -> None:
    with pytest.raises(RigError, match="a rig file, expected an inspection file"):
        parse_inspection('schema = 1\nname = "truck"\n[shaft.tube]\noutside = "3 in"\n')
    with pytest.raises(RigError, match='kind: nothing typed, expected kind = "inspection"'):
        parse_inspection("schema = 1\n")


def test_an_inspection_in_place_of_a_rig_is_one_line() -> None:
    with pytest.raises(RigError, match="an inspection file, expected a rig file") as fault:
        parse_rig(f'{HEAD}joint = "pinion"\n[tube]\nseen = []\n')
    assert len(fault.value.problems) == 1


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("12 o'clock", 0.0),
        ("12", 0.0),
        ("3 o'clock", 3.0),
        ("4:30", 4.5),
        ("11 O\u2019Clock", 11.0),
    ],
)
def test_a_clock_goes_clockwise_from_twelve(text: str, hours: float) -> None:
    assert clock_angle(text) == pytest.approx(hours * radians(30.0), abs=1e-15)
    assert 0.0 <= clock_angle(text) < 2.0 * pi


@pytest.mark.parametrize("text", ["", "0", "13", "3:60", "noon", "3 oclocks", "-3", "3 in"])
def test_no_place_on_a_clock(text: str) -> None:
    with pytest.raises(ValueError, match="expected a place on the clock"):
        clock_angle(text)


def test_an_inspection_is_read_only() -> None:
    inspection = Inspection.model_validate({"schema": 1, "kind": "inspection"})
    with pytest.raises(ValueError, match="frozen"):
        inspection.came = "wore"  # type: ignore[misc]
