"""What a sentence is, and how it is filled with numbers as a shop reads them."""

from collections.abc import Callable, Mapping
from string import Formatter
from typing import Any, Final

from viewer.words.poses import pose_words, travel_words
from viewer.words.units import (
    format_angle,
    format_fine,
    format_fraction,
    format_fraction_up,
    format_length,
    format_missing,
    rpm,
)

Sentence = str | Callable[..., str]
"""A text with values in braces, lengths and angles by the names of `SHOWN`; or a function of the
values by their names, where it depends on them how it goes."""

SHOWN: Final[Mapping[str, Callable[[Any], str]]] = {
    "angle": format_angle,
    "fine": format_fine,
    "fraction": format_fraction,
    "fraction_up": format_fraction_up,
    "length": format_length,
    "missing": format_missing,
    "percent": lambda share: f"{100.0 * share:.0f} %",
    "pose": pose_words,
    "rpm": rpm,
    "travel": travel_words,
}


class _Shop(Formatter):
    """Knows the ways in which a shop reads a number."""

    def format_field(self, value: Any, format_spec: str) -> Any:
        """As the name after the colon says; any other is Python's own."""
        shows = SHOWN.get(format_spec)
        return super().format_field(value, format_spec) if shows is None else shows(value)


_SHOP: Final = _Shop()


def filled(sentence: Sentence, values: Mapping[str, Any]) -> str:
    """A sentence with its values in it."""
    return sentence(**values) if callable(sentence) else _SHOP.vformat(sentence, (), values)
