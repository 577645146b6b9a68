"""Words on a joint that is taken apart."""

from collections.abc import Mapping
from math import pi
from typing import Any, Final

from viewer.words.sentence import capital

SHAFT_WAY: Final = "the shaft goes this way"

MET_FIRST: Final = "computed: touches first"

_MET: Final = (
    "Hatched with a light outline: where the metal meets if the axle is forced through its "
    "travel, the darker and closer hatched the deeper; a diamond is what was seen."
)
_NEVER: Final = "The yokes never meet within this axle's travel."
_PRESSED: Final = (
    "Shaded on the trunnions: where the needles press, the darker the harder; cones point at "
    "corners."
)
_AS: Final = "Computed, as if nothing gave: a scale, not a measurement."

NOTHING_FOUND: Final = "looked at, nothing found"

_MINUTES: Final = 720
"""Of a whole turn of the clock."""

_STEP: Final = 15
"""Minutes that a place on a clock is read to: a mark is as broad as that."""


def computed_key(meets: bool, presses: bool) -> str:
    """What the looks of what was computed stand for."""
    return " ".join([_MET if meets else _NEVER, *[_PRESSED] * presses, _AS])


def plain_key(meets: bool, presses: bool) -> str:
    """The same in a line, for somebody who sees it once."""
    signs = [
        *["hatched, with a light outline: where the metal meets"] * meets,
        *["shaded ends of the cross: where the needles press"] * presses,
        "diamond: a mark we saw",
    ]
    return f"{capital('; '.join(signs))}. All but what we saw is computed."


def clock_text(angle: float) -> str:
    """A place on a clock, rad from 12 with its hands, as somebody would say it: "4:30"."""
    minutes = round(angle / (2.0 * pi) * _MINUTES / _STEP) * _STEP % _MINUTES
    hour, minute = divmod(minutes, 60)
    return f"{hour or 12}:{minute:02d}" if minute else f"{hour or 12} o'clock"


def part_title(table: str, joint: str) -> str:
    """What a part is called by the table that tells of it: "Cap a, pinion yoke"."""
    group, _, name = table.partition(".")
    if group == "caps":
        yoke, _, ear = name.partition("_")
        return f"Cap {ear}, {yoke_title(yoke, joint)}"
    if group == "yokes":
        called = yoke_title(name, joint)
        return f"{called[:1].upper()}{called[1:]}"
    return _TITLES[group]


def mark_text(mark: Mapping[str, Any], joint: str) -> str:
    """Where a mark is, as it is typed: "pinion yoke, ear tip, 3 o'clock"."""
    yoke = yoke_title(str(mark.get("yoke", "")), joint)
    return f"{yoke}, {mark.get('surface', '')}, {mark.get('clock', '')}"


def yoke_title(yoke: str, joint: str) -> str:
    """What a yoke of a joint is called."""
    return "shaft yoke" if yoke == "shaft" else f"{joint} yoke"


_TITLES: Final = {
    "cross": "Cross",
    "fracture": "The break",
    "spline": "Spline of the slip",
    "tube": "Tube and welds",
    "ball": "Centering ball",
    "play": "Play",
    "history": "History",
    "symptoms": "How it happened",
}
