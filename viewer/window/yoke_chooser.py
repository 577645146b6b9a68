"""Choosing a yoke by its picture, and giving dimensions of one's own."""

from collections.abc import Mapping
from math import degrees
from typing import Any

from PyQt6.QtCore import QSize, Qt, QTimer
from PyQt6.QtGui import QCloseEvent, QIcon, QPixmap
from PyQt6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from geometry.dimensions import Dimension
from geometry.errors import BindpointError
from sim.catalogue import cross_shape, dimension_names, yoke_shape
from sim.rig.choice import OWN_YOKE, YokeChoice
from sim.units import format_fraction
from viewer.session.session import Session
from viewer.session.sheet_words import names_of
from viewer.window.field_row import Line
from viewer.window.theme import colours, em
from viewer.yoke_thumbnails import Thumbnails

LOOK_EVERY = 200
"""ms between looks for pictures that are being drawn."""


class YokeChooser(QDialog):
    """A list of kinds with pictures, and the dimensions of the one that is chosen.

    key : key path of the yoke in the rig, such as `shaft.pinion_end.pinion_yoke`.
    """

    def __init__(self, session: Session, key: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session, self.key = session, key
        typed = session.document.typed(key)
        self._own: dict[str, Any] = dict(typed) if isinstance(typed, Mapping) else {}
        self._kind = str(self._own.get("kind", typed or ""))
        self.cross = self._cross()
        self.setWindowTitle(f"{key.rsplit('.', maxsplit=1)[-1].replace('_', ' ').capitalize()}")
        unit = em(self)
        self.resize(round(46 * unit), round(34 * unit))
        self.kinds = QListWidget()
        self.kinds.setViewMode(QListWidget.ViewMode.IconMode)
        self.kinds.setIconSize(QSize(round(9 * unit), round(6.75 * unit)))
        self.kinds.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.kinds.setMovement(QListWidget.Movement.Static)
        self.kinds.setWordWrap(True)
        self.kinds.setSpacing(round(0.4 * unit))
        self.kinds.setAccessibleName("Kinds of yoke")
        self._blank = QPixmap(self.kinds.iconSize())
        self._blank.fill(Qt.GlobalColor.transparent)
        for kind in names_of(YokeChoice, key):
            if kind != OWN_YOKE:
                item = QListWidgetItem(QIcon(self._blank), kind)
                item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter)
                self.kinds.addItem(item)
        self.form = QFormLayout()
        self._lines: dict[str, QLineEdit] = {}
        self.note = QLabel()
        self.note.setWordWrap(True)
        self._arrange()
        self.thumbnails = Thumbnails(self.cross)
        self._look = QTimer(self)
        self._look.setInterval(LOOK_EVERY)
        self._look.timeout.connect(self._take_pictures)
        self._look.start()
        self._take_pictures()
        self.kinds.currentTextChanged.connect(self._on_kind)
        found = self.kinds.findItems(self._kind, Qt.MatchFlag.MatchExactly)
        if found:
            self.kinds.setCurrentItem(found[0])
        self._show_dimensions()

    def accept(self) -> None:
        """Put the choice into the rig."""
        own = {name: line.text().strip() for name, line in self._lines.items()}
        own = {name: _count(text) for name, text in own.items() if text}
        value: Any = {"kind": self._kind, **own} if own else self._kind
        if value != self.session.document.typed(self.key):
            self.session.document.set({self.key: value}, f"{self.windowTitle()}: {self._kind}")
        super().accept()

    def done(self, result: int) -> None:
        """Draw no more pictures."""
        self._look.stop()
        self.thumbnails.close()
        super().done(result)

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """The same when it is closed by its frame."""
        self._look.stop()
        self.thumbnails.close()
        super().closeEvent(event)

    def _arrange(self) -> None:
        box = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        area = QScrollArea()
        inside = QWidget()
        inside.setLayout(self.form)
        area.setWidget(inside)
        area.setWidgetResizable(True)
        side = QVBoxLayout()
        head = QLabel(
            f"Dimensions for a {self.cross} cross. Shapes are generic: measure yours and type over."
        )
        head.setWordWrap(True)
        side.addWidget(head)
        side.addWidget(area, 1)
        side.addWidget(self.note)
        row = QHBoxLayout()
        row.addWidget(self.kinds, 3)
        row.addLayout(side, 2)
        column = QVBoxLayout(self)
        column.addLayout(row, 1)
        column.addWidget(box)

    def _cross(self) -> str:
        """Size of the cross at this end."""
        end = self.key.rsplit(".", 1)[0]
        typed = self.session.document.typed(f"{end}.cross")
        name = typed.get("size") if isinstance(typed, Mapping) else typed
        return str(name or self.session.document.rig.shaft.pinion_end.cross.name)

    def _take_pictures(self) -> None:
        left = False
        for row in range(self.kinds.count()):
            item = self.kinds.item(row)
            if item is None or item.data(Qt.ItemDataRole.UserRole):
                continue
            path = self.thumbnails.path(item.text())
            if path is None:
                left = True
                continue
            item.setIcon(QIcon(str(path)))
            item.setData(Qt.ItemDataRole.UserRole, True)
        if not left or not self.thumbnails.drawing:
            self._look.stop()

    def _on_kind(self, kind: str) -> None:
        if kind and kind != self._kind:
            self._kind, self._own = kind, {}
            self._show_dimensions()

    def _show_dimensions(self) -> None:
        """One line for each dimension, the catalogue's own greyed in it."""
        while self.form.rowCount():
            self.form.removeRow(0)
        self._lines = {}
        self.note.setText("")
        try:
            shape = yoke_shape(self._kind, cross_shape(self.cross))
        except BindpointError as error:
            self.note.setText(str(error))
            return
        for dimension in dimension_names(self._kind):
            line = Line(str(self._own.get(dimension.name, "")))
            line.setPlaceholderText(_typed(dimension, float(getattr(shape, dimension.name))))
            line.setToolTip(dimension.about)
            line.setAccessibleName(dimension.name.replace("_", " "))
            line.setAccessibleDescription(dimension.about)
            line.textEdited.connect(self._try)
            label = QLabel(dimension.name.replace("_", " "))
            label.setToolTip(dimension.about)
            self.form.addRow(label, line)
            self._lines[dimension.name] = line

    def _try(self, _text: str) -> None:
        """Say at once whether a yoke can be like that."""
        own = {name: line.text().strip() for name, line in self._lines.items()}
        own = {name: _count(text) for name, text in own.items() if text}
        try:
            choice = YokeChoice.model_validate({"kind": self._kind, **own})
            yoke_shape(self._kind, cross_shape(self.cross), choice.overrides)
            self.note.setText("")
        except (BindpointError, ValueError) as error:
            self.note.setText(str(error).splitlines()[-1])
        self.note.setStyleSheet(f"color: {colours(self).verdicts['touches']};")


def _typed(dimension: Dimension, value: float) -> str:
    if dimension.unit == "angle":
        return f"{degrees(value):.1f} deg"
    if dimension.unit == "count":
        return f"{value:g}"
    return f"{value:.1f} mm ({format_fraction(value, 32)})"


def _count(text: str) -> Any:
    return int(text) if text.isdigit() else text
