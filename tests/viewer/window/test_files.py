"""Opening, saving and leaving rigs: nothing that was typed is lost without a question."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import QEvent
from PyQt6.QtWidgets import QApplication, QMainWindow, QMenu
from pytestqt.qtbot import QtBot

from sim.rig import load_rig
from tests.viewer.session.conftest import RIGS
from tests.viewer.session.conftest import Scripted as ScriptedWorker
from tests.viewer.session.test_recovery import crash
from tests.viewer.window.scripted import Scripted
from viewer.session.kept.recovery import autosave_folder, lost_work
from viewer.session.session import Session
from viewer.session.sheet.yoke_pick import YokePick
from viewer.session.text.document import Document
from viewer.window.files.actions import FileActions

WAGON = RIGS / "long-legged-trail-wagon.toml"
RUNNER = RIGS / "marsh-runner.toml"
DROOP = str(Document.open(WAGON).typed("travel.droop"))


class Place:
    """A window with a rig that lies in a file, and file actions asked by script."""

    def __init__(self, window: QMainWindow, folder: Path) -> None:
        self.folder = folder
        self.rig = Path(shutil.copy(WAGON, folder / "wagon.toml"))
        self.session = Session(Document.open(self.rig), ScriptedWorker())
        self.ask = Scripted()
        self.new: Document | None = None
        self.files = FileActions(self.session, window, self.ask, lambda _: self.new)
        self.said: list[str] = []
        self.files.told.connect(self.said.append)

    @property
    def document(self) -> Document:
        return self.session.document

    def edit(self, droop: str = "6 1/2 in") -> None:
        self.document.set({"travel.droop": droop})

    def answer(self, *answers: str | Path | None) -> None:
        self.ask.answers += answers


@pytest.fixture
def window(qtbot: QtBot) -> QMainWindow:
    window = QMainWindow()
    qtbot.addWidget(window)
    return window


@pytest.fixture
def place(window: QMainWindow, tmp_path: Path) -> Iterator[Place]:
    folder = tmp_path / "shop"
    folder.mkdir()
    place = Place(window, folder)
    yield place
    assert place.ask.answers == [], "every question was asked"
    place.files.close()
    place.session.close()


def test_saving_writes_what_was_typed_and_clears_the_mark(place: Place) -> None:
    place.edit()
    assert place.files.save()
    assert 'droop = "6 1/2 in"' in place.rig.read_text(encoding="utf-8")
    assert not place.document.is_dirty
    assert place.files.may_close(), "without a question"
    assert place.said == [f"Saved {place.rig}."]
    assert [each.path for each in place.files.recent.files] == [place.rig]


@pytest.mark.parametrize(
    ("answer", "leaves", "written"),
    [("save", True, True), ("throw away", True, False), ("back", False, False)],
)
def test_leaving_unsaved_changes_asks(
    place: Place, answer: str, leaves: bool, written: bool
) -> None:
    before = place.rig.read_bytes()
    place.edit()
    place.answer(answer)
    assert place.files.may_close() is leaves
    assert (place.rig.read_bytes() != before) is written
    assert "not saved" in place.ask.asked[0]


def test_a_demo_is_saved_where_the_user_says(place: Place) -> None:
    shipped = RUNNER.read_bytes()
    place.session.open(Document.demo("marsh-runner"))
    place.edit()
    target = place.folder / "mine"
    place.answer(None, target)
    assert not place.files.save()
    assert place.files.save()
    assert "marsh-runner-rear-shaft-invented.toml" in place.ask.asked[0]
    assert place.document.path == target.with_suffix(".toml")
    assert load_rig(target.with_suffix(".toml")).travel.droop.mm == pytest.approx(165.1, abs=1e-9)
    assert RUNNER.read_bytes() == shipped


@pytest.mark.parametrize(
    ("answer", "saved", "copied"),
    [("copy", True, True), ("point", True, False), ("back", False, False)],
)
def test_files_beside_the_rig_come_along(
    place: Place, answer: str, saved: bool, copied: bool
) -> None:
    (place.folder / "scans").mkdir()
    (place.folder / "scans" / "pipe.stl").write_bytes(b"solid")
    mesh = {"file": "scans/pipe.stl", "unit": "mm", "at": ["0 in", "0 in", "0 in"]}
    here, gone = {"name": "pipe", "mesh": mesh}, {"name": "b", "mesh": mesh | {"file": "none.stl"}}
    place.document.set({"surroundings": [here, gone]})
    assert place.files.save()
    target = place.folder.parent / "other" / "rig.toml"
    target.parent.mkdir()
    place.answer(target, answer)
    assert place.files.save_as() is saved
    assert "scans" in place.ask.asked[-1]
    assert "none.stl" not in place.ask.asked[-1], "what is not there cannot be left behind"
    assert target.exists() is saved
    assert (target.parent / "scans" / "pipe.stl").exists() is copied
    if saved:
        assert not place.document.is_dirty
        pipe = place.document.rig.folder / place.document.data["surroundings"][0]["mesh"]["file"]
        assert pipe.read_bytes() == b"solid"
        place.answer(target)
        assert place.files.save_as(), "nothing to ask: it is there"
    if copied:
        # Another pipe of that name lies in the first folder by now: it is not taken for this one.
        (target.parent / "scans" / "pipe.stl").write_bytes(b"changed")
        place.answer(place.rig, "copy")
        assert place.files.save_as()
        pipe = place.document.rig.folder / place.document.data["surroundings"][0]["mesh"]["file"]
        assert pipe.read_bytes() == b"changed"
        assert (place.folder / "scans" / "pipe.stl").read_bytes() == b"solid"


def test_a_rig_that_was_never_saved_is_asked_once_about_its_yoke(place: Place) -> None:
    scan = place.folder / "yoke.stl"
    scan.write_bytes(b"scan")
    place.session.open(Document.demo("marsh-runner"))
    key = "shaft.pinion_end.pinion_yoke"
    YokePick(place.document, key).take_file(scan)
    typed = place.document.typed(f"{key}.file")
    assert Path(typed).is_absolute(), "it has no folder to be seen from"
    target = place.folder.parent / "other" / "rig.toml"
    target.parent.mkdir()
    place.answer(target, "copy")
    assert place.files.save()
    assert place.document.typed(f"{key}.file") == "yoke.stl"
    assert (target.parent / "yoke.stl").read_bytes() == b"scan"
    assert place.files.save(), "asked once"


def test_another_file_is_never_replaced_by_a_rig(place: Place) -> None:
    photo = place.folder / "photo.toml"
    photo.write_bytes(b"\x89PNG\r\n\x1a\n")
    place.answer(photo)
    assert not place.files.save_as()
    assert "is a PNG picture" in place.ask.asked[-1]
    assert photo.read_bytes().startswith(b"\x89PNG")
    # The dialog asked about "rig", not about what becomes of it with its ending.
    other = Path(shutil.copy(RUNNER, place.folder / "rig.toml"))
    place.answer(place.folder / "rig", "back", place.folder / "rig", "replace")
    assert not place.files.save_as()
    assert other.read_bytes() == RUNNER.read_bytes()
    assert place.files.save_as()
    assert load_rig(other) == place.document.rig


def test_a_place_that_cannot_be_written_is_told_and_nothing_is_lost(place: Place) -> None:
    place.edit()
    place.answer(place.folder / "nowhere" / "rig.toml", "save")
    assert not place.files.save_as()
    assert "could not be written" in place.ask.asked[1]
    assert place.document.is_dirty
    assert place.document.path == place.rig
    assert place.files.may_close()


def test_opening_asks_first_and_going_back_changes_nothing(place: Place) -> None:
    place.edit()
    place.answer("back")
    assert not place.files.open()
    place.answer("throw away", None)
    assert not place.files.open()
    assert place.document.typed("travel.droop") == "6 1/2 in"
    place.answer("throw away", RUNNER)
    assert place.files.open()
    assert place.document.path == RUNNER
    assert [each.path for each in place.files.recent.files] == [RUNNER]


def test_everything_wrong_with_a_bad_file_is_listed(place: Place) -> None:
    bad = place.folder / "bad.toml"
    text = WAGON.read_text(encoding="utf-8")
    bad.write_text(
        text.replace(f'droop = "{DROOP}"', 'droop = "8 parsecs"\nspeed = "3 in"'), encoding="utf-8"
    )
    before = place.document
    assert not place.files.open_path(bad)
    assert place.document is before
    assert {problem.key for problem in place.ask.problems} == {"travel.droop", "travel.speed"}
    assert all(problem.file.endswith("bad.toml") for problem in place.ask.problems)
    assert not place.files.open_path(place.folder / "none.toml")
    assert not place.files.open_path(place.folder)


def test_a_new_rig_starts_unsaved(place: Place) -> None:
    assert not place.files.new(), "the user went back"
    place.new = Document.of(load_rig(RUNNER))
    assert place.files.new()
    assert place.document is place.new
    place.answer("back")
    assert not place.files.may_close()
    place.document.save(place.folder / "new.toml")


def test_wrong_values_are_not_saved_by_accident(place: Place) -> None:
    before = place.rig.read_bytes()
    place.edit("6 furlongs")
    place.answer("back")
    assert not place.files.save()
    assert place.rig.read_bytes() == before
    place.answer("save")
    assert place.files.save()
    assert b"furlongs" in place.rig.read_bytes()
    place.document.undo()
    assert place.files.save()


def changed(place: Place, droop: str) -> None:
    """Another program writes the file."""
    text = place.rig.read_text(encoding="utf-8").replace(f'"{DROOP}"', f'"{droop}"')
    place.rig.write_text(text, encoding="utf-8")


def test_a_file_changed_outside_is_noticed_by_itself(place: Place, qtbot: QtBot) -> None:
    place.answer("theirs")
    changed(place, "5 in")
    qtbot.waitUntil(lambda: place.document.typed("travel.droop") == "5 in")
    assert not place.document.is_dirty
    place.answer("theirs")
    # Editors write another file and put it in place: that one is watched too.
    other = place.folder / "beside"
    other.write_text(
        place.rig.read_text(encoding="utf-8").replace("5 in", "4.5 in"), encoding="utf-8"
    )
    other.replace(place.rig)
    qtbot.waitUntil(lambda: place.document.typed("travel.droop") == "4.5 in")
    place.document.undo()
    assert place.document.typed("travel.droop") == "5 in", "undo goes back"
    place.files.save()


def test_it_is_noticed_when_the_window_comes_to_the_front(
    place: Place, window: QMainWindow, qtbot: QtBot
) -> None:
    place.files.outside._watcher.blockSignals(True)
    place.answer("mine")
    changed(place, "5 in")
    QApplication.sendEvent(window, QEvent(QEvent.Type.WindowActivate))
    qtbot.waitUntil(lambda: not place.ask.answers)
    assert place.document.typed("travel.droop") == DROOP
    assert place.document.is_dirty, "what is here is not what is in the file"
    place.files.outside.look()
    assert len(place.ask.asked) == 1, "asked once"
    assert place.files.save()
    assert load_rig(place.rig).travel.droop.mm == load_rig(WAGON).travel.droop.mm


def test_its_own_saving_is_no_news(place: Place, qtbot: QtBot) -> None:
    for inches in (5, 6, 7):
        place.edit(f"{inches} in")
        assert place.files.save()
    with qtbot.waitSignal(place.files.outside._settle.timeout, timeout=5000):
        place.files.outside._settle.start()
    assert place.ask.asked == []


def test_a_bad_file_of_others_is_not_taken(place: Place) -> None:
    place.answer("theirs")
    place.rig.write_text("schema = 1\nnonsense = 3\n", encoding="utf-8")
    place.files.outside.look()
    assert "nonsense" in {problem.key for problem in place.ask.problems}
    assert place.document.typed("travel.droop") == DROOP
    assert place.document.is_dirty
    place.files.outside.look()
    assert place.files.save()


def test_saving_over_what_others_wrote_asks(place: Place) -> None:
    place.edit()
    changed(place, "5 in")
    place.answer("back")
    assert not place.files.save()
    assert "5 in" in place.rig.read_text(encoding="utf-8")
    place.answer("replace")
    assert place.files.save()
    assert "6 1/2 in" in place.rig.read_text(encoding="utf-8")


@pytest.mark.parametrize("answer", ["again", "mine"])
def test_a_file_that_is_gone_can_be_written_again(place: Place, answer: str) -> None:
    place.rig.unlink()
    place.answer(answer)
    place.files.outside.look()
    assert place.rig.exists() is (answer == "again")
    assert place.document.is_dirty is (answer == "mine")
    assert place.files.save()


def entries(menu: QMenu) -> list[str]:
    return [action.text() for action in menu.actions() if not action.isSeparator()]


def recent_menu(place: Place, window: QMainWindow) -> QMenu:
    menu = QMenu(window)
    place.files.fill(menu)
    inner = next(each for each in menu.findChildren(QMenu) if "recent" in each.title())
    inner.aboutToShow.emit()
    return inner


def test_recent_files_open_and_missing_ones_are_asked_about(
    place: Place, window: QMainWindow
) -> None:
    gone, there = place.folder / "gone.toml", place.folder / "a & b.toml"
    shutil.copy(RUNNER, there)
    place.files.recent.add(gone)
    place.files.recent.add(there)
    menu = recent_menu(place, window)
    assert entries(menu)[0].startswith("&1 a && b.toml in")
    assert entries(menu)[1].startswith("&2 gone.toml (missing) in")
    menu.actions()[0].trigger()
    assert place.document.path == there
    place.answer("keep", "forget")
    menu.actions()[1].trigger()
    menu.actions()[1].trigger()
    assert [each.path for each in place.files.recent.files] == [there]
    menu.actions()[-1].trigger()
    assert entries(recent_menu(place, window)) == ["No rig file has been opened yet"]


def test_menu_entries_have_keys_and_sentences(place: Place, window: QMainWindow) -> None:
    menu = QMenu(window)
    place.files.fill(menu)
    letters = [text[text.index("&") + 1].lower() for text in entries(menu)]
    assert len(set(letters)) == len(letters)
    keys = [action.shortcut().toString() for action in menu.actions() if action.shortcut()]
    assert {"Ctrl+N", "Ctrl+O", "Ctrl+S", "Ctrl+Shift+S"} <= set(keys)
    place.edit()
    next(action for action in menu.actions() if action.text() == "&Save").trigger()
    assert not place.document.is_dirty


@pytest.mark.slow
def test_unsaved_work_is_kept_while_the_window_is_open(place: Place, qtbot: QtBot) -> None:
    place.edit()
    qtbot.waitUntil(place.files.autosave.file.exists, timeout=5000)
    place.answer("save")
    assert place.files.may_close()


@pytest.mark.slow
def test_lost_work_is_brought_back_only_when_wanted(
    place: Place, make_lost: Callable[[str], None]
) -> None:
    before = place.rig.read_bytes()
    make_lost("7 3/4 in")
    place.answer("later")
    assert not place.files.offer_lost()
    place.answer("bring back")
    assert place.files.offer_lost()
    assert "wagon.toml" in place.ask.asked[0]
    assert place.document.typed("travel.droop") == "7 3/4 in"
    assert place.document.is_dirty
    assert place.rig.read_bytes() == before
    assert lost_work() == []
    assert place.files.autosave.file.exists(), "kept anew before the old one went"
    assert place.files.save()


@pytest.mark.slow
def test_lost_work_can_be_thrown_away(place: Place, make_lost: Callable[[str], None]) -> None:
    make_lost("7 3/4 in")
    make_lost("7 1/4 in")
    place.answer("throw away", "throw away")
    assert not place.files.offer_lost()
    assert lost_work() == []
    assert not place.files.offer_lost()


@pytest.fixture
def make_lost(place: Place) -> Callable[[str], None]:
    def make(droop: str) -> None:
        crash(place.rig, autosave_folder(), f"travel.droop={droop}")

    return make
