"""The panel that moves the axle and turns the shaft: by slider, by typing, or through a drive."""

import itertools

from PyQt6.QtCore import QSize
from PyQt6.QtGui import QCloseEvent, QResizeEvent
from PyQt6.QtWidgets import QGridLayout, QWidget

from viewer.session.moving.motion import AXES
from viewer.session.session import Session
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import column, tall
from viewer.window.kit.theme import em
from viewer.window.motion.axis_row import AxisRow
from viewer.window.motion.drive_bar import DriveBar

TWO_ABREAST = 46.0
"""Width in heights of a line from which the sliders stand two abreast."""

ONE_LINE = 54.0
"""Width in heights of a line from which all that drives need stands in one line."""

LEAST = (23.5, 8.0)
"""Width and height of the sliders one under the other; what has no room scrolls."""


class MotionPanel(Follower):
    """Four axes and the drives.

    Attributes
    ----------
    rows : by axis.
    bar : what plays drives.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Moving the axle")
        self.rows = {axis: AxisRow(session, axis, self) for axis in AXES}
        self.bar = DriveBar(session, self)
        inside = QWidget(self)
        self._grid = QGridLayout(inside)
        edge = round(0.4 * em(self))
        self._grid.setContentsMargins(edge, edge // 2, edge, edge // 2)
        self._grid.setHorizontalSpacing(3 * edge)
        self._grid.setVerticalSpacing(edge // 2)
        self._abreast = 0
        self._arrange(1)
        column((tall(inside), 1), on=self, edge=0)
        self.setFocusProxy(self.rows["travel"].slider)
        self._order_tabs()
        motion = session.motion
        self.follow(
            (motion.moved, self._on_moved),
            (motion.bounded, self._on_moved),
            (motion.played, self.bar.refresh),
            (session.answered, self.bar.refresh),
            (session.opened, self.bar.refresh),
        )

    def refresh(self) -> None:
        """Show everything anew."""
        self._on_moved()
        self.bar.refresh()

    def _on_moved(self) -> None:
        for row in self.rows.values():
            row.refresh()
        if not self.session.motion.playing:
            self.bar.refresh_progress()

    def _arrange(self, abreast: int) -> None:
        if abreast == self._abreast:
            return
        self._abreast = abreast
        for widget in (*self.rows.values(), self.bar):
            self._grid.removeWidget(widget)
        for place, axis in enumerate(_ORDER[abreast]):
            self._grid.addWidget(self.rows[axis], place // abreast, place % abreast)
        self._grid.addWidget(self.bar, 4 // abreast, 0, 1, abreast)
        for place in range(6):
            self._grid.setRowStretch(place, int(place == 1 + 4 // abreast))
        for place in range(2):
            self._grid.setColumnStretch(place, int(place < abreast))

    def _order_tabs(self) -> None:
        bar = self.bar
        chain: list[QWidget] = []
        for row in self.rows.values():
            chain += [row.slider, row.field]
        chain += [bar.choice, bar.play, bar.end, bar.speed, bar.ride]
        for one, other in itertools.pairwise(chain):
            QWidget.setTabOrder(one, other)

    def minimumSizeHint(self) -> QSize:
        """As narrow as the sliders are one under the other."""
        return QSize(*(round(lines * em(self)) for lines in LEAST))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Stand two abreast where there is room."""
        super().resizeEvent(event)
        lines = self.width() / em(self)
        self._arrange(2 if lines >= TWO_ABREAST else 1)
        self.bar.arrange(narrow=lines < ONE_LINE)

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Let no more time go by."""
        self.bar.shut()
        super().closeEvent(event)


_ORDER = {1: AXES, 2: ("travel", "wrap", "roll", "spin")}
"""Two abreast, what belongs together stands together: height over roll, wrap over turn."""
