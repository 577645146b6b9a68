"""Where each panel stands: the picture first, and the rest beside it in what is left."""

from collections.abc import Mapping

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QApplication, QSplitter, QWidget

from viewer.window.kit.pieces import column, unheard
from viewer.window.kit.theme import em
from viewer.window.main.folding import LYING, UPRIGHT, FoldingTabs
from viewer.window.main.panels import Panels

WIDE = 92.0
"""Width in heights of a line from which the measurements have a place of their own at the left.

Below it they are a sheet beside the verdict.
"""

OPEN = 108.0
"""Width from which that place is open at first: there the picture still has half of the window."""

FIRST_SIZES = {
    "three": (220, 570, 210),
    "two": (20, 755, 225),
    "narrow": (640, 360),
    "side": (550, 450),
}
"""Shares of each splitter at the first start: sheets, picture and side with the sheets open, the
same with them folded away, picture and side in a narrow window; verdict and charts."""

PARTS = SHEETS, CHARTS, SIDE = "sheets", "charts", "side"
"""What can be folded away."""


class Rooms(QWidget):
    """The panels of the window, every border between them movable.

    The picture has the height of the window and most of its width. At its right is the head with
    the verdict and what to do next, which nothing covers; under it what holds, and then the sliders
    and charts, which take turns. At its left are the measurements, versions and cures. The view of
    the shaft never changes hands: what holds OpenGL would have to begin anew.

    Attributes
    ----------
    sheets : tabs of measurements, versions and cures, and of the verdict in a narrow window.
    drawer : tabs of sliders and charts.
    is_wide : whether the sheets stand at the left; None before the first size is known.

    Signals
    -------
    folded : something was folded away or brought back.
    """

    folded = pyqtSignal()

    def __init__(self, panels: Panels[QWidget], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.panels = panels
        self.is_wide: bool | None = None
        self._sizes: dict[str, tuple[int, ...]] = dict(FIRST_SIZES)
        self._wanted: dict[str, bool] = {}
        self.sheets = FoldingTabs("Measurements, versions, cures")
        self.sheets.addTab(panels.rig, "&Measurements")
        self.sheets.addTab(panels.compare, "Two &versions")
        self.sheets.addTab(panels.cures, "Cures")
        self.drawer = FoldingTabs("Sliders and charts")
        self.drawer.addTab(panels.motion, "Move it")
        self.drawer.addTab(panels.map, "Travel map")
        self.drawer.addTab(panels.strip, "Turn strip")
        self._stage = QWidget()
        column((panels.view, 1), on=self._stage, edge=0)
        self._side = _Side(Qt.Orientation.Vertical)
        self._side.setChildrenCollapsible(False)
        self._side.addWidget(self.drawer)
        self._whole = _splitter(Qt.Orientation.Horizontal)
        self._whole.addWidget(self._stage)
        self._right = QWidget()
        column(panels.head, (self._side, 1), on=self._right, gap=0, edge=0)
        self._whole.addWidget(self._right)
        column(self._whole, on=self, edge=0)
        self.sheets.folded.connect(self._on_sheets_folded)
        self.drawer.folded.connect(self._on_drawer_folded)
        for splitter in (self._whole, self._side):
            splitter.splitterMoved.connect(self._note)
        self._place(is_wide=True)
        self._side.resized.connect(self._settle_side)

    # Folding

    def fold(self, wanted: Mapping[str, bool]) -> None:
        """Fold some of `PARTS` away, or bring them back; the others stay as they are."""
        self._wanted |= {name: away for name, away in wanted.items() if name in PARTS}
        self._fold()

    def wanted(self) -> Mapping[str, bool]:
        """Which of `PARTS` were ever folded away (True) or brought back by the user."""
        return dict(self._wanted)

    def is_away(self, name: str) -> bool:
        """Whether one of `PARTS` is folded away."""
        if name == SIDE:
            return self._right.isHidden()
        return (self.sheets if name == SHEETS else self.drawer).is_folded

    def bring(self, panel: QWidget) -> None:
        """Let a panel be seen, whichever sheet it is on and whatever was folded away."""
        for tabs, name in ((self.sheets, SHEETS), (self.drawer, CHARTS)):
            if tabs.indexOf(panel) >= 0:
                tabs.setCurrentWidget(panel)
                if tabs.is_folded:
                    self.fold({name: False})
        if self._right.isAncestorOf(panel) and self._right.isHidden():
            self.fold({SIDE: False})

    def _fold(self) -> None:
        """Fold as the user wants it, or else as suits the room."""
        first = {SHEETS: self._is_cramped, CHARTS: False, SIDE: False}
        away = first | self._wanted
        with unheard(self.sheets, self.drawer):
            self.sheets.fold(away[SHEETS] and bool(self.is_wide))
            self.drawer.fold(away[CHARTS])
        self._right.setVisible(not away[SIDE])
        self._settle()
        self.folded.emit()

    def _on_sheets_folded(self, away: bool) -> None:
        if self.is_wide:  # in a narrow window the verdict is one of them, and this is in passing
            self._wanted[SHEETS] = away
        self._settle()
        self.folded.emit()

    def _on_drawer_folded(self, away: bool) -> None:
        self.fold({CHARTS: away})

    # Sizes

    def sizes(self) -> Mapping[str, tuple[int, ...]]:
        """Sizes of the parts of each splitter, by its name, also of those that are not in use."""
        self._note()
        return dict(self._sizes)

    def resize_parts(self, sizes: Mapping[str, tuple[int, ...]]) -> None:
        """Move the borders to where they were left."""
        for name, parts in sizes.items():
            if len(parts) == len(self._sizes.get(name, ())):
                self._sizes[name] = tuple(parts)
        self._settle()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Place the panels anew where the room calls for it."""
        super().resizeEvent(event)
        is_wide = self.width() >= WIDE * em(self)
        if is_wide != self.is_wide:
            self.setUpdatesEnabled(False)  # painted once, when everything stands
            try:
                self._place(is_wide)
            finally:
                self.setUpdatesEnabled(True)
        else:
            self._fold()

    @property
    def _is_cramped(self) -> bool:
        """Whether the sheets are better folded away until they are asked for."""
        return bool(self.is_wide) and self.width() < OPEN * em(self)

    def _place(self, is_wide: bool) -> None:
        focus = QApplication.focusWidget()
        self.is_wide, sheets, state = is_wide, self.sheets, self.panels.state
        if is_wide:
            sheets.removeTab(sheets.indexOf(state))
            self._whole.insertWidget(0, sheets)
            self._side.insertWidget(0, state)
        else:
            self._side.insertWidget(0, sheets)
            sheets.insertTab(0, state, "Verdict")
            sheets.setCurrentIndex(0)
        # Lying beside the verdict the tabs have less room, and the last of them is the cures.
        versions = "Two &versions" if is_wide else "&Versions"
        sheets.setTabText(sheets.indexOf(self.panels.compare), versions)
        sheets.stand(UPRIGHT if is_wide else LYING)
        for part in (sheets, state):
            part.show()
        for splitter in (self._whole, self._side):
            for place in range(splitter.count()):
                splitter.setStretchFactor(place, int(splitter.widget(place) is self._stage))
        self._fold()
        if focus is not None and self.isAncestorOf(focus):
            self._go_back_to(focus)

    def _go_back_to(self, focus: QWidget) -> None:
        """A widget that changes hands loses the focus: the keys go on where they were."""
        for panel in self.panels:
            if panel is not self.panels.view and panel.isAncestorOf(focus):
                self.bring(panel)
                focus.setFocus()

    def _splitters(self) -> dict[str, QSplitter]:
        """The splitters as they stand, by the name their sizes are kept under."""
        name = "narrow"
        if self.is_wide:
            name = "two" if self.sheets.is_folded else "three"
        there = {name: self._whole}
        if not self.drawer.is_folded and (self.is_wide or not self.sheets.is_folded):
            there["side"] = self._side
        return there

    def _note(self) -> None:
        for name, splitter in self._splitters().items():
            sizes = tuple(splitter.sizes())
            if self.isVisible() and all(sizes):
                self._sizes[name] = sizes

    def _settle(self) -> None:
        for name, splitter in self._splitters().items():
            splitter.refresh()  # what was folded or brought back has other limits now
            _share(splitter, self._sizes[name])

    def _settle_side(self) -> None:
        """Keep the shares when the head above takes more room or gives some back."""
        if "side" in self._splitters():
            _share(self._side, self._sizes["side"])


class _Side(QSplitter):
    """A splitter that tells when it has another size.

    Signals
    -------
    resized : it has, and its parts have theirs.
    """

    resized = pyqtSignal()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Tell of it."""
        super().resizeEvent(event)
        self.resized.emit()


def _share(splitter: QSplitter, parts: tuple[int, ...]) -> None:
    whole = sum(splitter.sizes())
    splitter.setSizes([round(part / sum(parts) * whole) for part in parts])


def _splitter(way: Qt.Orientation) -> QSplitter:
    splitter = QSplitter(way)
    splitter.setChildrenCollapsible(False)
    return splitter
