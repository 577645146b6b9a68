"""The picture of a customer's screen, or two side by side from one eye, each under its verdict."""

from collections.abc import Iterator

from PyQt6.QtCore import QRect, Qt
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from viewer.draw.base import Image
from viewer.session.session import Session
from viewer.session.told.state_words import OLD, is_old
from viewer.window.customer.parts import Mark, Showing, ViewMaker
from viewer.window.kit.follower import Links
from viewer.window.kit.pieces import words
from viewer.window.kit.plain_label import plain_tip, unbroken
from viewer.window.kit.theme import colours, em
from viewer.words.now import now_told, now_word
from viewer.words.verdicts import RUNS_OUT, VERDICT_WORDS, check_word, headline
from viewer.written.caption import side_by_side

HUGE, BIG, LARGE = 2.6, 1.7, 1.2
"""Times the type of the screen: the verdict alone, one of two, and what holds."""

LONGEST = (
    "At 9 15/16 in droop, crossed up 8.0 deg (right wheel up), 4.0 deg nose down: the output joint "
    "hits. It bends 33.9 deg, 9.4 deg too far."
)
LINES = 4
"""About as long as a verdict on a pose gets, and the most lines that are kept for it."""


class Heading(QWidget):
    """What holds in a picture: which one it is, the verdict large, the number that decides it.

    Attributes
    ----------
    name : which of two it is. mark, word, says : verdict of the pose. whole_mark, whole : of the
    whole travel.
    """

    def __init__(self, session: Session, is_one_of_two: bool, parent: QWidget | None) -> None:
        super().__init__(parent)
        self._session, self._is_one_of_two = session, is_one_of_two
        self._whole = "", ""
        """What is said of the whole travel, short and long."""
        size = BIG if is_one_of_two else HUGE
        self.name = words("", self, size=LARGE, bold=True, wraps=False)
        self.mark, self.word = Mark(1.15 * size, self), words("", self, size=size, bold=True)
        self.word.setWordWrap(False)
        self.says = words("", self, size=1.0 if is_one_of_two else LARGE)
        self.says.setAlignment(Qt.AlignmentFlag.AlignVCenter)
        self.whole_mark = Mark(1.4, self)
        self.whole = words("", self, size=1.0, bold=True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(round(0.7 * em(self)))
        grid.setVerticalSpacing(round(0.15 * em(self)))
        grid.addWidget(self.name, 0, 0, 1, 3)
        grid.addWidget(self.mark, 1, 0)
        grid.addWidget(self.word, 1, 1)
        grid.addWidget(self.says, 2 if is_one_of_two else 1, 0 if is_one_of_two else 2, 1, -1)
        grid.addWidget(self.whole_mark, 3, 0, Qt.AlignmentFlag.AlignHCenter)
        grid.addWidget(self.whole, 3, 1, 1, 2)
        grid.setColumnStretch(2, 1)
        grid.setRowStretch(4, 1)  # two of them begin at the same height
        self.name.setVisible(is_one_of_two)
        for label, called in (
            (self.name, "Which of two"),
            (self.word, "Verdict in this position"),
            (self.says, "What holds in this position"),
            (self.whole, "Verdict over the whole travel"),
        ):
            label.setAccessibleName(called)

    def refresh(self) -> None:
        """Show the pose and what holds in it."""
        session, look = self._session, colours(self.window())
        now, check, old = session.now, session.check, is_old(session)
        if old and self._is_one_of_two and session.answers.is_computing:
            now = check = None  # the old answer is that of the other one
        lead = f"{OLD}. " if old else ""
        self.mark.show_verdict(None if now is None else now.verdict, old)
        self.word.setText("" if now is None else now_word(now))
        told = "Computing ..." if now is None else f"{lead}{now_told(now)}"
        self.says.setText(unbroken(told))
        if now is not None:
            colour = look.quiet if old else look.verdicts[now.verdict]
            self.word.setStyleSheet(f"color: {colour}")
        self.whole_mark.show_verdict(None if check is None else check.verdict, old)
        said = "" if check is None else f"Over the whole travel: {check_word(check).lower()}."
        more = "" if check is None or self._is_one_of_two else f" {headline(check)}"
        self._whole = f"{lead}{said}", f"{lead}{said}{more}"
        self._say_whole()

    def _say_whole(self) -> None:
        """Say of the whole travel as much as one row has room for."""
        short, whole = self._whole
        room = self.width() - self.whole.x()
        fits = self.whole.fontMetrics().horizontalAdvance(whole) <= room
        self.whole.setText(whole if fits else short)
        self.whole.setToolTip(plain_tip(whole))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Say as much as there is room for now."""
        super().resizeEvent(event)
        self._say_whole()

    def keep_room(self, width: int) -> None:
        """Be as high with a short sentence as with a long one.

        The view below, and with it a clip, stays as large as it is.
        """
        taken = 0
        if not self._is_one_of_two:
            there = [*VERDICT_WORDS.values(), RUNS_OUT]
            widest = max(self.word.fontMetrics().horizontalAdvance(word) for word in there)
            taken = self.mark.sizeHint().width() + widest + round(2 * em(self))
        letters = self.says.fontMetrics()
        box = QRect(0, 0, max(1, width - taken), 1)
        wrapped = letters.boundingRect(box, Qt.TextFlag.TextWordWrap, LONGEST)
        self.says.setMinimumHeight(min(wrapped.height(), LINES * letters.lineSpacing()))


class Pictures(QWidget):
    """One view of the shaft, or two: the version put aside on the left.

    Turning or moving one of two turns both. The views never change hands: what holds OpenGL would
    have to begin anew.

    Attributes
    ----------
    view, heading : of the rig as it stands. other, other_heading : of the version put aside.
    """

    def __init__(self, session: Session, parent: QWidget, make_view: ViewMaker) -> None:
        super().__init__(parent)
        self._make = make_view
        self.view = self._made(session)
        self.single = Heading(session, is_one_of_two=False, parent=self)
        self.paired = Heading(session, is_one_of_two=True, parent=self)
        self.other: Showing | None = None
        self.other_heading: Heading | None = None
        self._eye = Links()
        self._grid = grid = QGridLayout(self)
        gap = round(0.4 * em(self))
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(gap)
        grid.addWidget(self.view.bar, 1, 0, 1, 2)
        grid.addWidget(self.single, 0, 0, 1, 2)
        grid.addWidget(self.paired, 0, 1)
        grid.addWidget(self._widget(self.view), 2, 1)
        grid.setRowStretch(2, 1)
        grid.setColumnStretch(1, 1)
        self.paired.hide()

    def _made(self, session: Session) -> Showing:
        view = self._make(session, self)
        view.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        showing: Showing = view
        return showing

    def _widget(self, view: Showing) -> QWidget:
        if not isinstance(view, QWidget):
            raise TypeError(f"got {type(view).__name__}; expected a widget")
        return view

    @property
    def heading(self) -> Heading:
        """That of the rig as it stands."""
        return self.single if self.other is None else self.paired

    def put_beside(self, before: Session, names: tuple[str, str]) -> None:
        """Show another version on the left, with the names of both."""
        self.take_away()
        self.other = other = self._made(before)
        self.other_heading = Heading(before, is_one_of_two=True, parent=self)
        self.name(names)
        other.bar.hide()
        self._grid.addWidget(self.other_heading, 0, 0)
        self._grid.addWidget(self._widget(other), 2, 0)
        self._grid.setColumnStretch(0, 1)
        for each in (self.paired, self.other_heading):
            each.show()
        self.single.hide()
        other.fill()
        other.see_with(self.view)
        self._eye = Links((self.view.aimed, other.see_again), (other.aimed, self.view.see_again))
        self.refresh()

    def name(self, names: tuple[str, str]) -> None:
        """Call the two of them so."""
        for heading, name in zip((self.other_heading, self.paired), names, strict=True):
            if heading is not None:
                heading.name.setText(name)

    @property
    def views(self) -> tuple[QWidget, ...]:
        """Every view, from the left."""
        there = (self.other, self.view)
        return tuple(self._widget(each) for each in there if each is not None)

    @property
    def rests(self) -> bool:
        """Whether the views are not painted just now."""
        return not self.views[0].updatesEnabled()

    def rest(self, on: bool) -> None:
        """Let the views rest, or paint them again."""
        for view in self.views:
            view.setUpdatesEnabled(not on)

    def place(self) -> QRect:
        """Where the views are, all together."""
        first, *more = self.views
        place = first.geometry()
        return place if not more else place.united(more[0].geometry())

    def take_away(self) -> None:
        """Show one again."""
        if self.other is None or self.other_heading is None:
            return
        self._eye.let_go()
        self.view.see_alone()
        self.other.shut()
        for each in (self._widget(self.other), self.other_heading):
            self._grid.removeWidget(each)
            each.hide()
            each.deleteLater()
        self.other = self.other_heading = None
        self._grid.setColumnStretch(0, 0)
        self.paired.hide()
        self.single.show()
        self.refresh()

    def refresh(self) -> None:
        """Show what holds."""
        self.heading.refresh()
        if self.other_heading is not None:
            self.other_heading.refresh()

    def keep_room(self) -> None:
        """Keep the views as large as they are, whatever is said above them."""
        self.single.keep_room(self.width())
        for each in (self.paired, self.other_heading):
            if each is not None:
                each.keep_room(self.width() // 2)

    def snapshot(self) -> Image:
        """What is seen in all of them, (height, width, 3)."""
        frame = self.view.snapshot()
        return frame if self.other is None else side_by_side(self.other.snapshot(), frame)

    def finely(self) -> Iterator[Image | None]:
        """The same as smooth as can be, in steps; the picture comes last."""
        frames = []
        for view in (self.other, self.view):
            if view is not None:
                for frame in view.finely():
                    if frame is not None:
                        frames.append(frame)
                    else:
                        yield None
        yield frames[0] if len(frames) == 1 else side_by_side(*frames)

    def shut(self) -> None:
        """Let go of OpenGL."""
        self.take_away()
        self.view.shut()
