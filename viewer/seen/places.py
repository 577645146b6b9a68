"""Caps and yokes as they are named in an answer, and a drawing of which is which."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from sim.seen.words import CAPS, YOKES, CapName, YokeName, caps_of
from viewer.interview.answers import AnswerError
from viewer.seen.partly import PartlyError

DRAWING: Final = """\
Seen from behind, looking forward:

                12
            1 shaft a
                |
   4 end b -----+----- 3 end a
                |
            2 shaft b
                6

1 and 2 sit in the shaft's own yoke
(in a head: the one toward the tube),
3 and 4 in the other one. In either
yoke call the ear a that stood nearest
12, or clockwise after it."""
"""Which of the four caps is which."""

SHOWN: Final[dict[CapName, str]] = {cap: cap.replace("_", " ") for cap in CAPS}
"""Short names of the caps, as they are answered."""

EXAMPLE: Final = '"all", "shaft a", "both end", or numbers such as "1, 3"'

_ALL: Final = frozenset({"all", "all four", "all of them", "every", "each", "both", "4 of 4"})
_SHAFT: Final = frozenset({"shaft", "shaft's", "tube", "own"})
_END: Final = frozenset({"end", "other", "pinion", "output", "axle", "case", "head", "far"})
_FILLING: Final = frozenset({"cap", "caps", "yoke", "ear", "on", "of", "at", "the", "it", "both"})
"""Words around a place that say nothing by themselves."""
_PARTS: Final = re.compile(r"\s*(?:[,;:&+/]|\band\b)\s*")


def caps_named(
    text: str, there: Sequence[CapName], filling: Sequence[str] = ()
) -> tuple[CapName, ...]:
    """The caps that an answer names, of those that are there.

    filling : words that may stand around the places, such as the one that is to be placed.
    Raises `AnswerError`, and `PartlyError` where some word of it is none of a place.
    """
    low = text.lower().strip().rstrip(".")
    if low in _ALL:
        return tuple(there)
    found: list[CapName] = []
    unread: list[str] = []
    yoke: YokeName | None = None
    known = _FILLING | set(filling)
    for part in filter(None, _PARTS.split(low)):
        words = [word for word in part.split() if word not in known]
        if odd := [word for word in words if not _is_place(word)]:
            unread.append(part if len(odd) == len(words) else " ".join(odd))
        places = [word for word in words if _is_place(word)]
        if odd and set(places) <= {"a", "b"}:
            places = []  # "a" among words that nobody understood may be no cap at all
        named, yoke = _placed(part, places, yoke)
        found += named
    if gone := [cap for cap in found if cap not in there]:
        raise AnswerError(
            f"cap {SHOWN[gone[0]]} is not at hand, as you said; "
            f"expected some of {', '.join(SHOWN[cap] for cap in there)}"
        )
    if unread and found:
        read = ", ".join(SHOWN[cap] for cap in CAPS if cap in found)
        raise PartlyError(read, unread, f"a cap, {EXAMPLE}")
    if not found:
        raise AnswerError(f'came "{text}", expected which caps: {EXAMPLE}')
    return tuple(cap for cap in CAPS if cap in found)


_NUMBERS: Final = ("1", "2", "3", "4")


def _is_place(word: str) -> bool:
    return word in _NUMBERS or word in {"a", "b"} or _yoke_of(word) is not None


def _yoke_of(word: str) -> YokeName | None:
    if word in _SHAFT:
        return "shaft"
    return "end" if word in _END else None


def _placed(
    part: str, words: Sequence[str], yoke: YokeName | None
) -> tuple[list[CapName], YokeName | None]:
    """The caps of one piece, and the yoke it speaks of; `yoke` is that of the piece before."""
    if not words:
        return [], yoke
    if all(word in _NUMBERS for word in words):
        return [CAPS[int(word) - 1] for word in words], yoke
    yokes = list(dict.fromkeys(each for each in map(_yoke_of, words) if each is not None))
    sides = [word for word in words if word in {"a", "b"}]
    if len(yokes) > 1 or any(word in _NUMBERS for word in words):
        if len(words) == 2 * len(sides) and all(word in sides for word in words[1::2]):
            pairs = zip(words[::2], words[1::2], strict=True)
            return [_side(_yoke_of(name) or "end", side) for name, side in pairs], yoke
        raise AnswerError(f'came "{part}", which could be more than one; commas between, {EXAMPLE}')
    if not yokes and yoke is None:
        raise AnswerError(f'came "{part}", expected which yoke: {EXAMPLE}')
    here = yokes[0] if yokes else yoke or "end"
    return ([_side(here, side) for side in sides] or list(caps_of(here))), here


def _side(yoke: YokeName, side: str) -> CapName:
    return caps_of(yoke)["ab".index(side)]


def place_first(text: str) -> tuple[str, str]:
    """A place that an answer begins with, and what is said of it: "end b dry"; "" for none."""
    found = _AT_FIRST.fullmatch(text.strip())
    return (found["place"], found["what"]) if found else ("", text)


_AT_FIRST: Final = re.compile(
    r"(?P<place>(?:cap\s+)?(?:(?:shaft|end|pinion|output|axle|tube)\s+[ab]"
    r"|both\s+(?:shaft|end)))\s+(?:(?:is|are|was)\s+)?(?P<what>\S.*)",
    re.IGNORECASE,
)


def yokes_named(text: str, there: Sequence[YokeName] = YOKES) -> tuple[YokeName, ...]:
    """The yokes that an answer names. Raises `AnswerError`."""
    low = text.lower().strip().rstrip(".")
    if low in _ALL:
        return tuple(there)
    parts = [_yoke_in(part) or _by_number(part) for part in _PARTS.split(low)]
    if not all(parts):
        raise AnswerError(f'came "{text}", expected shaft, end or both')
    return tuple(yoke for yoke in there if yoke in parts)


def _by_number(part: str) -> YokeName | None:
    return YOKES[int(part) - 1] if part in {"1", "2"} else None


def _yoke_in(text: str) -> YokeName | None:
    """The one yoke that a piece of an answer speaks of, all of whose words are understood."""
    words = [word for word in text.split() if word not in _FILLING]
    yokes = {_yoke_of(word) for word in words}
    return next(iter(yokes)) if len(yokes) == 1 else None


def spoken_of(text: str) -> Iterator[tuple[str, str]]:
    """Pieces of an answer that say of each place what is there: "shaft a: dry; end b muddy"."""
    for piece in filter(None, re.split(r"\s*[;\n]\s*", text)):
        place, colon, what = piece.partition(":")
        if not colon:
            place, what = place_first(piece)
        if not place or not what.strip():
            raise AnswerError(f'came "{piece}", expected a place and what is there, "shaft a: dry"')
        yield place.strip(), what.strip()
