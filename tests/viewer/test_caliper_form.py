import re
from collections.abc import Iterator
from html import escape
from html.parser import HTMLParser

import pytest

from sim.caliper import caliper_form
from sim.catalogue import CatalogueError, yoke_kinds
from sim.units import parse_length
from viewer.caliper_form import CAUTION, ask_readings, form_page, yoke_table


class Text(HTMLParser):
    """Which elements a page has, each closed in its turn."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        if tag != "meta":
            self.open.append(tag)
        assert not any(name in ("src", "href") for name, _ in attrs)

    def handle_startendtag(self, tag: str, _attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("kind", yoke_kinds()[:4])
def test_the_sheet_has_a_picture_of_each_and_needs_no_network(kind: str) -> None:
    page = form_page(kind, "27 x 82")
    text = Text()
    text.feed(page)
    assert not text.open
    form = caliper_form(kind, "27 x 82")
    assert text.seen.count("svg") == text.seen.count("section") == len(form)
    for reading in form:
        assert escape(reading.asks) in page
    assert CAUTION.split(".", maxsplit=1)[0] in page
    assert "certifies nothing" in page
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", page)


def test_an_unknown_kind() -> None:
    with pytest.raises(CatalogueError, match="no yoke 'bent yoke'"):
        form_page("bent yoke", "27 x 82")


def asked(answers: list[str], kind: str = "weld yoke") -> tuple[dict[str, float], list[str]]:
    said: list[str] = []
    waiting: Iterator[str] = iter(answers)
    form = caliper_form(kind, "27 x 82")

    def ask(prompt: str) -> str:
        said.append(prompt)
        return next(waiting, "")

    found = ask_readings(kind, "27 x 82", ask, said.append)
    assert len(said) >= len(form)
    return found, said


def test_enter_keeps_the_generic_yoke() -> None:
    found, said = asked([])
    assert found == {}
    assert "[54.0 mm, 2 1/8 in]" in said[0]


def test_answers_with_help_a_slip_and_a_doubt() -> None:
    found, said = asked(["?", "wide", "-3 mm", "2 1/8 in", "0.65 mm"])
    assert found == {"inside span": parse_length("2 1/8 in"), "ear thickness": 0.65}
    told = "\n".join(said)
    assert "Inside jaws between the flats" in told
    assert "expected more than 0" in told
    assert "Was it 0.65 inch?" in told
    assert "these readings make no sound yoke" in told


def test_what_goes_into_a_rig_file() -> None:
    table = yoke_table("weld yoke", "27 x 82", {"ear wall": 7.0, "throat gap": 18.0})
    assert table["kind"] == "weld yoke"
    assert table == {"kind": "weld yoke", "ear_radius": "20.48 mm", "throat_depth": "31.48 mm"}
