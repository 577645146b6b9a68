"""The rig file being worked on keeps what was typed, every version, and what is wrong."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.rig import RigError, load_rig
from sim.rig.change import EditError
from sim.rig.demos import demo_names
from tests.viewer.session.conftest import RIGS
from viewer.session.text.document import Document

WAGON = RIGS / "long-legged-trail-wagon.toml"


def test_only_the_value_changes_and_every_remark_stays() -> None:
    document = Document.open(WAGON)
    before = document.text.splitlines()
    document.set({"travel.droop": "7 1/2 in"})
    after = document.text.splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert [b.split("#")[0].strip() for _, b in changed] == ['droop = "7 1/2 in"']
    assert document.rig.travel.droop.mm == pytest.approx(7.5 * 25.4, abs=1e-9)


def test_undo_and_redo_go_through_every_version() -> None:
    document = Document.open(WAGON)
    versions = [document.text]
    for inches in range(1, 40):
        document.set({"travel.droop": f"{inches} in"})
        versions.append(document.text)
    for text in reversed(versions[:-1]):
        document.undo()
        assert document.text == text
    assert document.undo_name is None
    for text in versions[1:]:
        document.redo()
        assert document.text == text
    assert document.redo_name is None


def test_a_wrong_value_stays_where_it_was_typed_beside_the_last_right_rig() -> None:
    document = Document.open(WAGON)
    right = document.rig
    document.set({"travel.droop": "6 furlongs"})
    assert not document.is_right
    assert document.typed("travel.droop") == "6 furlongs"
    assert [problem.key for problem in document.problems] == ["travel.droop"]
    assert document.rig is right
    document.undo()
    assert document.is_right
    assert document.problems == ()


def test_a_key_of_a_set_takes_the_others_away() -> None:
    """An output joint can be told by its place or by the ride height's numbers, not by both."""
    document = Document.open(WAGON)
    assert document.typed("output.points_down") is not None
    document.set({"output.points_up": "2 deg"})
    assert document.typed("output.points_down") is None
    assert document.is_right


def test_a_table_that_is_missing_is_made_and_one_that_is_not_a_place_is_refused() -> None:
    document = Document.open(WAGON)
    document.set({"wanted.bend": "3 deg"})
    assert document.rig.wanted.bend.rad == pytest.approx(0.05235987755982988, abs=1e-12)
    before = document.text
    for key in ("suspension.readings[7].length", "travel.droop.more", "travel..droop"):
        with pytest.raises(EditError, match="expected"):
            document.set({key: "1 in"})
    assert document.text == before


def test_a_part_with_dimensions_of_its_own_fits_into_a_table_on_one_line() -> None:
    document = Document.open(WAGON)
    own = {"kind": "strap yoke", "throat_depth": "1 1/2 in"}
    document.set({"shaft.pinion_end.pinion_yoke": own})
    assert document.typed("shaft.pinion_end.pinion_yoke") == own
    assert document.rig.shaft.pinion_end.pinion_yoke.overrides["throat_depth"] == pytest.approx(
        38.1, abs=1e-9
    )
    document.set({"shaft.pinion_end.pinion_yoke.throat_depth": "1 3/8 in"})
    assert document.typed("shaft.pinion_end.pinion_yoke.throat_depth") == "1 3/8 in"


def test_entries_are_added_to_a_list_and_taken_away() -> None:
    document = Document.open(WAGON)
    box = {"at": ["20 in", "0 in", "14 in"], "size": ["3 in", "30 in", "3 in"]}
    document.set({"surroundings[2]": {"name": "tank", "box": box}})
    assert [thing.name for thing in document.rig.surroundings] == ["crossmember", "tank"]
    document.set({"surroundings[1]": None})
    assert [thing.name for thing in document.rig.surroundings] == ["tank"]
    with pytest.raises(EditError, match="not there"):
        document.set({"surroundings[2]": None})


