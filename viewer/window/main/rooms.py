"""Where each panel stands: by how much room the window has."""

from collections.abc import Mapping
from dataclasses import dataclass

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QApplication, QSplitter, QTabWidget, QWidget

from viewer.window.kit.pieces import column
from viewer.window.kit.theme import em
from viewer.window.main.panels import Panels

WIDE = 82.0
"""Width in heights of a line from which measurements and findings stand either side of the shaft.

The narrowest these three can be and still be read without cut words.
"""

ABREAST = 60.0
"""Width from which travel map and turn strip stand side by side."""

HIGH = 36.0
"""Height from which the sliders stand under the shaft, with the charts under them."""

ROOMY = 71.0
"""Width from which the sliders stand two abreast; below it they take `MORE` of the height."""

MORE = 9.0

FIRST_SIZES = {
    "whole": (310, 865, 325),
    "narrow": (330, 700),
    "middle": (640, 280),
    "low": (300, 210),
    "charts": (520, 340),
}
"""Shares of each splitter at the first start."""


@dataclass(frozen=True)
class Plan:
    """One way to place the panels.

    Attributes
    ----------
    is_wide : the findings have a column of their own; else a sheet beside the measurements.
    is_abreast : the charts stand side by side; else one over the other, with tabs.
    is_high : the sliders are always seen; else they are a sheet beside the charts.
    """

    is_wide: bool
    is_abreast: bool
    is_high: bool

    @classmethod
    def of(cls, width: float, height: float) -> "Plan":
        """The plan for a room, in heights of a line."""
        is_high = height >= (HIGH if width >= ROOMY else HIGH + MORE)
        return cls(width >= WIDE, is_high and width >= ABREAST, is_high)


class Rooms(QWidget):
    """The panels of the window, every border between them movable.

    The view of the shaft never changes hands: what holds OpenGL would have to begin anew.

    Attributes
    ----------
    sheets : tabs at the left. drawer : tabs under the shaft, where there is little room.
    plan : how the panels stand; None before the first size is known.
    """

    def __init__(self, panels: Panels[QWidget], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.panels = panels
        self.plan: Plan | None = None
        self._sizes: dict[str, tuple[int, ...]] = dict(FIRST_SIZES)
        self.sheets, self.drawer = _tabs(), _tabs()
        self.sheets.addTab(panels.rig, "&Measurements")
        self.sheets.addTab(panels.compare, "Two &versions")
        self.sheets.addTab(panels.cures, "Cures")
        self._stage = QWidget()
        self._column = column((panels.view, 1), on=self._stage, gap=4, edge=0)
        self._charts = _splitter(Qt.Orientation.Horizontal)
        self._under = QWidget()
        column(self._charts, self.drawer, on=self._under, edge=0)
        self._middle = _splitter(Qt.Orientation.Vertical, (self._stage, 3), (self._under, 1))
        self._whole = _splitter(Qt.Orientation.Horizontal, (self.sheets, 2), (self._middle, 6))
        column(self._whole, on=self, edge=0)
        self._place(Plan(is_wide=True, is_abreast=True, is_high=True))

    def sizes(self) -> Mapping[str, tuple[int, ...]]:
        """Sizes of the parts of each splitter, by its name, also of plans that are not in use."""
        self._note()
        return dict(self._sizes)

    def resize_parts(self, sizes: Mapping[str, tuple[int, ...]]) -> None:
        """Move the borders to where they were left."""
        for name, parts in sizes.items():
            if len(parts) == len(self._sizes.get(name, ())):
                self._sizes[name] = tuple(parts)
        self._settle()

    def bring(self, panel: QWidget) -> None:
        """Let a panel be seen, whichever sheet it is on."""
        for tabs in (self.sheets, self.drawer):
            if tabs.indexOf(panel) >= 0:
                tabs.setCurrentWidget(panel)

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Place the panels anew where the room calls for it."""
        super().resizeEvent(event)
        line = em(self)
        plan = Plan.of(self.width() / line, self.height() / line)
        if plan != self.plan:
            self.setUpdatesEnabled(False)  # painted once, when everything stands
            try:
                self._place(plan)
            finally:
                self.setUpdatesEnabled(True)

    def _place(self, plan: Plan) -> None:
        focus = QApplication.focusWidget()
        self._note()
        self.plan, panels = plan, self.panels
        if plan.is_wide:
            _stand(self._whole, 2, panels.state, 2)
        elif self.sheets.indexOf(panels.state) < 0:
            self.sheets.insertTab(0, panels.state, "Verdict")
            self.sheets.setCurrentIndex(0)
        if plan.is_high:
            _let_go(panels.motion)
            self._column.addWidget(panels.motion)
            panels.motion.show()
        elif self.drawer.indexOf(panels.motion) < 0:
            self.drawer.insertTab(0, panels.motion, "Move it")
        charts = ((panels.map, "Travel map"), (panels.strip, "Turn strip"))
        for place, (panel, title) in enumerate(charts):
            if plan.is_abreast:
                _stand(self._charts, place, panel, 3 - place)
            elif self.drawer.indexOf(panel) < 0:
                self.drawer.addTab(panel, title)
        if not plan.is_abreast:
            self.drawer.setCurrentIndex(0)
        self._charts.setVisible(plan.is_abreast)
        self.drawer.setVisible(not plan.is_abreast)
        self._settle()
        if focus is not None and self.isAncestorOf(focus):
            self._go_back_to(focus)

    def _go_back_to(self, focus: QWidget) -> None:
        """A widget that changes hands loses the focus: the keys go on where they were."""
        for panel in (self.panels.state, self.panels.motion, self.panels.map, self.panels.strip):
            if panel is focus or panel.isAncestorOf(focus):
                self.bring(panel)
                focus.setFocus()

    def _splitters(self) -> dict[str, QSplitter]:
        """The splitters of this plan, by the name their sizes are kept under."""
        if self.plan is None:
            return {}
        there = {
            "whole" if self.plan.is_wide else "narrow": self._whole,
            "middle" if self.plan.is_high else "low": self._middle,
        }
        return there | ({"charts": self._charts} if self.plan.is_abreast else {})

    def _note(self) -> None:
        for name, splitter in self._splitters().items():
            sizes = tuple(splitter.sizes())
            if self.isVisible() and any(sizes):
                self._sizes[name] = sizes

    def _settle(self) -> None:
        for name, splitter in self._splitters().items():
            splitter.setSizes(list(self._sizes[name]))


def _tabs() -> QTabWidget:
    tabs = QTabWidget()
    tabs.setDocumentMode(True)
    return tabs


def _splitter(way: Qt.Orientation, *parts: tuple[QWidget, int]) -> QSplitter:
    splitter = QSplitter(way)
    splitter.setChildrenCollapsible(False)
    for place, (widget, share) in enumerate(parts):
        _stand(splitter, place, widget, share)
    return splitter


def _stand(splitter: QSplitter, place: int, panel: QWidget, share: int) -> None:
    """Give a panel its place between the borders."""
    if splitter.indexOf(panel) < 0:
        _let_go(panel)
        splitter.insertWidget(place, panel)
        splitter.setStretchFactor(place, share)
        panel.show()


def _let_go(panel: QWidget) -> None:
    """Take a panel off the sheet it is on; the tabs do not let go by themselves."""
    above = panel.parentWidget()
    tabs = above.parentWidget() if above is not None else None
    if isinstance(tabs, QTabWidget):
        tabs.removeTab(tabs.indexOf(panel))
