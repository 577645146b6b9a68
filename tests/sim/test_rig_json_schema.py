"""The JSON Schema for editors, judged by an independent validator."""

import json
from typing import Any

import jsonschema
import pytest

from sim.rig import json_schema, parse_rig
from sim.rig.defaults import DEFAULTS
from sim.rig.rig import Rig
from sim.table.reading import parse_toml
from sim.table.structure import fields_of, tables
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, spoilt


@pytest.fixture(scope="module")
def editor() -> jsonschema.Draft202012Validator:
    schema = json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_it_can_be_written_as_json() -> None:
    assert json.loads(json.dumps(json_schema())) == json_schema()


@pytest.mark.parametrize(
    "text",
    [
        COORDINATES,
        PHONE_CALL,
        PHONE_CALL + MEASURED,
        spoilt(PHONE_CALL, ('"36 5/16 in"', "'36-5/16\"'"), ('"8 in"', "'8\"'")),
        spoilt(
            COORDINATES,
            ('pinion_yoke = "strap yoke"', 'pinion_yoke = { kind = "weld yoke", x = "1 in" }'),
        ),
    ],
)
def test_it_accepts_what_the_program_accepts(
    editor: jsonschema.Draft202012Validator, text: str
) -> None:
    editor.validate(parse_toml(text))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('bump = "4 in"', "bump = 4"),
        ('bump = "4 in"', 'bump = "4"'),
        ('bump = "4 in"', ""),
        ('bump = "4 in"', 'bumb = "4 in"'),
        ('points_down = "3 deg"', ""),
        ('points_down = "3 deg"', 'points_down = "3 deg"\npoints_up = "3 deg"'),
        ('snout = "11 in"', 'snout = "11 in"\npinion_joint = ["11 in", "0 in", "0 in"]'),
        ("[travel]", "[wanted]\nbend = 2\n[travel]"),
        ("[travel]", '[suspension]\nkind = "coil"\n[travel]'),
        ("[travel]", '[suspension]\nkind = "leaf"\n[travel]'),
        ("[output]", "schema = 2\n[output]"),
    ],
)
def test_it_refuses_what_the_program_refuses(
    editor: jsonschema.Draft202012Validator, old: str, new: str
) -> None:
    text = spoilt(PHONE_CALL, (old, new))
    with pytest.raises(ValueError, match=r"came|nothing typed"):
        parse_rig(text)
    assert not editor.is_valid(parse_toml(text))


def test_every_key_says_what_it_means() -> None:
    for path, part in tables(Rig):
        assert part.__doc__, path
        for name, field in part.model_fields.items():
            has_table = field.description is None
            assert not has_table or name in {
                "output", "ride_height", "axle", "travel", "suspension", "shaft", "surroundings",
                "wanted", "tube", "slip", "output_end", "pinion_end", "cross", "carrier", "middle",
                "bench", "seen_on_truck", "visits", "tools",
            }, (path, name)  # fmt: skip


def test_defaults_are_shown_and_not_required() -> None:
    schema = json_schema()
    assert "wanted" not in schema["required"]
    assert "suspension" not in schema["required"]
    assert "shaft" not in schema["required"]
    travel = schema["$defs"]["Travel"]
    assert travel["required"] == ["bump", "droop"]
    assert travel["properties"]["roll"]["default"] == "8 deg"


def test_null_is_nowhere_since_toml_has_none() -> None:
    def walk(node: Any) -> None:
        if isinstance(node, dict):
            assert node.get("type") != "null"
            assert node.get("default", "") is not None
            for value in node.values():
                walk(value)
        elif isinstance(node, list):
            for value in node:
                walk(value)

    walk(json_schema())


def test_every_default_is_a_key_of_the_schema() -> None:
    known = {
        ".".join(map(str, (*path, key))) for path, part in tables(Rig) for key in fields_of(part)
    }
    assert {default.key for default in DEFAULTS} <= known
    assert {key for default in DEFAULTS for key in default.unless} <= known
