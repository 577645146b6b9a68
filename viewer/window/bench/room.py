"""A joint on the bench, in a window of its own: what was read, how it is done, what comes of it."""

from collections.abc import Mapping
from functools import partial

from PyQt6.QtCore import QSize, Qt
from PyQt6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PyQt6.QtWidgets import QVBoxLayout, QWidget

from sim.front_section import JOINTS
from sim.rig.typed_joints import typed_joints
from sim.vehicle import Joint
from viewer.session.session import Session
from viewer.session.sheet.bench_room import BenchRoom
from viewer.window.bench.band import BandView
from viewer.window.bench.rows import ReadingRow
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import (
    button,
    choosing,
    column,
    every,
    ink,
    progress_bar,
    row,
    show_share,
    tall,
    unheard,
    words,
)
from viewer.window.kit.plan_view import PlanView
from viewer.window.kit.pump import HEARD_EVERY
from viewer.window.kit.theme import colours, em
from viewer.words.bench import CAUTION, LEAD, SIGNS, WAYS, BenchWay
from viewer.words.sentence import capital

WIDE, HIGH = 76, 50
"""Size, in ems."""

FRAME = QSize(40, 60)
"""px that a window's frame and the screen's bars take, at most."""

HEAD = (
    "This joint is a double-Cardan head: bench readings are of a joint with one cross. Put in its "
    "own dimensions instead."
)
HOW, SEEN, SAYS = "How it is taken", "What the drawing shows", "Answer to the readings"
"""What texts are called, for who does not see them."""

DRAWING = "The drawing comes ..."


