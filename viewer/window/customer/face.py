"""What a customer's screen is made of: the picture large, words beside it, four big controls."""

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QFont, QResizeEvent
from PyQt6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QStackedWidget,
    QWidget,
)

from viewer.session.session import Session
from viewer.window.customer.controls import LABELS, Control
from viewer.window.customer.offers import Offers
from viewer.window.customer.parts import ViewMaker
from viewer.window.customer.pictures import Pictures
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import button, choosing, column, row, words
from viewer.window.kit.theme import em, enlarged
from viewer.words.verdicts import CAUTION

LARGE, HUGE = 1.2, 1.6
"""Times the type of this screen: buttons, and the largest of them."""

ROWS, COLUMNS = 46.0, 66.0
"""Rows and columns of the program's own type that a screen must have for everything to fit; where
there are more, the type grows, so that a customer can read it from where he stands."""

LEAST, MOST = 0.7, 1.7
"""Times the type of the rest of the program."""


def grown(widget: QWidget) -> QFont:
    """The type of a screen for a customer: as large as fits on the screen a widget is on."""
    screen = widget.screen()
    if screen is None:
        return widget.font()
    room, line = screen.availableGeometry(), em(widget)
    growth = min(room.height() / (ROWS * line), room.width() / (COLUMNS * line))
    return enlarged(widget.font(), min(max(growth, LEAST), MOST))


class CustomerFace(Follower):
    """A whole screen, laid out; what it shows and does is said by `CustomerView`.

    Attributes
    ----------
    pictures : the shaft, with what holds there. note : age of the answer.
    controls : by axis. zones_words : for which axle the colours are. ride : back to ride height.
    show_me : plays the drive to the bind; told : what it said.
    joint : the joint that failed, where one was looked at.
    cures, offers, beside : what would cure it, and seeing it beside the rig as it is; keep, undo :
        what becomes of a cure that was tried; apart : where the two cannot be in one pose.
    picture, clip, film, progress, stop, done_words, leave : what can be taken home.
    """

    def __init__(self, session: Session, parent: QWidget | None, make_view: ViewMaker) -> None:
        super().__init__(session, parent)
        self.setWindowFlag(Qt.WindowType.Window)
        self.setAutoFillBackground(True)
        self.setFont(grown(self))
        self.pictures = Pictures(session, self, make_view)
        self._build()

    @property
    def view(self) -> QWidget:
        """The view of the rig as it stands."""
        return self.pictures.view  # type: ignore[return-value]

    def _build(self) -> None:
        gap = round(0.6 * em(self))
        self.note = self._label("This is not the newest answer: wait for it.", 1.0)
        self.apart = self._label("", LARGE, bold=True)
        self.apart.setAccessibleName("Where the two are not in one position")
        self.caution = self._label(CAUTION, 0.85)
        buttons = self._buttons()
        parts = ((self.pictures, 1), self.apart, self.note, buttons, self.caution)
        left = column(*parts, gap=round(0.4 * em(self)))
        page = row((left, 1), self._side(), on=self, gap=2 * gap)
        page.setContentsMargins(2 * gap, gap, 2 * gap, gap)

    def _side(self) -> QWidget:
        """The column at the right: what moves it, and what to do about it."""
        motion, gap = self.session.motion, round(0.7 * em(self))
        self.controls = {axis: Control(axis, motion, self) for axis in LABELS}
        self.ride = self._button("R&ide height", "Puts the axle at ride height, level.", 0.9)
        self.controls["travel"].put_in_head(self.ride)
        self.zones_words = self._label("", 0.85)
        self.show_me = self._button("&Show me", "Plays how the axle gets to where it binds.", HUGE)
        self.told = self._label("", 1.0)
        self.told.setAccessibleName("What the drive met")
        self.cures = self._button("What would c&ure it?", "Shows the cheapest cures by name.")
        self.beside = self._button("&Before and after", "Shows both side by side.")
        self.beside.setCheckable(True)
        self.joint = self._button(
            "Your &joint", "Shows the joint that failed: what was seen of it."
        )
        self.joint.hide()
        self.keep = self._button("K&eep this cure", "Goes on with the rig as it is cured.")
        self.undo = self._button("Leave it &as it was", "Takes the cure back.")
        self.leave = self._button("&Leave", "Goes back to the window (Escape).")
        self.offers = Offers(self.session, self)
        moving, self.stack = QWidget(self), QStackedWidget(self)
        travel, *others = self.controls.values()
        column(travel, self.zones_words, *others, None, on=moving, gap=gap, edge=0)
        self.stack.addWidget(moving)
        self.stack.addWidget(self.offers)
        side = QWidget(self)
        below = (self.show_me, self.told, self.cures, self.beside, self.joint, self.keep, self.undo)
        made = column((self.stack, 1), *below, self.leave, on=side, gap=round(0.5 * em(self)))
        made.setContentsMargins(0, 0, 0, 0)
        widest = max(each.minimumSizeHint().width() for each in self.controls.values())
        side.setFixedWidth(max(widest, self.cures.sizeHint().width()))
        return side

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Keep the views as large as they are, whatever is said above them."""
        super().resizeEvent(event)
        self.pictures.keep_room()

    def _buttons(self) -> QHBoxLayout:
        self.picture = self._button("Save a &picture ...", "Writes what is seen, with its words.")
        self.clip = self._button("Save a &clip ...", "Writes a short film to send by phone.")
        self.film = choosing("What the clip shows")
        self.film.setFont(enlarged(self.font(), LARGE))
        self.film.setMinimumContentsLength(20)
        shrinks = self.film.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        self.film.setSizeAdjustPolicy(shrinks)
        of = self._label("&of", LARGE)
        of.setWordWrap(False)
        of.setBuddy(self.film)
        self.progress = QProgressBar()
        self.progress.setAccessibleName("Clip")
        self.progress.setFormat("frame %v of %m")
        wide = self.progress.fontMetrics().horizontalAdvance("frame 9999 of 9999")
        self.progress.setMinimumWidth(wide + round(2 * em(self)))
        self.stop = self._button("Stop the fil&m", "Stops; no clip is written.")
        self.done_words = self._label("", 1.0)
        self.done_words.setAccessibleName("What became of it")
        made = (self.picture, self.clip, of, self.film, self.progress, self.stop)
        return row(*made, (self.done_words, 1), gap=round(0.7 * em(self)))

    def _label(self, text: str, factor: float, bold: bool = False) -> QLabel:
        return words(text, self, size=factor, bold=bold)

    def _button(self, text: str, tip: str, size: float = LARGE) -> QPushButton:
        made = button(text, tip)
        made.setFont(enlarged(self.font(), size))
        made.setAutoDefault(True)
        return made
