"""Yokes to choose from, each with a small picture."""

from collections.abc import Sequence
from pathlib import Path

from PyQt6.QtCore import QPointF, QSize, QSizeF, Qt
from PyQt6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap
from PyQt6.QtWidgets import QListView, QListWidget, QListWidgetItem, QWidget

from sim.parts.catalogue import yoke_kinds
from viewer.scene.yoke_shelf import EDGE, cell
from viewer.window.kit.painting import painted
from viewer.window.kit.pieces import unheard
from viewer.window.kit.theme import colours, em

PAPER = QColor("#ffffff")
"""Pictures are drawn on white, whatever the window looks like."""


class YokeTiles(QListWidget):
    """One tile for each kind; the chosen one is the current one."""

    def __init__(self, kinds: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Kind of yoke")
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setWordWrap(True)
        side = round(6.5 * em(self))
        self.setIconSize(QSize(side, side))
        self.setGridSize(QSize(side + round(1.4 * em(self)), side + round(2.8 * em(self))))
        for kind in kinds:
            item = QListWidgetItem(kind)
            item.setToolTip(f"Take a {kind}.")
            self.addItem(item)
        self.show_pictures(None)

    def show_pictures(self, place: Path | None) -> None:
        """Show the pictures of a file, or outlines while there is none."""
        whole = QPixmap(str(place)) if place is not None else QPixmap()
        for row in range(self.count()):
            item = self.item(row)
            if item is None:
                continue
            if whole.isNull():
                item.setIcon(QIcon(self._outline()))
            else:
                left, top = cell(yoke_kinds().index(item.text()))
                item.setIcon(_steady(whole.copy(left, top, EDGE, EDGE)))

    def choose(self, kind: str) -> None:
        """Mark the kind that counts, without telling anybody."""
        with unheard(self):
            if found := self.findItems(kind, Qt.MatchFlag.MatchExactly):
                self.setCurrentItem(found[0])
            else:
                self.clearSelection()

    def _outline(self) -> QPixmap:
        """A fork of two ears in a thin line: a picture is on its way."""
        size = QSizeF(self.iconSize())
        return painted(size, self.devicePixelRatioF(), self._paint_fork, PAPER)

    def _paint_fork(self, painter: QPainter) -> None:
        side = float(self.iconSize().width())
        painter.setPen(QPen(QColor(colours(self).line), max(1.5, 0.02 * side)))
        path = QPainterPath(QPointF(0.9, 0.36) * side)
        for x, y in ((0.66, 0.36), (0.5, 0.2), (0.14, 0.2), (0.14, 0.36), (0.4, 0.36)):
            path.lineTo(QPointF(x, y) * side)
        path.cubicTo(*(QPointF(x, y) * side for x, y in ((0.54, 0.42), (0.54, 0.58), (0.4, 0.64))))
        for x, y in ((0.14, 0.64), (0.14, 0.8), (0.5, 0.8), (0.66, 0.64), (0.9, 0.64)):
            path.lineTo(QPointF(x, y) * side)
        path.closeSubpath()
        painter.drawPath(path)
        for y in (0.28, 0.72):
            painter.drawEllipse(QPointF(0.24, y) * side, 4.0, 4.0)


def _steady(picture: QPixmap) -> QIcon:
    """An icon that looks the same when it is chosen."""
    icon = QIcon()
    for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected, QIcon.Mode.Active):
        icon.addPixmap(picture, mode)
    return icon
