"""One axis of the pose: its slider, its typed value, and what is wrong with what was typed."""

from math import ceil, isclose

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QKeyEvent, QWheelEvent
from PyQt6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from geometry.errors import BindpointError
from sim.travel.oversteps import oversteps
from viewer.session.moving.motion import STEPS
from viewer.session.session import Session
from viewer.window.kit.line import Line
from viewer.window.kit.pieces import ink, unheard
from viewer.window.kit.plain_label import PlainLabel, plain_tip
from viewer.window.kit.theme import colours, em
from viewer.window.motion.axis_slider import AxisSlider, SpanMarks
from viewer.words.axes import (
    EXAMPLES,
    FINE,
    MIDDLES,
    NEVER,
    NEVER_SHORT,
    SHORT_ENDS,
    TITLES,
    axis_text,
    end_words,
)
from viewer.words.reach import out_of_reach_words

LABELS = {
    "travel": "Axle hei&ght",
    "roll": "Cr&ossed up",
    "wrap": "Axle wra&p",
    "spin": "Tur&n of shaft",
}

LONGEST = ("12 15/16 in droop", "10.5 deg nose down")
"""What a field has to show."""

A_NOTCH = 120.0
"""What Qt calls one notch of a wheel."""


class TypedValue(Line):
    """A field whose arrow keys step and whose Esc forgets what was typed."""

    def __init__(self, row: "AxisRow") -> None:
        super().__init__(row)
        self._row = row

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Up and down move by a step, Esc goes back to the value as it is."""
        key = event.key() if event is not None else None
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._row.step(1.0 if key == Qt.Key.Key_Up else -1.0)
        elif key == Qt.Key.Key_Escape:
            self._row.forget()
        else:
            super().keyPressEvent(event)


class AxisRow(QWidget):
    """Moves one of `viewer.session.moving.motion.AXES`."""

    def __init__(self, session: Session, axis: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.axis = axis
        self.slider = AxisSlider(self)
        self.slider.goes_round = axis == "spin"
        self.slider.setSingleStep(1)
        self.slider.setPageStep(round(STEPS[axis] / FINE[axis]))
        self.slider.setAccessibleName(TITLES[axis])
        self.slider.setToolTip(
            f"Drag, or use the arrow keys and the wheel. {TITLES[axis]} is kept inside the travel "
            "of the rig."
        )
        self.slider.valueChanged.connect(self._on_slider)
        self.field = TypedValue(self)
        self.field.setAccessibleName(f"{TITLES[axis]}, typed")
        self.field.setToolTip(
            f'Type a value with its unit, such as "{EXAMPLES[axis]}", and press Enter.'
        )
        self.field.editingFinished.connect(self._on_typed)
        self.label = PlainLabel(LABELS[axis], self)
        self.label.setBuddy(self.slider)
        self.marks = SpanMarks(self.slider, self)
        self.fault = PlainLabel(self)
        self.fault.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.fault.setAccessibleName(f"{TITLES[axis]}: what is wrong")
        self.fault.hide()
        self._shown = ""
        self._arrange()

    def _arrange(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(round(0.5 * em(self)))
        grid.setVerticalSpacing(0)
        grid.addWidget(self.label, 0, 0)
        grid.addWidget(self.slider, 0, 1)
        grid.addWidget(self.field, 0, 2)
        grid.addWidget(self.marks, 1, 1)
        grid.addWidget(self.fault, 1, 0, 1, 3)  # in place of the marks, so that nothing moves
        grid.setColumnStretch(1, 1)
        letters = self.fontMetrics()
        widest = max(letters.horizontalAdvance(label.replace("&", "")) for label in LABELS.values())
        self.label.setMinimumWidth(widest)
        longest = max(letters.horizontalAdvance(text) for text in LONGEST)
        self.field.setFixedWidth(longest + letters.horizontalAdvance("oo"))
        self.field.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def refresh(self) -> None:
        """Show where the axis is; what is being typed stays."""
        motion, fine = self._session.motion, FINE[self.axis]
        low, high = motion.bounds(self.axis)
        value = motion.value(self.axis)
        slider = self.slider
        last = 3599 if self.axis == "spin" else _steps(high, fine)
        with unheard(slider):
            slider.setRange(-_steps(-low, fine), last)
            slider.setValue(self._place(value, low, high))
        moves = high > low
        slider.setEnabled(moves)
        slider.setAccessibleDescription(axis_text(self.axis, value))
        self.field.setEnabled(moves)
        self._mark(moves)
        text = axis_text(self.axis, value)
        if text != self._shown and not (self.field.hasFocus() and self.field.isModified()):
            self.forget()

    def _place(self, value: float, low: float, high: float) -> int:
        """The slider's step for a value; the ends are the ends, whole steps or not."""
        whole = round(value / FINE[self.axis])
        if self.axis == "spin":
            return whole % 3600
        if value in (low, high) and value:
            return self.slider.minimum() if value == low else self.slider.maximum()
        return whole

    def _mark(self, moves: bool) -> None:
        motion, marks = self._session.motion, self.marks
        marks.low, marks.high = end_words(self.axis, motion.box) if moves else ("", "")
        marks.short = SHORT_ENDS[self.axis] if moves else (NEVER_SHORT.get(self.axis, ""), "")
        marks.middle, marks.middle_at = MIDDLES[self.axis], 1800 if self.axis == "spin" else 0
        if not moves:
            marks.low, marks.middle_at = NEVER.get(self.axis, ""), None
        marks.update()

    def forget(self) -> None:
        """Show the value as it is in place of what was typed."""
        self._shown = axis_text(self.axis, self._session.motion.value(self.axis))
        self.field.setText(self._shown)
        self.field.setModified(False)
        self._tell("")

    def step(self, notches: float) -> None:
        """Move by some notches; a drive that plays is ended."""
        motion = self._session.motion
        self.field.setModified(False)
        motion.stop()
        motion.step(self.axis, notches)

    def wheelEvent(self, event: QWheelEvent | None) -> None:
        """One notch is one step; with Ctrl held a tenth of it."""
        if event is None or not self.slider.isEnabled():
            return
        turned = event.angleDelta()
        notches = (turned.y() or turned.x()) / A_NOTCH
        fine = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        self.step(notches / 8.0 if fine else notches)
        event.accept()

    def _on_slider(self, place: int) -> None:
        motion = self._session.motion
        self.field.setModified(False)
        motion.stop()
        motion.go(**{self.axis: place * FINE[self.axis]})

    def _on_typed(self) -> None:
        if not self.field.isModified():
            return
        motion, text = self._session.motion, self.field.text()
        try:
            wanted = motion.type(self.axis, text)
        except BindpointError as error:
            said = str(error).removeprefix(f"--{self.axis}: ")
            self._tell(f"Type {said.rpartition('expected ')[2]}.", f"It {said}.", wrong=True)
            return
        motion.stop()
        self.forget()
        if self.axis != "spin" and not isclose(wanted, motion.value(self.axis), abs_tol=1e-9):
            self._tell(f"{text.strip()} is farther than can be shown.")
        elif beyond := oversteps(motion.box, motion.at):
            self._tell(f"Out of reach: {out_of_reach_words(beyond)}.")

    def _tell(self, words: str, more: str = "", wrong: bool = False) -> None:
        look = colours(self)
        ink(self.fault, look.verdicts["touches"] if wrong else look.quiet)
        self.fault.setText(words)
        self.fault.setToolTip(plain_tip(more or words))
        self.fault.setAccessibleDescription(more or words)
        self.fault.setVisible(bool(words))
        self.marks.setVisible(not words)


def _steps(value: float, fine: float) -> int:
    """Fine steps needed to get as far as a value."""
    return ceil(value / fine - 1e-9)
