"""The room for a failed joint: taken apart in 3D, what is seen beside it, the answer below."""

from typing import cast

from PyQt6.QtCore import QSize, Qt, pyqtSignal
from PyQt6.QtGui import QCloseEvent, QKeySequence, QShortcut, QShowEvent
from PyQt6.QtWidgets import (
    QListWidget,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QWidget,
)

from sim.causes import SeenCode
from viewer.live.apart import Picked
from viewer.session.why.room import STORY, WhyRoom
from viewer.window.kit.asker import Asker, Dialogs
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import (
    column,
    every,
    once,
    tall,
    unheard,
    words,
)
from viewer.window.kit.theme import em
from viewer.window.view.gl import Factory, gl_drawing
from viewer.window.why.answer import AnswerPanel
from viewer.window.why.bench import Bench
from viewer.window.why.files import InspectionFiles
from viewer.window.why.head import BenchHead
from viewer.window.why.marks import MarksPage
from viewer.window.why.sheet import PartSheet
from viewer.words.apart import NOTHING_FOUND

WIDE, HIGH = 96, 58
"""Size, in ems."""

FRAME = QSize(20, 40)
"""px that a window's frame and the screen's bars take, at most."""

SHEET = 27.0
"""Ems that the sheet beside the picture is wide at first."""

MOST_SHEET = 0.4
"""Share of the width that it takes at most."""

SIGNS = {None: "?", NOTHING_FOUND: "\N{WHITE CIRCLE}"}
"""What stands before a part nobody looked at, and before one that is sound."""

SHARES = 0.62, 0.38
"""Of the height, for the picture and for the answer, at first."""

HEARD_EVERY = 60
"""ms between looks at what the worker said."""

PARTS, MARKS, STORIES = range(3)
"""Places of the tabs."""


