"""docs/rig-file.md is the truth about rig files: its examples and lists are held to the program."""

import re
import tomllib
from pathlib import Path

import pytest

from sim.rig import parse_rig
from sim.rig.defaults import DEFAULTS
from sim.rig.rig import Rig
from sim.table.reading import LARGEST, LONGEST_LINE
from sim.table.structure import fields_of, tables
from sim.units import parse_angle, parse_length
from viewer.words.notes import NOTES

PAGE = (Path(__file__).parents[2] / "docs" / "rig-file.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)


def test_the_least_that_is_needed_is_enough() -> None:
    assert parse_rig(BLOCKS[0])


@pytest.mark.parametrize("block", BLOCKS[1:])
def test_every_other_example_goes_with_it(block: str) -> None:
    assert parse_rig(BLOCKS[0] + block)


def test_every_key_is_explained() -> None:
    for path, part in tables(Rig):
        for key in fields_of(part):
            named = f"`{key}`" in PAGE or f"[{key}]" in PAGE
            assert named, (path, key)


def test_every_way_to_write_a_value_works() -> None:
    table = PAGE[PAGE.index("| value |") : PAGE.index("- Every length")]
    for line, parse in ((r"\| length \|", parse_length), (r"\| angle \|", parse_angle)):
        row = re.search(line + "(.*)", table)
        assert row is not None
        texts = [tomllib.loads(f"x = {text}")["x"] for text in re.findall(r"`(.*?)`", row[1])]
        assert len(texts) >= 4
        for text in texts:
            assert parse(text) > 0.0


def test_the_list_of_defaults_is_the_programs() -> None:
    listed = PAGE[PAGE.index("<!-- defaults -->") : PAGE.index("<!-- /defaults -->")]
    rows = re.findall(r"^\| `(.*?)` \| (.*?) \| (.*?) \|$", listed, re.MULTILINE)
    assert [row[0] for row in rows] == [default.key for default in DEFAULTS]
    for (_, value, why), default in zip(rows, DEFAULTS, strict=True):
        assert why == default.why
        double = {"joint": "double"}
        bar = {"kind": "links", "links": [{"mirrored": True}] * 2, "track_bar": {}}
        typed = default.typed({}) or default.typed(
            {"shaft": {"output_end": double, "pinion_end": double}, "suspension": bar}
        )
        first = typed[0] if isinstance(typed, list) else typed
        assert str(first) in value
        other = default.typed({"axle": {"position": "front"}, "shaft": {"slip": {"at": "output"}}})
        assert (other if isinstance(other, str) else str(first)) in value


def test_limits_of_the_file_are_the_programs() -> None:
    assert f"{LARGEST // 1_000_000} MB" in PAGE
    assert f"{LONGEST_LINE:,} characters" in PAGE


def test_every_note_is_listed() -> None:
    table = PAGE[PAGE.index("| code | what |") : PAGE.index("## Editors")]
    assert set(re.findall(r"`([a-z_]+)`", table)) == set(NOTES) - {"much_wrap_worked_out"}
