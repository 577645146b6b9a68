"""A yoke of one's own, looked at before it is taken: as placed, what was found and is doubtful."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from PyQt6.QtCore import QSize, Qt
from PyQt6.QtGui import QPainter, QPaintEvent, QPixmap
from PyQt6.QtWidgets import (
    QButtonGroup,
    QDialogButtonBox,
    QGridLayout,
    QProgressBar,
    QRadioButton,
    QWidget,
)

from viewer.own_program import own_program
from viewer.window.kit.letting_go import LettingGo
from viewer.window.kit.pieces import button, column, row, tall, words
from viewer.window.kit.theme import colours, em
from viewer.window.yoke.program import Program
from viewer.yoke.trial import FOUND, MODULE, PICTURE, Trial, found

Command = Callable[[Path, Path, str, str], list[str]]
"""Program and arguments that read a file: into a folder, the file, its unit or "", the cross."""

READING = "Reading the file and looking for the bores ..."
ASKS = "Which unit is the file in? It does not say."
LOOK = (
    "Is this your yoke? The blue rings must sit in the bores, the red cross where the joint turns, "
    "and the arrow must run along the shaft."
)
NOTHING = "The file could not be read: the program that reads it ended before it was through."
NO_PICTURE = "No picture: this machine could not draw one. Go by the numbers."


def _reading(room: Path, file: Path, unit: str, cross: str) -> list[str]:
    return [*own_program(MODULE), str(room), str(file), unit, cross]


class YokeTrial(LettingGo):
    """Reads a mesh file in a program of its own; `take` hears the unit when the yoke is taken.

    Attributes
    ----------
    head : what is going on, or asked. picture : the yoke as it was placed.
    units : a button for each unit it may be in. facts, doubts : what was found.
    take_it : takes the yoke; only there once it stands in its place.
    """

    def __init__(
        self,
        file: Path,
        cross: str,
        take: Callable[[str], object],
        parent: QWidget | None = None,
        unit: str = "",
        command: Command = _reading,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(f"Own yoke: {file.name}")
        self._file, self._cross, self._take, self._command = file, cross, take, command
        self._room = TemporaryDirectory(prefix="bindpoint-", ignore_cleanup_errors=True)
        self._program = Program(self)
        self._program.ended.connect(self._on_ended)
        self.found: Trial | None = None
        self.head = words("", bold=True, size=1.15)
        self.busy = QProgressBar()
        self.busy.setRange(0, 0)
        self.busy.setAccessibleName("Reading")
        self.picture = _Placed()
        self.units: dict[str, QRadioButton] = {}
        self._choice = QButtonGroup(self)
        self._unit_title = words("The file is in", bold=True, wraps=False)
        self._unit_rows = column(gap=round(0.2 * em(self)))
        self.doubts_title, self.doubts = words("Look at this first", bold=True), words(selects=True)
        self.facts = words(selects=True)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(1, 1)
        self._arrange()
        self._read(unit)

    def _arrange(self) -> None:
        gap = round(0.7 * em(self))
        inside = QWidget()
        held = (self._unit_title, self._unit_rows, self.doubts_title, self.doubts, self._grid, None)
        column(*held, on=inside, gap=gap, edge=gap)
        buttons = QDialogButtonBox()
        self.take_it = button("&Take this yoke", "Puts it into the rig; undo takes it back.")
        self.leave = button("&Leave it", "Changes nothing.")
        for each, role in (
            (self.take_it, QDialogButtonBox.ButtonRole.AcceptRole),
            (self.leave, QDialogButtonBox.ButtonRole.RejectRole),
        ):
            buttons.addButton(each, role)
        buttons.accepted.connect(self._on_take)
        buttons.rejected.connect(self.reject)
        middle = row((self.picture, 3), (tall(inside), 2), gap=gap)
        column(self.head, self.busy, (middle, 1), buttons, on=self, gap=gap)
        self.resize(round(64 * em(self)), round(40 * em(self)))

    def _read(self, unit: str) -> None:
        self.found = None
        self.head.setText(READING)
        self.busy.show()
        self.take_it.setEnabled(False)
        room = Path(self._room.name)
        for name in (FOUND, PICTURE):
            (room / name).unlink(missing_ok=True)
        self._program.start(self._command(room, self._file, unit, self._cross))

    def _on_ended(self) -> None:
        room = Path(self._room.name)
        told = found(room) or Trial("refused", NOTHING)
        self.found = told
        self.busy.hide()
        self.head.setText({"placed": LOOK, "asks": ASKS, "refused": told.says}[told.state])
        self._offer_units(told)
        drawn = QPixmap(str(room / PICTURE)) if told.state == "placed" else QPixmap()
        self.picture.show_picture(drawn, NO_PICTURE if told.state == "placed" else "")
        self._show_facts(told)
        self.take_it.setEnabled(told.state == "placed")
        (self.take_it if told.state == "placed" else self.leave).setFocus()

    def _offer_units(self, told: Trial) -> None:
        """A button for each unit, the one that was taken pressed; nothing where there is none."""
        if told.sizes and set(told.sizes) != set(self.units):
            for each in self.units.values():
                self._choice.removeButton(each)
                self._unit_rows.removeWidget(each)
                each.deleteLater()
            self.units = {unit: QRadioButton(says) for unit, says in told.sizes.items()}
            for unit, each in self.units.items():
                self._choice.addButton(each)
                self._unit_rows.addWidget(each)
                each.clicked.connect(partial(self._on_unit, unit))
        self._unit_title.setVisible(bool(self.units))
        if told.unit in self.units:
            self.units[told.unit].setChecked(True)

    def _on_unit(self, unit: str, _pressed: bool = True) -> None:
        if self.found is None or self.found.unit != unit:
            self._read(unit)

    def _show_facts(self, told: Trial) -> None:
        self.doubts_title.setVisible(bool(told.doubts))
        lines = (f"\N{BULLET} {each[:1].upper()}{each[1:]}." for each in told.doubts)
        self.doubts.setText("\n".join(lines))
        self.doubts.setStyleSheet(f"color: {colours(self).verdicts['close']};")
        while self._grid.count():
            taken = self._grid.takeAt(0)
            widget = None if taken is None else taken.widget()
            if widget is not None:
                widget.deleteLater()
        for place, (name, text) in enumerate(told.rows):
            top = Qt.AlignmentFlag.AlignTop
            self._grid.addWidget(words(name, wraps=False), place, 0, top)
            self._grid.addWidget(words(text, selects=True), place, 1, top)

    def _on_take(self) -> None:
        if self.found is not None and self.found.state == "placed":
            self._take(self.found.unit)
            self.accept()

    def let_go(self) -> None:
        """End what reads."""
        self._program.stop()
        self._room.cleanup()


class _Placed(QWidget):
    """The picture of the yoke as it was placed, as large as fits, on white."""

    def __init__(self) -> None:
        super().__init__()
        self._picture, self._instead = QPixmap(), ""
        self.setAccessibleName("The yoke as it was placed")

    def show_picture(self, picture: QPixmap, instead: str) -> None:
        """Show a picture, or words where it is empty."""
        self._picture, self._instead = picture, instead
        self.setAccessibleDescription(instead if picture.isNull() else "")
        self.update()

    def sizeHint(self) -> QSize:
        """Large enough to see a ring in a bore."""
        return QSize(round(34 * em(self)), round(30 * em(self)))

    def paintEvent(self, _: QPaintEvent | None) -> None:
        """Paint it in the middle."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), Qt.GlobalColor.white)
        if self._picture.isNull():
            painter.setPen(Qt.GlobalColor.black)
            middle = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(self.rect(), middle, self._instead)
        else:
            ratio = self.devicePixelRatioF()
            room = self.size() * ratio
            keep, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode
            scaled = self._picture.scaled(room, keep, smooth.SmoothTransformation)
            scaled.setDevicePixelRatio(ratio)
            wide, high = (round(side / ratio) for side in (scaled.width(), scaled.height()))
            painter.drawPixmap((self.width() - wide) // 2, (self.height() - high) // 2, scaled)
        painter.end()
