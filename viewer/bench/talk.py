"""The readings of a joint asked one at a time, each answered by what it says of the joint."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from sim.rig.typed_joints import TypedJoint
from viewer.bench.plans import SHAFT_YOKE
from viewer.interview.answers import AnswerError, Keys, Reader, choice, height, value_of
from viewer.interview.asking_back import ANGLE, Open, OpenError
from viewer.interview.question import Question
from viewer.interview.talk import Ask, EndedError, Talk, Tell
from viewer.words.bench import SAFETY, WAYS, BenchWay

Table = Mapping[str, str]
"""One reading as the rig file has it."""
Answers = Callable[[Sequence[Table]], str]
"""What so many new readings say of the joint, and which to take next, in words."""

Drawn = Callable[[BenchWay, str], Path | None]
"""Makes the drawing of a way with a yoke clamped, where it is not there yet."""

WELCOME: Final = (
    "The joint in a vise, one yoke clamped, the other bent until metal touches. Type every angle "
    "with its unit, such as 24 1/2 deg; with +- 1/2 deg behind it where you know how far off it "
    "may be. At any question: ? tells how to do it, back goes one step back, quit ends without "
    "writing."
)
DONE: Final = "done"
_CLEAR: Final = re.compile(r"clear(?: up)? to\s*(.*)", re.IGNORECASE)
_NOT_TOUCHED: Final = "clear to 28 deg says that it was bent so far and did not touch."
_HOW_FAR_OFF: Final = (
    "+- 1/2 deg behind the value says how far off it may be; by digital level names the tool "
    "instead."
)


@dataclass(frozen=True)
class Told:
    """What was read, and whether it may be written into the file that was named."""

    readings: tuple[Table, ...]
    may_write: bool


def ask_readings(
    ask: Ask,
    tell: Tell,
    joint: TypedJoint,
    answers: Answers,
    named: Callable[[BenchWay, str], str],
    drawn: Drawn,
    into: str = "",
) -> Told | None:
    """Ask for readings of a joint until there are no more; None when the asking was ended early.

    answers : what is told after each. named : the question of a way, with a yoke clamped.
    drawn : the file of the drawing of a way, with a yoke clamped; None where none is wanted.
    into : the file that they are to be written into, asked at the end; "" asks nothing.
    """
    talk = _BenchTalk(ask, tell, joint, answers, named, drawn, into)
    tell(WELCOME)
    tell(SAFETY)
    try:
        return talk.hold()
    except (EOFError, EndedError):
        tell("Ended early; nothing was written.")
        return None


class _BenchTalk(Talk[Told]):
    """The talk about a joint: for each reading how it is taken, then what it reads."""

    def __init__(
        self,
        ask: Ask,
        tell: Tell,
        joint: TypedJoint,
        answers: Answers,
        named: Callable[[BenchWay, str], str],
        drawn: Drawn,
        into: str,
    ) -> None:
        super().__init__(ask, tell, remembers=True)
        self._joint, self._answers_to = joint, answers
        self._named, self._drawn, self._into = named, drawn, into

    def next(self) -> Question | None:
        """The way of the next reading, the yoke that is clamped, the value."""
        for number in range(1, MOST + 1):
            name = f"{number}"
            if f"{name}.way" not in self.answered:
                return self._choosing(number)
            way = self._way(number)
            if way is None:
                return None
            if way.ears not in ("", "any") and f"{name}.clamped" not in self.answered:
                return self._clamping(number)
            if f"{name}.value" not in self.answered:
                return self._reading(number, way)
        return None

    def made(self) -> Told:
        """All readings, as tables of the rig file, and whether they may be written."""
        tables = tuple(self._tables())
        if not (tables and self._into):
            return Told(tables, may_write=False)
        asks = f"Write {'it' if len(tables) == 1 else 'them'} into {self._into}? [yes]"
        return Told(tables, self.agrees(asks, "yes puts the readings in; all else stays as it is."))

    def accepted(self, keys: Keys) -> None:
        """After a reading tell what it says."""
        if any(key.endswith(".value") for key in keys):
            self._tell(self._answers_to(self._tables()))

    def _tables(self) -> list[Table]:
        """What was read so far, reading by reading."""
        said, made = self.said(), []
        for number in range(1, MOST + 1):
            way, value = self._way(number), said.get(f"{number}.value")
            if way is None or value is None:
                break
            held = {"clamped": self._held(number)} if way.ears not in ("", "any") else {}
            made.append(held | ({"ears": way.ears} if way.ears else {}) | value)
        return made

    def _way(self, number: int) -> BenchWay | None:
        """How a reading is taken; None where there are no more."""
        usual = WAYS[0] if number == 1 else None
        way: BenchWay | None = self.said().get(f"{number}.way", usual)
        return way

    def _held(self, number: int) -> str:
        """The yoke that is clamped for a reading: as said, or as for the one before."""
        said = self.said()
        before = (said.get(f"{each}.clamped") for each in range(number, 0, -1))
        return next(filter(None, before), SHAFT_YOKE)

    def _choosing(self, number: int) -> Question:
        lines = "\n".join(f"{n} {way.name}: {way.means}." for n, way in enumerate(WAYS, start=1))
        options: dict[str, BenchWay | None] = {way.name: way for way in WAYS}
        more = "" if number == 1 else f" {DONE} when that is all."
        return Question(
            f"{number}.way",
            f"Reading {number}: how is it taken?{more}",
            lines if number == 1 else "",
            choice(f"{number}.way", options | {DONE: None}),
            lines,
            WAYS[0].name if number == 1 else DONE,
        )

    def _clamping(self, number: int) -> Question:
        yokes = [key.replace("_", " ") for key in self._joint.typed.yokes]
        return Question(
            f"{number}.clamped",
            f"Which yoke is clamped, {' or '.join(yokes)}?",
            "",
            choice(f"{number}.clamped", {yoke: yoke for yoke in yokes}),
            "The one in the vise. It is its ears that are one above the other, level or halfway; "
            "those of the other yoke are then the other way around.",
            self._held(number),
        )

    def _reading(self, number: int, way: BenchWay) -> Question:
        file = self._drawn(way, self._held(number))
        shown = f" Drawing: {file}" if file else ""
        more = f" {_NOT_TOUCHED}" if way.value == "touches_at" else ""
        return Question(
            f"{number}.value",
            self._named(way, self._held(number)),
            f"{way.how}{shown}",
            _value(f"{number}.value", way),
            f"{way.how}{more} {_HOW_FAR_OFF}",
        )


MOST: Final = 99
"""Readings asked for in one talk."""


def _value(name: str, way: BenchWay) -> Reader:
    """What a reading gives, by the key of the rig file."""
    at_height = height(way.value)

    def read(text: str) -> Keys:
        if way.value == "catches_at":
            return {name: dict(at_height(text))}
        key, said = way.value, text
        clear = _CLEAR.fullmatch(text) if key == "touches_at" else None
        if clear is not None:
            key, said = "clear_to", clear[1]
        try:
            ANGLE.unit_asked(said)
        except OpenError as error:
            if clear is None:
                raise
            whole = {word: f"clear to {each}" for word, each in error.left.options.items()}
            raise OpenError(Open(f"clear to {error.left.asks}", whole)) from None
        if value_of(ANGLE, said) <= 0.0:
            raise AnswerError(f'came "{text}"; expected more than 0 deg')
        return {name: {key: said}}

    return read
