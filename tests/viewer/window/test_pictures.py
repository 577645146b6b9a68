"""Pictures of the window: saved and copied from wherever the focus is, never without words."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PyQt6.QtCore import Qt, QTimer
from PyQt6.QtGui import QAction, QContextMenuEvent, QGuiApplication
from PyQt6.QtWidgets import QApplication, QMenu

from tests.viewer.window.keys import press
from tests.viewer.window.whole import CONTROL, SHIFT
from viewer.session.told.picture_words import picture_caption
from viewer.window.files.pictures import NOTHING
from viewer.window.kit.painting import pixels
from viewer.window.main.window import MainWindow
from viewer.words.verdicts import CAUTION

BOTH = CONTROL | SHIFT


def said(window: MainWindow) -> str:
    bar = window.statusBar()
    assert bar is not None
    return bar.currentMessage()


@pytest.mark.parametrize(("name", "key"), [("map", "F7"), ("strip", "F8"), ("view", "F6")])
def test_the_panel_with_the_focus_is_saved_over_its_words(
    make: Callable[..., MainWindow], tmp_path: Path, name: str, key: str
) -> None:
    place = tmp_path / "mine.png"
    window = make(place)
    while window.session.idle():
        pass
    press(window, Qt.Key[f"Key_{key}"])
    press(window, Qt.Key.Key_P, BOTH)
    assert said(window) == f"Saved {place}."
    panel = getattr(window.panels, name)
    seen = pixels(panel.grab().toImage())
    with Image.open(place) as picture:
        saved = np.asarray(picture.convert("RGB"))
    high, wide, _ = seen.shape
    assert saved.shape[1] == wide
    np.testing.assert_array_equal(saved[:high], seen)
    words = saved[high:]
    assert len(words) > 60
    assert (words < 100).any(), "there is something written"


def test_a_copy_is_what_is_saved(make: Callable[..., MainWindow], tmp_path: Path) -> None:
    place = tmp_path / "mine.png"
    window = make(place)
    while window.session.idle():
        pass
    press(window, Qt.Key.Key_F7)
    press(window, Qt.Key.Key_C, BOTH)
    assert said(window) == "Copied: the travel map, with its words."
    press(window, Qt.Key.Key_P, BOTH)
    board = QGuiApplication.clipboard()
    assert board is not None
    with Image.open(place) as picture:
        np.testing.assert_array_equal(pixels(board.image()), np.asarray(picture.convert("RGB")))


def test_the_words_name_rig_date_pose_and_caution(make: Callable[..., MainWindow]) -> None:
    window = make()
    session = window.session
    session.motion.go(travel=-3 * 25.4)
    caption = picture_caption(session)
    assert session.document.rig.name in caption.title
    assert f"{date.today():%d %b %Y}" in caption.title
    assert caption.caution == CAUTION
    assert "Pose: 3 in droop." in caption.notes
    assert not any("OLD" in note for note in caption.notes)
    session.document.set({"travel.bump": "3 in"}, "less bump")
    assert caption.sides == picture_caption(session).sides
    assert "OLD ANSWER" in picture_caption(session).notes[0]


def test_without_an_answer_there_is_no_picture(make: Callable[..., MainWindow]) -> None:
    window = make()
    window.session.now = None
    press(window, Qt.Key.Key_C, BOTH)
    assert said(window) == NOTHING


@pytest.mark.parametrize("name", ["map", "strip"])
def test_a_right_click_on_a_chart_offers_both(make: Callable[..., MainWindow], name: str) -> None:
    window = make()
    panel = getattr(window.panels, name)
    window.rooms.bring(panel)
    assert panel.contextMenuPolicy() == Qt.ContextMenuPolicy.ActionsContextMenu
    assert panel.actions() == [window.pictures.save, window.pictures.copy]
    spot = panel.canvas.rect().center()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, spot, panel.canvas.mapToGlobal(spot))
    offered: list[QAction] = []

    def look() -> None:
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        offered.extend(menu.actions())
        menu.close()

    QTimer.singleShot(200, look)  # the menu waits for an answer
    QApplication.sendEvent(panel.canvas, event)
    assert offered == panel.actions()
