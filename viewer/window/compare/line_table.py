"""A table of lines that differ: what it was, what it is, and whether that is better."""

from collections.abc import Sequence

from PyQt6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PyQt6.QtGui import QIcon, QResizeEvent
from PyQt6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from sim.findings import Verdict
from viewer.session.compare import Better, Difference
from viewer.window.kit.painting import painted
from viewer.window.kit.pieces import to_read
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import colours, em, enlarged, paint_mark

SIGNS: dict[Better, str] = {
    "better": "\N{BLACK UP-POINTING TRIANGLE} better",
    "worse": "\N{BLACK DOWN-POINTING TRIANGLE} worse",
    "same": "= same",
    "": "",
}


class LineTable(QTableWidget):
    """Lines in full, as high as they need to be; whatever holds it scrolls."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(0, 3, parent)
        to_read(self, name, ("", "Before", "Now"))
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        side = round(0.9 * em(self))
        self.setIconSize(QSize(side, side))
        columns = self.horizontalHeader()
        if columns is not None:
            columns.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
            columns.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def fill(self, lines: Sequence[Difference]) -> None:
        """Write the lines; what is selected stays so."""
        self.setRowCount(len(lines))
        for row, line in enumerate(lines):
            now = f"{line.now}\n{SIGNS[line.better]}" if line.better else line.now
            marks = line.verdicts or (None, None)
            self._write(row, 0, line.label, None)
            self._write(row, 1, line.before, marks[0])
            self._write(row, 2, now, marks[1], bold=line.better in ("better", "worse"))
        self._fit()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Wrap the words anew."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Be as high as all lines are."""
        self.resizeRowsToContents()
        head = self.horizontalHeader()
        high = sum(self.rowHeight(row) for row in range(self.rowCount()))
        if head is not None:
            high += head.sizeHint().height()
        self.setFixedHeight(high + 2 * self.frameWidth())

    def _write(
        self, row: int, place: int, text: str, verdict: Verdict | None, bold: bool = False
    ) -> None:
        item = self.item(row, place)
        if item is None:
            item = QTableWidgetItem()
            self.setItem(row, place, item)
        if item.text() != text:
            item.setText(text)
            item.setToolTip(plain_tip(text))
        item.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        item.setFont(enlarged(self.font(), 1.0, bold=bold))
        item.setIcon(QIcon() if verdict is None else self._icon(verdict))

    def _icon(self, verdict: Verdict) -> QIcon:
        """The mark of a verdict, sharp on any screen."""
        size, look = QSizeF(self.iconSize()), colours(self)
        box = QRectF(QPointF(), size)
        return QIcon(
            painted(size, self.devicePixelRatioF(), lambda p: paint_mark(p, box, verdict, look))
        )
