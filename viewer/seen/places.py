"""Caps and yokes as they are named in an answer, and a drawing of which is which."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from sim.seen.words import CAPS, YOKES, CapName, YokeName, caps_of
from viewer.interview.answers import AnswerError

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
_SHAFT: Final = re.compile(r"\b(shaft|shaft's|tube|own)\b")
_END: Final = re.compile(r"\b(end|other|pinion|output|axle|case|head|far)\b")
_SIDE: Final = re.compile(r"\b([ab])\b")
_PARTS: Final = re.compile(r"\s*(?:[,;&+/]|\band\b)\s*")


def caps_named(text: str, there: Sequence[CapName]) -> tuple[CapName, ...]:
    """The caps that an answer names, of those that are there. Raises `AnswerError`."""
    low = text.lower().strip().rstrip(".")
    if low in _ALL:
        return tuple(there)
    found: list[CapName] = []
    yoke: YokeName | None = None
    for part in filter(None, _PARTS.split(low)):
        if part in {"1", "2", "3", "4"}:
            named: tuple[CapName, ...] = (CAPS[int(part) - 1],)
        else:
            yoke = _yoke_in(part) or yoke
            named = _of_yoke(text, part, yoke)
        found += named
    if gone := [cap for cap in found if cap not in there]:
        raise AnswerError(
            f"cap {SHOWN[gone[0]]} is not at hand, as you said; "
            f"expected some of {', '.join(SHOWN[cap] for cap in there)}"
        )
    if not found:
        raise AnswerError(f'came "{text}", expected which caps: {EXAMPLE}')
    return tuple(cap for cap in CAPS if cap in found)


def _of_yoke(text: str, part: str, yoke: YokeName | None) -> tuple[CapName, ...]:
    side = _SIDE.search(part)
    if yoke is None:
        missing = "which yoke" if side else "which caps"
        raise AnswerError(f'came "{text}", expected {missing}: {EXAMPLE}')
    pair = caps_of(yoke)
    return pair if side is None else (pair["ab".index(side[1])],)


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
    """The yoke that a piece of an answer speaks of."""
    if _SHAFT.search(text):
        return "shaft"
    return "end" if _END.search(text) else None


def spoken_of(text: str) -> Iterator[tuple[str, str]]:
    """Pieces of an answer that say of each place what is there: "shaft a: dry; end b: muddy"."""
    for piece in filter(None, re.split(r"\s*[;\n]\s*", text)):
        place, colon, what = piece.partition(":")
        if not colon:
            raise AnswerError(f'came "{piece}", expected a place and what is there, "shaft a: dry"')
        yield place.strip(), what.strip()
