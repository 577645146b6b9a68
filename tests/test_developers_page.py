"""DEVELOPERS.md names every room by its own first line; a module speaks for itself."""

import ast
import re
from pathlib import Path

HOUSE = Path(__file__).parents[1]
PAGE = (HOUSE / "DEVELOPERS.md").read_text("utf-8")
ROOMS = ("geometry", "sim", "viewer", "models")


def _first_line(file: Path) -> str:
    told = ast.get_docstring(ast.parse(file.read_text("utf-8")))
    assert told, file
    return told.splitlines()[0]


def test_the_map_is_every_room_by_its_own_first_line() -> None:
    start = PAGE.index("| room | holds |")
    table = PAGE[start : PAGE.index("\n\n", start)]
    rooms = [file.parent for top in ROOMS for file in (HOUSE / top).rglob("__init__.py")]
    told = dict(re.findall(r"^\| `(.*?)` \| (.*) \|$", table, re.MULTILINE))
    assert told == {
        room.relative_to(HOUSE).as_posix(): _first_line(room / "__init__.py") for room in rooms
    }


def test_every_module_says_in_one_line_what_it_is_about() -> None:
    """A sentence, and no other module's."""
    lines = [_first_line(file) for top in ROOMS for file in (HOUSE / top).rglob("*.py")]
    assert not [line for line in lines if not line.endswith((".", "?", "!"))]
    assert not {line for line in lines if lines.count(line) > 1}


def test_every_file_the_page_names_is_there() -> None:
    named = re.findall(r"`((?:geometry|sim|viewer|models|tests|docs)/[\w/.-]+)`", PAGE)
    assert named
    assert not [name for name in named if not (HOUSE / name).exists()]
