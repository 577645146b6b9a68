"""Sheets behind tabs that fold away to their tabs, so that the picture has their room."""

from PyQt6.QtCore import QEvent, QObject, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent
from PyQt6.QtWidgets import QStackedWidget, QTabWidget, QWidget

UPRIGHT, LYING = QTabWidget.TabPosition.West, QTabWidget.TabPosition.North

MOST = 16_777_215
"""px. What Qt calls no limit."""


class FoldingTabs(QTabWidget):
    """Sheets of which one is seen; folded away, only their tabs are.

    A click on the tab that is open folds them, a click on any brings them back; so do Enter and the
    space bar on the tabs.

    Signals
    -------
    folded : they were folded away (True) or brought back.
    """

    folded = pyqtSignal(bool)

    def __init__(self, called: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setDocumentMode(True)
        self._is_folded = False
        bar = self.tabBar()
        if bar is not None:
            bar.setAccessibleName(called)
            bar.setToolTip("Click the open tab to fold this away, and any tab to bring it back.")
            bar.installEventFilter(self)
        self.tabBarClicked.connect(self._on_click)

    @property
    def is_folded(self) -> bool:
        """Whether only the tabs are seen."""
        return self._is_folded

    def fold(self, away: bool) -> None:
        """Fold the sheets away to their tabs, or bring them back."""
        if away != self._is_folded:
            self._is_folded = away
            self._fit()
            self.folded.emit(away)

    def stand(self, position: QTabWidget.TabPosition) -> None:
        """Have the tabs `UPRIGHT` at the left or `LYING` on top."""
        self.setTabPosition(position)
        self._fit()

    def _fit(self) -> None:
        """Take the room that is needed, folded or not, and give back the rest."""
        stack = self.findChild(QStackedWidget)
        if stack is not None:
            stack.setVisible(not self._is_folded)
        tabs, upright = self._tabs(), self.tabPosition() == UPRIGHT
        self.setMaximumWidth(tabs.width() if self._is_folded and upright else MOST)
        self.setMaximumHeight(tabs.height() if self._is_folded and not upright else MOST)
        self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        """Of the sheets, or of the tabs alone."""
        return self._tabs() if self._is_folded else super().minimumSizeHint()

    def sizeHint(self) -> QSize:
        """Of the sheets, or of the tabs alone."""
        return self._tabs() if self._is_folded else super().sizeHint()

    def _tabs(self) -> QSize:
        """How thick the row of tabs is, either way."""
        bar = self.tabBar()
        hint = QSize() if bar is None else bar.sizeHint()
        thick = min(hint.width(), hint.height())
        return QSize(thick, thick)

    def _on_click(self, place: int) -> None:
        if self._is_folded:
            self.fold(False)
        elif place == self.currentIndex():  # any other is opened by the click itself
            self.fold(True)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Let the keys of the tabs fold and bring back as the mouse does."""
        if event is not None and event.type() == QEvent.Type.Shortcut:
            self.fold(False)
        enter = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in enter
        ):
            self.fold(not self._is_folded)
            return True
        return super().eventFilter(watched, event)
