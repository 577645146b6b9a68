"""Every key of the schema says what it is called, from where to where it goes, its unit and range.

What stands at a key is read by the window's sheet, by the questions of `bindpoint new`, by the JSON
Schema for editors and by the page of keys; a new key without it fails here.
"""

import json
import re
from collections.abc import Iterator
from itertools import islice
from math import degrees
from typing import Any

import pytest
from pydantic.fields import FieldInfo

from sim.rig.choice import Choice
from sim.rig.demos import demo_names
from sim.rig.json_schema import json_schema
from sim.rig.keys import form_at, keys_by_path
from sim.rig.rig import Rig
from sim.table.fields import Name, OfAngle, OfLength, Point, Size
from sim.table.form import Form, field, form_of
from sim.table.kinds import Typed, kind_of
from sim.table.limits import LIMITS
from sim.table.part import Part
from sim.table.structure import holds, parts_of, tables, words_of
from tests.rig_keys_page import PAGE, page
from viewer.interview.question import Question
from viewer.interview.script import questions
from viewer.session.sheet.sheet import sheet
from viewer.session.text.document import Document
from viewer.words.keys import label_of

TEXTS = {
    "name",
    "note",
    "file",
    "kind",
    "size",
    "at",
    "schema",
    "catches_at",
    "tool",
    "lengths",
    "angles",
    "parts",
    "who",
    "when",
}
"""Keys whose value is any text, a name of the catalogue, a height of the axle, a name of a tool."""

DATUM = re.compile(
    r"\b(from|to|of|over|between|against|toward|before|about|diameter|thickness|forward"
    r"|how (far|much))\b",
    re.IGNORECASE,
)
"""What a datum has: a place that is measured from, to or against, or a size of a thing."""


def lacks(place: str, info: FieldInfo) -> Iterator[str]:
    """What a key does not say."""
    form, kind = form_of(info), kind_of(info)
    parts = list(parts_of(info.annotation))
    if not label_of(place).strip():
        yield "a name"
    if parts and not issubclass(parts[0], Choice):
        return
    told = form.help(info.description or (parts[0].__doc__ if parts else "") or "")
    if not told.endswith((".", '"')) or len(told.split()) < 2:
        yield "what it means, in a sentence"
    point = holds(info.annotation, tuple)
    if (point or isinstance(kind, OfLength | OfAngle)) and not DATUM.search(told):
        yield "a datum"
    if kind is not None:
        if not kind.range.least < kind.range.most:
            yield "a range"
        if isinstance(kind, Typed | OfLength | OfAngle) and not (kind.range.unit and kind.examples):
            yield "a unit"
    elif not (parts or point or words_of(info.annotation) or holds(info.annotation, bool)) and (
        place.rpartition(".")[2] not in TEXTS
    ):
        yield "a kind of value"
    if form.asks and not form.asks.endswith("?"):
        yield "a question"
    if form.usual and kind and not kind.range.least <= form.usual.least < form.usual.most:
        yield "a plausible range"


@pytest.mark.parametrize("place", keys_by_path())
def test_it_says_all_that_whoever_fills_it_in_wants_to_know(place: str) -> None:
    assert list(lacks(place, keys_by_path()[place][1])) == []


def test_each_kind_of_table_says_it_too() -> None:
    for path, part in tables(Rig):
        for name, info in part.model_fields.items():
            place = ".".join(map(str, (*path, info.alias or name)))
            assert list(lacks(place, info)) == [], place


class _Careless(Part):
    """A table with keys that say too little."""

    bare: Size
    terse: Size = field("Long.")
    datumless: Point = field("Where it is, roughly speaking.")
    kindless: Name | None = field("A word from anybody.", default=None)
    unasked: Size = field("From here to there.", asks="Tell me")


def test_a_key_that_says_too_little_is_found() -> None:
    found = {name: list(lacks(name, info)) for name, info in _Careless.model_fields.items()}
    assert found["bare"] == ["what it means, in a sentence", "a datum"]
    assert found["terse"] == ["what it means, in a sentence", "a datum"]
    assert found["datumless"] == ["a datum"]
    assert found["kindless"] == ["a kind of value"]
    assert found["unasked"] == ["a question"]


