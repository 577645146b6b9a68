"""Reading one answer about a failed joint: words of a list, places, readings, a clock, a count."""

import re
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any, Final, get_args

from sim.front_section import Joint
from sim.seen.amounts import CLOCK, OfRoad
from sim.seen.words import Came, CapName
from sim.units import UnitsError, parse_length
from viewer.interview.answers import AnswerError, Keys, Reader, choice, unsigned
from viewer.interview.asking_back import LENGTH, Measure, Open, OpenError, ask_unit
from viewer.seen.partly import PartlyError
from viewer.seen.places import caps_named, place_first, spoken_of, yokes_named

NOTHING: Final = frozenset(
    {"nothing", "none", "no", "nothing found", "clean", "ok", "okay", "fine", "good", "all good"}
)
"""Looked at, and there was nothing."""
UNSEEN: Final = frozenset(
    {"not looked at", "not looked", "didn't look", "not seen", "unseen", "skip", "not measured"}
    | {"not known", "unknown", "don't know", "dont know", "do not know", "dunno", "no idea", "idk"}
)
"""Not looked at, or nobody knows: of one place among others, or of a whole question."""
AT_HAND: Final = "at hand"
"""The key of the caps that are there to be looked at, where one is lost."""
ROAD: Final = Measure(parse_length, ("mi", "km"), "0 mi", "3000 mi")
_AND: Final = re.compile(r"\s*(?:&|\+|\band\b)\s*")
_TIMES: Final = {"never": 0, "none": 0, "no": 0, "once": 1, "twice": 2, "first time": 0}
_ALSO: Final[Mapping[str, tuple[str, ...]]] = {
    "flaked": ("flakes",),
    "flaking": ("flakes",),
    "rust": ("rust dust", "rusty"),
    "rusty": ("rusty", "rust dust"),
    "rusted": ("rusty", "rust dust"),
    "wont purge": ("will not purge",),
    "won't purge": ("will not purge",),
    "does not purge": ("will not purge",),
    "doesn't purge": ("will not purge",),
    "no grease": ("dry",),
    "bone dry": ("dry",),
    "mud": ("muddy",),
    "crooked": ("sits crooked",),
    "gouges": ("gouged",),
    "egged": ("egg-shaped",),
    "dents": ("dent",),
    "half moons": ("half-moon",),
    "burrs": ("burr",),
    "squeaked": ("squeak",),
    "squeaks": ("squeak",),
    "clunked": ("clunk",),
    "clunks": ("clunk",),
    "groaned": ("groan at droop",),
    "rattled": ("rattle",),
    "lifted": ("lift",),
}
"""Other forms of the words of the lists; of several the first that a list has."""
_FILLING: Final = frozenset(
    {"a", "one", "two", "three", "cap", "caps", "of", "them", "is", "are", "it", "the", "and"}
)
"""Words around those of a list that say nothing by themselves: "one cap dry"."""
_NOT: Final = frozenset({"not", "no", "never", "without", "isn't", "aren't", "wasn't", "nor"})
_SHORTEST: Final = 3
"""Letters that a part of a word needs to be taken for it, in the middle of an answer."""


def words_in(text: str, legal: Sequence[str]) -> tuple[str, ...]:
    """The words of a closed list that an answer has, by name, number, beginning or a part of it.

    Empty where it says that there was nothing. Raises `AnswerError`, and `PartlyError` where
    some of it is no word of the list.
    """
    if text.lower().strip().rstrip(".") in NOTHING - set(legal):
        return ()
    found: list[str] = []
    unread: list[str] = []
    for piece in filter(None, re.split(r"\s*[,;\n]\s*", text.strip())):
        word = _word(piece, legal)
        for each in [piece] if word else filter(None, _AND.split(piece)):
            read, left = _among(each, legal)
            found += read
            unread += left
    words = tuple(word for word in legal if word in found)
    if unread and not words:
        _refuse(unread[0] if len(unread) > 1 else text.strip(), legal)
    if unread:
        raise PartlyError(", ".join(words), unread, _expected(unread[0], legal))
    if not words:
        raise AnswerError(f'came "{text}", expected words of the list, or nothing')
    return words


def _among(piece: str, legal: Sequence[str]) -> tuple[list[str], list[str]]:
    """Words of the list that follow each other in a piece, the longest first; and what is left."""
    if word := _word(piece, legal):
        return [word], []
    tokens = piece.lower().rstrip(".").split()
    found: list[str] = []
    left: list[str] = []
    at = 0
    while at < len(tokens):
        ends = range(len(tokens), at, -1)
        run = next((end for end in ends if _is_word(" ".join(tokens[at:end]), legal)), 0)
        if run:
            found.append(_word(" ".join(tokens[at:run]), legal))
            at = run
            continue
        if tokens[at] in _NOT:  # what is said not to be there is no word for what is
            return ([], [piece])
        if tokens[at] not in _FILLING:
            left.append(tokens[at])
        at += 1
    return found, left if found or not left else [piece]


