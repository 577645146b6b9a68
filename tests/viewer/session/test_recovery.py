"""Unsaved work survives the end of the program, and never touches the user's file."""

import shutil
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sim.kept.lock import Lock
from tests.viewer.session.conftest import RIGS
from viewer.session.kept.recovery import LONGEST, REST, Autosave, Lost, lost_work
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.state_folder import FOLDER_VARIABLE, recall, state_folder

WAGON = RIGS / "long-legged-trail-wagon.toml"
Opening = Callable[[str], Session]


class Clock:
    """Goes on when the test says so."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    return Path(shutil.copy(WAGON, tmp_path / "wagon.toml"))


def crash(rig: Path, folder: Path, *edits: str) -> None:
    """Run a program on a rig and kill it with its work unsaved."""
    before = lost_work(folder)
    command = [sys.executable, "-m", "tests.viewer.session.crashing", str(rig), str(folder)]
    with subprocess.Popen(
        [*command, *edits],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        cwd=Path(__file__).parents[3],
        text=True,
    ) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "kept\n"
        # Alive, it holds its work: nobody else is offered it.
        assert lost_work(folder) == before
        program.kill()


@pytest.mark.slow
def test_a_killed_program_loses_nothing(rig: Path, tmp_path: Path) -> None:
    before = rig.read_bytes()
    folder = tmp_path / "unsaved"
    crash(rig, folder, "travel.droop=7 3/4 in", "travel.bump=3 in")
    assert rig.read_bytes() == before
    (lost,) = lost_work(folder)
    assert (lost.name, lost.path) == ("wagon.toml", rig)
    assert abs(datetime.now(UTC) - lost.written) < timedelta(minutes=5)
    document = lost.document()
    assert document.typed("travel.droop") == "7 3/4 in"
    assert document.rig.travel.droop.mm == pytest.approx(7.75 * 25.4, abs=1e-9)
    assert (document.path, document.is_dirty) == (rig, True)
    assert rig.read_bytes() == before, "only saving may write the user's file"
    document.undo()
    assert document.text == before.decode()
    assert not document.is_dirty
    lost.forget()
    assert lost_work(folder) == []
    assert list(folder.iterdir()) == []


@pytest.mark.slow
def test_work_that_could_not_be_right_comes_back_as_it_was(rig: Path, tmp_path: Path) -> None:
    crash(rig, tmp_path / "unsaved", "travel.droop=7 furlongs")
    (lost,) = lost_work(tmp_path / "unsaved")
    document = lost.document()
    assert document.typed("travel.droop") == "7 furlongs"
    assert [problem.key for problem in document.problems] == ["travel.droop"]


@pytest.mark.slow
def test_work_saved_just_before_the_end_is_not_lost(rig: Path, tmp_path: Path) -> None:
    crash(rig, tmp_path / "unsaved", "travel.droop=7 3/4 in")
    (lost,) = lost_work(tmp_path / "unsaved")
    rig.write_text(lost.text, encoding="utf-8")
    assert lost_work(tmp_path / "unsaved") == []
    assert list((tmp_path / "unsaved").iterdir()) == []


@pytest.mark.slow
@pytest.mark.parametrize("fate", ["gone", "no rig any more"])
def test_work_outlives_its_file(rig: Path, tmp_path: Path, fate: str) -> None:
    crash(rig, tmp_path / "unsaved", "travel.bump=3 in", "travel.droop=7 furlongs")
    if fate == "gone":
        rig.unlink()
    else:
        rig.write_text("schema = 7\n", encoding="utf-8")
    (lost,) = lost_work(tmp_path / "unsaved")
    assert lost.file_is_newer is (fate != "gone")
    document = lost.document()
    assert document.typed("travel.droop") == "7 furlongs"
    assert document.path is None, "saving asks for a place"
    assert document.is_dirty
    assert document.rig.travel.bump.mm == pytest.approx(76.2, abs=1e-9)


def test_it_is_kept_once_typing_rests_or_has_gone_on_for_long(
    open_rig: Opening, tmp_path: Path
) -> None:
    session, clock = open_rig("long-legged-trail-wagon"), Clock()
    autosave = Autosave(session, tmp_path, clock)

    def kept_after(seconds: float) -> bool:
        clock.now += seconds
        autosave.tick()
        autosave.wait()
        return autosave.file.exists()

    assert not kept_after(10.0), "nothing to save"
    session.document.set({"travel.droop": "7 in"})
    assert not kept_after(0.9 * REST)
    session.document.set({"travel.droop": "6 in"})
    assert not kept_after(0.9 * REST), "typing goes on"
    assert kept_after(0.2 * REST)
    assert 'droop = "6 in"' in recall(autosave.file)["text"]
    session.document.undo()
    session.document.undo()
    assert not kept_after(2.0 * REST), "as it was: nothing to save"
    for inches in range(1, int(LONGEST / (0.8 * REST)) + 2):
        session.document.set({"travel.droop": f"{inches} in"})
        there = kept_after(0.8 * REST)
    assert there, "typing without a rest is kept too"
    autosave.close()
    assert list(tmp_path.iterdir()) == []


def test_saving_and_opening_another_rig_take_it_away(
    open_rig: Opening, rig: Path, tmp_path: Path
) -> None:
    session = open_rig("long-legged-trail-wagon")
    session.open(Document.open(rig))
    autosave = Autosave(session, tmp_path / "unsaved")

    def change() -> None:
        session.document.set({"travel.droop": session.document.typed("travel.droop") + " "})

    endings: list[Callable[[], None]] = [
        session.document.save,
        lambda: session.open(Document.open(WAGON)),
    ]
    for ending in endings:
        change()
        autosave.write()
        autosave.wait()
        assert autosave.file.exists()
        ending()
        autosave.write()
        autosave.wait()
        assert not autosave.file.exists()
    autosave.close()


@pytest.mark.slow
def test_a_demo_and_a_new_rig_come_back_without_a_file(open_rig: Opening, tmp_path: Path) -> None:
    session = open_rig("quarry-hauler")
    autosave = Autosave(session, tmp_path)
    for document in (Document.demo("marsh-runner"), Document.of(session.document.rig)):
        session.open(document)
        document.set({"name": "mine"})
        autosave.write()
        autosave.wait()
        lost = Lost(**recall(autosave.file), file=autosave.file)
        again = lost.document()
        assert (again.text, again.path, again.is_dirty) == (document.text, None, True)
    autosave.close()


def test_a_place_that_cannot_be_written_is_told_once(open_rig: Opening, tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way", encoding="utf-8")
    session = open_rig("long-legged-trail-wagon")
    autosave = Autosave(session, blocked / "unsaved")
    said: list[str] = []
    autosave.failed.connect(said.append)
    for inches in (5, 6, 7):
        session.document.set({"travel.droop": f"{inches} in"})
        autosave.write()
        autosave.wait()
    assert len(said) == 1
    assert "cannot be kept" in said[0]
    autosave.close()


def test_strange_files_are_no_work(tmp_path: Path) -> None:
    for number, text in enumerate(["", "[]", "{}", '{"format": 1, "name": 3}', "\0"]):
        (tmp_path / f"{number}.json").write_text(text, encoding="utf-8")
    assert lost_work(tmp_path) == []
    assert lost_work(tmp_path / "nowhere") == []


def test_a_lock_is_held_by_one(tmp_path: Path) -> None:
    one, other = Lock(tmp_path / "l"), Lock(tmp_path / "l")
    assert one.take()
    assert one.take()
    assert not other.take()
    one.release()
    assert other.take()
    other.release()
    assert not (tmp_path / "l").exists()


def test_the_state_folder_can_be_moved(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    assert state_folder() == tmp_path
    monkeypatch.delenv(FOLDER_VARIABLE)
    assert state_folder().name == "bindpoint"
