"""Menus, keys and letters of the main window: each does one thing, and no two clash."""

import re
from collections import Counter
from collections.abc import Callable, Iterator

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtGui import QAction
from PyQt6.QtWidgets import QAbstractButton, QLabel, QMenu, QWidget
from pytestqt.qtbot import QtBot

from sim.vehicle import Pose
from tests.viewer.session.conftest import Scripted as ScriptedWorker
from tests.viewer.window.keys import press
from tests.viewer.window.whole import CONTROL, SHIFT, wanting
from viewer.live.sight import PLAIN, WHOLE
from viewer.session.cures.lines import CureLine, CureList
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.compare.panel import ComparePanel
from viewer.window.cures.panel import CuresPanel
from viewer.window.main.rooms import SHEETS
from viewer.window.main.window import MainWindow
from viewer.window.state.head import StateHead


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
    window.rooms.sheets.setCurrentWidget(window.panels.compare)
    window.setFocus()
    press(window, Qt.Key[f"Key_{key}"])
    place = getattr(window.panels, panel)
    focus = window.focusWidget()
    assert focus is not None
    assert focus is place or place.isAncestorOf(focus)
    assert place.isVisible()


def test_keys_of_the_straight_views_and_back(make: Callable[..., MainWindow]) -> None:
    window = make()
    for number in range(1, 1 + len(PLAIN)):
        press(window, Qt.Key(Qt.Key.Key_0 + number), CONTROL)
    press(window, Qt.Key.Key_Home, CONTROL)
    assert window.panels.view.looked == [*PLAIN, WHOLE]  # type: ignore[attr-defined]


@pytest.mark.parametrize("key", ["F3", "F5", "F9"])
def test_shift_folds_what_the_key_goes_to(make: Callable[..., MainWindow], key: str) -> None:
    window = make()
    window.resize(1600, 1000)
    panel = {"F3": "motion", "F5": "rig", "F9": "state"}[key]
    place = getattr(window.panels, panel)
    press(window, Qt.Key[f"Key_{key}"])
    assert place.isVisible()
    press(window, Qt.Key[f"Key_{key}"], SHIFT)
    assert not place.isVisible()
    kept = window.arrangement()
    assert True in kept.folded.values()
    press(window, Qt.Key[f"Key_{key}"])
    assert place.isVisible()
    window.arrange(kept)
    assert not place.isVisible()


@pytest.mark.parametrize("is_open", [True, False])
def test_the_picture_alone_and_back(make: Callable[..., MainWindow], is_open: bool) -> None:
    window = make()
    window.resize(1600, 1000)
    window.rooms.fold({SHEETS: not is_open})
    press(window, Qt.Key.Key_F6, SHIFT)
    assert not window.panels.state.isVisible()
    assert not window.panels.rig.isVisible()
    assert window.alone.isChecked()
    press(window, Qt.Key.Key_F6, SHIFT)
    assert window.panels.state.isVisible()
    assert window.panels.rig.isVisible() == is_open
    assert not window.alone.isChecked()


def test_one_press_asks_what_would_cure_it(
    make: Callable[..., MainWindow], worker: ScriptedWorker
) -> None:
    window = make()
    head = window.panels.head
    assert isinstance(head, StateHead)
    assert head.cure.isVisible()
    head.cure.click()
    assert window.panels.cures.isVisible()
    assert worker.others["cures"].jobs[-1][1] == window.session.document.text
    window.session.cures.cancel()
    wanting(window)
    assert not head.cure.isVisible()  # the answer is old


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
    shown: list[tuple[Session, QWidget, bool]] = []

    def customer(session: Session, window: QWidget, both: bool) -> QWidget:
        shown.append((session, window, both))
        return QWidget(window, Qt.WindowType.Window)

    window = make(make_customer=customer)
    press(window, Qt.Key.Key_F11)
    assert shown == [(window.session, window, False)]
    qtbot.waitUntil(window._shown.isFullScreen)
    window._shown.close()
    qtbot.wait(1)
    session = window.session
    for panel in (window.panels.compare, window.panels.cures):
        assert isinstance(panel, ComparePanel | CuresPanel)
        assert not panel.both.isEnabled() or panel.both.isHidden()
    text = session.document.text
    straps = text.replace('droop = "9 in"', 'droop = "4 in"')
    cure = CureLine("straps", "Straps.", "", "", True, "clear", "CLEAR", (), straps)
    session.cures.answer = CureList(text, "", (cure,), ())
    session.try_cure(0)
    for panel in (window.panels.compare, window.panels.cures):
        assert isinstance(panel, ComparePanel | CuresPanel)
        assert panel.both.isEnabled()
        assert not panel.both.isHidden()
        panel.both.click()
        assert shown.pop() == (session, window, True)
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
    window.session.answers.answer = window.session.now = None
    for menu in menus(window)[2:3]:
        for action in actions(menu):
            action.trigger()
    window.session.motion.stop()
