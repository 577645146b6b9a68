"""The panel of the turn strip: of which joint, and the strip."""

from PyQt6.QtWidgets import QWidget

from viewer.session.session import Session
from viewer.window.chart.view import OLD, ChartView
from viewer.window.strip.canvas import StripCanvas
from viewer.words.now import gap_words
from viewer.words.units import format_angle


class StripView(ChartView):
    """The turn strip with its choice of joint.

    Attributes
    ----------
    choice : the joint. title : what holds at this turn. canvas : the strip.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent, "&Joint")
        self.setAccessibleName("Turn strip panel")
        self.choice.setAccessibleName("Joint of the turn strip")
        self.choice.setToolTip("The joint whose gap is shown over one turn of the shaft.")
        self.title.setAccessibleName("Gap at this turn")
        self.title.setWordWrap(True)
        self.canvas = StripCanvas(session, self)
        self.arrange(self.canvas)
        self.follow(
            (session.measured, self._on_moved),
            (session.posed, self._on_moved),
            (session.answered, self.refresh),
            (session.chose, self.refresh),
        )

    def refresh(self) -> None:
        """Show everything anew."""
        self._offer()
        self._on_moved()

    def _offer(self) -> None:
        check = self.session.check
        there = [] if check is None else list(check.joints)
        self.offer([(joint, joint) for joint in there], self.session.strip_joint)
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

    def on_choice(self) -> None:
        """Show the strip of another joint."""
        joint = self.choice.currentData()
        if joint is not None:
            self.session.choose(joint)
