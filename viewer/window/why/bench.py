"""The joint on the bench: from where it is looked at, and what was computed over what was seen."""

from functools import partial

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QSlider, QWidget

from viewer.live.apart import Alone
from viewer.session.why.room import WhyRoom
from viewer.window.kit.pieces import button, column, row, words
from viewer.window.kit.theme import em
from viewer.window.view.gl import Factory
from viewer.window.why.flow import flowing
from viewer.window.why.view import ApartView
from viewer.words.apart import computed_key


class Bench(QWidget):
    """The joint taken apart, with what moves the eye and fades in what was computed.

    Attributes
    ----------
    view : the joint. looks : buttons by what they show. fade : from what was seen to what was
        computed. key : what the looks of that stand for, where any of it is seen.
    """

    def __init__(self, room: WhyRoom, parent: QWidget, factory: Factory) -> None:
        super().__init__(parent)
        self.room = room
        self.view = ApartView(room, self, factory)
        self.key = words("", self, size=0.9, called="What is computed")
        column(self._bar(), (self.view, 1), self.key, on=self, gap=round(0.5 * em(self)), edge=0)

    def _bar(self) -> QWidget:
        self.looks = {
            "all": button("&All apart", "Shows the whole joint, taken apart.", self._look_all),
            "shaft": button("", "", partial(self._look_into, "shaft")),
            "end": button("", "", partial(self._look_into, "end")),
            "cross": button("&Cross", "Shows the cross alone.", partial(self._look_into, "cross")),
        }
        self.fade = QSlider(Qt.Orientation.Horizontal)
        self.fade.setRange(0, 100)
        self.fade.setAccessibleName("From what was seen to what was computed")
        self.fade.setToolTip("Fades in where the metal meets and where it presses, as computed.")
        self.fade.valueChanged.connect(self._on_fade)
        self.fade.setMinimumWidth(round(6.0 * em(self)))
        fades = QWidget()
        ends = (words(each, self, wraps=False) for each in ("Seen", "computed"))
        shown = (next(ends), self.fade, next(ends))
        row(*shown, on=fades, gap=round(0.4 * em(self)), edge=0)
        bar = QWidget()
        flowing(bar, *self.looks.values(), fades)
        return bar

    def refresh(self) -> None:
        """Show what is told and meant."""
        for side in ("shaft", "end"):
            self.looks[side].setText(f"Into the {self.room.title(f'yokes.{side}').lower()}")
        self.view.refresh()

    def compute(self) -> None:
        """Show what was computed so far."""
        self.view.compute()
        self.fade.setEnabled(bool(self.room.met or self.room.pressed))
        self._tell_computed()

    def _on_fade(self, share: int) -> None:
        self.view.fade(share / 100.0)
        self._tell_computed()

    def _tell_computed(self) -> None:
        room, shown = self.room, self.fade.value() > 0
        answer = room.answers.answer
        says = "" if answer is None else computed_key(bool(room.met), bool(room.pressed))
        self.key.setText(says)
        self.key.setVisible(shown and bool(says))

    def _look_all(self) -> None:
        self.view.live.home()
        self.view.redraw()

    def _look_into(self, what: Alone) -> None:
        self.view.live.look_into(what)
        self.view.redraw()
