"""The readings of a joint asked one at a time, each answered by what it says of the joint."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from sim.rig.bench import BenchReading
from sim.rig.typed_joints import TypedJoint
from viewer.interview.answers import AnswerError, Keys, Reader, choice, height, value_of
from viewer.interview.asking_back import ANGLE
from viewer.interview.question import Question
from viewer.interview.talk import Ask, EndedError, Talk, Tell
from viewer.words.bench import CAUTION, WAYS, BenchWay

Table = Mapping[str, str]
"""One reading as the rig file has it."""
Answers = Callable[[Sequence[Table]], str]
"""What so many new readings say of the joint, and which to take next, in words."""

WELCOME: Final = (
    "The joint in a vise, one yoke clamped, the other bent until metal touches. Type every angle "
    "with its unit, such as 24 1/2 deg; with +- 1/2 deg behind it where you know how far off it "
    "may be. At any question: ? tells how to do it, back goes one step back, quit ends without "
    "writing."
)
DONE: Final = "done"
_CLEAR: Final = "clear to"


def ask_readings(
    ask: Ask,
    tell: Tell,
    joint: TypedJoint,
    answers: Answers,
    named: Callable[[BenchWay, str], str],
    drawn: Mapping[str, Path],
) -> tuple[Table, ...] | None:
    """Ask for readings of a joint until there are no more; None when the asking was ended early.

    answers : what is told after each. named : the question of a way, with a yoke clamped.
    drawn : files of drawings by the names of the ways.
    """
    talk = _BenchTalk(ask, tell, joint, answers, named, drawn)
    tell(WELCOME)
    tell(CAUTION)
    try:
        return talk.hold()
    except (EOFError, EndedError):
        tell("Ended early; nothing was written.")
        return None


class _BenchTalk(Talk[tuple[Table, ...]]):
    """The talk about a joint: for each reading how it is taken, then what it reads."""

    def __init__(
        self,
        ask: Ask,
        tell: Tell,
        joint: TypedJoint,
        answers: Answers,
        named: Callable[[BenchWay, str], str],
        drawn: Mapping[str, Path],
    ) -> None:
        super().__init__(ask, tell, remembers=True)
        self._joint, self._answers_to = joint, answers
        self._named, self._drawn = named, drawn

    def next(self) -> Question | None:
        """The way of the next reading, the yoke that is clamped, the value."""
        said = self.said()
        for number in range(1, MOST + 1):
            name = f"{number}"
            if f"{name}.way" not in self.answered:
                return self._choosing(name)
            way = said.get(f"{name}.way")
            if way is None:
                return None
            if way.ears not in ("", "any") and f"{name}.clamped" not in self.answered:
                return self._clamping(name)
            if f"{name}.value" not in self.answered:
                return self._reading(name, way)
        return None

    def made(self) -> tuple[Table, ...] | None:
        """All readings, as tables of the rig file."""
        return tuple(self._tables())

    def accepted(self, keys: Keys) -> None:
        """After a reading tell what it says."""
        if any(key.endswith(".value") for key in keys):
            self._tell(self._answers_to(self._tables()))

    def _tables(self) -> list[Table]:
        said = self.said()
        made = []
        for name in (name.removesuffix(".value") for name in said if name.endswith(".value")):
            way: BenchWay = said[f"{name}.way"]
            clamped = said.get(f"{name}.clamped")
            ears = {"ears": way.ears} if way.ears else {}
            held = {"clamped": clamped} if clamped else {}
            made.append(held | ears | said[f"{name}.value"])
        return made

    def _choosing(self, name: str) -> Question:
        lines = [f"{number} {way.name}: {way.means}." for number, way in enumerate(WAYS, start=1)]
        options: dict[str, Any] = {way.name: way for way in WAYS}
        key = f"{name}.way"
        known = choice(key, options | {DONE: None})
        first = name == "1"
        return Question(
            key,
            f"Reading {name}: how is it taken?" + ("" if first else f" {DONE} when that is all."),
            "\n".join(lines) if first else "",
            lambda text: {} if text.lower() == DONE else known(text),
            "\n".join(lines),
            WAYS[0].name if first else DONE,
        )

    def _clamping(self, name: str) -> Question:
        yokes = [key.replace("_", " ") for key in self._joint.typed.yokes]
        said = self.said()
        last = [said[key] for key in said if key.endswith(".clamped")]
        usual = last[-1] if last else "shaft yoke"
        return Question(
            f"{name}.clamped",
            f"Which yoke is clamped, {' or '.join(yokes)}?",
            "",
            choice(f"{name}.clamped", {yoke: yoke for yoke in yokes}),
            "The one in the vise. It is its ears that are in line, level or halfway; those of the "
            "other yoke are then the other way around.",
            usual,
        )

    def _reading(self, name: str, way: BenchWay) -> Question:
        held = self.said().get(f"{name}.clamped", "shaft yoke")
        shown = f"Drawing: {self._drawn[way.name]}" if way.name in self._drawn else ""
        more = (
            f" {_CLEAR.capitalize()} 28 deg says that it was bent so far and did not touch."
            if way.value == "touches_at"
            else ""
        )
        return Question(
            f"{name}.value",
            self._named(way, held),
            f"{way.how} {shown}".strip(),
            _value(f"{name}.value", way),
            f"{way.how}{more} +- 1/2 deg behind the value says how far off it may be; by digital "
            "level names the tool instead.",
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
        if key == "touches_at" and text.lower().startswith(_CLEAR):
            key, said = "clear_to", text[len(_CLEAR) :].strip()
        ANGLE.unit_asked(said)
        if value_of(ANGLE, said) <= 0.0:
            raise AnswerError(f'came "{text}"; expected more than 0 deg')
        return {name: {key: said}}

    return read


def reading_of(table: Table) -> BenchReading:
    """A reading as the rig has it. Raises pydantic's ValidationError for one that is none."""
    return BenchReading.model_validate(dict(table))