def _is_word(text: str, legal: Sequence[str]) -> bool:
    return len(text) >= _SHORTEST and text not in _FILLING and bool(_word(text, legal))


def _word(piece: str, legal: Sequence[str]) -> str:
    """The one word that is meant; "" where there is none, or more than one."""
    low = _plain(piece)
    if low.isdecimal():
        return legal[int(low) - 1] if 1 <= int(low) <= len(legal) else ""
    exactly = [word for word in legal if _plain(word) == low]
    also = exactly or [word for word in _ALSO.get(low, ()) if word in legal][:1]
    within = also or _having(low, legal)
    return within[0] if len(within) == 1 else ""


def _plain(text: str) -> str:
    """Letters that tell words apart: half moon is half-moon."""
    return text.lower().strip().rstrip(".").replace("-", " ").replace("\u2019", "'")


def _having(low: str, legal: Sequence[str]) -> list[str]:
    """Words with a piece in them."""
    return [word for word in legal if low in _plain(word)]


def _refuse(piece: str, legal: Sequence[str]) -> None:
    raise AnswerError(f'came "{piece}", {_expected(piece, legal)}')


def _expected(piece: str, legal: Sequence[str]) -> str:
    low = _plain(piece)
    several = [] if low.isdecimal() else _having(low, legal)
    if several:
        return f"which could be {' or '.join(several)}; say which"
    close = get_close_matches(low, legal, 1)
    hint = f"; did you mean {close[0]}?" if close else ""
    return f"expected some of {', '.join(legal)}, or nothing{hint}"


def plain_choice(key: str, legal: Sequence[str]) -> Reader:
    """One word of a choice, or another way to say it."""
    read = choice(key, {each: each for each in legal})
    also = _CHOICES.get(key, {})

    def told(text: str) -> Keys:
        low = _plain(text).removeprefix("it ").removeprefix("the ")
        return read(also.get(low, text))

    return told


def came(key: str, by_phone: str) -> Reader:
    """How it ended, and behind a comma whether it is told on the phone."""
    read = plain_choice(key, get_args(Came))

    def told(text: str) -> Keys:
        found = re.fullmatch(r"(.*?)[\s,;]+(?:(?:by|on|over)\s+)?(?:the\s+)?phone", text, re.I)
        return read(text) if found is None else {**read(found[1]), by_phone: True}

    return told


def joint_named(key: str, known: Sequence[Joint], axle: str) -> Reader:
    """A joint by its name or by what it is at. axle : "front", "rear", or "" where nobody said."""
    read = choice(key, {joint: joint for joint in known})

    def told(text: str) -> Keys:
        low = re.sub(r"\b(?:the|at|end|joint|side|one)\b", " ", _plain(text))
        low = " ".join(low.split())
        if low in {"front axle", "rear axle"}:
            low = "axle" if low == f"{axle} axle" else "front" if "front" in low else "rear"
            if axle and low != "axle":
                raise AnswerError(f'came "{text}", but this shaft goes to the {axle} axle')
        if low in {"front", "rear"} and not axle:
            whole = {"pinion": "pinion", "output": "output"}
            asks = f"{low}: at the axle (pinion), or at the transfer case or transmission (output)?"
            raise OpenError(Open(asks, whole))
        if low in {"front", "rear"}:
            return {key: "pinion" if low == axle else "output"}
        return read(_AT.get(low, text))

    return told


_AT: Final[Mapping[str, str]] = {
    **dict.fromkeys(("axle", "pinion", "diff", "differential"), "pinion"),
    **dict.fromkeys(("transfer case", "t case", "case", "transmission", "output"), "output"),
    **dict.fromkeys(("carrier", "carrier bearing", "center", "center bearing"), "middle"),
}
"""What a joint is at."""

_CHOICES: Final[Mapping[str, Mapping[str, str]]] = {
    "came": {
        **dict.fromkeys(("broken", "broke", "break", "snapped", "came apart"), "broke"),
        **dict.fromkeys(("wore out", "worn", "worn out", "wear", "wore"), "wore"),
        **dict.fromkeys(("still runs", "still running", "running", "run", "runs"), "runs"),
    },
    "history.greased": dict.fromkeys(("none", "no", "not at all"), "never"),
    "history.water": dict.fromkeys(("none", "no", "not at all"), "never")
    | {"sometimes": "now and then"},
    "fracture.face": {"old": "old and new", "beach marks": "rippled", "grainy": "rough"},
    "symptoms.throttle": {"under power": "drive", "power": "drive", "coasting": "coast"},
    "symptoms.happened": dict.fromkeys(("braking", "reverse"), "reverse or braking"),
}
"""Other ways to say a word of a choice, by the key that it is kept at."""


