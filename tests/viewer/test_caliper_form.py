import re
from html import escape
from html.parser import HTMLParser

import pytest

from sim.parts.caliper import caliper_form
from sim.parts.catalogue import CatalogueError, yoke_kinds
from viewer.caliper.form import CAUTION, form_page, yoke_table


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


@pytest.mark.slow
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


def test_what_goes_into_a_rig_file() -> None:
    table = yoke_table("weld yoke", "27 x 82", {"ear wall": 7.0, "throat gap": 18.0})
    assert table["kind"] == "weld yoke"
    assert table == {"kind": "weld yoke", "ear_radius": "20.48 mm", "throat_depth": "31.48 mm"}
