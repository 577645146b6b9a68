"""Reading one answer about a failed joint: words of a list, places, readings, a clock, a count."""

import re
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any, Final

from sim.seen.amounts import CLOCK
from sim.seen.words import CapName
from sim.units import UnitsError, parse_length
from viewer.interview.answers import AnswerError, Keys, Reader
from viewer.interview.asking_back import LENGTH, Measure, ask_unit
from viewer.seen.places import caps_named, spoken_of, yokes_named

NOTHING: Final = frozenset(
    {"nothing", "none", "no", "nothing found", "clean", "ok", "okay", "fine", "good", "all good"}
)
"""Looked at, and there was nothing."""
UNSEEN: Final = frozenset({"not looked at", "not seen", "unseen", "skip", "?"})
"""Not looked at, of one place among others."""
ROAD: Final = Measure(parse_length, ("mi", "km"), "0 mi", "3000 mi")
_AND: Final = re.compile(r"\s*(?:&|\+|\band\b)\s*")
_TIMES: Final = {"never": 0, "none": 0, "no": 0, "once": 1, "twice": 2, "first time": 0}


def words_in(text: str, legal: Sequence[str]) -> tuple[str, ...]:
    """The words of a closed list that an answer has, by name, number, beginning or a part of it.

    Empty where it says that there was nothing. Raises `AnswerError`.
    """
    if text.lower().strip().rstrip(".") in NOTHING - set(legal):
        return ()
    found: list[str] = []
    for piece in filter(None, re.split(r"\s*[,;\n]\s*", text.strip())):
        word = _word(piece, legal)
        words = [word] if word else [_surely(each, legal) for each in _AND.split(piece) if each]
        found += words
    if not found:
        raise AnswerError(f'came "{text}", expected words of the list, or nothing')
    return tuple(word for word in legal if word in found)


def _word(piece: str, legal: Sequence[str]) -> str:
    """The one word that is meant; "" where there is none, or more than one."""
    low = _plain(piece)
    if low.isdecimal():
        return legal[int(low) - 1] if 1 <= int(low) <= len(legal) else ""
    exactly = [word for word in legal if _plain(word) == low]
    within = exactly or _having(low, legal)
    return within[0] if len(within) == 1 else ""


def _plain(text: str) -> str:
    """Letters that tell words apart: half moon is half-moon."""
    return text.lower().strip().rstrip(".").replace("-", " ")


def _having(low: str, legal: Sequence[str]) -> list[str]:
    """Words with a piece in them."""
    return [word for word in legal if low in _plain(word)]


def _surely(piece: str, legal: Sequence[str]) -> str:
    word = _word(piece, legal)
    if word:
        return word
    low = _plain(piece)
    several = [] if low.isdecimal() else _having(low, legal)
    if several:
        raise AnswerError(f'came "{piece}", which could be {" or ".join(several)}; say which')
    close = get_close_matches(low, legal, 1)
    hint = f"; did you mean {close[0]}?" if close else ""
    raise AnswerError(f'came "{piece}", expected some of {", ".join(legal)}, or nothing{hint}')


def word_list(key: str, legal: Sequence[str]) -> Reader:
    """Words for one list."""
    return lambda text: {key: words_in(text, legal)}


def on_caps(key: str, there: Sequence[CapName], legal: Sequence[str], pending: str) -> Reader:
    """Words for the lists of several caps.

    Where the answer names no places, the words are left at the key `pending`, to be placed.
    """

    def read(text: str) -> Keys:
        if ":" in text:
            lists: dict[str, Any] = {f"caps.{cap}.{key}": () for cap in there}
            for place, what in spoken_of(text):
                for cap in caps_named(place, there):
                    if what.lower() in UNSEEN:
                        lists.pop(f"caps.{cap}.{key}", None)
                    else:
                        lists[f"caps.{cap}.{key}"] = words_in(what, legal)
            return lists
        words = words_in(text, legal)
        if words and len(there) > 1:
            return {pending: words}
        return {f"caps.{cap}.{key}": words for cap in there}

    return read


def on_yokes(key: str, legal: Sequence[str], pending: str) -> Reader:
    """Words for the lists of both yokes, as `on_caps` reads those of caps."""

    def read(text: str) -> Keys:
        if ":" in text:
            lists: dict[str, Any] = {f"yokes.{yoke}.{key}": () for yoke in ("shaft", "end")}
            for place, what in spoken_of(text):
                for yoke in yokes_named(place):
                    if what.lower() in UNSEEN:
                        lists.pop(f"yokes.{yoke}.{key}", None)
                    else:
                        lists[f"yokes.{yoke}.{key}"] = words_in(what, legal)
            return lists
        words = words_in(text, legal)
        if words:
            return {pending: words}
        return {f"yokes.{yoke}.{key}": () for yoke in ("shaft", "end")}

    return read


def which_caps(key: str, there: Sequence[CapName]) -> Reader:
    """Caps, kept at a key."""
    return lambda text: {key: caps_named(text, there)}


def which_yokes(key: str) -> Reader:
    """Yokes, kept at a key."""
    return lambda text: {key: yokes_named(text)}


def count(key: str, most: int) -> Reader:
    """How many times."""

    def read(text: str) -> Keys:
        low = text.lower().removesuffix(" times").removesuffix(" time").strip()
        number = _TIMES.get(low, int(low) if low.isdecimal() else -1)
        if not 0 <= number <= most:
            raise AnswerError(f'came "{text}", expected a number from 0 to {most}')
        return {key: number}

    return read


def clock(key: str) -> Reader:
    """A place on the clock."""

    def read(text: str) -> Keys:
        if CLOCK.of(text) is None:
            raise AnswerError(f'came "{text}", expected {CLOCK.expected}')
        return {key: text}

    return read


def yes_or_no(key: str) -> Reader:
    """Yes or no, each of which says something."""

    def read(text: str) -> Keys:
        low = text.lower()
        if low not in {"y", "yes", "n", "no"}:
            raise AnswerError(f'came "{text}", expected yes or no')
        return {key: low.startswith("y")}

    return read


def pair(key: str) -> Reader:
    """A diameter read once or twice; a unit that only the last one has is that of both."""

    def read(text: str) -> Keys:
        pieces = [each for each in re.split(r"\s*(?:,|;|\band\b|\bx\b)\s*", text) if each]
        if not 1 <= len(pieces) <= 2:
            raise AnswerError(f'came "{text}", expected one or two lengths, "1.062 in, 1.061 in"')
        if LENGTH.is_bare(pieces[-1]):
            raise ask_unit(text, LENGTH.units)
        unit = re.sub(r"^[0-9./ -]+", "", pieces[-1])
        whole = [f"{each} {unit}" if LENGTH.is_bare(each) else each for each in pieces]
        for each in whole:
            try:
                parse_length(each)
            except UnitsError as fault:
                raise AnswerError(str(fault)) from None
        return {key: tuple(whole)}

    return read
