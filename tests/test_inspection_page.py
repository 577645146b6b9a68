"""The page of the inspection file agrees with the program."""

import re

from sim.seen import doubts, parse_inspection
from tests.inspection_page import PAGE, page
from viewer.seen.places import DRAWING


def test_the_page_is_made_from_the_schema() -> None:
    assert PAGE.read_text("utf-8") == page(), "write it anew: python -m tests.inspection_page"


def test_its_example_is_sound() -> None:
    found = re.search(r"```toml\n(.*?)```", page(), re.DOTALL)
    assert found is not None
    assert doubts(parse_inspection(found[1])) == ()


def test_it_shows_the_caps_as_the_questions_do() -> None:
    drawn = [line for line in DRAWING.splitlines() if line.strip()][:8]
    assert all(line in page() for line in drawn)
