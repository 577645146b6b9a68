"""What moves the axle and the shaft on a customer's screen: four large controls, each in words."""

from typing import Protocol

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QWidget

from viewer.session.moving.motion import STEPS
from viewer.window.customer.parts import BigSlider, Zones
from viewer.window.kit.pieces import column, row, unheard, words
from viewer.window.kit.theme import colours, em
from viewer.words.axes import FINE, NEVER_SHORT, TITLES, ends_named, plain_text

LABELS = {
    "travel": "Axle &height",
    "roll": "C&rossed up",
    "wrap": "Axle &wrap",
    "spin": "&Turn of the shaft",
}

LARGE, SMALL = 1.3, 0.85
"""Times the type of the screen."""

CATCH = 0.03
"""Share of its way at which a slider that is dragged falls to its middle: ride height, level."""

WIDEST = {
    "travel": "9 15/16 in droop",
    "roll": "10.5 deg, right wheel up",
    "wrap": "10.5 deg, nose down",
    "spin": "359 deg",
}
"""As long as what a control says gets."""


class Moves(Protocol):
    """What a control moves: a `Motion`, or two of them beside each other."""

    def bounds(self, axis: str) -> tuple[float, float]:
        """Least and most of one axis, mm or rad."""

    def value(self, axis: str) -> float:
        """Where one axis is, mm or rad."""

    def go(self, **values: float) -> None:
        """Move some axes."""

    def stop(self) -> None:
        """End a drive."""

    def go_home(self) -> None:
        """Put the axle at ride height, level and unwrapped."""


class Control(QWidget):
    """One axis of the pose: what it is, where it is in large words, a slider with named ends.

    Attributes
    ----------
    slider, says, ends : it, the words on where it is, and those of its two ends.
    zones : where in the travel it binds, beside the slider of the height; None for the others.
    """

    def __init__(self, axis: str, moves: Moves, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.axis, self._moves = axis, moves
        self.slider = BigSlider(Qt.Orientation.Horizontal, self)
        self.slider.setSingleStep(round(STEPS[axis] / FINE[axis]))
        self.slider.setPageStep(4 * self.slider.singleStep())
        self.slider.setAccessibleName(TITLES[axis])
        self.slider.setToolTip(f"{TITLES[axis]}: drag it, or use the arrow keys.")
        self.slider.valueChanged.connect(self._on_slider)
        self.zones = Zones(self.slider, self) if axis == "travel" else None
        self.title = words(LABELS[axis], self, wraps=False)
        self.title.setBuddy(self.slider)
        self.says = words("", self, size=LARGE, bold=True, wraps=False)
        self.says.setAccessibleName(f"{TITLES[axis]} now")
        self.says.setMinimumWidth(self.says.fontMetrics().horizontalAdvance(WIDEST[axis]))
        self.ends = tuple(words("", self, size=SMALL, wraps=False) for _ in range(2))
        self._head = row(self.title, None, gap=0)
        zones: list[QWidget] = [] if self.zones is None else [self.zones]
        column(
            self._head,
            self.says,
            self.slider,
            *zones,
            row(self.ends[0], None, self.ends[1]),
            on=self,
            gap=round(0.12 * em(self)),
        )
        layout = self.layout()
        if layout is not None:
            layout.setContentsMargins(0, 0, 0, 0)

    def put_in_head(self, widget: QWidget) -> None:
        """Put something beside the title."""
        self._head.addWidget(widget)

    def move_with(self, moves: Moves) -> None:
        """Move something else from now on."""
        self._moves = moves

    def refresh(self) -> None:
        """Show where it is, and how far it goes."""
        axis, slider, fine = self.axis, self.slider, FINE[self.axis]
        slider.dress(colours(self.window()))
        (low, high), value = self._moves.bounds(axis), self._moves.value(axis)
        with unheard(slider):
            slider.setRange(round(low / fine), round(high / fine))
            if axis != "spin" or round(value / fine) != slider.value() % slider.maximum():
                slider.setValue(round(value / fine))
        goes = high > low
        slider.setEnabled(goes)
        self.says.setText(plain_text(axis, value) if goes else NEVER_SHORT.get(axis, ""))
        slider.setAccessibleDescription(self.says.text())
        for label, text in zip(self.ends, ends_named(axis, low, high), strict=True):
            label.setText(text if goes else "")

    def _on_slider(self, place: int) -> None:
        slider, fine = self.slider, FINE[self.axis]
        low, high = self._moves.bounds(self.axis)
        ends = {slider.minimum(): low, slider.maximum(): high, 0: 0.0}
        near = CATCH * (slider.maximum() - slider.minimum())
        if slider.isSliderDown() and self.axis != "spin" and abs(place) < near:
            place = 0
        self._moves.stop()
        self._moves.go(**{self.axis: ends.get(place, place * fine)})
