"""Reading one answer: a value as it is spoken, turned into keys of a rig file."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any, Final

from geometry.errors import BindpointError
from sim.suspension.measured.reading import parse_height
from sim.table.day import day_of
from sim.table.loads import ALL, LEFT
from sim.units import UnitsError, parse_length
from viewer.interview.asking_back import ANGLE, LENGTH, Measure, ask_direction, ask_unit

Keys = Mapping[str, Any]
"""Typed values by key path, as `sim.rig.changed` takes them."""
Reader = Callable[[str], Keys]
"""Turns what was typed into keys. Raises `AnswerError`, or `OpenError` to ask something back."""

_STRAIGHT: Final = frozenset({"0", "none", "no", "straight", "straight ahead", "level", "even"})


MOST: Final = 1e6
"""More than any ratio or share."""


class AnswerError(BindpointError, ValueError):
    """An answer that cannot be read; the text says what would be right."""


def words(key: str) -> Reader:
    """Any text."""
    return lambda text: {key: text}


def length(key: str) -> Reader:
    """A length with its unit, which is asked back."""
    return unsigned(key, LENGTH)


def angle(key: str) -> Reader:
    """An angle with no direction and with its unit, which is asked back."""
    return unsigned(key, ANGLE)


def unsigned(key: str, measure: Measure) -> Reader:
    """A value of a measure without a direction; its unit is asked back."""

    def read(text: str) -> Keys:
        measure.unit_asked(text)
        if value_of(measure, text) < 0.0:
            raise AnswerError(f'came "{text}", which is negative; say how far, without a sign')
        return {key: text}

    return read


def number(key: str) -> Reader:
    """A bare number above zero, such as a ratio."""

    def read(text: str) -> Keys:
        found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?)(?:\s*(?::|to)\s*1)?", text)
        if found is None:
            raise AnswerError(f'came "{text}", expected a number without a unit, such as 4.1')
        if float(found[1]) > MOST:
            raise AnswerError(f'came "{text}", expected a number up to {MOST:g}, such as 4.1')
        return {key: float(found[1])}

    return read


def share(key: str) -> Reader:
    """A share in per cent, from none to all."""

    def read(text: str) -> Keys:
        found = LEFT.of(text)
        if found is None or found > ALL:
            raise AnswerError(f'came "{text}", expected a share from 0 to 100 %, such as 40 %')
        return {key: text}

    return read


def stops(apart: str, strap: str) -> Reader:
    """A distance of stops, and after it whether one strap in the middle ends the droop."""

    def read(text: str) -> Keys:
        distance = _MIDDLE.sub("", text)
        said = length(apart)(distance)
        return said if distance == text else {**said, strap: "middle"}

    return read


_MIDDLE: Final = re.compile(
    r"[\s,;]+(?:(?:one|a|single|the)\s+)*(?:middle(?:\s+strap)?|strap in the middle)$",
    re.IGNORECASE,
)


def choice(key: str, options: Mapping[str, Any]) -> Reader:
    """One of several options, by its name, by a beginning of it that fits only one, or number."""

    def read(text: str) -> Keys:
        names = list(options)
        low = text.lower()
        if low.isdecimal() and 1 <= int(low) <= len(names):
            return {key: options[names[int(low) - 1]]}
        begun = [name for name in names if name.lower() == low] or [
            name for name in names if name.lower().startswith(low)
        ]
        if len(begun) == 1:
            return {key: options[begun[0]]}
        close = get_close_matches(low, names, 1)
        hint = f"; did you mean {close[0]}?" if close else ""
        raise AnswerError(f'came "{text}", expected one of {", ".join(names)}{hint}')

    return read


def yes(key: str) -> Reader:
    """Yes or no; only yes says anything."""
    return _either(key, says=True)


def no(key: str) -> Reader:
    """Yes or no; only no says anything."""
    return _either(key, says=False)


def _either(key: str, *, says: bool) -> Reader:
    answer = choice(key, {"yes": True, "no": False})
    return lambda text: {key: True} if answer(text)[key] is says else {}


def spoken(
    degrees: Mapping[str, str] | None = None, distances: Mapping[str, str] | None = None
) -> Reader:
    """A value with its direction as a word: "3 deg down", or "9 in lower".

    `degrees` and `distances` give the key for each direction word. Straight or level needs no
    word. A unit or a direction that is missing is asked back.
    """
    ways = [(way, keys) for way, keys in ((ANGLE, degrees), (LENGTH, distances)) if keys]
    known = [word for _, keys in ways for word in keys]
    example = " or ".join(f'"{way.example} {next(iter(keys))}"' for way, keys in ways)

    def read(text: str) -> Keys:
        if text.lower() in _STRAIGHT:
            way, keys = ways[0]
            return {next(iter(keys.values())): way.zero}
        value, word = _parted(text, known)
        meant = [way for way, keys in ways if (not word or word in keys) and way.is_bare(value)]
        if meant:
            raise ask_unit(value, [unit for way in meant for unit in way.units], word)
        faults = []
        for way, keys in ways:
            try:
                number = way.parse(value)
            except UnitsError as fault:
                faults.append(str(fault))
            else:
                return _directed(text, value, number, word, keys, example)
        raise AnswerError(f"{faults[0]}, and then {' or '.join(known)}")

    return read


def _directed(
    text: str, value: str, number: float, word: str, keys: Mapping[str, str], example: str
) -> Keys:
    """The key for the direction of a value; zero needs none."""
    if number < 0.0:
        raise AnswerError(f'came "{text}"; say the direction as a word, such as {example}')
    if word in keys:
        return {keys[word]: value}
    if word:
        expected = " or ".join(keys)
        raise AnswerError(f'came "{text}", expected {expected} after it, such as {example}')
    if number > 0.0:
        raise ask_direction(value, keys)
    return {next(iter(keys.values())): value}


def _parted(text: str, known: Iterable[str]) -> tuple[str, str]:
    """A value, and the direction word behind it in lower case; "" where there is none.

    How far off the value may be stands before the word or behind it, and stays with the value.
    """
    match = re.fullmatch(
        rf"(?P<value>.*?)[\s,]*\b(?P<word>{'|'.join(known)})(?P<off>\s*(\+-|\+/-|±|\bby\b).*)?",
        text,
        re.I,
    )
    return (match["value"] + (match["off"] or ""), match["word"].lower()) if match else (text, "")


def coordinate(
    key: str, positive: Sequence[str], negative: Sequence[str], sense: float | None
) -> Reader:
    """One coordinate of a point, as a distance with a word for its direction.

    `sense` is the sign of a distance without a word; None where the word is needed.
    """
    signs = dict.fromkeys(positive, 1.0) | dict.fromkeys(negative, -1.0)

    def read(text: str) -> Keys:
        if text.lower() in _STRAIGHT:
            return {key: LENGTH.zero}
        value, word = _parted(text, signs)
        LENGTH.unit_asked(value, word)
        number, sign = value_of(LENGTH, value), signs.get(word, sense)
        if number < 0.0:
            raise AnswerError(f'came "{text}"; say the direction as a word: {" or ".join(signs)}')
        if sign is None and number > 0.0:
            raise ask_direction(value, signs)
        minus = "-" if sign is not None and sign < 0.0 and number > 0.0 else ""
        return {key: f"{minus}{value}"}

    return read


def height(key: str, done: str = "") -> Reader:
    """A height of the axle: "4 in bump", "8 in droop", "ride"; or the word that ends the list."""

    def read(text: str) -> Keys:
        if done and text.lower() == done:
            return {key: done}
        value, _, word = text.rpartition(" ") if text.lower().endswith(_HEIGHTS) else (text, "", "")
        LENGTH.unit_asked(value.strip(), word.lower())
        if not word and text.lower() not in _RIDE and _is_length(text):
            raise ask_direction(text, _HEIGHTS)
        try:
            parse_height(text)
        except ValueError as fault:  # the error of a field, which is no error of ours
            raise AnswerError(f'came "{text}": {fault}') from None
        return {key: text}

    return read


def day(key: str, done: str = "") -> Reader:
    """A day as year, month, day; or the word that ends the list."""

    def read(text: str) -> Keys:
        if done and text.lower() == done:
            return {key: done}
        try:
            return {key: day_of(text)}
        except ValueError as fault:  # the error of a field, which is no error of ours
            raise AnswerError(f'came "{text}": {fault}') from None

    return read


_RIDE: Final = ("ride", "ride height")
_HEIGHTS: Final = ("bump", "droop")


def _is_length(text: str) -> bool:
    try:
        return parse_length(text) >= 0.0
    except UnitsError:
        return False


def value_of(measure: Measure, text: str) -> float:
    """The number (mm or rad) of a text."""
    try:
        return measure.parse(text)
    except UnitsError as fault:
        raise AnswerError(str(fault)) from None
