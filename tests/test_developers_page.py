"""DEVELOPERS.md names every room; rooms and modules speak for themselves, in their first line."""

import ast
import re
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[1]
PAGE = (HOUSE / "DEVELOPERS.md").read_text("utf-8")
ROOMS = ("geometry", "sim", "viewer", "models")


def _first_line(file: Path) -> str:
    told = ast.get_docstring(ast.parse(file.read_text("utf-8")))
    assert told, file
    return told.splitlines()[0]


def _inside(folder: Path) -> str:
    """Names of the rooms in a folder, each with those within it in brackets."""
    rooms = sorted(each.parent for each in folder.glob("*/__init__.py"))
    within = {room.name: _inside(room) for room in rooms}
    return ", ".join(name + (f" ({inner})" if inner else "") for name, inner in within.items())


def test_the_map_is_every_tree_with_its_first_line_and_its_rooms() -> None:
    start = PAGE.index("| tree | holds |")
    table = PAGE[start : PAGE.index("\n\n", start)]
    told = re.findall(r"^\| `(.*?)` \| (.*) \| (.*?) ?\|$", table, re.MULTILINE)
    trees = [HOUSE / top for top in ROOMS]
    assert told == [(tree.name, _first_line(tree / "__init__.py"), _inside(tree)) for tree in trees]


def test_it_is_short_enough_to_be_read() -> None:
    assert len(PAGE.encode()) <= 9000


@pytest.mark.slow
def test_every_module_says_in_one_line_what_it_is_about() -> None:
    """A sentence, and no other module's."""
    lines = [_first_line(file) for top in ROOMS for file in (HOUSE / top).rglob("*.py")]
    assert not [line for line in lines if not line.endswith((".", "?", "!"))]
    assert not {line for line in lines if lines.count(line) > 1}


def test_every_file_the_page_names_is_there() -> None:
    named = re.findall(r"`((?:geometry|sim|viewer|models|tests|docs)/[\w/.-]+)`", PAGE)
    assert named
    assert not [name for name in named if not (HOUSE / name).exists()]
