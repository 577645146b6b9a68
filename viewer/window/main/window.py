"""The main window: the rig on the left, the shaft in the middle, what it means on the right."""

from collections.abc import Callable
from functools import partial
from types import MappingProxyType
from typing import TYPE_CHECKING

from PyQt6.QtCore import QSize, Qt, pyqtSignal
from PyQt6.QtGui import QCloseEvent, QKeySequence
from PyQt6.QtWidgets import (
    QMainWindow,
    QMenu,
    QStatusBar,
    QWidget,
)

from viewer.live.sight import PLAIN, TITLES, WHOLE
from viewer.session.kept.window_state import WindowState
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.compare.panel import ComparePanel
from viewer.window.cures.panel import CuresPanel
from viewer.window.files.actions import FileActions
from viewer.window.files.pictures import PictureActions
from viewer.window.kit.asker import Asker, Dialogs
from viewer.window.kit.follower import Links
from viewer.window.kit.pieces import column, entry, once, ticked
from viewer.window.kit.pump import Pump
from viewer.window.kit.theme import em
from viewer.window.main.hints import HintBar
from viewer.window.main.panels import Looks, Maker, Offers, Panels, Shuts
from viewer.window.main.rooms import CHARTS, SHEETS, SIDE, Rooms
from viewer.window.state.head import StateHead
from viewer.window.state.panel import StatePanel
from viewer.window.ticket_window import TicketWindow

if TYPE_CHECKING:
    from viewer.window.why.window import WhyWindow

TITLE = "Bindpoint"

FIRST_SIZE = (1500, 920)
"""px at the first start."""

LEAST = (46.0, 32.0)
"""Heights of a line below which words would be cut."""

FRAME = (16, 60)
"""px a title bar and borders may take of the screen."""

BREATH = 15
"""ms between two things that take a while, for whatever waits."""

TOLD_FOR = 10_000
"""ms something told in passing stays."""


