"""Yokes are chosen and measured through the text of the rig file."""

import shutil
from pathlib import Path

import pytest

from geometry.errors import BindpointError
from sim.parts.caliper import caliper_form
from sim.parts.catalogue import dimension_names, yoke_kinds
from tests.demo_scans import WELD
from tests.outside.drawn.yokes import CONTRADICTING
from viewer.draw.plan import Head
from viewer.session.sheet.yoke_pick import YokePick
from viewer.session.text.document import Document
from viewer.session.text.order import Order
from viewer.session.work.tasks import compute

KEY = "shaft.pinion_end.pinion_yoke"


@pytest.fixture
def document() -> Document:
    return Document.demo("long-legged-trail-wagon")


def test_a_kind_chosen_is_in_the_rig(document: Document) -> None:
    pick = YokePick(document, KEY)
    assert pick.kind == "strap yoke"
    assert pick.cross == "27 x 82"
    for kind in pick.kinds:
        pick.choose(kind)
        assert pick.kind == kind
        assert document.is_right, document.problems
        assert document.rig.shaft.pinion_end.pinion_yoke.name == kind
    assert set(pick.kinds) < set(yoke_kinds())


def test_choosing_the_same_again_is_no_step(document: Document) -> None:
    pick = YokePick(document, KEY)
    pick.choose(pick.kind)
    pick.choose_cross(pick.cross)
    assert document.undo_name is None


def test_a_dimension_of_ones_own_comes_and_goes(document: Document) -> None:
    pick, start = YokePick(document, KEY), document.rig
    assert [each.name for each in pick.dimensions] == [
        each.name for each in dimension_names("strap yoke")
    ]
    pick.measure("throat_depth", " 1 3/8 in ")
    assert document.is_right
    own = document.rig.shaft.pinion_end.pinion_yoke
    assert own.overrides["throat_depth"] == pytest.approx(34.925, abs=1e-9)
    depth = next(each for each in pick.dimensions if each.name == "throat_depth")
    assert depth.typed == "1 3/8 in"
    assert "mm" in depth.generic
    pick.measure("throat_depth", "")
    assert document.rig == start
    assert document.typed(KEY) == "strap yoke"


def test_what_is_wrong_with_a_dimension_is_said_there(document: Document) -> None:
    pick = YokePick(document, KEY)
    pick.measure("throat_depth", "deep")
    wrong = {each.name: each.problem for each in pick.dimensions if each.problem}
    assert list(wrong) == ["throat_depth"]
    assert "deep" in wrong["throat_depth"]
    assert not document.is_right


def test_another_kind_takes_no_dimensions_of_the_one_before(document: Document) -> None:
    pick = YokePick(document, KEY)
    pick.measure("throat_depth", "1 3/8 in")
    pick.choose("flange yoke")
    assert document.typed(KEY) == "flange yoke"
    document.undo()
    assert document.typed(KEY) == {"kind": "strap yoke", "throat_depth": "1 3/8 in"}


def test_a_trade_size_is_known_as_its_size(document: Document) -> None:
    document.set({"shaft.pinion_end.cross": "1350"})
    assert YokePick(document, KEY).cross == "30 x 92"
    document.set({"shaft.pinion_end.cross": "huge"})
    assert YokePick(document, KEY).cross == "30 x 92"
    assert not document.is_right


def test_a_yoke_from_a_mesh_file_is_named_from_the_rigs_folder(tmp_path: Path) -> None:
    rig = tmp_path / "mine.toml"
    rig.write_text(Document.demo("long-legged-trail-wagon").text, "utf-8")
    shutil.copy(WELD.path, tmp_path / WELD.path.name)
    document = Document.open(rig)
    pick = YokePick(document, "shaft.pinion_end.shaft_yoke")
    pick.take_file(tmp_path / WELD.path.name)
    assert document.is_right, document.problems
    assert document.typed(pick.key) == {"kind": "own yoke", "file": WELD.path.name}
    assert pick.is_own
    assert [each.name for each in pick.dimensions] == ["file", "unit", "weld_land", "cap_length"]
    pick.measure("unit", "furlongs")
    assert {each.name for each in pick.dimensions if each.problem} == {"unit"}
    pick.measure("unit", "mm")
    pick.measure("weld_land", "2 1/8 in")
    assert document.is_right, document.problems
    pick.choose("weld yoke")
    assert document.typed(pick.key) == "weld yoke"


@pytest.mark.slow
@pytest.mark.parametrize("kind", yoke_kinds())
def test_every_dimension_is_drawn_or_told(document: Document, kind: str) -> None:
    pick = YokePick(document, KEY)
    pick.choose(kind)
    drawn = {each.name: pick.drawn(each.name) for each in pick.dimensions}
    for name, (plan, says) in drawn.items():
        assert len(says) > 15, name
        if plan is not None:
            assert any(isinstance(mark, Head) for mark in plan.marks), name
    read = {reading.dimension for reading in caliper_form(kind, pick.cross)}
    assert {name for name, (plan, _) in drawn.items() if plan is not None} == read


def test_what_does_not_go_with_the_others_is_marked_where_it_is_typed(document: Document) -> None:
    pick = YokePick(document, KEY)
    pick.choose("weld yoke")
    pick.measure("throat_depth", "9 in")
    pick.measure("pilot_length", "1/2 in")
    said = {each.name: each.problem for each in pick.dimensions if each.typed is not None}
    assert said["throat_depth"] is not None
    assert said["pilot_length"] is None
    assert pick.problem is not None
    assert "_" not in pick.problem


def test_a_mesh_file_that_is_not_there_is_told_at_the_file(tmp_path: Path) -> None:
    document = Document.demo("long-legged-trail-wagon")
    pick = YokePick(document, KEY)
    pick.take_file(tmp_path / "gone.stl")
    file = next(each for each in pick.dimensions if each.name == "file")
    assert file.problem is not None
    assert "gone.stl" in file.problem


@pytest.mark.slow
def test_a_mesh_whose_ears_and_stub_contradict_is_asked_back_in_one_line(tmp_path: Path) -> None:
    """Chosen like any file; the answer says what is wrong with it instead of a verdict."""
    drawn = next(yoke for yoke in CONTRADICTING if yoke.name == "beside")
    document = Document.demo("long-legged-trail-wagon")
    pick = YokePick(document, KEY)
    pick.take_file(drawn.write(tmp_path))
    pick.measure("unit", "mm")
    with pytest.raises(BindpointError, match=r"2\.3 mm beside the middle") as told:
        compute("check", Order(document.text, "rig", tmp_path), lambda *_: None)
    assert KEY in str(told.value)
    assert len(str(told.value).splitlines()) == 1
