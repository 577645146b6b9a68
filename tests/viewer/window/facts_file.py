"""What the window shows, written as JSON for a program that uses it by mouse and keys.

For tests on a real screen: they read here what is said and where it stands, and wait for it,
instead of guessing at pixels.
"""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PyQt6.QtCore import QObject, QPoint
from PyQt6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QWidget,
)

from sim.kept.atomic import replace_file
from viewer.session.session import Session
from viewer.window.customer.parts import BigSlider
from viewer.window.kit.pieces import every
from viewer.window.motion.axis_slider import AxisSlider
from viewer.words.now import now_says
from viewer.words.problems import problem_line

if TYPE_CHECKING:
    from viewer.window.main.window import MainWindow

FACTS_VARIABLE = "BINDPOINT_FACTS"
"""Environment variable naming the file."""

EVERY = 100
"""ms between looks."""


class FactsFile(QObject):
    """Keeps a file of facts about a window, and every dialog over it, up to date."""

    def __init__(self, window: "MainWindow", file: Path) -> None:
        super().__init__(window)
        self._window, self._file, self._looks = window, file, 0
        self._timer = every(self, self._write, EVERY)
        self._timer.start()
        window.closing.connect(self._timer.stop)

    def _write(self) -> None:
        """Write what is seen, with the number of the look: nothing new is news as well."""
        self._looks += 1
        text = json.dumps({"look": self._looks, **facts(self._window)})
        replace_file(self._file, text.encode(), to_disk=False)


def facts(window: "MainWindow") -> dict[str, Any]:
    """The session in words and numbers, and every widget that is seen."""
    there = [each for each in QApplication.topLevelWidgets() if each.isVisible()]
    dialog = QApplication.activeModalWidget() or QApplication.activePopupWidget()
    if dialog is not None and dialog.isFullScreen():
        there = [each for each in there if each is not window]  # nothing of it is seen
    focus = QApplication.focusWidget()
    return {
        "title": window.windowTitle(),
        "modified": window.isWindowModified(),
        "dialog": None if dialog is None else dialog.windowTitle(),
        "focus": None if focus is None else name_of(focus),
        "looks": _look(window),
        "ready": getattr(window.panels.view, "view", window.panels.view) is not None,
        **_session_facts(window.session),
        "widgets": [told for top in there for told in _widgets(top)],
    }


def _look(window: "MainWindow") -> str:
    """The view that is on; "" while there is none."""
    view = getattr(window.panels.view, "view", None)
    return "" if view is None else str(view.scene.sight.view)


def _session_facts(session: Session) -> dict[str, Any]:
    motion, document, check = session.motion, session.document, session.check
    return {
        "answer": session.answers.state,
        "verdict": None if check is None else check.verdict,
        "findings": [] if check is None else [[f.code, f.subject] for f in check.findings],
        "says": None if session.now is None else now_says(session.now),
        "pose": [motion.at.travel, motion.at.roll, motion.at.wrap, motion.spin],
        "chosen": session.chosen,
        "drive": None if motion.drive is None else motion.drive.name,
        "map": session.map is not None,
        "work": session.has_work,
        "rig": document.text,
        "problems": [problem_line(problem) for problem in document.problems],
        "undo": document.undo_name,
        "redo": document.redo_name,
        "file": None if document.path is None else str(document.path),
    }


def _widgets(top: QWidget) -> list[dict[str, Any]]:
    """Names, places on the screen (left, top, width, height, px) and words; only what is seen."""
    found = []
    for each in (top, *top.findChildren(QWidget)):
        name = name_of(each)
        port = each.viewport() if isinstance(each, QAbstractItemView) else None
        seen = (port or each).visibleRegion().boundingRect()  # a port hides what it is in
        if not name or seen.isEmpty() or not each.isVisible():
            continue
        corner = each.mapToGlobal(seen.topLeft())
        place = [corner.x(), corner.y(), seen.width(), seen.height()]
        told = {"name": name, "place": place, "text": _text_of(each), "on": each.isEnabled()}
        if isinstance(each, AxisSlider):
            middle = each.mapToGlobal(QPoint(round(each.place(each.value())), each.height() // 2))
            ends = [each.mapToGlobal(QPoint(round(each.place(at)), 0)).x()
                    for at in (each.minimum(), each.maximum())]  # fmt: skip
            told |= {"grip": [middle.x(), middle.y()], "ends": ends}
        elif isinstance(each, BigSlider):
            told |= {"grip": _grip(each)}
        found.append(told)
        if isinstance(each, QAbstractItemView):
            found += _items(each)
    return found


def _grip(slider: BigSlider) -> list[int]:
    """The middle of its handle on the screen, px."""
    share = (slider.value() - slider.minimum()) / max(1, slider.maximum() - slider.minimum())
    across = 0.5 * slider.grip + share * (slider.width() - slider.grip)
    middle = slider.mapToGlobal(QPoint(round(across), slider.height() // 2))
    return [middle.x(), middle.y()]


def _items(view: QAbstractItemView) -> list[dict[str, Any]]:
    model, port = view.model(), view.viewport()
    if model is None or port is None:
        return []
    told = []
    for row in range(model.rowCount()):
        at = model.index(row, 0)
        seen = view.visualRect(at).intersected(port.visibleRegion().boundingRect())
        if not seen.isEmpty():
            corner = port.mapToGlobal(seen.topLeft())
            place = [corner.x(), corner.y(), seen.width(), seen.height()]
            told.append({"name": str(at.data()), "place": place, "text": "", "on": True})
    return told


def name_of(widget: QWidget) -> str:
    """What a widget is called: its accessible name, else its own words."""
    name = widget.accessibleName()
    if not name and isinstance(widget, QAbstractButton):
        name = widget.text().replace("&", "")
    return name


def _text_of(widget: QWidget) -> str:
    if isinstance(widget, QComboBox):
        return widget.currentText()
    if isinstance(widget, QLineEdit | QLabel | QAbstractButton):
        return widget.text()
    return ""