class MainWindow(QMainWindow):
    """Everything about one rig in one window.

    Attributes
    ----------
    session : what it shows.
    panels : the panels. rooms : where each stands.
    message : tells of faults. Put in by whoever starts the window.

    Signals
    -------
    closing : the window is about to go, with everything still in place.
    """

    closing = pyqtSignal()

    def __init__(
        self,
        session: Session,
        panels: Panels[Maker],
        asker: Asker | None = None,
        make_customer: Callable[[Session, QWidget, bool], QWidget] | None = None,
    ) -> None:
        super().__init__()
        self.session = session
        self.panels: Panels[QWidget] = Panels(*(make(session) for make in panels))
        if isinstance(self.panels.head, StateHead):
            self.panels.head.cure_wanted.connect(self._show_cures)
            self.panels.head.why_wanted.connect(self._show_why)
        if isinstance(self.panels.state, StatePanel):
            self.panels.state.bench_wanted.connect(self._show_bench)
        for panel in (self.panels.compare, self.panels.cures):
            if isinstance(panel, ComparePanel | CuresPanel):
                panel.both_wanted.connect(partial(self._show_customer, both=True))
        self._asker = asker or Dialogs(self)
        self.files = FileActions(session, self, self._asker)
        self._make_customer = make_customer or _customer_view
        self.message: object | None = None
        self._beside = {SHEETS: False, SIDE: False}
        self._why: WhyWindow | None = None
        self.hints = HintBar()
        self.rooms = Rooms(self.panels)
        self.setCentralWidget(self._arranged())
        self._make_menus()
        self._make_status()
        self._pump = Pump(session, self)
        told = (session.rig_changed, session.opened)
        self._links = Links(*((signal, self._entitle) for signal in told))
        self._entitle()
        line = em(self)
        least = QSize(round(LEAST[0] * line), round(LEAST[1] * line))
        self.setMinimumSize(least.boundedTo(self._screen_size()))

    def _arranged(self) -> QWidget:
        page = QWidget()
        column(self.hints, (self.rooms, 1), on=page, gap=0, edge=0)
        return page

    def _screen_size(self) -> QSize:
        """What a screen leaves for the inside of a window."""
        screen = self.screen()
        if screen is None:
            return QSize(*FIRST_SIZE)
        return screen.availableSize() - QSize(*FRAME)

    def _make_menus(self) -> None:
        bar, session, motion = self.menuBar(), self.session, self.session.motion
        if bar is None:
            return
        self.files.fill(_menu(bar.addMenu("&Rig")))
        edit, keys = _menu(bar.addMenu("&Edit")), QKeySequence.StandardKey
        self.undo = entry(edit, "&Undo", partial(_undo, session), keys.Undo)
        self.redo = entry(edit, "&Redo", partial(_redo, session), keys.Redo)
        move = _menu(bar.addMenu("&Axle"))
        entry(move, "&Ride height", motion.go_home, "Ctrl+0")
        entry(move, "&Worst pose", self._to_worst, "Ctrl+B")
        entry(move, "&Tightest spot of the turn", session.turn_to_tightest, "Ctrl+T")
        move.addSeparator()
        entry(move, "&Drive to the bind", session.show_me, "Ctrl+D")
        for number, drive in enumerate(DRIVES.values(), start=1):
            does = partial(motion.play, drive)
            entry(move, drive.name.capitalize(), does, f"Ctrl+Shift+{number}")
        entry(move, "&Pause or go on", motion.pause, "Ctrl+Space")
        see = _menu(bar.addMenu("&Show"))
        there = self.panels
        for place, panel, key in (
            ("measurements", there.rig, "F5"),
            ("shaft", there.view, "F6"),
            ("travel map", there.map, "F7"),
            ("turn strip", there.strip, "F8"),
            ("findings", there.state, "F9"),
            ("two versions", there.compare, "F4"),
            ("sliders", there.motion, "F3"),
            ("cures", there.cures, "F2"),
        ):
            entry(see, f"Go to the {place}", partial(self._go, panel), key)
        see.addSeparator()
        look = _menu(see.addMenu("&Look"))
        entry(look, "&Whole shaft", partial(self._look, WHOLE), "Ctrl+Home")
        for number, (view, letter) in enumerate(zip(PLAIN, "lrfeab", strict=True), start=1):
            title = _marked(TITLES[view], letter)
            entry(look, title, partial(self._look, view), f"Ctrl+{number}")
        see.addSeparator()
        self.folds = {
            name: ticked(see, words, partial(self._fold, name), key)
            for name, words, key in (
                (SHEETS, "Fold the m&easurements away", "Shift+F5"),
                (CHARTS, "Fold the sliders and char&ts away", "Shift+F3"),
                (SIDE, "Fold the right &side away", "Shift+F9"),
            )
        }
        self.alone = ticked(see, "&Picture alone", self._on_alone, "Shift+F6")
        self.rooms.folded.connect(self._mark_folds)
        see.addSeparator()
        seen = {"picture": there.view, "travel map": there.map, "turn strip": there.strip}
        self.pictures = PictureActions(session, self._asker, seen, see)
        see.addSeparator()
        entry(see, "&Build ticket ...", self._show_ticket, "Ctrl+Shift+B")
        entry(see, "&Joint on the bench ...", self._show_bench, "Ctrl+Shift+J")
        entry(see, "It sha&kes ...", self._show_shake, "Ctrl+Shift+K")
        entry(see, "It broke, or it &wore ...", self._show_why, "Ctrl+Shift+W")
        self.customer = entry(see, "&Customer view", self._show_customer, "F11")
        self.help = _menu(bar.addMenu("&Help"))
        self._fill_help()

    def _make_status(self) -> None:
        """A line at the bottom: what was done, and what an entry of a menu does."""
        bar = QStatusBar(self)
        bar.setSizeGripEnabled(False)
        self.setStatusBar(bar)
        for each in (self.files, self.pictures):
            each.told.connect(lambda words: bar.showMessage(words, TOLD_FOR))

    def _go(self, panel: QWidget) -> None:
        self.rooms.bring(panel)
        panel.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _look(self, view: str) -> None:
        if isinstance(self.panels.view, Looks):
            self.panels.view.look_at(view)

    def _fold(self, name: str, away: bool) -> None:
        self.rooms.fold({name: away})

    def _on_alone(self, alone: bool) -> None:
        """Fold all but the picture away, or bring back what was there before."""
        if alone:
            self._beside = {name: self.rooms.is_away(name) for name in (SHEETS, SIDE)}
        self.rooms.fold({SHEETS: True, SIDE: True} if alone else self._beside)

    def _mark_folds(self) -> None:
        for name, action in self.folds.items():
            action.setChecked(self.rooms.is_away(name))
        self.alone.setChecked(self.rooms.is_away(SIDE) and self.rooms.is_away(SHEETS))

    def _fill_help(self) -> None:
        from viewer.window.main.about import show_about, show_keys

        entry(self.help, "&Keys", lambda: show_keys(self), "F1")
        entry(self.help, "Show the &hints again", self.hints.bring_back)
        entry(self.help, "&About and cautions", lambda: show_about(self))

    def _to_worst(self) -> None:
        check = self.session.check
        if check is not None:
            self.session.go_to(check.findings[0])

    def _show_cures(self) -> None:
        self._go(self.panels.cures)
        if isinstance(self.panels.cures, CuresPanel):
            self.panels.cures.look()

    def _show_shake(self) -> None:
        from viewer.window.vibration.window import ShakeWindow

        self._shake = ShakeWindow(self.session, self)
        self._shake.show()

    def _show_bench(self) -> None:
        """Take the joint that is looked at to the bench."""
        from viewer.window.bench.room import BenchWindow

        self._bench = BenchWindow(self.session, self.session.strip_joint, self)
        self._bench.show()

    def _show_why(self) -> None:
        from viewer.session.why.room import WhyRoom
        from viewer.window.why.window import WhyWindow

        if self._why is None:
            self._why = WhyWindow(WhyRoom(self.session), self, self._asker)
            self._why.closed.connect(self._on_why_closed)
            self._why.customer_wanted.connect(self._show_joint)
        self._why.show()
        self._why.raise_()
        self._why.activateWindow()

    def _show_joint(self) -> None:
        """Show the joint that failed to a customer, on a whole screen."""
        from viewer.window.customer.joint import JointPage

        if self._why is not None:
            shown, screen = JointPage(self._why.room, self._why, self._asker), self.screen()
            if screen is not None:
                # A screen without a window manager makes nothing as large as itself.
                shown.setGeometry(screen.geometry())
            shown.showFullScreen()

    def _on_why_closed(self) -> None:
        self._why = None

    def _show_ticket(self) -> None:
        self._ticket = TicketWindow(self.session, self._asker, self)
        self._ticket.show()

    def _show_customer(self, both: bool = False) -> None:
        self._shown = self._make_customer(self.session, self, both)
        if self._why is not None and isinstance(self._shown, Offers):
            self._shown.offer_joint(self._show_joint)
        screen = self.screen()
        if screen is not None:
            # A screen without a window manager makes nothing as large as itself.
            self._shown.setGeometry(screen.geometry())
        # To make it takes as long as to show it: each in its own time.
        once(self._shown, self._shown.showFullScreen, BREATH).start()

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
            MappingProxyType(dict(self.rooms.sizes())),
            MappingProxyType(dict(self.rooms.wanted())),
        )

    def arrange(self, state: WindowState) -> None:
        """Be as large as last time, on a screen that is there."""
        if state.frame is not None:
            self.setGeometry(*state.frame)
        else:
            self.resize(QSize(*FIRST_SIZE).boundedTo(self._screen_size()))
        self.rooms.resize_parts(state.splits)
        self.rooms.fold(state.folded)
        if state.maximized:
            self.showMaximized()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Ask about unsaved changes, then let everything go."""
        if event is None:
            return
        # What is asked first can be taken back by what is asked last, so nothing is shut before.
        if not self.files.may_close() or (
            self._why is not None and not self._why.files.may_leave()
        ):
            event.ignore()
            return
        if self._why is not None:
            self._why.shut()
        self.closing.emit()
        self._pump.stop()
        self._links.let_go()
        self.files.close()
        view, *others = self.panels
        for panel in (*others, view):
            if isinstance(panel, Shuts):
                panel.shut()
            panel.close()
        self.session.close()
        event.accept()


def _customer_view(session: Session, window: QWidget, both: bool) -> QWidget:
    from viewer.window.customer.view import CustomerView

    return CustomerView(session, window, both=both)


def _marked(title: str, letter: str) -> str:
    """A title with the letter for Alt marked in its last word."""
    head, _, last = title.rpartition(" ")
    return f"{head} {last.replace(letter, f'&{letter}', 1)}"


def _menu(menu: QMenu | None) -> QMenu:
    if menu is None:
        raise RuntimeError("the window has no menu bar")
    return menu


# What is asked of whatever is open then.


def _undo(session: Session) -> None:
    session.document.undo()


def _redo(session: Session) -> None:
    session.document.redo()
