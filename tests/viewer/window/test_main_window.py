"""The window as a whole: its menus, its title, what it asks, and that it lets everything go."""

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from math import degrees
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from psygnal import Signal
from PyQt6.QtCore import Qt, QTimer
from PyQt6.QtGui import QAction
from PyQt6.QtWidgets import QAbstractButton, QLabel, QMenu, QWidget
from pytestqt.qtbot import QtBot

from sim.pose import check_pose
from sim.rig import load_rig
from sim.vehicle import Pose
from tests.viewer.session.conftest import RIGS, checked
from tests.viewer.session.conftest import Scripted as ScriptedWorker
from tests.viewer.window.keys import press
from tests.viewer.window.scripted import Scripted
from viewer.session.document import Document
from viewer.session.drives import DRIVES
from viewer.session.session import Session
from viewer.session.strip_words import gap_words
from viewer.session.window_state import WindowState, keep_state, recalled_state
from viewer.window.app import open_window
from viewer.window.faults import FaultCatcher, FaultMessage
from viewer.window.field_row import FieldRow
from viewer.window.late_view import LateView
from viewer.window.main_window import MainWindow
from viewer.window.panels import Panels, real_panels
from viewer.window.state_panel import StatePanel
from viewer.words import VERDICT_WORDS

Opening = Callable[..., Session]

RIG = "long-legged-trail-wagon"
CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


