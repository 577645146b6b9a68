"""The questions about a shake, each with what somebody may answer."""

from typing import Any, Final

from PyQt6.QtWidgets import QComboBox, QFormLayout, QLabel, QLineEdit, QWidget

from viewer.vibration.asked import Asked
from viewer.window.kit.pieces import choosing, row

UNITS: Final = (
    ("mph", "mph", "Road speed"),
    ("km/h", "km/h", "Road speed"),
    ("rpm of the shaft", "shaft", "The driveshaft's own speed"),
    ("rpm of the engine", "engine", "With the ratio of the gear it is in"),
)

WHEN: Final = (
    ("I can't say", None, ""),
    ("under power", "power", "Foot on it; gone or changed when you let off"),
    ("coasting in gear", "coast", "Foot off, in gear; gone or changed under power"),
    ("at any time", "any", "The same under power, coasting and rolling in neutral"),
    ("pulling away", "takeoff", "Only as it takes off"),
)

FEEL: Final = (
    ("hard to say", None, ""),
    ("a buzz", "buzz", "Fast, in the seat and the floor"),
    ("a shudder", "shudder", "Slow enough to count"),
    ("a boom", "boom", "More heard than felt"),
)

PER_TURN: Final = (
    ("nobody counted", None, ""),
    ("once a turn of the shaft", 1, ""),
    ("twice a turn of the shaft", 2, ""),
)

FOLLOWS: Final = (
    ("not tried", None, ""),
    ("the same road speed", "road", "It comes at the same road speed in any gear"),
    ("the same engine speed", "engine", "It comes at the same engine speed in any gear"),
)

ONLY: Final = (
    ("nothing, it always does", None, ""),
    ("four-wheel drive", "4wd", "Gone in two-wheel drive"),
    ("the hubs locked", "hubs-locked", "Gone with the hubs unlocked"),
    ("weight in it", "loaded", "Gone when it is empty"),
    ("the axle hanging low", "drooped", "Gone when the suspension sits lower"),
)


class Questions(QWidget):
    """All of them, with one press to answer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.speed, self.gear = QLineEdit("45"), QLineEdit()
        self.speed.setAccessibleName("Speed at which it shakes")
        self.gear.setAccessibleName("Ratio of the gear it is in")
        self.gear.setPlaceholderText("gear ratio, as 0.75")
        self.unit = choosing("What that speed is of", "", UNITS, self._show_gear)
        self.when = choosing("When it shakes", "", WHEN, self._show_gear)
        self.feel = choosing("What it feels like", "", FEEL)
        self.per_turn = choosing("Times a turn", "", PER_TURN)
        self.follows = choosing("What it stays with in another gear", "", FOLLOWS)
        self.only = choosing("What it takes to shake", "", ONLY)
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        for says, what, field in (
            ("It shakes &at", row((self.speed, 1), self.unit, self.gear), self.speed),
            ("&When", self.when, self.when),
            ("It &feels like", self.feel, self.feel),
            ("It comes &up", self.per_turn, self.per_turn),
            ("In another &gear it stays with", self.follows, self.follows),
            ("&Only with", self.only, self.only),
        ):
            label = QLabel(says)
            label.setBuddy(field)
            form.addRow(label, what)
        self._show_gear()

    def asked(self) -> Asked:
        """What is answered so far."""
        unit, speed = self.unit.currentData(), self.speed.text().strip()
        engine = unit == "engine"
        typed = "" if not speed else f"{speed} {'rpm' if unit in ('shaft', 'engine') else unit}"
        return Asked(
            at="" if engine else typed,
            engine=typed if engine else "",
            gear=self.gear.text().strip() if engine else "",
            when=_of(self.when),
            feel=_of(self.feel),
            per_turn=_of(self.per_turn),
            follows=_of(self.follows),
            only=_of(self.only),
        )

    def _show_gear(self) -> None:
        self.gear.setVisible(self.unit.currentData() == "engine")


def _of(box: QComboBox) -> Any:
    return box.currentData()
