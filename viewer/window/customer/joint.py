"""The joint that failed, for a customer: what was seen, where the metal met, what that means."""

from collections.abc import Iterator

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PyQt6.QtWidgets import QPushButton, QWidget

from viewer.session.told.picture_words import picture_title
from viewer.session.why.room import WhyRoom
from viewer.window.customer.face import grown
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import Asker, Dialogs
from viewer.window.kit.pieces import button, column, row, tall, words
from viewer.window.kit.plain_label import unbroken
from viewer.window.kit.theme import em, enlarged
from viewer.window.view.gl import Factory, gl_drawing
from viewer.window.why.view import ApartView
from viewer.words.apart import mark_text, plain_key
from viewer.words.verdicts import CAUTION
from viewer.written.caption import Caption, save_captioned
from viewer.written.files import FileError
from viewer.written.outputs import PICTURE

LARGE, HUGE = 1.15, 1.6
"""Times the type of this screen: what is read, and the name of it."""

NOT_YET = "That is not computed yet."
NOBODY = "Nobody has looked at it yet."

MOST_LINES = 9
"""Parts that are listed."""

SIDE = 24.0
"""Ems that the words beside the picture are wide."""


class JointPage(QWidget):
    """A whole screen with one joint.

    Attributes
    ----------
    view : the joint taken apart, with what was computed over what was seen.
    told : what is said, each with its title. key : what the looks of the computed stand for.
    picture, leave : what can be done. done : what became of it.
    """

    def __init__(
        self,
        room: WhyRoom,
        parent: QWidget | None = None,
        asker: Asker | None = None,
        factory: Factory = gl_drawing,
    ) -> None:
        super().__init__(parent)
        self.room, self._ask = room, asker or Dialogs(self)
        self.setWindowFlag(Qt.WindowType.Window)
        self.setWindowModality(Qt.WindowModality.ApplicationModal)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAutoFillBackground(True)
        self.setFont(grown(self))
        self.setWindowTitle(f"{room.session.document.rig.name} - Bindpoint")
        self.setAccessibleName("Your joint")
        self.view = ApartView(room, self, factory)
        self.view.live.choose("", "")
        self.view.fade(1.0)
        self.told = tuple(self._telling())
        self._arrange()
        QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self.close)

    def _arrange(self) -> None:
        gap = round(0.7 * em(self))
        page = QWidget(self)
        lines: list[QWidget] = []
        for title, text in self.told:
            lines.append(words(title, page, size=1.3, bold=True))
            lines.append(words(unbroken(text), page, size=LARGE, selects=True))
        column(*lines, None, on=page, gap=round(0.5 * em(self)), edge=0)
        side = QWidget(self)
        self.picture = self._button("Save a &picture ...", "Writes what is seen, with its words.")
        self.leave = self._button("&Leave", "Goes back to the window (Escape).")
        self.picture.clicked.connect(self._save_picture)
        self.leave.clicked.connect(self.close)
        self.done = words("", side, called="What became of it")
        column((tall(page), 1), self.done, self.picture, self.leave, on=side, gap=gap, edge=0)
        side.setFixedWidth(round(SIDE * em(self)))
        head = words(f"Your {self.room.joint} joint", self, size=HUGE, bold=True, wraps=False)
        whose = words(picture_title(self.room.session), self, size=LARGE)
        has_key = self.room.answers.answer is not None
        says = plain_key(bool(self.room.met), bool(self.room.pressed)) if has_key else ""
        self.key = words(says, self, size=0.85, called="What is computed")
        self.key.setVisible(bool(says))
        caution = words(CAUTION, self, size=0.85)
        whole = column(head, whose, (self.view, 1), self.key, caution, gap=round(0.5 * gap))
        laid = row((whole, 1), side, on=self, gap=2 * gap)
        laid.setContentsMargins(2 * gap, gap, 2 * gap, gap)

    def _button(self, text: str, tip: str) -> QPushButton:
        made = button(text, tip)
        made.setFont(enlarged(self.font(), LARGE))
        made.setAutoDefault(True)
        return made

    def _telling(self) -> Iterator[tuple[str, str]]:
        """What is said, from what lies on the bench to what it means."""
        answer = None if self.room.is_old else self.room.answers.answer
        yield "What we saw", "\n".join(self._seen()) or NOBODY
        meets = (
            NOT_YET if answer is None else "\n".join(filter(None, (answer.meets, answer.strays)))
        )
        yield "Where the metal meets", meets
        if answer is not None:
            yield "What that means", answer.counter[0]
            do = next((line for line in answer.counter if line.startswith("Do: ")), "")
            if do:
                yield "What to do", do.removeprefix("Do: ")
            yield "How sure that is", answer.caution.split(". ", maxsplit=1)[0] + "."

    def _seen(self) -> Iterator[str]:
        room = self.room
        lines = [f"{room.title(table)}: {', '.join(said)}." for table, said in room.seen().items()]
        lines += [f"Mark: {mark_text(mark, room.joint)}." for mark in room.data.get("marks", ())]
        yield from lines[:MOST_LINES]
        if len(lines) > MOST_LINES:
            yield f"And {len(lines) - MOST_LINES} more."

    def caption(self) -> Caption:
        """Words under a picture of it."""
        return Caption(picture_title(self.room.session), (), (), CAUTION, told=self.told)

    def _save_picture(self) -> None:
        place = self.room.place.with_suffix(".png")
        kinds = "Pictures (*.png)"
        path = place_to_save(self._ask, "Save the picture", place, kinds, ".png", PICTURE)
        if path is None:
            return
        try:
            save_captioned(self.view.snapshot(), self.caption(), path)
        except FileError as error:
            self.done.setText(f"{error}.")
            return
        self.done.setText(f"Saved {path.name}.")

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Let go of OpenGL."""
        self.view.shut()
        super().closeEvent(event)
