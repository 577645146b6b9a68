"""Lists of words of all four caps, or of both yokes, asked for once and then placed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sim.seen.words import CAPS, YOKES, CapName
from viewer.interview.question import Question, Said
from viewer.seen.answers import AT_HAND, on_caps, on_yokes, which_caps, which_yokes
from viewer.seen.asking import Asking
from viewer.seen.places import DRAWING, SHOWN
from viewer.seen.question import asked, legal_at


@dataclass(frozen=True)
class OnCaps:
    """A list of words of all caps, asked for once: what is there, then on which of them."""

    key: str
    asks: str

    def __call__(self, asking: Asking) -> Iterator[Question]:
        """Which caps are at hand, what is seen, and where, word by word."""
        there = [cap for cap in asking.there if not asking.known(f"caps.{cap}.{self.key}")]
        if not there:
            return
        pending = f"on caps/{self.key}"
        yield _listing(f"caps.{there[0]}.{self.key}", pending, self.asks, there, self.key)
        for word in asking.said.get(pending, ()):
            place = f"{pending}/{word}"
            shown = ", ".join(f"{CAPS.index(cap) + 1} {SHOWN[cap]}" for cap in there)
            first = not any(_is_place(key) for key in asking.said if key != place)
            yield Question(
                place,
                f"Which of them: {word}?",
                f"{DRAWING}\n" * first + f"Of {shown}: all, numbers, or names.",
                which_caps(place, there, word),
                DRAWING,
            )

    @property
    def fills(self) -> tuple[str, ...]:
        """The lists."""
        return tuple(f"caps.{cap}.{self.key}" for cap in CAPS)


def _is_place(key: str) -> bool:
    """Whether a key of an answer says on which caps a word was seen."""
    return key.startswith("on caps/") and key.count("/") > 1


def _listing(path: str, pending: str, asks: str, there: Sequence[CapName], key: str) -> Question:
    legal = legal_at(path)
    made = asked(path, pending, on_caps(key, there, legal, pending), asks)
    example = f'"{SHOWN[there[0]]}: {legal[0]}; {SHOWN[there[-1]]}: {legal[1]}"'
    return replace(
        made,
        beware=f"{made.beware} By cap, in one answer: {example}. A cap "
        f'that you have not: "{SHOWN[there[-1]]}: lost".\n{DRAWING}',
    )


@dataclass(frozen=True)
class OnYokes:
    """A list of words of both yokes, asked for once: what is there, then on which."""

    key: str
    asks: str

    def __call__(self, asking: Asking) -> Iterator[Question]:
        """What is seen, and on which yoke, word by word."""
        if any(asking.known(path) for path in self.fills):
            for path in self.fills:
                if not asking.known(path):
                    yield asked(path)
            return
        pending = f"on yokes/{self.key}"
        path = self.fills[0]
        legal = legal_at(path)
        made = asked(path, pending, on_yokes(self.key, legal, pending), self.asks)
        example = f'"shaft: {legal[0]}; end: {legal[1]}"'
        yield replace(made, beware=f"{made.beware} By yoke, in one answer: {example}.".strip())
        for word in asking.said.get(pending, ()):
            place = f"{pending}/{word}"
            means = "shaft: the shaft's own yoke. end: the other one. Or both."
            asks = f"On which yoke: {word}?"
            yield Question(place, asks, means, which_yokes(place), f"{means} As shaft, or end.")

    @property
    def fills(self) -> tuple[str, ...]:
        """The lists."""
        return tuple(f"yokes.{yoke}.{self.key}" for yoke in YOKES)


def placed(said: Said) -> dict[str, Any]:
    """What was said, with the words of lists put on the caps and yokes that were named for them."""
    found = {key: value for key, value in said.items() if "/" not in key and key != AT_HAND}
    for pending, words in said.items():
        kind, _, key = pending.partition("/")
        if kind not in ("on caps", "on yokes") or "/" in key:
            continue
        table = kind.removeprefix("on ")
        where = {word: said.get(f"{pending}/{word}") for word in words}
        if None in where.values():  # some are still to be placed: until then nothing is left out
            found[f"{table}.note"] = f"{key}: {', '.join(words)}; not said on which"
            continue
        places = said.get(AT_HAND, CAPS) if table == "caps" else YOKES
        for place in places:
            there = tuple(word for word in words if place in (where[word] or ()))
            found.setdefault(f"{table}.{place}.{key}", there)
    return found
