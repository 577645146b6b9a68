"""What stays in sight whatever is scrolled or open below it: the verdict, and what to do next."""

from PyQt6.QtCore import QSize, Qt, pyqtSignal
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QSizePolicy, QWidget

from viewer.session.session import Session
from viewer.session.told.drive_words import offer_words
from viewer.session.told.state_words import is_old, travel_headline
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import button, column, ink, row, words
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.theme import colours, em, enlarged
from viewer.window.kit.verdict_mark import VerdictMark
from viewer.words.verdicts import first_contact_words


class StateHead(Follower):
    """The verdict over the whole travel, the two large buttons, and what the drive said.

    Attributes
    ----------
    verdict, verdict_says : of the whole travel.
    show_me : plays the drive to the worst, holds it, and pushes it on from where it stopped.
    cure : asks what would cure it. broke : brings the room for a joint that broke or wore.
    told : what the drive said where it stopped or ended; hidden where it said nothing.

    Signals
    -------
    cure_wanted : somebody wants to know what would cure it.
    why_wanted : somebody has a joint that broke or wore.
    """

    cure_wanted = pyqtSignal()
    why_wanted = pyqtSignal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Verdict")
        self.verdict = VerdictMark(1.6, self)
        self.verdict_says = words("", self, size=1.15, bold=True, selects=True)
        self.show_me = button("", does=self._on_show_me)
        tip = "Tries every remedy on this rig and lists the cheapest first (F2)."
        self.cure = button("What would cure it?", tip, self.cure_wanted)
        for each in (self.show_me, self.cure):
            each.setFont(enlarged(self.font(), 1.0, bold=True))
            each.setMinimumHeight(round(1.9 * em(self)))
            each.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        tip = "Tell what you see on the joint; it says why, and what to do (Ctrl+Shift+W)."
        self.broke = button("A joint broke, or wore out?", tip, self.why_wanted)
        self.told = words("", self, bold=True, selects=True, called="What the drive said")
        line = row(self.verdict, (self.verdict_says, 1))
        line.setAlignment(self.verdict, Qt.AlignmentFlag.AlignTop)
        gap = round(0.3 * em(self))
        presses = row((self.show_me, 3), (self.cure, 2), gap=gap)
        column(line, presses, self.broke, self.told, on=self, gap=gap, edge=gap)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(round(19 * em(self)))
        self.follow(
            (session.posed, self._on_played),
            (session.answered, self.refresh),
            (session.rig_changed, self.refresh),
            (session.first.changed, self._on_first),
            (session.motion.played, self._on_played),
        )

    def sizeHint(self) -> QSize:
        """As high as its words are in the width it has."""
        return QSize(round(26 * em(self)), self._high())

    def minimumSizeHint(self) -> QSize:
        """As high, and narrow."""
        return QSize(round(19 * em(self)), self._high())

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Other widths break the lines elsewhere."""
        super().resizeEvent(event)
        self._fit()

    def refresh(self) -> None:
        """Show everything anew."""
        check, old, look = self.session.check, is_old(self.session), colours(self)
        self.verdict.show_verdict(None if check is None else check.verdict, old)
        ink(self.verdict_says, look.quiet if old else look.ink)
        self.cure.setVisible(check is not None and check.verdict != "clear" and not old)
        whole = "" if check is None else first_contact_words(check)
        self.verdict_says.setToolTip(whole)
        self.verdict_says.setAccessibleDescription(whole)
        self._on_first()
        self._on_played()

    def _on_first(self) -> None:
        self.verdict_says.setText(travel_headline(self.session))
        self._fit()

    def _on_played(self) -> None:
        motion, press = self.session.motion, self.show_me
        text, tip = offer_words(self.session)
        press.setText(text)
        press.setToolTip(tip)
        press.setEnabled(motion.drive is not None or bool(self.session.binds))
        if self.told.text() != motion.said:
            self.told.setText(motion.said)
            self.told.setToolTip(plain_tip(motion.said))
        self.told.setVisible(bool(motion.said))
        self._fit()

    def _on_show_me(self) -> None:
        if self.session.motion.drive is None:
            self.session.show_me()
        else:
            self.session.motion.pause()

    def _high(self) -> int:
        layout = self.layout()
        wide = self.width() or round(26 * em(self))
        if layout is None:
            return 0
        high = layout.totalHeightForWidth(wide)
        return high if high >= 0 else layout.totalSizeHint().height()  # no words that wrap yet

    def _fit(self) -> None:
        """Take the height the words need, no more and no less."""
        layout = self.layout()
        if layout is not None:
            layout.activate()
            high = self._high()
            if self.minimumHeight() != high or self.maximumHeight() != high:
                self.setFixedHeight(high)
