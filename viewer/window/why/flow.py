"""Widgets one after the other, as words in a paragraph: what has no room goes to the next line."""

from PyQt6.QtCore import QPoint, QRect, QSize, Qt
from PyQt6.QtWidgets import QLayout, QLayoutItem, QWidget

from viewer.window.kit.theme import em


class Flow(QLayout):
    """A layout as tall as its width makes it."""

    def __init__(self, on: QWidget, gap: int) -> None:
        super().__init__(on)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem | None) -> None:
        """Add one at the end."""
        if item is not None:
            self._items.append(item)

    def count(self) -> int:
        """How many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """One of them."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take one out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It wants no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Its height follows its width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How tall it is then, px."""
        return self._lay(QRect(0, 0, width, 0), in_place=False)

    def setGeometry(self, rect: QRect) -> None:
        """Put each in its place."""
        super().setGeometry(rect)
        self._lay(rect, in_place=True)

    def sizeHint(self) -> QSize:
        """As narrow as its widest."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """As large as the largest of them."""
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _lay(self, rect: QRect, in_place: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        for item in self._items:
            size = item.sizeHint().boundedTo(QSize(max(1, rect.width()), 10_000))
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, line = rect.x(), y + line + self._gap, 0
            if in_place:
                item.setGeometry(QRect(QPoint(x, y), size))
            x, line = x + size.width() + self._gap, max(line, size.height())
        return y + line - rect.y()


def flowing(on: QWidget, *widgets: QWidget) -> None:
    """Widgets in a row that goes on in the next line where there is no room."""
    flow = Flow(on, round(0.4 * em(on)))
    for each in widgets:
        flow.addWidget(each)