class StubView(QWidget):
    """In the place of the view: takes the focus, and knows whether it was let go."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.was_shut = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def shut(self) -> None:
        self.was_shut += 1


def panels() -> Panels:
    return replace(real_panels(), view=StubView)


@pytest.fixture
def make(qtbot: QtBot, open_rig: Opening) -> Iterator[Callable[..., MainWindow]]:
    made: list[MainWindow] = []

    def making(*answers: str | Path | None, rig: str = RIG, **more: object) -> MainWindow:
        window = MainWindow(open_rig(rig), panels(), Scripted(*answers), **more)  # type: ignore[arg-type]
        made.append(window)
        window.arrange(recalled_state())
        window.show()
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        return window

    yield making
    for window in made:
        window.session.document.undo()
        window.files._ask = Scripted(*9 * ["throw away"])
        window.close()
        window.deleteLater()


def wanting(window: MainWindow, droop: str = "6 in") -> None:
    window.session.document.set({"travel.droop": droop}, "less droop")


def actions(menu: QMenu) -> Iterator[QAction]:
    for action in menu.actions():
        below = action.menu()
        if below is not None:
            yield from actions(below)
        elif not action.isSeparator():
            yield action


def menus(window: MainWindow) -> list[QMenu]:
    bar = window.menuBar()
    assert bar is not None
    return [menu for action in bar.actions() if (menu := action.menu()) is not None]


def mnemonic(text: str) -> str | None:
    found = re.search(r"&([^&])", text.replace("&&", ""))
    return found[1].lower() if found else None


# Menus and keys


def test_undo_and_redo_by_keys_name_what_they_do(make: Callable[..., MainWindow]) -> None:
    window = make()
    text = window.session.document.text
    assert not window.undo.isEnabled()
    wanting(window)
    changed = window.session.document.text
    assert window.undo.text() == "&Undo less droop"
    press(window, Qt.Key.Key_Z, CONTROL)
    assert window.session.document.text == text
    assert not window.undo.isEnabled()
    assert window.redo.text() == "&Redo less droop"
    window.redo.trigger()
    assert window.session.document.text == changed


def test_keys_of_the_axle(make: Callable[..., MainWindow]) -> None:
    window = make()
    motion, check = window.session.motion, window.session.check
    assert check is not None
    press(window, Qt.Key.Key_B, CONTROL)
    assert motion.at == check.findings[0].at
    now = window.session.now
    assert now is not None
    assert now.verdict == "touches"
    press(window, Qt.Key.Key_0, CONTROL)
    assert motion.at == Pose(0.0, 0.0, 0.0)
    motion.go(travel=-170.0, spin=0.3)
    press(window, Qt.Key.Key_T, CONTROL)
    tight = window.session.now
    assert tight is not None
    least = min(joint.left for joint in tight.joints.values())
    for spin in (0.3, 1.0, 2.0, 3.0):
        motion.go(spin=spin)
        other = window.session.now
        assert other is not None
        assert min(joint.left for joint in other.joints.values()) >= least - 1e-9


@pytest.mark.parametrize("number", range(1, 1 + len(DRIVES)))
def test_keys_of_the_drives(make: Callable[..., MainWindow], number: int) -> None:
    window = make()
    motion = window.session.motion
    press(window, Qt.Key(Qt.Key.Key_0 + number), CONTROL | SHIFT)
    assert motion.drive is not None
    assert motion.drive.name == list(DRIVES)[number - 1]
    assert motion.playing
    press(window, Qt.Key.Key_Space, CONTROL)
    assert not motion.playing
    press(window, Qt.Key.Key_Space, CONTROL)
    assert motion.playing
    motion.stop()


@pytest.mark.parametrize(
    ("key", "panel"),
    [
        ("F2", "cures"),
        ("F3", "motion"),
        ("F4", "compare"),
        ("F5", "rig"),
        ("F6", "view"),
        ("F7", "map"),
        ("F8", "strip"),
        ("F9", "state"),
    ],
)
def test_keys_to_the_panels(make: Callable[..., MainWindow], key: str, panel: str) -> None:
    window = make()
    window.rooms.sheets.setCurrentWidget(window.compare)
    window.setFocus()
    press(window, Qt.Key[f"Key_{key}"])
    place = getattr(window, panel)
    focus = window.focusWidget()
    assert focus is not None
    assert focus is place or place.isAncestorOf(focus)
    assert place.isVisible()


def test_one_press_asks_what_would_cure_it(
    make: Callable[..., MainWindow], worker: ScriptedWorker
) -> None:
    window = make()
    state = window.state
    assert isinstance(state, StatePanel)
    assert state.cure.isVisible()
    state.cure.click()
    assert window.cures.isVisible()
    assert worker.others["cures"].jobs[-1][1] == window.session.document.text
    window.session.cures.cancel()
    wanting(window)
    assert not state.cure.isVisible()  # the answer is old


def test_the_ticket_is_made_of_this_session(
    make: Callable[..., MainWindow], worker: ScriptedWorker, qtbot: QtBot
) -> None:
    window = make()
    press(window, Qt.Key.Key_B, CONTROL | SHIFT)
    assert window._ticket.isVisible()
    assert worker.others["ticket"].jobs[-1][1] == window.session.document.text
    window._ticket.close()
    qtbot.wait(1)


def test_the_customer_view_is_made_of_this_session(
    make: Callable[..., MainWindow], qtbot: QtBot
) -> None:
    shown: list[tuple[Session, QWidget]] = []

    def customer(session: Session, window: QWidget) -> QWidget:
        shown.append((session, window))
        return QWidget(window, Qt.WindowType.Window)

    window = make(make_customer=customer)
    press(window, Qt.Key.Key_F11)
    assert shown == [(window.session, window)]
    qtbot.waitUntil(window._shown.isFullScreen)
    window._shown.close()
    qtbot.wait(1)


def test_no_two_keys_and_no_two_letters_clash(make: Callable[..., MainWindow]) -> None:
    window = make()
    window.session.put_aside()
    everything = [action for menu in menus(window) for action in actions(menu)]
    keys = Counter(shortcut.toString() for action in everything for shortcut in action.shortcuts())
    assert {key for key, count in keys.items() if count > 1} == set()
    assert len(keys) > 15
    for menu in menus(window):
        letters = Counter(filter(None, (mnemonic(action.text()) for action in menu.actions())))
        assert {letter for letter, count in letters.items() if count > 1} == set(), menu.title()


@pytest.mark.parametrize("size", [(1600, 1000), (740, 520)])
@pytest.mark.parametrize("tab", [0, 1, 2, 3])
def test_no_two_letters_clash_in_the_window(
    make: Callable[..., MainWindow], tab: int, size: tuple[int, int]
) -> None:
    """Alt and a letter goes to one place, over all panels that are seen together."""
    window = make()
    window.resize(*size)
    window.session.put_aside()
    window.rooms.sheets.setCurrentIndex(tab)
    letters = [mnemonic(menu.title()) for menu in menus(window)]
    sheets = window.rooms.sheets
    letters += [mnemonic(sheets.tabText(place)) for place in range(sheets.count())]
    letters += [
        mnemonic(each.text())
        for each in window.findChildren(QAbstractButton)
        if each.isVisible() and each.isEnabled()
    ]
    letters += [mnemonic(each.text()) for each in window.findChildren(QLabel)
                if each.isVisible() and each.buddy() is not None]  # fmt: skip
    counts = Counter(filter(None, letters))
    assert {letter for letter, count in counts.items() if count > 1} == set()


def test_every_entry_of_a_menu_does_something_harmless_or_asks(
    make: Callable[..., MainWindow],
) -> None:
    """Nothing raises without an answer, as just after the start."""
    window = make()
    window.session.answers.check = window.session.now = None
    for menu in menus(window)[2:3]:
        for action in actions(menu):
            action.trigger()
    window.session.motion.stop()


# Title, places, files


def test_title_and_mark_follow_the_document(make: Callable[..., MainWindow]) -> None:
    window = make()
    assert window.windowTitle().startswith("Long-legged trail wagon, rear shaft (invented)")
    assert f"({RIG}.toml[*])" in window.windowTitle()
    assert not window.isWindowModified()
    window.session.document.set({"name": "Another"}, "name")
    assert window.windowTitle().startswith("Another (")
    assert window.isWindowModified()
    window.session.document.undo()
    assert not window.isWindowModified()


def test_saving_is_told_and_takes_the_mark_away(
    make: Callable[..., MainWindow], tmp_path: Path
) -> None:
    place = tmp_path / "mine.toml"
    window = make(place)
    wanting(window)
    window.files.save_as()
    assert not window.isWindowModified()
    assert "mine.toml" in window.windowTitle()
    bar = window.statusBar()
    assert bar is not None
    assert bar.currentMessage() == f"Saved {place}."


def test_borders_are_where_they_were_left(make: Callable[..., MainWindow], qtbot: QtBot) -> None:
    window = make()
    window.resize(1400, 900)
    qtbot.wait(1)
    window.rooms.resize_parts({"whole": (350, 700, 340), "middle": (500, 380)})
    left = window.arrangement()
    keep_state(left)
    again = make()
    assert again.size() == window.size()
    for name, sizes in left.splits.items():
        # Shares of another sum, each rounded to a whole pixel.
        assert again.arrangement().splits[name] == pytest.approx(sizes, rel=0, abs=2)
    qtbot.wait(1)


# Closing


def test_closing_asks_when_something_is_not_saved(make: Callable[..., MainWindow]) -> None:
    window = make("back")
    wanting(window)
    assert not window.close()
    assert window.isVisible()
    asker = window.files._ask
    assert isinstance(asker, Scripted)
    assert len(asker.asked) == 1
    window.session.motion.go(travel=-50.0)
    assert "droop" in window.motion.rows["travel"].field.text()  # type: ignore[attr-defined]


def test_closing_lets_everything_go(
    make: Callable[..., MainWindow], worker: ScriptedWorker, open_rig: Opening
) -> None:
    bare = heard(open_rig())
    window = make("throw away")
    session = window.session
    wanting(window)
    session.motion.play("droop")
    before = worker.cancelled
    assert window.close()
    assert [timer for timer in window.findChildren(QTimer) if timer.isActive()] == []
    assert worker.cancelled > before, "the process that computes"
    assert window.view.was_shut == 1  # type: ignore[attr-defined]
    assert heard(session) == bare
    assert list(window.files.autosave.file.parent.glob("*.json")) == []


def heard(session: Session) -> dict[str, int]:
    """By how many each signal of a session is heard."""
    document, motion, answers = session.document, session.motion, session.answers
    every = [(type(each).__name__, each) for each in (session, document, motion, answers)]
    return {
        f"{kind} {name}": len(getattr(each, name))
        for kind, each in every
        for name, value in vars(type(each)).items()
        if isinstance(value, Signal)
    }


# Another rig


def test_another_rig_is_followed_by_every_panel(
    make: Callable[..., MainWindow], worker: ScriptedWorker, qtbot: QtBot
) -> None:
    window = make()
    session = window.session
    old_document, old_motion = session.document, session.motion
    session.open(Document.open(RIGS / "quarry-hauler.toml"))
    # The old sheet is gone at once: what is typed on it would go into the other rig.
    assert not window.rig.findChildren(FieldRow)
    qtbot.waitUntil(lambda: bool(window.rig.findChildren(FieldRow)))
    worker.say(answer=checked("quarry-hauler"), share=1.0)
    session.tick()
    while session.idle():
        pass
    for signal in (old_document.changed, old_document.saved, old_motion.moved,
                   old_motion.bounded, old_motion.played):  # fmt: skip
        assert len(signal) == 0
    assert "quarry-hauler" in window.windowTitle()
    assert window.rig.row("travel.droop").field.typed == session.document.typed("travel.droop")  # type: ignore[attr-defined]
    session.motion.go(travel=-30.0)
    assert window.motion.rows["travel"].field.text().endswith("droop")  # type: ignore[attr-defined]
    assert window.state.says.toolTip() == session.now.says  # type: ignore[attr-defined, union-attr]
    state = window.state
    verdict = checked("quarry-hauler").verdict
    assert state.verdict_says.text().startswith(VERDICT_WORDS[verdict])  # type: ignore[attr-defined]
    assert window.map.canvas.place is not None  # type: ignore[attr-defined]
    old_document.set({"travel.droop": "1 in"}, "late")
    assert "quarry-hauler" in window.windowTitle()
    assert not window.isWindowModified()


# Faults


def test_a_fault_in_a_slot_is_told_and_the_window_lives(
    make: Callable[..., MainWindow],
    qtbot: QtBot,  # noqa: ARG001  takes the hook before the catcher does
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    catcher = FaultCatcher(tmp_path / "log")
    catcher.install()
    try:
        window = make()
        message = FaultMessage(catcher, window)

        def broken(_number: int) -> None:
            raise ZeroDivisionError("out of order")

        monkeypatch.setattr(window.session, "go_to", broken)
        press(window, Qt.Key.Key_B, CONTROL)
        assert message.box is not None
        assert "out of order" in message.box.text()
        message.box.accept()
        window.session.motion.go(travel=-20.0)
        press(window, Qt.Key.Key_0, CONTROL)
        assert window.session.motion.at.travel == 0.0
        assert window.isVisible()
    finally:
        catcher.uninstall()


# Words


@settings(max_examples=6, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    name=st.sampled_from([RIG, "marsh-runner", "goat-path-buggy", "quarry-hauler"]),
    shares=st.tuples(*3 * [st.floats(0.0, 1.0)], st.floats(0.0, 6.28)),
)
@pytest.mark.slow
def test_it_says_what_the_pose_command_says(
    make: Callable[..., MainWindow], name: str, shares: tuple[float, float, float, float]
) -> None:
    window = make(rig=name)
    session, state = window.session, window.state
    bounds = [session.motion.bounds(axis) for axis in ("travel", "roll", "wrap")]
    at = [low + share * (high - low) for share, (low, high) in zip(shares, bounds, strict=False)]
    session.motion.go_to(Pose(*at), shares[3])
    session.show_strip_of("pinion")
    while session.idle():
        pass
    told = check_pose(load_rig(RIGS / f"{name}.toml"), session.motion.at, session.motion.spin)
    for joint, block in state.joints.items():  # type: ignore[attr-defined]
        found = told.joints[joint]
        assert block.bend.text().startswith(f"bends {degrees(found.bend):.1f} deg")
        least = checked(name).joints[joint].curve.certified_clear
        assert ("too far" in block.bend.text()) == (found.bend >= least)
        if found.gap.overlaps:
            assert block.room.text() == "at this turn: metal in metal"
        else:
            assert block.room.text() == f"at this turn: gap {gap_words(found.gap.distance)}"
    window.close()


# Starting


def test_it_starts_where_it_was(qtbot: QtBot, worker: ScriptedWorker, tmp_path: Path) -> None:
    catcher = FaultCatcher(tmp_path / "log")
    keep_state(WindowState((10, 20, 780, 560)))
    document = partial(Document.demo, RIG)
    window = open_window(document(), worker, catcher, panels())
    qtbot.addWidget(window)
    window.rooms.resize_parts({"charts": (180, 140)})
    left = window.arrangement()
    window.close()
    again = open_window(document(), worker, catcher, panels())
    qtbot.addWidget(again)
    there = again.arrangement()
    assert there.frame == left.frame
    for name, sizes in left.splits.items():
        # A panel may need a line more or less before its answer is there.
        assert there.splits[name] == pytest.approx(sizes, rel=0, abs=20)
    again.close()
    catcher.uninstall()


def test_the_view_comes_once_and_after_the_window(qtbot: QtBot, open_rig: Opening) -> None:
    made: list[QWidget] = []

    def making(session: Session, parent: QWidget) -> StubView:
        view = StubView(session)
        view.setParent(parent)
        made.append(view)
        return view

    late = LateView(open_rig(), make=making, heavy=("string", "no_such_module"))  # type: ignore[arg-type]
    qtbot.addWidget(late)
    assert late.view is None
    with qtbot.waitSignal(late.came, timeout=5000):
        late.show()
        late.setFocus()
    late.hide()
    late.show()
    qtbot.wait(60)
    assert made == [late.view]
    assert not late.words.isVisible()
    assert late.focusProxy() is late.view
    late.shut()
    assert late.view is None
    assert made[0].was_shut == 1  # type: ignore[attr-defined]
