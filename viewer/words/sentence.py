"""What a sentence is, and how it is filled with numbers as a shop reads them.

A sentence is a text with values in braces, `{gap:length}`; after the colon stands one of the names
of `SHOWN`, perhaps with its words: `{up:angle up|down}` is an angle with the word for its way,
`{left:length_under {wanted}}` a length that reads as less than another. `{turned:?this|that}` is
*this* where the value is true or above zero, else *that*. Any other is Python's own.
"""

from collections.abc import Callable, Mapping
from math import degrees
from string import Formatter
from typing import Any, Final

from viewer.words.poses import pose_words, travel_words
from viewer.words.units import (
    exact,
    format_angle,
    format_fine,
    format_fraction,
    format_fraction_up,
    format_length,
    format_length_under,
    format_missing,
    format_spoken,
    format_under,
    pressure,
    rpm,
    small_length,
    torque,
)
from viewer.words.verbs import agreeing

Sentence = str | Callable[..., str]
"""A text with values in braces; or a function of the values, where more hangs on them."""


def _angle(rad: float, words: str) -> str:
    if not words:
        return format_angle(rad)
    positive, negative = words.split("|")
    return format_spoken(rad, positive, negative)


def _length(mm: float, words: str) -> str:
    if not words:
        return format_length(mm)
    positive, negative = words.split("|")
    return f"{format_length(abs(mm))} {negative if mm < 0.0 else positive}"


def _degrees_under(rad: float, wanted: str) -> str:
    return format_under(degrees(rad), degrees(float(wanted)), 1)


def _plainly(shows: Callable[[Any], str]) -> Callable[[Any, str], str]:
    return lambda value, _: shows(value)


SHOWN: Final[Mapping[str, Callable[[Any, str], str]]] = {
    "after": lambda value, words: "" if value is None else f"{words}{value}",
    "agree": lambda part, words: agreeing(part, *words.split("|")),
    "angle": _angle,
    "angle_size": lambda rad, _: format_angle(abs(rad)),
    "caliper": _plainly(exact),
    "degrees_under": _degrees_under,
    "fine": _plainly(format_fine),
    "fine_angle": lambda rad, _: format_angle(rad, 2),
    "fraction": _plainly(format_fraction),
    "fraction_up": _plainly(format_fraction_up),
    "length": _length,
    "length_size": lambda mm, _: format_length(abs(mm)),
    "length_under": lambda mm, wanted: format_length_under(mm, float(wanted)),
    "missing": _plainly(format_missing),
    "nominal": lambda rad, _: f"{degrees(rad):g} deg",
    "percent": lambda share, _: f"{100.0 * share:.0f} %",
    "pressure": _plainly(pressure),
    "pose": _plainly(pose_words),
    "rpm": _plainly(rpm),
    "small": _plainly(small_length),
    "torque": _plainly(torque),
    "travel": _plainly(travel_words),
    "under": lambda value, wanted: format_under(value, float(wanted), 1),
}
"""Ways in which a shop reads a value, by name: of the value and of the words after the name."""


class _Shop(Formatter):
    """Knows those ways."""

    def format_field(self, value: Any, format_spec: str) -> Any:
        """As the name after the colon says; any other is Python's own."""
        if format_spec.startswith("?"):
            yes, no = format_spec[1:].split("|")
            return yes if (value > 0 if isinstance(value, int | float) else value) else no
        name, _, words = format_spec.partition(" ")
        shows = SHOWN.get(name)
        return super().format_field(value, format_spec) if shows is None else shows(value, words)


_SHOP: Final = _Shop()


def filled(sentence: Sentence, values: Mapping[str, Any]) -> str:
    """A sentence with its values in it."""
    return sentence(**values) if callable(sentence) else _SHOP.vformat(sentence, (), values)


def capital(words: str) -> str:
    """Words that begin a sentence."""
    return f"{words[:1].upper()}{words[1:]}"


def small(words: str) -> str:
    """Words that go on within a sentence, as after a colon."""
    return f"{words[:1].lower()}{words[1:]}"
