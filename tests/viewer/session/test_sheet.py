"""The sheet has a row for whatever the schema knows, says what is typed, assumed and wrong."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.rig.demos import demo_names
from sim.rig.rig import Rig
from sim.suspension import KINDS
from sim.table.structure import fields_of, tables
from viewer.session.compare import typed_differences
from viewer.session.sheet.edits import add, choose_kind, take_away, type_into
from viewer.session.sheet.sheet import Field, Group, sheet
from viewer.session.text.document import Document
from viewer.words.remarks import said as in_words

WAGON = "long-legged-trail-wagon"


def rows(document: Document) -> dict[str, Field]:
    """Rows that are shown, by every key path they stand for."""
    return {
        key: field
        for group in sheet(document)
        if group.there
        for field in group.fields
        for key in (field.key, *(other for other, _ in field.others))
    }


def group(document: Document, key: str) -> Group:
    return next(each for each in sheet(document) if each.key == key)


def leaves(data: Any, path: str = "") -> list[str]:
    """Key paths of everything typed, points as one."""
    if isinstance(data, Mapping):
        inner = [(f"{path}.{key}" if path else key, each) for key, each in data.items()]
    elif isinstance(data, list) and any(isinstance(each, Mapping) for each in data):
        inner = [(f"{path}[{n}]", each) for n, each in enumerate(data, start=1)]
    else:
        return [path]
    return [leaf for place, each in inner for leaf in leaves(each, place)]


@pytest.mark.parametrize("name", demo_names())
def test_whatever_is_typed_has_one_row_that_says_it(name: str) -> None:
    document = Document.demo(name)
    shown = [field for each in sheet(document) if each.there for field in each.fields]
    assert max(Counter(field.key for field in shown).values()) == 1
    for leaf in leaves(document.data):
        if leaf == "schema":
            continue
        homes = [f for f in shown if leaf == f.key or leaf.startswith((f"{f.key}.", f"{f.key}["))]
        assert len(homes) == 1, leaf
        assert homes[0].typed == document.typed(homes[0].key)


@pytest.mark.parametrize("name", demo_names())
def test_a_table_that_is_there_shows_every_key_of_its_schema(name: str) -> None:
    document = Document.demo(name)
    groups = sheet(document)
    known = {".".join(str(step) for step in path): part for path, part in tables(Rig)}
    one_kind = {
        path: fields_of(part)
        for path, part in known.items()
        if sum(".".join(map(str, other)) == path for other, _ in tables(Rig)) == 1
    }
    titles = {each.key for each in groups}
    for each in groups:
        plain = each.key.split("[")[0] if each.entry else each.key
        if not each.there or plain not in one_kind:
            continue
        own = {key for field in each.fields for key in (field.key, *dict(field.others))}
        for key in one_kind[plain]:
            path = f"{each.key}.{key}" if each.key else key
            if path not in own:
                assert path in titles or key in (
                    "schema",
                    "negative_caster",
                    "caster",
                    "hubs",
                    "head",
                ), path


@pytest.mark.parametrize("name", demo_names())
def test_what_is_assumed_is_said_with_its_reason(name: str) -> None:
    document = Document.demo(name)
    shown = rows(document)
    for assumed in document.rig.assumed:
        if assumed.key == "schema":
            continue
        field = shown[assumed.key]
        assert field.is_assumed
        assert field.assumed == assumed.value
        assert field.why == assumed.why


def test_an_assumed_value_that_is_kept_changes_nothing_but_where_it_is_from() -> None:
    document = Document.demo(WAGON)
    field = rows(document)["wanted.bend"]
    before = document.rig.model_dump()
    type_into(document, field, field.assumed)
    assert document.rig.model_dump() == before
    assert not rows(document)["wanted.bend"].is_assumed
    assert "wanted.bend" not in [each.key for each in document.rig.assumed]


def test_an_empty_row_goes_back_to_the_assumed_value() -> None:
    document = Document.demo(WAGON)
    type_into(document, rows(document)["wanted.bend"], "4 deg")
    type_into(document, rows(document)["wanted.bend"], "  ")
    assert document.typed("wanted.bend") is None
    assert rows(document)["wanted.bend"].is_assumed
    assert document.is_right


@pytest.mark.slow
@given(
    whole=st.integers(1, 11),
    part=st.sampled_from(["", " 1/2", "-3/8", ".25", " 5/16"]),
    unit=st.sampled_from([" in", '"', " IN"]),
    space=st.sampled_from(["", " ", "  "]),
)
def test_a_length_is_kept_as_it_was_typed(whole: int, part: str, unit: str, space: str) -> None:
    document = Document.demo(WAGON)
    text = f"{whole}{part}{unit}"
    type_into(document, rows(document)["travel.droop"], f"{space}{text}{space}")
    assert rows(document)["travel.droop"].typed == text
    assert typed_differences(Document.demo(WAGON).text, document.text)[:1] != () or text == "9 in"
    document.undo()
    assert document.text == Document.demo(WAGON).text


@pytest.mark.slow
@given(
    keys=st.lists(st.integers(0, 200), min_size=1, max_size=4),
    junk=st.sampled_from(["nonsense", "-1 in", "5", "12 deg", "1e999 in", "\u00bd", '"', "\\"]),
)
def test_every_problem_is_said_somewhere(keys: list[int], junk: str) -> None:
    document = Document.demo(WAGON)
    for place in keys:
        fields = [f for each in sheet(document) if each.there for f in each.fields]
        field = fields[place % len(fields)]
        value: Any = [junk, "0 in", "0 in"] if field.kind == "point" else junk
        type_into(document, field, value)
    groups = sheet(document)
    said = " ".join(
        filter(
            None,
            [each.problem for each in groups]
            + [field.problem for each in groups if each.there for field in each.fields],
        )
    )
    for problem in document.problems:
        assert in_words(problem.expected) in said or problem.key in said
    assert bool(said) != document.is_right


@pytest.mark.slow
def test_a_problem_stands_at_its_own_row_and_at_no_other() -> None:
    document = Document.demo(WAGON)
    for key, field in rows(document).items():
        if field.kind != "text" or field.typed is None or "." not in key or key != field.key:
            continue
        type_into(document, field, "nonsense")
        if key.endswith(".name"):
            assert document.is_right
        else:
            wrong = {f.key for f in rows(document).values() if f.problem is not None}
            assert wrong == {key}
            assert "nonsense" in str(rows(document)[key].problem)
        document.undo()


def test_a_key_nobody_knows_is_told_at_the_top() -> None:
    document = Document.demo(WAGON)
    document.set({"travel.drop": "3 in"})
    top = sheet(document)[0]
    assert top.problem is not None
    assert "travel.drop" in top.problem
    assert "droop" in top.problem


def test_the_other_way_to_say_it_takes_the_first_away() -> None:
    document = Document.demo(WAGON)
    field = rows(document)["output.points_down"]
    assert [key for key, _ in field.others] == ["output.points_down", "output.points_up"]
    type_into(document, field, "2 deg", "output.points_up")
    assert document.typed("output.points_down") is None
    assert rows(document)["output.points_up"].typed == "2 deg"
    assert rows(document)["output.points_up"].key == "output.points_up"


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", [WAGON, "river-bend-hauler", "marsh-runner"])
def test_every_kind_of_suspension_starts_from_something_right(name: str, kind: str) -> None:
    document = Document.demo(name)
    choose_kind(document, rows(document)["suspension.kind"], kind)
    assert document.is_right, document.problems
    assert document.rig.suspension.kind == kind
    document.undo()
    assert document.text == Document.demo(name).text


@pytest.mark.parametrize("name", demo_names())
def test_tables_are_added_and_taken_away_again(name: str) -> None:
    document = Document.demo(name)
    start = document.text
    for each in sheet(document):
        if not each.optional:
            continue
        (take_away if each.there else add)(document, each)
        assert document.text != start
        sheet(document)
        document.undo()
        assert document.text == start


@pytest.mark.parametrize("name", demo_names())
def test_one_more_of_a_list_comes_last_and_goes_again(name: str) -> None:
    document = Document.demo(name)
    count = len(document.typed("surroundings") or [])
    add(document, group(document, "surroundings"))
    assert document.is_right, document.problems
    assert len(document.rig.surroundings) == count + 1
    take_away(document, group(document, f"surroundings[{count + 1}]"))
    assert document.is_right
    assert len(document.rig.surroundings) == count


def test_a_thing_is_one_shape_at_a_time() -> None:
    document = Document.demo(WAGON)
    add(document, group(document, "surroundings[1].cylinder"))
    assert document.is_right, document.problems
    assert document.typed("surroundings[1].box") is None
    assert group(document, "surroundings[1].cylinder").there
    assert not group(document, "surroundings[1].box").there


def test_a_wrap_table_takes_the_place_of_the_degrees() -> None:
    document = Document.demo(WAGON)
    add(document, group(document, "wrap"))
    assert document.typed("travel.nose_up") is None
    choose_kind(document, rows(document)["wrap.kind"], "springs")
    assert document.typed("wrap.kind") == "springs"
    assert any(field.problem for field in rows(document).values())


def test_sizes_of_cross_and_kinds_of_yoke_can_be_chosen() -> None:
    shown = rows(Document.demo(WAGON))
    assert "27 x 82" in shown["shaft.output_end.cross"].choices
    assert "deep-throat weld yoke" in shown["shaft.output_end.shaft_yoke"].choices
    assert "sliding yoke" not in shown["shaft.output_end.shaft_yoke"].choices
    assert "sliding yoke" in shown["shaft.output_end.output_yoke"].choices
    assert shown["suspension.kind"].choices == tuple(KINDS)
    assert shown["shaft.slip.at"].choices == ("shaft", "output")
