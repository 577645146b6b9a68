"""Questions about a failed joint that belong together, and what is known while they are put."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Final

from sim.causes.codes import SeenCode
from sim.rig.rig import Rig
from sim.seen.inspection import Inspection
from sim.seen.signs import SIGNS
from sim.seen.words import CAPS, CapName
from viewer.interview.question import Question, Said
from viewer.seen.answers import AT_HAND
from viewer.seen.question import asked

BY_PHONE: Final = "by phone"
"""The question whether somebody tells it on the phone, and the key of its answer."""

_TOLD: Final = ("came", "joint", "head_cross", "fracture", "history", "symptoms")
"""Keys and tables at the top that can be told on the phone, the joint still in the vehicle."""
_BENCH: Final = frozenset({"fracture.face", "symptoms.per_turn"})
"""Keys of those that take a bench or a lift all the same."""


@dataclass(frozen=True)
class Asking:
    """What is known while the questions are put.

    Attributes
    ----------
    before : the inspection as it was taken up.
    said : everything answered since.
    seen : both together.
    rig : the vehicle.
    """

    before: Inspection
    said: Said
    seen: Inspection
    rig: Rig

    @property
    def there(self) -> tuple[CapName, ...]:
        """The caps that can be looked at."""
        caps: tuple[CapName, ...] = self.said.get(AT_HAND, CAPS)
        return caps

    @property
    def by_phone(self) -> bool:
        """Whether nobody can look into the joint just now."""
        return bool(self.said.get(BY_PHONE))

    def known(self, path: str) -> bool:
        """Whether the inspection that was taken up has something at a key."""
        here: Any = self.before
        for key in path.split("."):
            here = getattr(here, key, None)
        return here is not None


Script = Callable[[Asking], Iterator[Question]]
"""The questions of a topic, one after another: those that come next hang on what was said."""


@dataclass(frozen=True)
class Topic:
    """Some questions that belong together.

    Attributes
    ----------
    name : with which the names of its questions begin.
    fills : key paths that it fills.
    script : its questions.
    fits : whether it can be asked of this vehicle, after what was said.
    """

    name: str
    fills: tuple[str, ...]
    script: Script
    fits: Callable[[Asking], bool] = lambda _: True

    @property
    def settles(self) -> frozenset[SeenCode]:
        """Signs that its answers can say something of."""
        return frozenset(code for code, sign in SIGNS.items() if set(sign.reads) & set(self.fills))

    def can_be_asked(self, asking: Asking) -> bool:
        """Whether it can be asked of this vehicle, and of who is there."""
        told = any(
            path.partition(".")[0] in (*_TOLD, "note") and path not in _BENCH for path in self.fills
        )
        return self.fits(asking) and (told or not asking.by_phone)

    def questions(self, asking: Asking) -> Iterator[Question]:
        """Its questions, as far as they are known; none where it has been answered before."""
        return self.script(asking)


def each(*paths: str) -> Script:
    """Keys asked one after another, those that are known left out."""

    def script(asking: Asking) -> Iterator[Question]:
        for path in paths:
            if not asking.known(path) and not (asking.by_phone and path in _BENCH):
                yield asked(path)

    return script


def single(path: str, *further: str, **fits: Any) -> Topic:
    """A topic of a key or a few."""
    return Topic(path, (path, *further), each(path, *further), **fits)