class WhyWindow(Follower):
    """One failed joint: what is seen of it, and why it broke or wore.

    Attributes
    ----------
    room : what it shows. head : which joint it is, and its file. bench, view : the joint taken
        apart. sheet, marks, story : what is told.
    files : new, open, save. parts : the parts to choose from. says : what was done, or went wrong.

    Signals
    -------
    closed : it is closed, and lets go of everything.
    customer_wanted : the joint is to be shown to a customer.
    """

    closed = pyqtSignal()
    customer_wanted = pyqtSignal()

    def __init__(
        self,
        room: WhyRoom,
        parent: QWidget | None = None,
        asker: Asker | None = None,
        factory: Factory = gl_drawing,
    ) -> None:
        super().__init__(room.session, parent)
        self.room = room
        self.files = InspectionFiles(room, asker or Dialogs(self), self._flush, self)
        self._is_open, self._is_shared = True, False
        self.setWindowFlag(Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAutoFillBackground(True)
        self.setAccessibleName("It broke, or it wore")
        self.head = BenchHead(room, self.files, self._flush, self._show_customer)
        self.bench = Bench(room, self, factory)
        self.view = self.bench.view
        self.view.picked.connect(self._on_picked)
        self.sheet, self.story = PartSheet(room), PartSheet(room)
        self.marks = MarksPage(room)
        self.answer = AnswerPanel(room)
        self.answer.wanted.connect(self._on_wanted)
        self.parts = QListWidget()
        self.parts.setAccessibleName("Parts of the joint")
        self.parts.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.parts.currentRowChanged.connect(self._on_part)
        self.says = words("", self, called="What was done")
        self.files.told.connect(self.says.setText)
        self.other = words("", self, bold=True, called="Of which rig it is")
        self._arrange()
        self._make_keys()
        self._heard = every(self, room.poll, HEARD_EVERY)
        self._heard.start()
        self.resize(self._size())
        self.follow(
            (room.changed, self.refresh),
            (room.chose, self._on_chose),
            (room.took_apart, self.view.take_apart),
            (room.answered, self._on_answer),
            (room.answers.progressed, self.answer.refresh),
        )

    # How it is laid out

    def _arrange(self) -> None:
        gap = round(0.5 * em(self))
        self._scroll = tall(self.sheet)
        parts = QWidget()
        self.parts.setMaximumHeight(round(9.5 * em(self)))
        column(self.parts, (self._scroll, 1), on=parts, gap=gap, edge=0)
        self.tabs = QTabWidget()
        for page, title in (
            (parts, "&Parts"),
            (tall(self.marks), "Mar&ks"),
            (tall(self.story), "&History"),
        ):
            self.tabs.addTab(page, title)
        self.tabs.currentChanged.connect(self._on_tab)
        self.left = QSplitter(Qt.Orientation.Vertical)
        self.left.addWidget(self.bench)
        self.left.addWidget(self.answer)
        self.left.setStretchFactor(0, 1)
        self.left.setChildrenCollapsible(False)
        self.split = QSplitter(Qt.Orientation.Horizontal)
        self.split.addWidget(self.left)
        self.split.addWidget(self.tabs)
        self.split.setStretchFactor(0, 1)
        self.split.setChildrenCollapsible(False)
        self.tabs.setMinimumWidth(round(16.0 * em(self)))
        column(self.head, self.other, (self.split, 1), self.says, on=self, gap=gap, edge=gap)

    def _make_keys(self) -> None:
        keys = QKeySequence.StandardKey
        for key, does in (
            (keys.Undo, self.head.take_back),
            (keys.Redo, self.head.bring_back),
            (keys.Save, self.files.save),
            (keys.Open, self.files.open),
            (keys.New, self.files.new),
            (keys.Close, self.close),
            (Qt.Key.Key_F11, self._show_customer),
        ):
            QShortcut(QKeySequence(key), self, does)

    def _size(self) -> QSize:
        """As large as it likes to be, and no larger than the screen."""
        wanted, screen = QSize(round(WIDE * em(self)), round(HIGH * em(self))), self.screen()
        return wanted if screen is None else wanted.boundedTo(screen.availableSize() - FRAME)

    def showEvent(self, event: QShowEvent | None) -> None:
        """Give picture and answer their shares, once there is a height to share."""
        super().showEvent(event)
        if not self._is_shared:
            self._is_shared = True
            once(self, self._share).start()

    def _share(self) -> None:
        high, wide = self.left.height(), self.split.width()
        self.left.setSizes([round(share * high) for share in SHARES])
        sheet = round(min(SHEET * em(self), MOST_SHEET * wide))
        self.split.setSizes([wide - sheet, sheet])

    # What it shows

    def refresh(self) -> None:
        """Show what is told."""
        room, file = self.room, self.room.file
        rig = room.session.document.rig.name
        self.setWindowTitle(f"{rig}: why ({file.name}[*]) - Bindpoint")
        self.setWindowModified(file.is_dirty)
        self.head.refresh()
        self._list_parts()
        self._show_sheet()
        self.story.show_tables(*STORY)
        for each in (self.sheet, self.story, self.marks):
            each.refresh()
        other = room.of_another
        self.other.setText(f"This inspection says that it is of {other}, not of this rig.")
        self.other.setVisible(bool(other))
        self.answer.refresh()
        self.bench.refresh()

    def _list_parts(self) -> None:
        room, said = self.room, self.room.said()
        lines = []
        for table in room.tables:
            told = said.get(table)
            sign = SIGNS.get(told, "\N{BLACK CIRCLE}")
            lines.append(f"{sign}  {room.title(table)}: {told or 'not looked at'}")
        with unheard(self.parts):
            while self.parts.count() > len(lines):
                self.parts.takeItem(self.parts.count() - 1)
            for place, line in enumerate(lines):
                item = self.parts.item(place)
                if item is None:
                    self.parts.addItem(line)
                elif item.text() != line:
                    item.setText(line)
            table = room.chosen[0]
            if table in room.tables:
                self.parts.setCurrentRow(room.tables.index(table))

    def _show_sheet(self) -> None:
        table = self.room.chosen[0]
        if table in self.room.tables:
            self.sheet.show_tables(table)

    def _on_chose(self) -> None:
        self._list_parts()
        self._show_sheet()
        self.view.refresh()
        table, key = self.room.chosen
        if table in self.room.tables:
            self.tabs.setCurrentIndex(PARTS)
            found = self.sheet.row_of(table, key)
            area: QScrollArea = self._scroll
            self.sheet.adjustSize()
            bar = area.verticalScrollBar()
            if found is not None and bar is not None:
                bar.setValue(max(0, found.mapTo(self.sheet, found.rect().topLeft()).y() - 4))
        elif table in STORY:
            self.tabs.setCurrentIndex(STORIES)
        elif table == "marks":
            self.tabs.setCurrentIndex(MARKS)

    # What is done

    def _on_part(self, place: int) -> None:
        if 0 <= place < len(self.room.tables):
            self.room.choose(self.room.tables[place])

    def _on_picked(self, found: Picked) -> None:
        if self.marks.here.isChecked() and found.place is not None:
            self.room.add_mark(found.place)
            return
        self.room.choose(found.table, found.words)

    def _on_answer(self) -> None:
        self.answer.refresh()
        self.bench.compute()

    def _on_wanted(self, sign: str) -> None:
        self.room.go_to(cast("SeenCode", sign))

    def _on_tab(self, place: int) -> None:
        if place != MARKS:
            self.marks.here.setChecked(False)

    def _show_customer(self) -> None:
        self._flush()
        self.customer_wanted.emit()

    def _flush(self) -> None:
        for each in (self.sheet, self.story):
            each.flush()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Ask about what is not saved, then let everything go."""
        if event is None:
            return
        if self._is_open and not self.files.may_leave():
            event.ignore()
            return
        self._is_open = False
        self._heard.stop()
        self._links.let_go()
        self.room.close()
        self.view.shut()
        super().closeEvent(event)
        self.closed.emit()

    def shut(self) -> None:
        """Close without asking: somebody has asked already."""
        self._is_open = False
        self.close()
