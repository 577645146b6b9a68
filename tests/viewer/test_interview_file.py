"""The interview that writes what it was told as a rig file."""

from pathlib import Path

import pytest

from sim.rig import RigError, load_rig, parse_rig, rig_text
from tests.viewer.test_interview import PHONE, PHONE_CALL, Person
from viewer.interview import new_rig_file


def test_a_commented_file_is_written(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    person = Person(PHONE)
    rig = new_rig_file(path, person.ask, person.tell)
    assert rig == load_rig(path) == parse_rig(PHONE_CALL)
    text = path.read_text(encoding="utf-8")
    assert text == rig_text(parse_rig(PHONE_CALL))
    assert "# How far the axle hangs down from ride height" in text


def test_a_file_that_is_there_is_not_overwritten_unawares(tmp_path: Path) -> None:
    path = tmp_path / "old.toml"
    path.write_text("old", encoding="utf-8")
    person = Person(PHONE)
    with pytest.raises(RigError, match="a file that exists already"):
        new_rig_file(path, person.ask, person.tell)
    assert person.asked == []
    assert path.read_text(encoding="utf-8") == "old"
    assert new_rig_file(path, person.ask, person.tell, overwrite=True) == load_rig(path)


def test_nothing_is_written_when_ended_early(tmp_path: Path) -> None:
    person = Person({"rear or the front": "quit"})
    assert new_rig_file(tmp_path / "new.toml", person.ask, person.tell) is None
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_cannot_be_written(tmp_path: Path) -> None:
    person = Person(PHONE)
    with pytest.raises(RigError, match="a place to save to"):
        new_rig_file(tmp_path / "nowhere" / "new.toml", person.ask, person.tell)
