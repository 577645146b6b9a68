"""The map of the house in DEVELOPERS.md names no module that is not there."""

import re
from pathlib import Path

HOUSE = Path(__file__).parents[1]
PAGE = (HOUSE / "DEVELOPERS.md").read_text("utf-8")


def test_every_module_on_the_map_is_there() -> None:
    for room in ("geometry", "sim", "viewer"):
        start = PAGE.index(f"### {room}: ")
        table = PAGE[start : PAGE.index("\n\n", PAGE.index("|---|", start))]
        named = [name for row in table.splitlines() for name in re.findall(r"`(.*?)`", row)]
        modules = [name for name in named if name.endswith(".py")]
        assert len(modules) > 10
        assert not [name for name in modules if not (HOUSE / room / name).is_file()]