def test_what_is_saved_is_what_was_typed(tmp_path: Path) -> None:
    document = Document.open(WAGON)
    assert not document.is_dirty
    document.set({"name": "Another wagon \N{EM DASH} 2", "travel.droop": '7"'})
    assert document.is_dirty
    document.save(tmp_path / "mine.toml")
    assert not document.is_dirty
    again = load_rig(tmp_path / "mine.toml")
    assert again == document.rig
    assert again.travel.droop.mm == pytest.approx(177.8, abs=1e-9)


def test_a_save_that_fails_loses_nothing(tmp_path: Path) -> None:
    document = Document.open(WAGON)
    document.set({"travel.droop": "7 in"})
    with pytest.raises(OSError, match="no such folder"):
        document.save(tmp_path / "no such folder" / "mine.toml")
    assert document.is_dirty
    assert document.path == WAGON


def test_another_program_is_noticed(tmp_path: Path) -> None:
    place = tmp_path / "mine.toml"
    place.write_bytes(WAGON.read_bytes())
    document = Document.open(place)
    document.set({"travel.droop": "7 in"})
    mine = document.text
    assert not document.changed_outside
    place.write_text(place.read_text("utf-8").replace("trail wagon", "track wagon"), "utf-8")
    assert document.changed_outside
    document.keep_mine()
    assert not document.changed_outside
    assert document.is_dirty
    document.reload()
    assert "track wagon" in document.text
    assert not document.is_dirty
    document.undo()
    assert document.text == mine


def test_a_file_that_became_no_rig_is_refused_and_the_text_stays(tmp_path: Path) -> None:
    place = tmp_path / "mine.toml"
    place.write_bytes(WAGON.read_bytes())
    document = Document.open(place)
    before = document.text
    place.write_text("nonsense", "utf-8")
    with pytest.raises(RigError):
        document.reload()
    assert document.text == before


def test_a_rig_without_a_file_is_to_be_saved_somewhere() -> None:
    document = Document.of(load_rig(WAGON))
    assert document.is_dirty
    assert document.rig == load_rig(WAGON)
    with pytest.raises(ValueError, match="no path"):
        document.save()


def test_typing_that_goes_on_is_one_step_and_back_to_the_start_is_none() -> None:
    document = Document.demo(WAGON.stem)
    first = document.typed("travel.droop")
    document.set({"travel.bump": "3 in"}, "bump")
    for text in ("8", "8 i", "8 in"):
        document.set({"travel.droop": text}, "droop", joined=True)
    document.undo()
    assert (document.typed("travel.droop"), document.typed("travel.bump")) == (first, "3 in")
    document.redo()
    assert document.typed("travel.droop") == "8 in"
    document.set({"travel.droop": "7 in"}, "droop", joined=True)
    document.undo()
    assert document.typed("travel.droop") == "8 in", "what was redone is a step of its own"
    document.set({"travel.droop": "8"}, "droop", joined=True)
    document.set({"travel.droop": "8 in"}, "droop", joined=True)
    document.undo()
    assert document.typed("travel.droop") == first


@pytest.mark.slow
@given(steps=st.lists(st.sampled_from(["set", "undo", "redo"]), max_size=30))
def test_undo_after_anything_is_the_version_before(steps: list[str]) -> None:
    """Against the plainest model there is: a list of versions and a place in it."""
    document = Document.open(WAGON)
    versions, place = [document.text], 0
    for number, step in enumerate(steps, start=1):
        if step == "set":
            document.set({"travel.bump": f"{number / 8:g} in"})
            versions[place + 1 :] = [document.text]
            place += 1
        elif step == "undo":
            document.undo()
            place = max(0, place - 1)
        else:
            document.redo()
            place = min(len(versions) - 1, place + 1)
        assert document.text == versions[place]


@pytest.mark.parametrize("path", sorted(RIGS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_demo_rig_opens_and_is_clean(path: Path) -> None:
    document = Document.open(path)
    assert document.is_right
    assert not document.is_dirty
    assert path.stem in demo_names()
