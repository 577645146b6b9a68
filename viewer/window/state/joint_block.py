"""One joint in the pose that is shown: verdict, bend, what is left, gap, what is nearest."""

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QColor, QPalette
from PyQt6.QtWidgets import QGridLayout, QLabel, QWidget

from sim.vehicle import Joint
from viewer.session.session import Session
from viewer.session.state_words import bend_words, is_old, nearest_words, room_words
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.theme import colours, em, enlarged
from viewer.window.kit.verdict_mark import VerdictMark


class JointBlock(QWidget):
    """Words about one joint."""

    def __init__(self, session: Session, name: Joint, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.name = name
        self.mark = VerdictMark(1.2, self)
        self.title = PlainLabel(f"{name} joint", self)
        self.title.setFont(enlarged(self.font(), 1.0, bold=True))
        self.bend, self.room, self.nearest = PlainLabel(self), PlainLabel(self), PlainLabel(self)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(round(0.4 * em(self)))
        grid.setVerticalSpacing(0)
        grid.addWidget(self.mark, 0, 0)
        grid.addWidget(self.title, 0, 1)
        for row, label in enumerate((self.bend, self.room, self.nearest), start=1):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            grid.addWidget(label, row, 1)
        self.bend.setFont(enlarged(self.font(), 1.05))
        grid.setColumnStretch(1, 1)

    def refresh(self) -> None:
        """Show the joint in the pose that is shown."""
        now = self._session.now
        joint = None if now is None else now.joints.get(self.name)
        if joint is None:
            self.mark.show_verdict(None)
            for label in (self.bend, self.room, self.nearest):
                label.setText("")
            return
        self.mark.show_verdict(joint.verdict, is_old(self._session))
        _write(self.title, f"{'generic ' if joint.generic else ''}{self.name} joint")
        _write(self.bend, bend_words(joint))
        _write(self.room, room_words(self._session, self.name))
        _write(self.nearest, nearest_words(self._session, self.name))
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.WindowText, QColor(colours(self).quiet))
        if self.nearest.palette() != palette:
            self.nearest.setPalette(palette)
        self.setAccessibleName(f"{self.name} joint")
        self.setAccessibleDescription(f"{self.bend.text()}; {self.room.text()}")


def _write(label: QLabel, words: str) -> None:
    """Write only what is new: laying out words costs more than comparing them."""
    if label.text() != words:
        label.setText(words)
