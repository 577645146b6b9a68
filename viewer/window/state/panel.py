"""The panel that says what holds: the rest of the first page, then the pose that is shown."""

from collections.abc import Callable

from PyQt6.QtCore import QEvent, QPoint, QRect, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QApplication, QFrame, QHBoxLayout, QLabel, QWidget

from sim.vehicle import Joint
from viewer.session.session import Session
from viewer.session.told.state_words import is_old, pose_headline
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import Part, button, column, ink, once, row, tall, words
from viewer.window.kit.theme import colours, em
from viewer.window.kit.verdict_mark import VerdictMark
from viewer.window.state.answer_bar import AnswerBar
from viewer.window.state.findings_list import FindingsList
from viewer.window.state.first_lines import FirstLines
from viewer.window.state.joint_block import JointBlock
from viewer.window.state.slip_bar import SlipBar
from viewer.words.bars import SURE
from viewer.words.now import now_says, slip_words
from viewer.words.posed import off_said
from viewer.words.turning import GENERIC
from viewer.words.units import format_length
from viewer.words.verdicts import CAUTION


class StatePanel(Follower):
    """Words, never signs alone; the verdict itself stands above it, in the head.

    Attributes
    ----------
    answer : whether the answer is old, and how far a new one is.
    first : the first page below its verdict, in its order. sure : how sure that is.
    mark, says : the verdict and what decides it in the pose.
    joints : by joint of the shaft. slip, slip_says, length, off : of the pose; off is how sure
        that is.
    findings : everything that was found.
    """

    bench_wanted = pyqtSignal()
    """Somebody wants to bend the joint on the bench, since its yokes are generic."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("What holds")
        self.answer = AnswerBar(session, self)
        self.mark, self.says = VerdictMark(2.2, self), self._label(1.25)
        self.joints: dict[Joint, JointBlock] = {}
        self.slip = SlipBar(session, self)
        self.slip_says, self.length, self.off = self._label(), self._label(), self._label()
        self.off.hide()
        self.first, self.sure = FirstLines(self), self._label()
        tip = "Readings with a protractor that make generic yokes your own (Ctrl+Shift+J)."
        self.bench = button("Bend the joint on the &bench ...", tip, self.bench_wanted)
        self.caution = self._label(0.9)
        self.findings = FindingsList(session, self)
        self.findings.unfolded.connect(self._show_finding)
        self._later = once(self, self.findings.tell_place)
        self._arrange()
        self.setFocusProxy(self.findings)
        self.follow(
            (session.posed, self._on_posed),
            (session.measured, self._on_measured),
            (session.answered, self.refresh),
            (session.first.changed, lambda: self._write_above(self._on_first)),
            (session.sure.changed, lambda: self._write_above(self._on_sure)),
            (session.chose, self.findings.keep_choice),
            (session.motion.played, self.findings.keep_choice),
            (session.rig_changed, self.answer.refresh),
            (session.answers.progressed, self.answer.refresh),
        )

    def _label(self, size: float = 1.0) -> QLabel:
        return words("", self, size=size, bold=size > 1.2, selects=True)

    def _arrange(self) -> None:
        inner, gap = QWidget(self), round(0.4 * em(self))
        self._blocks = column(gap=gap)
        pose, slip, found = (
            words(text, self, bold=True, wraps=False)
            for text in ("In this pose", "Slip", "All &findings")
        )
        found.setBuddy(self.findings)
        held: tuple[Part, ...] = (
            *(self.first, self.sure, row(self.bench, None), _rule(self)),
            *(pose, _beside(self.mark, self.says), self._blocks),
            *(slip, self.slip, self.slip_says, self.length, self.off, _rule(self)),
            *(found, self.findings, self.caution, None),
        )
        column(*held, on=inner, gap=gap, edge=gap)
        self.area = tall(inner)
        self.area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # words alone: the keys scroll them
        column(self.answer, (self.area, 1), on=self, gap=0, edge=0)
        self.setMinimumWidth(round(19 * em(self)))

    def sizeHint(self) -> QSize:
        """Wide enough for a finding in four lines, high enough for a few of them."""
        return QSize(round(26 * em(self)), round(50 * em(self)))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Keep the finding that is chosen in sight, as when the head needs more room."""
        super().resizeEvent(event)
        self._later.start()

    def refresh(self) -> None:
        """Show everything anew."""
        self.answer.refresh()
        self._offer_joints()
        self._on_posed()
        self._on_first()
        self._on_sure()
        look = colours(self)
        ink(self.says, look.quiet if is_old(self.session) else look.ink)
        self.caution.setText(CAUTION)
        ink(self.caution, look.quiet)
        self.findings.refresh()

    def _write_above(self, write: Callable[[], None]) -> None:
        """Write what comes later above the findings; they stay in place where somebody is at them.

        A click that is on its way meets the finding it was meant for.
        """
        bar = self.area.verticalScrollBar()
        found, place = self.findings, QPoint(0, 0)
        is_used = found.underMouse() or found.hasFocus() or (bar is not None and bar.value() > 0)
        before = found.mapTo(self, place).y()
        write()
        if is_used and bar is not None:
            QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest.value)
            bar.setValue(bar.value() + found.mapTo(self, place).y() - before)

    def _on_first(self) -> None:
        page = self.session.first.page
        self.first.show_page(page, is_old(self.session))
        self.bench.setVisible(page is not None and page.generic == GENERIC)

    def _on_sure(self) -> None:
        text = self.session.sure.sure.says
        self.sure.setText(text)
        self.sure.setVisible(bool(text))
        ink(self.sure, colours(self).quiet)
        self.findings.write()

    def _offer_joints(self) -> None:
        check = self.session.check
        there = [] if check is None else list(check.joints)
        if list(self.joints) == there:
            return
        for block in self.joints.values():
            self._blocks.removeWidget(block)
            block.deleteLater()
        self.joints = {name: JointBlock(self.session, name, self) for name in there}
        for block in self.joints.values():
            self._blocks.addWidget(block)

    def _on_posed(self) -> None:
        now = self.session.now
        verdict = None if now is None or now.beyond else now.verdict
        self.mark.show_verdict(verdict, is_old(self.session))
        self.says.setText(pose_headline(self.session))
        whole = "" if now is None else now_says(now)
        self.says.setToolTip(whole)
        self.says.setAccessibleDescription(whole)
        self.findings.keep_choice()
        slip = length = ""
        if now is not None and now.reached:
            slip, long = slip_words(now), float(now.state.line.length)
            length = f"Length now {format_length(long)} joint to joint"
        self.slip_says.setText(slip)
        self.length.setText(length)
        self.slip.setAccessibleDescription(self.slip_says.text())
        self.slip.update()
        self._on_measured()

    def _show_finding(self, place: QRect) -> None:
        """Scroll to a finding that was chosen, down to its last line and the button there."""
        # It has just unfolded: how far there is to scroll is known only after that.
        QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest.value)
        inner = self.area.widget()
        port = self.findings.viewport()
        if inner is None or port is None:
            return
        for point in (place.topLeft(), place.bottomLeft()):
            where = port.mapTo(inner, point)
            self.area.ensureVisible(0, where.y(), 0, round(0.5 * em(self)))

    def _on_measured(self) -> None:
        for block in self.joints.values():
            block.refresh()
        off = self.session.off
        said = "" if off is None else f"{SURE} {off_said(off)}."
        if said != self.off.text():
            self._write_above(lambda: self._write_off(said))

    def _write_off(self, said: str) -> None:
        self.off.setText(said)
        self.off.setVisible(bool(said))
        ink(self.off, colours(self).quiet)


def _rule(parent: QWidget) -> QFrame:
    line = QFrame(parent)
    line.setFrameShape(QFrame.Shape.HLine)
    line.setFrameShadow(QFrame.Shadow.Sunken)
    return line


def _beside(mark: QWidget, says: QWidget) -> QHBoxLayout:
    line = row(mark, (says, 1))
    line.setAlignment(mark, Qt.AlignmentFlag.AlignTop)
    return line
