"""A doubt in the unit that was typed: nobody who measures in mm compares inches."""

import re
from typing import Final

_INCHES: Final = r"(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?"
_BOTH: Final = re.compile(
    rf"(?P<tape>(?:{_INCHES})(?: to (?:{_INCHES}))?) in "
    r"\((?P<mm>[\d.]+(?: to [\d.]+)? mm)\)"
)
"""How a result shows a length in both readings of a shop: see `viewer.words.units`."""
_UNIT: Final = re.compile(r"\d\s*(?:(?P<mm>(?:mm|cm|m)\b)|in\b|inch|ft\b|feet|foot|[\"'])")


def unit_of(text: str) -> str:
    """The family of units that an answer was typed in: "mm", "in", or "" for none."""
    found = _UNIT.search(text)
    if found is None:
        return ""
    return "mm" if found["mm"] else "in"


def said_in(unit: str, sentence: str) -> str:
    """The sentence with each of its lengths in this unit alone; as it is where `unit` is ""."""
    if not unit:
        return sentence
    return _BOTH.sub(lambda m: m["mm"] if unit == "mm" else f"{m['tape']} in", sentence)
