"""docs/validation.md names every outside check there is, and no test that there is not."""

import re
from pathlib import Path

HOUSE = Path(__file__).parents[1]
NAMED = set(
    re.findall(r"`(tests/[\w/]+\.py)`", (HOUSE / "docs" / "validation.md").read_text("utf-8"))
)


def test_every_outside_check_is_named() -> None:
    there = {
        path.relative_to(HOUSE).as_posix() for path in (HOUSE / "tests/outside").glob("test_*.py")
    }
    assert there
    assert there <= NAMED


def test_every_named_test_is_there() -> None:
    assert not [name for name in NAMED if not (HOUSE / name).is_file()]
