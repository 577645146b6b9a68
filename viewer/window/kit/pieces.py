"""The plain pieces of a panel, each made by one call: words, buttons, rows, columns, timers."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

from PyQt6.QtCore import QObject, QSignalBlocker, Qt, QTimer, pyqtBoundSignal
from PyQt6.QtGui import QAction, QColor, QFontMetrics, QKeySequence, QPaintEvent, QPalette
from PyQt6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLayout,
    QMenu,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
    QTableWidget,
    QVBoxLayout,
    QWidget,
)

from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.theme import enlarged

Part = QWidget | QLayout | int | tuple[QWidget | QLayout, int] | None
"""What stands in a row or a column: px of space, something with its share of the room that is left
over, or None for all of that room."""

Box = TypeVar("Box", bound=QBoxLayout)

ALL = 1000
"""What a bar of progress is divided into."""


def words(
    text: str = "",
    parent: QWidget | None = None,
    *,
    size: float = 1.0,
    bold: bool = False,
    wraps: bool = True,
    selects: bool = False,
    called: str = "",
) -> PlainLabel:
    """Words, so many times as large as those of the parent; `selects` lets the mouse copy them."""
    label = PlainLabel(text, parent)
    label.setWordWrap(wraps)
    label.setAccessibleName(called)
    if size != 1.0 or bold:
        label.setFont(enlarged((parent or label).font(), size, bold))
    if selects:
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def button(
    text: str,
    tip: str = "",
    does: Callable[..., object] | pyqtBoundSignal | None = None,
    called: str = "",
) -> QPushButton:
    """A button with what a press on it does, and a tip that says so."""
    made = QPushButton(text)
    made.setToolTip(tip)
    made.setAccessibleName(called)
    if does is not None:
        made.clicked.connect(does)
    return made


def to_read(table: QTableWidget, called: str, heads: Sequence[str]) -> None:
    """Make a table one that is read: line by line, with Tab for what comes after it."""
    table.setAccessibleName(called)
    table.setHorizontalHeaderLabels(heads)
    table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
    table.setTabKeyNavigation(False)
    rows = table.verticalHeader()
    if rows is not None:  # a header without sections is false
        rows.setVisible(False)


class Choice(QComboBox):
    """A box to choose from; what has no room is left out by whole words."""

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Paint it as its style does, with as much of the words as fits."""
        painter, option = QStylePainter(self), QStyleOptionComboBox()
        self.initStyleOption(option)
        kinds, style = QStyle.ComplexControl.CC_ComboBox, self.style()
        painter.drawComplexControl(kinds, option)
        if style is not None:
            part = QStyle.SubControl.SC_ComboBoxEditField
            room = style.subControlRect(kinds, option, part, self).width()
            option.currentText = at_a_word(self.currentText(), self.fontMetrics(), room)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)

    def showPopup(self) -> None:
        """List everything whole, however narrow the box is."""
        view = self.view()
        if view is not None:
            margin = 2 * self.fontMetrics().averageCharWidth()
            view.setMinimumWidth(view.sizeHintForColumn(0) + margin)
        super().showPopup()


def at_a_word(text: str, letters: QFontMetrics, room: int) -> str:
    """Words that fit into some room, px, with dots where others were left out."""
    if letters.horizontalAdvance(text) <= room:
        return text
    kept = text.split()
    while len(kept) > 1 and letters.horizontalAdvance(f"{' '.join(kept)} ...") > room:
        kept.pop()
    return f"{' '.join(kept)} ..."


def choosing(
    called: str,
    tip: str = "",
    items: Iterable[tuple[str, object, str]] = (),
    does: Callable[..., object] | None = None,
) -> QComboBox:
    """A box to choose from: words, what each stands for, and its own tip."""
    box = Choice()
    for place, (text, data, says) in enumerate(items):
        box.addItem(text, data)
        if says:
            box.setItemData(place, says, Qt.ItemDataRole.ToolTipRole)
    box.setAccessibleName(called)
    box.setToolTip(tip)
    if does is not None:
        box.currentIndexChanged.connect(does)
    return box


