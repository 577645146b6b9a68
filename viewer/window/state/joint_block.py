"""One joint in the pose that is shown: verdict, bend, what is left, gap, what is nearest."""

from PyQt6.QtWidgets import QGridLayout, QLabel, QWidget

from sim.vehicle import Joint
from viewer.session.session import Session
from viewer.session.told.state_words import is_old, nearest_words, turn_words
from viewer.window.kit.pieces import ink, words
from viewer.window.kit.theme import colours, em
from viewer.window.kit.verdict_mark import VerdictMark
from viewer.words.now import bend_words, called


class JointBlock(QWidget):
    """Words about one joint."""

    def __init__(self, session: Session, name: Joint, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.name = name
        self.mark = VerdictMark(1.2, self)
        self.title = words(f"{name} joint", self, bold=True, wraps=False)
        self.bend = words("", self, size=1.05, selects=True)
        self.room, self.nearest = words("", self, selects=True), words("", self, selects=True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(round(0.4 * em(self)))
        grid.setVerticalSpacing(0)
        grid.addWidget(self.mark, 0, 0)
        grid.addWidget(self.title, 0, 1)
        for row, label in enumerate((self.bend, self.room, self.nearest), start=1):
            grid.addWidget(label, row, 1)
        grid.setColumnStretch(1, 1)

    def refresh(self) -> None:
        """Show the joint in the pose that is shown."""
        now = self._session.now
        joint = None if now is None else now.joints.get(self.name)
        if now is None or joint is None:
            self.mark.show_verdict(None)
            for label in (self.bend, self.room, self.nearest):
                label.setText("")
            return
        self.mark.show_verdict(joint.verdict, is_old(self._session))
        _write(self.title, f"{called(now, self.name)} joint")
        _write(self.bend, bend_words(joint))
        _write(self.room, turn_words(self._session, self.name))
        _write(self.nearest, nearest_words(self._session, self.name))
        ink(self.nearest, colours(self).quiet)
        self.setAccessibleName(f"{self.name} joint")
        self.setAccessibleDescription(f"{self.bend.text()}; {self.room.text()}")


def _write(label: QLabel, text: str) -> None:
    """Write only what is new: laying out words costs more than comparing them."""
    if label.text() != text:
        label.setText(text)
