"""What a customer's screen is made of: large words, two sliders, and what writes a picture."""

from PyQt6.QtCore import QRect, Qt
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from viewer.session.session import Session
from viewer.window.customer.parts import BigSlider, Mark, ViewMaker, Zones
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import button, choosing, column, row, words
from viewer.window.kit.theme import em, enlarged
from viewer.words.verdicts import CAUTION, RUNS_OUT, VERDICT_WORDS

LARGE, HUGE = 1.3, 3.0
"""Times the type of this screen."""

ROWS = 45.0
"""Rows of the program's own type that a screen must have for everything to fit; where there are
more, the type grows, so that a customer can read it from where he stands."""

LEAST, MOST = 0.7, 1.7
"""Times the type of the rest of the program."""


LONGEST = (
    "At 9 15/16 in droop, crossed up 8.0 deg (right wheel up), 4.0 deg nose down: output joint 9.4 "
    "deg too far."
)
LINES = 4
"""About as long as a verdict on a pose gets, and the most lines that are kept for it."""


class CustomerFace(Follower):
    """A whole screen, laid out; what it shows and does is said by `CustomerView`.

    Attributes
    ----------
    mark, word, says : verdict of the pose. whole_mark, whole : of the whole travel. note : its age.
    height_slider, zones, height_words, up, down, zones_words : axle height.
    turn_slider, turn_words : turn of the shaft. view : the shaft.
    picture, clip, film, progress, stop, done_words, leave : what can be taken home.
    """

    def __init__(self, session: Session, parent: QWidget | None, make_view: ViewMaker) -> None:
        super().__init__(session, parent)
        self.setWindowFlag(Qt.WindowType.Window)
        self.setAutoFillBackground(True)
        self.setFont(enlarged(self.font(), self._growth()))
        self.view = make_view(session, self)
        self._build()

    def _growth(self) -> float:
        screen = self.screen()
        rows = ROWS if screen is None else screen.availableGeometry().height() / em(self)
        return min(max(rows / ROWS, LEAST), MOST)

    def _build(self) -> None:
        gap = round(0.7 * em(self))
        self.view.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        head = self._head()
        middle = row(self._height_column(), (self.view, 1), gap=2 * gap)
        turn, buttons = self._turn_row(), self._buttons()
        self.caution = self._label(CAUTION, 1.0)
        page = column(head, (middle, 1), turn, buttons, self.caution, on=self, gap=gap)
        page.setContentsMargins(2 * gap, 2 * gap, 2 * gap, gap)

    def _head(self) -> QGridLayout:
        """The verdict of this position large, that of the whole travel below it."""
        head = QGridLayout()
        head.setHorizontalSpacing(round(em(self)))
        self.mark, self.word = Mark(3.4, self), self._label("", HUGE, bold=True)
        self.word.setWordWrap(False)
        self.says = self._label("", 1.2 * LARGE)
        self.says.setAlignment(Qt.AlignmentFlag.AlignVCenter)
        self.whole_mark, self.whole = Mark(1.7, self), self._label("", LARGE, bold=True)
        self.note = self._label("", 1.0)
        head.addWidget(self.mark, 0, 0)
        head.addWidget(self.word, 0, 1)
        head.addWidget(self.says, 0, 2)
        head.addWidget(self.whole_mark, 1, 0, Qt.AlignmentFlag.AlignHCenter)
        head.addWidget(self.whole, 1, 1, 1, 2)
        head.addWidget(self.note, 2, 1, 1, 2)
        head.setColumnStretch(2, 1)
        return head

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Keep the first words as high with a short sentence as with a long one.

        The view below them, and with it a clip, stays as large as it is.
        """
        super().resizeEvent(event)
        there = [*VERDICT_WORDS.values(), RUNS_OUT]
        widest = max(self.word.fontMetrics().horizontalAdvance(word) for word in there)
        taken = self.mark.sizeHint().width() + widest + round(6 * em(self))
        box = QRect(0, 0, max(1, self.width() - taken), 1)
        wrapped = self.says.fontMetrics().boundingRect(box, Qt.TextFlag.TextWordWrap, LONGEST)
        most = LINES * self.says.fontMetrics().lineSpacing()
        self.says.setMinimumHeight(min(wrapped.height(), most))

    def _height_column(self) -> QVBoxLayout:
        self.height_slider = BigSlider(Qt.Orientation.Vertical, self)
        self.height_slider.setAccessibleName("Axle height")
        self.height_slider.setToolTip("Moves the axle up and down, as far as it goes.")
        self.height_slider.setSingleStep(4)
        self.height_slider.setPageStep(16)
        self.zones = Zones(self.session, self.height_slider, self)
        self.height_words = self._label("", LARGE, bold=True)
        widest = self.height_words.fontMetrics().horizontalAdvance("10 15/16 in droop ")
        self.height_words.setMinimumWidth(widest)
        title = self._label("Axle &height", LARGE)
        title.setBuddy(self.height_slider)
        self.up, self.down = self._label("", 1.0), self._label("", 1.0)
        space = round(0.5 * em(self))
        pair = row(None, self.zones, space, self.height_slider, None, gap=0)
        self.height_slider.setMinimumHeight(3 * self.height_slider.grip)
        for each in (title, self.height_words, self.up, self.down):
            each.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            each.setWordWrap(False)
        self.zones_words = self._label("", 1.0)
        self.zones_words.setFixedWidth(widest)
        self.zones_words.setMinimumHeight(3 * self.zones_words.fontMetrics().lineSpacing())
        self.zones_words.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self.zones_words.setToolTip(self.zones.toolTip())
        over, under = (title, self.height_words, self.up), (self.down, self.zones_words)
        return column(*over, (pair, 1), *under, gap=round(0.2 * em(self)))

    def _turn_row(self) -> QHBoxLayout:
        self.turn_slider = BigSlider(Qt.Orientation.Horizontal, self)
        self.turn_slider.setRange(0, 360)
        self.turn_slider.setSingleStep(5)
        self.turn_slider.setPageStep(45)
        self.turn_slider.setAccessibleName("Turn of the shaft")
        self.turn_slider.setToolTip("Turns the shaft by hand, once all the way round.")
        title = self._label("&Turn of the shaft", LARGE)
        title.setBuddy(self.turn_slider)
        title.setWordWrap(False)
        # The letter that is underlined makes the line a little longer than the label thinks.
        title.setMinimumWidth(title.sizeHint().width() + round(0.5 * em(self)))
        self.turn_words = self._label("", LARGE, bold=True)
        self.turn_words.setWordWrap(False)
        self.turn_words.setMinimumWidth(self.turn_words.fontMetrics().horizontalAdvance("360 deg "))
        return row(title, (self.turn_slider, 1), self.turn_words, gap=round(em(self)))

    def _buttons(self) -> QHBoxLayout:
        self.picture = self._button("Save a &picture ...", "Writes what is seen, with its words.")
        self.clip = self._button("Save a &clip ...", "Writes a short film to send by phone.")
        drives = self.session.drives
        films = ((f"{d.name[:1].upper()}{d.name[1:]}", d.name, d.says) for d in drives)
        self.film = choosing("What the clip shows", items=films)
        self.film.setFont(enlarged(self.font(), LARGE))
        of = self._label("&of", LARGE)
        of.setWordWrap(False)
        of.setBuddy(self.film)
        self.progress = QProgressBar()
        self.progress.setAccessibleName("Clip")
        self.progress.setFormat("frame %v of %m")
        wide = self.progress.fontMetrics().horizontalAdvance("frame 9999 of 9999")
        self.progress.setMinimumWidth(wide + round(2 * em(self)))
        self.stop = self._button("&Stop", "Stops; no clip is written.")
        self.done_words = self._label("", LARGE)
        self.leave = self._button("&Leave", "Goes back to the window (Escape).")
        made = (self.picture, self.clip, of, self.film, self.progress, self.stop)
        return row(*made, (self.done_words, 1), self.leave, gap=round(em(self)))

    def _label(self, text: str, factor: float, bold: bool = False) -> QLabel:
        return words(text, self, size=factor, bold=bold)

    def _button(self, text: str, tip: str) -> QPushButton:
        made = button(text, tip)
        made.setFont(enlarged(self.font(), LARGE))
        made.setAutoDefault(True)
        return made