class BenchWindow(Follower):
    """The readings of one joint of the rig as it stands; every one is taken at once.

    Attributes
    ----------
    room : the joint on the bench. joint : which one. rows : its readings, and one that is empty.
    plan, how : how the reading that is meant is taken. band, says : what comes of them.
    """

    def __init__(self, session: Session, joint: Joint, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setWindowFlag(Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAccessibleName("Joint on the bench")
        self.room = BenchRoom(session, joint)
        self.rows: list[ReadingRow] = []
        self._meant = 0
        there = [each.joint for each in typed_joints(session.document.rig)]
        names = ((f"{name} joint", name, "") for name in JOINTS if name in there)
        self.joint = choosing("Joint", "The joint that is on the bench.", names, self._on_joint)
        with unheard(self.joint):
            self.joint.setCurrentIndex(self.joint.findData(joint))
        self.plan, self.how, self.seen = PlanView(), words(called=HOW), words(size=0.9, called=SEEN)
        self.band, self.says = BandView(), words(selects=True, called=SAYS)
        self.take_next = button("&Take that reading next", "Puts it below, ready.", self._on_next)
        self.progress = progress_bar("How much of the answer is there")
        self._arrange()
        for keys, does in (
            (QKeySequence.StandardKey.Undo, session.document.undo),
            (QKeySequence.StandardKey.Redo, session.document.redo),
        ):
            QShortcut(QKeySequence(keys), self).activated.connect(does)
        self._heard = every(self, self.room.poll, HEARD_EVERY)
        self._heard.start()
        self.follow(
            (session.rig_changed, self.refresh),
            (self.room.changed, self._show_plan),
            (self.room.told.changed, self._show_told),
            (self.room.soon.changed, self._show_told),
            (self.room.told.progressed, self._show_told),
        )

    def _arrange(self) -> None:
        inside = QWidget()
        self._lines = QVBoxLayout(inside)
        self._lines.addStretch(1)
        shut = button("C&lose", "Closes this window (Escape).", self.close)
        shut.setShortcut("Esc")
        self.lead = words(LEAD)
        caution = words(CAUTION, size=0.9)
        ink(caution, colours(self).quiet)
        self.what = words("What they come to", bold=True, wraps=False)
        answer = column(self.what, self.progress, self.band, self.says, row(self.take_next, None))
        left = column(row(self.joint, None), self.lead, (tall(inside), 3), answer, None)
        right = column(self.how, (self.plan, 1), self.seen)
        column(row((left, 4), (right, 5)), row((caution, 1), shut), on=self)
        wanted, screen = QSize(round(WIDE * em(self)), round(HIGH * em(self))), self.screen()
        self.resize(wanted if screen is None else wanted.boundedTo(screen.availableSize() - FRAME))

    def refresh(self) -> None:
        """Show the readings as they are typed, and ask what they come to."""
        document = self.session.document
        self.setWindowTitle(
            f"{document.rig.name}: {self.room.joint} joint on the bench - Bindpoint"
        )
        tables = self.room.pick.tables
        if len(self.rows) != len(tables) + 1:
            self._build(len(tables) + 1)
        for number, table in enumerate(tables, start=1):
            way, held = self.room.way(number)
            problem = self.room.pick.problem(number)
            self.rows[number - 1].show_reading(way, held, table, problem)
        self._show_empty()
        self.room.follow()
        self._show_plan()
        self._show_told()

    def flush(self) -> None:
        """Take what is being typed."""
        for each in tuple(self.rows):
            each.flush()

    def _build(self, count: int) -> None:
        """As many rows as there are readings, and an empty one; those that stay keep the focus."""
        while len(self.rows) > count:
            gone = self.rows.pop()
            self._lines.removeWidget(gone)
            gone.deleteLater()
        while len(self.rows) < count:
            number = len(self.rows) + 1
            made = ReadingRow(number, self.room.pick.yokes)
            made.typed.connect(partial(self._on_typed, number))
            made.noted.connect(partial(self._on_noted, number))
            self.rows.append(made)
            self._lines.insertWidget(number - 1, made)
        self._meant = min(self._meant, count - 1)

    def _show_empty(self) -> None:
        """Leave the empty row as it is, but for one that was just a reading."""
        last = self.rows[-1]
        way, held = last.meant
        last.show_reading(way, held, {}, None)

    def _on_typed(self, number: int, table: Mapping[str, str] | None) -> None:
        pick = self.room.pick
        there = number <= len(pick.tables)
        if table is None:
            if there:
                pick.drop(number)
        elif there:
            pick.put(number, table)
        else:
            pick.add(table)

    def _on_noted(self, number: int) -> None:
        self._meant = number - 1
        self._show_plan()

    def _on_next(self) -> None:
        told = self.room.told.answer
        if told is None or not told.next:
            return
        table = dict(told.next)
        way = next(each for each in WAYS if each.ears == table.get("ears", "between"))
        last = self.rows[-1]
        last.show_reading(way, table.get("clamped", "shaft yoke"), {}, None)
        last.line.setFocus()
        self._on_noted(last.number)

    def _on_joint(self, _place: int) -> None:
        self.flush()
        self.room.take(self.joint.currentData())
        self._build(0)
        self._meant = 0
        self.refresh()

    def _show_plan(self) -> None:
        way, held = self.rows[self._meant].meant
        if self.room.is_head:
            self.plan.show_plan(None, HEAD)
            self.how.setText(HEAD)
            return
        plan = self.room.plan(way, held)
        self.how.setText(_how(way, held))
        self.plan.show_plan(plan, way.how)
        self.seen.setText(DRAWING if plan is None else SIGNS)

    def _show_told(self) -> None:
        told, look = self.room.told, colours(self)
        self.progress.setVisible(told.is_computing)
        show_share(self.progress, told.share)
        answer = self.room.answer
        self.band.show_told(answer)
        if told.state == "failed":
            self.says.setText(f"There is no answer: {told.fault}.")
        else:
            self.says.setText("" if answer is None else "\n".join(answer.lines))
        is_old = told.is_computing and not (answer is not None and answer.is_forecast)
        ink(self.says, look.quiet if is_old else look.ink)
        self.take_next.setVisible(answer is not None and bool(answer.next))
        self.take_next.setEnabled(not told.is_computing)

    def on_opened(self) -> None:
        """Another rig is there: this joint is no part of it."""
        self.rows = []
        self.close()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Take what is being typed, and look for no more."""
        self.flush()
        self._heard.stop()
        self.room.close()
        super().closeEvent(event)


def _how(way: BenchWay, held: str) -> str:
    return f"{capital(way.asks.format(clamped=held))} {way.how}"
