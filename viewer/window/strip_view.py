"""The panel of the turn strip: of which joint, and the strip."""

from collections.abc import Sequence

from PyQt6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from sim.units import format_angle
from viewer.session.session import Session
from viewer.session.strip_words import gap_words
from viewer.window.follower import Follower, Link
from viewer.window.strip_canvas import StripCanvas
from viewer.window.theme import em

OLD = "old answer: "


class StripView(Follower):
    """The turn strip with its choice of joint.

    Attributes
    ----------
    choice : the joint. title : what holds at this turn. canvas : the strip.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Turn strip panel")
        self.choice = QComboBox(self)
        self.choice.setAccessibleName("Joint of the turn strip")
        self.choice.setToolTip("The joint whose gap is shown over one turn of the shaft.")
        self.choice.currentIndexChanged.connect(self._on_choice)
        self.label = QLabel("&Joint", self)
        self.label.setBuddy(self.choice)
        self.title = QLabel(self)
        self.title.setAccessibleName("Gap at this turn")
        self.title.setWordWrap(True)
        self.canvas = StripCanvas(session, self)
        self.setFocusProxy(self.canvas)
        head = QHBoxLayout()
        head.addWidget(self.label)
        head.addWidget(self.choice)
        head.addWidget(self.title, stretch=1)
        column = QVBoxLayout(self)
        edge = round(0.3 * em(self))
        column.setContentsMargins(edge, edge, edge, edge)
        column.setSpacing(edge)
        column.addLayout(head)
        column.addWidget(self.canvas, stretch=1)
        self.follow()

    def links(self) -> Sequence[Link]:
        """The strip, the pose, and whether the answer is old."""
        session = self.session
        return (
            (session.measured, self._on_moved),
            (session.posed, self._on_moved),
            (session.answered, self.refresh),
        )

    def refresh(self) -> None:
        """Show everything anew."""
        self._offer()
        self._on_moved()

    def _offer(self) -> None:
        check = self.session.check
        there = [] if check is None else list(check.joints)
        offered = [self.choice.itemData(i) for i in range(self.choice.count())]
        self.choice.blockSignals(True)
        if offered != there:
            self.choice.clear()
            for joint in there:
                self.choice.addItem(joint, joint)
        self.choice.setCurrentIndex(self.choice.findData(self.session.strip_joint))
        self.choice.blockSignals(False)
        self.choice.setEnabled(bool(there))

    def _on_moved(self) -> None:
        words = self._words()
        if self.session.check is not None and self.session.answers.state != "fresh":
            words = OLD + words
        self.title.setText(words)
        self.canvas.setAccessibleDescription(words)
        self.canvas.update()

    def _words(self) -> str:
        gap = self.session.gaps.get(self.session.strip_joint)
        turned = f"turned {format_angle(self.session.motion.spin)}"
        if gap is None:
            return turned
        return f"{turned}: {gap_words(0.0 if gap.overlaps else gap.distance)}"

    def _on_choice(self) -> None:
        joint = self.choice.currentData()
        if joint is not None:
            self.session.show_strip_of(joint)
