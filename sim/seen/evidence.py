"""What a sign is read from: words in lists that were looked at, and numbers that were measured.

Each of these gives true, false, or None where what it needs was not looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final, Protocol

from sim.rig.rig import Rig
from sim.seen.inspection import Inspection
from sim.seen.words import CAPS, YOKES, caps_of
from sim.units import Length

Answer = bool | None
"""Whether it is so; None where it was not looked at."""


class Evidence(Protocol):
    """Reads one thing from an inspection of a vehicle that may be known."""

    @property
    def reads(self) -> tuple[str, ...]:
        """Key paths of what it looks at."""

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """Whether it is so."""


def at(seen: Inspection, path: str) -> Any:
    """What stands at a key path of an inspection, or None."""
    here: Any = seen
    for key in path.split("."):
        here = getattr(here, key, None)
    return here


def either(answers: Iterable[Answer]) -> Answer:
    """True where one is, false where all were looked at and none is."""
    told = list(answers)
    if any(answer is True for answer in told):
        return True
    return None if not told or None in told else False


def every(answers: Iterable[Answer]) -> Answer:
    """True where all are, false where one is not."""
    told = list(answers)
    if any(answer is False for answer in told):
        return False
    return None if not told or None in told else True


def on_caps(key: str) -> tuple[str, ...]:
    """Paths of a key at all four caps."""
    return tuple(f"caps.{cap}.{key}" for cap in CAPS)


def on_yokes(key: str) -> tuple[str, ...]:
    """Paths of a key at both yokes."""
    return tuple(f"yokes.{yoke}.{key}" for yoke in YOKES)


@dataclass(frozen=True)
class Listed:
    """One of some words stands in one of some lists; it does not where all lists were looked at.

    hidden_by : words of what hides it: beside them a list says yes, or nothing.
    """

    paths: tuple[str, ...]
    words: frozenset[str]
    hidden_by: frozenset[str] = frozenset()

    @property
    def reads(self) -> tuple[str, ...]:
        """The lists."""
        return self.paths

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """Whether one is there."""
        del rig
        return either(self._in(at(seen, path)) for path in self.paths)

    def _in(self, words: Sequence[str] | None) -> Answer:
        if words is None:
            return None
        there = not self.words.isdisjoint(words)
        return there or (False if self.hidden_by.isdisjoint(words) else None)


def listed(
    paths: str | tuple[str, ...], *words: str, hidden_by: Iterable[str] = frozenset()
) -> Listed:
    """Some words in one list, or in several."""
    places = (paths,) if isinstance(paths, str) else paths
    return Listed(places, frozenset(words), frozenset(hidden_by))


@dataclass(frozen=True)
class Told:
    """One of some words was named by somebody who tells what comes to mind.

    What is not named stays open; only that there was nothing at all says that it is not so.
    """

    path: str
    words: frozenset[str]

    @property
    def reads(self) -> tuple[str, ...]:
        """The list."""
        return (self.path,)

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """Whether one was."""
        del rig
        words = at(seen, self.path)
        if words is None or not self.words.isdisjoint(words):
            return None if words is None else True
        return None if set(words) - _NOTHING else False


_NOTHING: Final = frozenset({"nothing"})


def told(path: str, *words: str) -> Told:
    """Some words at one key."""
    return Told(path, frozenset(words))


@dataclass(frozen=True)
class Chosen:
    """One of some words was chosen at a key; another one says that it is not so.

    silent : words that say nothing about it.
    """

    path: str
    words: frozenset[str]
    silent: frozenset[str] = frozenset()

    @property
    def reads(self) -> tuple[str, ...]:
        """The key."""
        return (self.path,)

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """Whether one of the words was chosen."""
        del rig
        word = at(seen, self.path)
        return None if word is None or word in self.silent else word in self.words


def chosen(path: str, *words: str, silent: tuple[str, ...] = ()) -> Chosen:
    """Some words at one key."""
    return Chosen(path, frozenset(words), frozenset(silent))


@dataclass(frozen=True)
class Measured:
    """A reading at one of some keys is past a limit, in mm or rad."""

    paths: tuple[str, ...]
    past: float

    @property
    def reads(self) -> tuple[str, ...]:
        """The keys."""
        return self.paths

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """Whether one is."""
        del rig
        return either(self._past(at(seen, path)) for path in self.paths)

    def _past(self, value: Any) -> Answer:
        return None if value is None else number(value) > self.past


@dataclass(frozen=True)
class Or:
    """One of several ways to see the same thing; it is not so where each of them says so.

    only : ways that can only say that it is so, since few look that way.
    """

    ways: tuple[Evidence, ...]
    only: tuple[Evidence, ...] = ()

    @property
    def reads(self) -> tuple[str, ...]:
        """What all ways look at."""
        return tuple(path for way in (*self.ways, *self.only) for path in way.reads)

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """Whether one of them is."""
        also = [way(seen, rig) for way in self.only]
        answers = [way(seen, rig) for way in self.ways]
        return True if True in also else either(answers)


@dataclass(frozen=True)
class Counted:
    """What a function says, where a rule of words and limits does not."""

    says: Callable[[Inspection, Rig | None], Answer]
    reads: tuple[str, ...]

    def __call__(self, seen: Inspection, rig: Rig | None) -> Answer:
        """What it says."""
        return self.says(seen, rig)


def number(value: Any) -> float:
    """Millimetres of a length, radians of an angle."""
    return float(value.mm if isinstance(value, Length) else value.rad)


def lists(seen: Inspection, key: str) -> list[Sequence[str] | None]:
    """The lists of all four caps for a key, None where nobody looked."""
    return [at(seen, path) for path in on_caps(key)]


PAIRS: Final = tuple(caps_of(yoke) for yoke in YOKES)
"""The caps of either yoke: the two on one axis of the cross."""
