"""The page of every key of a rig file, from the schema: `python -m tests.rig_keys_page`."""

from pathlib import Path

from sim.rig.rig import Rig
from tests.keys_page import tables_of

PAGE = Path(__file__).parents[1] / "docs" / "rig-keys.md"

_HEAD = """\
# Every key of a rig file

Made from the schema by `python -m tests.rig_keys_page`, as the sheet of the window, the questions \
of `bindpoint new` and the JSON Schema for editors are made from it. [The rig file](rig-file.md) \
explains how the tables go together, and lists what is assumed where a key is left out.
"""


def page() -> str:
    """The whole page."""
    return f"{_HEAD}\n{tables_of(Rig)}\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