WAYS: tuple[dict[str, Any], ...] = (
    {},
    {"(datum)": "tape", "ride_height.tape.at_output": "shaft end", "shaft.slip.at": "output"},
    {"(way)": "coordinates", "axle.position": "front", "wrap.kind": "angles", "(drive)": True},
    {"(layout)": True, "(pieces)": True, "wrap.kind": "mark", "(test torque)": "bar"},
    {"(layout)": True, "shaft.output_end.joint": "double", "suspension.kind": "leaf"},
    {"suspension.kind": "measured", "suspension.readings[1].at": "ride", "travel.nose_up": "3 deg"},
    {"suspension.kind": "links", "(track bar)": True, "(links done)": True},
    {"(truck)": "both", "visits[1].when": "2026-04-12", "visits[1].length": "36 in"}
    | {
        f"(seen_on_truck[{place}] saw)": what
        for place, what in enumerate(
            ("free", "slip open", "slip closed", "paint open", "paint closed"), start=1
        )
    },
)
"""Answers that lead to every branch of the questions."""


@pytest.mark.parametrize("said", WAYS)
def test_a_question_about_a_key_says_what_stands_at_the_key(said: dict[str, Any]) -> None:
    for question in questions(said):
        assert question.asks.endswith(("?", "ticket)"))
        assert question.means
        form = form_of_question(question)
        if form.asks:
            assert re.fullmatch(re.sub(r"\\\{\w+\\\}", ".+", re.escape(form.asks)), question.asks)
            assert question.beware == form.beware
            if "{" not in form.datum:
                assert question.means.startswith(form.datum)


def form_of_question(question: Question) -> Form:
    """What stands at the key that a question asks for; of a link at the list."""
    names = {"suspension.kind": "suspension", "suspension.links[1].name": "suspension.links"}
    return form_at(names.get(question.name, question.name))


def test_every_question_of_the_schema_is_asked_on_some_way() -> None:
    asked = {form_of_question(each).asks for said in WAYS for each in questions(said)}
    asked |= {
        form_of_question(each).asks
        for place in ("axle", "pinion")
        for each in questions({"wrap.kind": "mark", "(test torque)": place})
    }
    # A link that has its name; the next one is asked for without an end.
    link = {"suspension.kind": "links", "suspension.links[1].name": "lower"}
    asked |= {form_of_question(each).asks for each in islice(questions(link), 60)}
    known = {form_of(info).asks for _, info in keys_by_path().values()} - {""}
    assert known == asked - {""}


@pytest.mark.parametrize("name", demo_names())
def test_a_row_of_the_sheet_says_what_stands_at_the_key(name: str) -> None:
    for group in sheet(Document.demo(name)):
        for row in group.fields:
            form = form_at(row.key)
            if not row.key.startswith(("suspension", "wrap")):  # of several kinds the first
                assert form.beware in row.help
                assert "{" in form.datum or form.datum in row.help
                assert row.label == (form.name or row.label)


def test_editors_are_told_the_same() -> None:
    told = json.dumps(json_schema())
    for place, (_, info) in keys_by_path().items():
        form = form_of(info)
        if "{" not in form.datum:
            assert json.dumps(form.datum)[1:-1] in told, place
        assert json.dumps(form.beware)[1:-1] in told, place


def test_where_a_value_lies_as_a_rule_is_where_no_note_is_made() -> None:
    usual = {key: form_at(f"travel.{key}").usual for key in ("roll", "nose_up", "nose_down")}
    limits = {"roll": LIMITS.much_roll, "nose_up": LIMITS.much_wrap, "nose_down": LIMITS.much_wrap}
    assert {key: found and found.most for key, found in usual.items()} == {
        key: degrees(most) for key, most in limits.items()
    }
    length = form_at("ride_height.length").usual
    assert length is not None
    assert (length.least, length.most) == (LIMITS.short_shaft / 25.4, LIMITS.long_shaft / 25.4)


def test_the_page_of_keys_is_the_schemas() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), (
        "write it anew: python -m tests.rig_keys_page"
    )