def entry(
    menu: QMenu,
    text: str,
    does: Callable[[], object],
    keys: str | QKeySequence.StandardKey | None = None,
    tip: str = "",
) -> QAction:
    """An entry of a menu, with its keys and what is told of it."""
    action = QAction(text, menu)
    if keys is not None:
        action.setShortcut(QKeySequence(keys))
    action.setToolTip(tip)
    action.setStatusTip(tip)
    action.triggered.connect(lambda _checked=False: does())
    menu.addAction(action)
    return action


def ticked(
    menu: QMenu, text: str, does: Callable[[bool], object], keys: str | None = None
) -> QAction:
    """An entry of a menu that has a tick or has none; hears which when it is chosen."""
    action = entry(menu, text, lambda: does(action.isChecked()), keys)
    action.setCheckable(True)
    return action


def progress_bar(called: str) -> QProgressBar:
    """A bar for a share of something."""
    bar = QProgressBar()
    bar.setRange(0, ALL)
    bar.setAccessibleName(called)
    return bar


def show_share(bar: QProgressBar, share: float) -> None:
    """Show how much is done, 0 to 1."""
    bar.setValue(round(ALL * share))


def row(
    *parts: Part, on: QWidget | None = None, gap: int | None = None, edge: int | None = None
) -> QHBoxLayout:
    """Parts from left to right, `gap` px apart and `edge` px from the border of what it is on."""
    return _filled(QHBoxLayout(on), parts, gap, edge)


def column(
    *parts: Part, on: QWidget | None = None, gap: int | None = None, edge: int | None = None
) -> QVBoxLayout:
    """The same from the top down."""
    return _filled(QVBoxLayout(on), parts, gap, edge)


def _filled(box: Box, parts: tuple[Part, ...], gap: int | None, edge: int | None) -> Box:
    if gap is not None:
        box.setSpacing(gap)
    if edge is not None:
        box.setContentsMargins(edge, edge, edge, edge)
    for part in parts:
        thing, share = part if isinstance(part, tuple) else (part, 0)
        if thing is None:
            box.addStretch(1)
        elif isinstance(thing, int):
            box.addSpacing(thing)
        elif isinstance(thing, QWidget):
            box.addWidget(thing, share)
        else:
            box.addLayout(thing, share)
    return box


def tall(inside: QWidget | None = None) -> QScrollArea:
    """An area for something tall, which scrolls up and down and never sideways.

    The focus goes to what is in it.
    """
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    if inside is not None:
        area.setWidget(inside)
    return area


def put_whole(area: QScrollArea, inside: QWidget) -> None:
    """Put something else into an area, which from now on is wide enough for it."""
    area.setWidget(inside)
    bar = area.verticalScrollBar()
    if bar is not None:
        area.setMinimumWidth(inside.minimumSizeHint().width() + bar.sizeHint().width())


def ink(widget: QWidget, colour: str) -> None:
    """Write the words of a widget in a colour; nothing is done where they are."""
    palette = widget.palette()
    palette.setColor(QPalette.ColorRole.WindowText, QColor(colour))
    if palette != widget.palette():
        widget.setPalette(palette)


def once(owner: QObject, does: Callable[[], object], after: int = 0) -> QTimer:
    """A timer that does something once, `after` ms from its start."""
    timer = QTimer(owner)
    timer.setSingleShot(True)
    timer.setInterval(after)
    timer.timeout.connect(does)
    return timer


def every(owner: QObject, does: Callable[[], object], beat: int) -> QTimer:
    """A timer that does something every `beat` ms from its start."""
    timer = QTimer(owner)
    timer.setInterval(beat)
    timer.timeout.connect(does)
    return timer


@contextmanager
def unheard(*widgets: QObject) -> Iterator[None]:
    """Change widgets so that nobody hears of it."""
    blockers = [QSignalBlocker(each) for each in widgets]
    try:
        yield
    finally:
        for each in blockers:
            each.unblock()
