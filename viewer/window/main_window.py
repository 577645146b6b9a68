"""The main window: the rig on the left, the shaft in the middle, what it means on the right."""

from collections.abc import Callable
from types import MappingProxyType

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QAction, QCloseEvent, QKeySequence
from PyQt6.QtWidgets import (
    QMainWindow,
    QMenu,
    QSplitter,
    QStatusBar,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from viewer.session.drives import DRIVES
from viewer.session.session import Session
from viewer.session.window_state import WindowState
from viewer.window.asker import Asker
from viewer.window.files import FileActions
from viewer.window.hints import HintBar
from viewer.window.panels import Panels, Shuts
from viewer.window.pump import Pump

TITLE = "Bindpoint"

FIRST_SIZE = (1500, 920)
"""px at the first start."""

FIRST_SPLITS = {"whole": (310, 865, 325), "middle": (640, 280), "charts": (520, 340)}
"""Shares of each splitter at the first start."""

TOLD_FOR = 10_000
"""ms something told in passing stays."""


class MainWindow(QMainWindow):
    """Everything about one rig in one window.

    Attributes
    ----------
    session : what it shows.
    view, rig, compare, motion, map, strip, state : the panels.
    message, facts : tells of faults; writes what is seen. Put in by whoever starts the window.

    Signals
    -------
    closing : the window is about to go, with everything still in place.
    """

    closing = pyqtSignal()

    def __init__(
        self,
        session: Session,
        panels: Panels,
        asker: Asker | None = None,
        make_customer: Callable[[Session, QWidget], QWidget] | None = None,
    ) -> None:
        super().__init__()
        self.session = session
        self.view = panels.view(session)
        self.rig = panels.rig(session)
        self.compare = panels.compare(session)
        self.motion = panels.motion(session)
        self.map = panels.map(session)
        self.strip = panels.strip(session)
        self.state = panels.state(session)
        self.files = FileActions(session, self, asker)
        self._make_customer = make_customer or _customer_view
        self._document = session.document
        self.message: object | None = None
        self.facts: object | None = None
        self.hints = HintBar()
        self._splitters: dict[str, QSplitter] = {}
        self.setCentralWidget(self._arranged())
        self._make_menus()
        self._make_status()
        self._pump = Pump(session, self)
        session.rig_changed.connect(self._entitle)
        self._document.saved.connect(self._entitle)
        session.opened.connect(self._on_opened)
        self._entitle()
        self.setMinimumSize(760, 520)

    def _arranged(self) -> QWidget:
        """Put the panels side by side; every border between them can be moved."""
        sheet = QTabWidget()
        sheet.setDocumentMode(True)
        sheet.addTab(self.rig, "&Measurements")
        sheet.addTab(self.compare, "Two &versions")
        stage = QWidget()
        column = QVBoxLayout(stage)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.view, stretch=1)
        column.addWidget(self.motion)
        charts = self._split("charts", Qt.Orientation.Horizontal, (self.map, 3), (self.strip, 2))
        middle = self._split("middle", Qt.Orientation.Vertical, (stage, 3), (charts, 1))
        whole = self._split(
            "whole", Qt.Orientation.Horizontal, (sheet, 2), (middle, 6), (self.state, 2)
        )
        self.tabs = sheet
        page = QWidget()
        rows = QVBoxLayout(page)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.hints)
        rows.addWidget(whole, stretch=1)
        return page

    def _split(self, name: str, way: Qt.Orientation, *parts: tuple[QWidget, int]) -> QSplitter:
        splitter = QSplitter(way)
        splitter.setChildrenCollapsible(False)
        for number, (widget, share) in enumerate(parts):
            splitter.addWidget(widget)
            splitter.setStretchFactor(number, share)
        self._splitters[name] = splitter
        return splitter

    def _make_menus(self) -> None:
        bar = self.menuBar()
        if bar is None:
            return
        self.files.fill(_menu(bar.addMenu("&Rig")))
        edit = _menu(bar.addMenu("&Edit"))
        self.undo = self._action(edit, "&Undo", self._undo, QKeySequence.StandardKey.Undo)
        self.redo = self._action(edit, "&Redo", self._redo, QKeySequence.StandardKey.Redo)
        move = _menu(bar.addMenu("&Axle"))
        self._action(move, "&Ride height", self._to_ride, "Ctrl+0")
        self._action(move, "&Worst pose", self._to_worst, "Ctrl+B")
        self._action(move, "&Tightest spot of the turn", self.session.turn_to_tightest, "Ctrl+T")
        move.addSeparator()
        for number, name in enumerate(DRIVES, start=1):
            self._action(move, name.capitalize(), self._player(name), f"Ctrl+Shift+{number}")
        self._action(move, "&Pause or go on", self._pause, "Ctrl+Space")
        see = _menu(bar.addMenu("&Show"))
        for number, (name, widget) in enumerate(self._places().items(), start=1):
            self._action(see, f"Go to the {name}", self._goer(widget), f"F{number + 4}")
        self._action(see, "Go to the two versions", self._goer(self.compare), "F4")
        self.customer = self._action(see, "&Customer view", self._show_customer, "F11")
        self.help = _menu(bar.addMenu("&Help"))
        self._fill_help()

    def _make_status(self) -> None:
        """A line at the bottom: what was done, and what an entry of a menu does."""
        bar = QStatusBar(self)
        bar.setSizeGripEnabled(False)
        self.setStatusBar(bar)
        self.files.told.connect(lambda words: bar.showMessage(words, TOLD_FOR))

    def _places(self) -> dict[str, QWidget]:
        return {
            "measurements": self.rig,
            "shaft": self.view,
            "travel map": self.map,
            "turn strip": self.strip,
            "findings": self.state,
        }

    def _goer(self, widget: QWidget) -> Callable[[], None]:
        def go() -> None:
            if self.tabs.indexOf(widget) >= 0:
                self.tabs.setCurrentWidget(widget)
            widget.setFocus(Qt.FocusReason.ShortcutFocusReason)

        return go

    def _action(
        self,
        menu: QMenu,
        text: str,
        does: Callable[[], object],
        keys: str | QKeySequence.StandardKey | None = None,
    ) -> QAction:
        action = QAction(text, self)
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _checked=False: does())
        menu.addAction(action)
        return action

    def _fill_help(self) -> None:
        from viewer.window.about import show_about, show_keys

        self._action(self.help, "&Keys", lambda: show_keys(self), "F1")
        self._action(self.help, "Show the &hints again", self.hints.bring_back)
        self._action(self.help, "&About and cautions", lambda: show_about(self))

    def _undo(self) -> None:
        self.session.document.undo()

    def _redo(self) -> None:
        self.session.document.redo()

    def _to_ride(self) -> None:
        self.session.motion.stop()
        self.session.motion.go(travel=0.0, roll=0.0, wrap=0.0)

    def _to_worst(self) -> None:
        check = self.session.check
        if check is not None:
            self.session.go_to(check.findings[0])

    def _player(self, name: str) -> Callable[[], None]:
        return lambda: self.session.motion.play(name)

    def _pause(self) -> None:
        self.session.motion.pause()

    def _show_customer(self) -> None:
        self._shown = self._make_customer(self.session, self)
        screen = self.screen()
        if screen is not None:
            # A screen without a window manager makes nothing as large as itself.
            self._shown.setGeometry(screen.geometry())
        self._shown.showFullScreen()

    def _on_opened(self) -> None:
        self._document.saved.disconnect(self._entitle)
        self._document = self.session.document
        self._document.saved.connect(self._entitle)
        self._entitle()

    def _entitle(self) -> None:
        document = self.session.document
        self.setWindowTitle(f"{document.rig.name} ({document.name}[*]) - {TITLE}")
        self.setWindowModified(document.is_dirty)
        self.undo.setEnabled(document.undo_name is not None)
        self.redo.setEnabled(document.redo_name is not None)
        self.undo.setText(f"&Undo {document.undo_name or ''}".strip())
        self.redo.setText(f"&Redo {document.redo_name or ''}".strip())

    def arrangement(self) -> WindowState:
        """Size of the window and of its parts, to be the same next time."""
        frame = self.geometry()
        return WindowState(
            (frame.x(), frame.y(), frame.width(), frame.height()),
            self.isMaximized(),
            MappingProxyType(
                {name: tuple(splitter.sizes()) for name, splitter in self._splitters.items()}
            ),
        )

    def arrange(self, state: WindowState) -> None:
        """Be as large as last time, on a screen that is there."""
        if state.frame is not None:
            self.setGeometry(*state.frame)
        else:
            self.resize(*FIRST_SIZE)
        for name, sizes in (FIRST_SPLITS | dict(state.splits)).items():
            if name in self._splitters:
                self._splitters[name].setSizes(list(sizes))
        if state.maximized:
            self.showMaximized()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Ask about unsaved changes, then let everything go."""
        if event is None:
            return
        if not self.files.may_close():
            event.ignore()
            return
        self.closing.emit()
        self._pump.stop()
        self.session.rig_changed.disconnect(self._entitle)
        self.session.opened.disconnect(self._on_opened)
        self._document.saved.disconnect(self._entitle)
        self.files.close()
        panels = (self.rig, self.compare, self.motion, self.map, self.strip, self.state, self.view)
        for panel in panels:
            if isinstance(panel, Shuts):
                panel.shut()
            panel.close()
        self.session.close()
        event.accept()


def _customer_view(session: Session, window: QWidget) -> QWidget:
    from viewer.window.customer import CustomerView

    return CustomerView(session, window)


def _menu(menu: QMenu | None) -> QMenu:
    if menu is None:
        raise RuntimeError("the window has no menu bar")
    return menu