def road(key: str) -> Reader:
    """A distance that was driven: 8000 mi, 8,000 miles, about 8k miles; its unit is asked back."""
    read = unsigned(key, ROAD)

    def told(text: str) -> Keys:
        value = _ABOUT.sub("", text.strip().lower())
        value = re.sub(r"(?<=\d),(?=\d{3}\b)", "", value)
        if found := re.fullmatch(r"(\d+(?:\.\d+)?)\s*k\b\s*(.*)", value):
            value = f"{float(found[1]) * 1000.0:.0f} {found[2]}".strip()
        value = re.sub(r"\bmiles?\b", "mi", value)
        try:
            return read(value)
        except AnswerError as fault:
            if "negative" in str(fault):
                raise
            raise AnswerError(f'came "{text}", expected {OfRoad.expected}') from None

    return told


_ABOUT: Final = re.compile(r"^(?:about|around|roughly|some|approx\.?|maybe|~)\s*")


def word_list(key: str, legal: Sequence[str]) -> Reader:
    """Words for one list."""
    return lambda text: {key: words_in(text, legal)}


LOST: Final = frozenset({"lost", "gone", "not there", "not at hand"})
"""Of a cap that nobody can look at, here and in the lists that follow."""
_REST: Final = frozenset({"others", "the others", "rest", "the rest"})


def on_caps(key: str, there: Sequence[CapName], legal: Sequence[str], pending: str) -> Reader:
    """Words for the lists of several caps.

    Where the answer names no places, the words are left at the key `pending`, to be placed.
    """

    def read(text: str) -> Keys:
        if ":" in text or _is_by_place(text, legal):
            return _on_named_caps(text, key, there, legal)
        words = words_in(text, legal)
        if words and len(there) > 1:
            return {pending: words}
        return {f"caps.{cap}.{key}": words for cap in there}

    return read


def _is_by_place(text: str, legal: Sequence[str]) -> bool:
    """Whether an answer begins with a place that is no word of the list: "end b dry"."""
    pieces = text.split(";")
    return not _word(re.split(r"[,;]", text)[0], legal) and all(
        place_first(piece)[0] for piece in pieces if piece.strip()
    )


def _on_named_caps(
    text: str, key: str, there: Sequence[CapName], legal: Sequence[str]
) -> dict[str, Any]:
    found: dict[CapName, tuple[str, ...] | None] = {}
    lost: list[CapName] = []
    for place, what in spoken_of(text):
        rest = [cap for cap in there if cap not in found]
        for cap in rest if place.lower() in _REST else caps_named(place, there):
            unseen = what.lower() in (UNSEEN | LOST) - set(legal)
            found[cap] = None if unseen else _words_at(place, what, legal, text)
            lost += [cap] if what.lower() in LOST - set(legal) else []
    if all(words is None for words in found.values()) and len(found) < len(there):
        raise PartlyError(text.rstrip("; "), ("the others",), '"others: nothing", or what is there')
    lists: dict[str, Any] = {
        f"caps.{cap}.{key}": found.get(cap, ()) for cap in there if found.get(cap, ()) is not None
    }
    return lists | ({AT_HAND: tuple(cap for cap in there if cap not in lost)} if lost else {})


def _words_at(place: str, what: str, legal: Sequence[str], text: str) -> tuple[str, ...]:
    """Words of one place; with a word that nobody understood all other places are kept."""
    try:
        return words_in(what, legal)
    except PartlyError as fault:
        others = [piece for piece in text.split(";") if what not in piece]
        read = "; ".join([*(each.strip() for each in others), f"{place}: {fault.read}"])
        raise PartlyError(read, fault.left, _expected(fault.left[0], legal)) from None


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
                        lists[f"yokes.{yoke}.{key}"] = _words_at(place, what, legal, text)
            return lists
        words = words_in(text, legal)
        if words:
            return {pending: words}
        return {f"yokes.{yoke}.{key}": () for yoke in ("shaft", "end")}

    return read


def which_caps(key: str, there: Sequence[CapName], word: str = "") -> Reader:
    """Caps, kept at a key. word : that is to be placed, which may be said once more."""
    return lambda text: {key: caps_named(text, there, word.split())}


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
