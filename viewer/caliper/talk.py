"""The caliper readings of a yoke asked one at a time, with a step back and a word of doubt."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from geometry.errors import ShapeError
from sim.parts.caliper import CaliperReading, caliper_form, doubts, yoke_read
from sim.parts.catalogue import cross_sizes, yoke_kinds
from sim.units import UnitsError, parse_length
from viewer.caliper.form import generic_words
from viewer.interview.answers import AnswerError, Reader, choice

Ask = Callable[[str], str]
"""Shows a prompt and gives back what was typed. Raises EOFError when nobody answers any more."""
Tell = Callable[[str], None]
"""Shows a text."""
Draw = Callable[[str, str], Mapping[str, Path]]
"""Makes the drawings for a kind of yoke and a cross; gives the file of each reading."""

_BACK: Final = frozenset({"back", "b", "<"})
_HELP: Final = frozenset({"?", "help", "h"})
_QUIT: Final = frozenset({"quit", "q", "exit"})

WELCOME: Final = (
    "The yoke off the vehicle and clean, a caliper and a depth gauge. Type every reading with its "
    "unit, such as 16.5 mm, 0.65 in or 21/32 in. At any question: ? tells how to measure it, back "
    "goes one step back, quit ends without writing; Enter alone leaves the generic value in "
    "[brackets]."
)


@dataclass(frozen=True)
class MeasuredYoke:
    """A yoke as read: its kind, its cross, and the readings by name, mm."""

    kind: str
    cross: str
    readings: Mapping[str, float]


def ask_yoke(
    ask: Ask,
    tell: Tell,
    kind: str | None = None,
    cross: str | None = None,
    draw: Draw | None = None,
) -> MeasuredYoke | None:
    """Ask for a yoke's readings; None when the asking was ended early.

    kind, cross : as in the catalogue; asked for where left out
    draw : makes the drawings once both are known
    Raises CatalogueError for names that the catalogue does not know.
    """
    talk = _Talk(ask, tell, kind, cross, draw)
    tell(WELCOME)
    try:
        return talk.yoke()
    except (EOFError, _EndedError):
        tell("Ended early; nothing was written.")
        return None


class _EndedError(Exception):
    """Whoever is asked wants to stop."""


class _Talk:
    """One conversation: what is known from the start, and the answers so far, in order."""

    def __init__(
        self, ask: Ask, tell: Tell, kind: str | None, cross: str | None, draw: Draw | None
    ) -> None:
        self._ask, self._tell, self._draw = ask, tell, draw
        self._known = {
            name: value for name, value in (("kind", kind), ("cross", cross)) if value is not None
        }
        self._answers: list[tuple[str, str | float | None]] = []
        self._drawn: tuple[tuple[str, str], Mapping[str, Path]] | None = None

    def yoke(self) -> MeasuredYoke:
        """Ask until there is a sound yoke."""
        while True:
            said = self._known | dict(self._answers)
            choosing = next((name for name in ("kind", "cross") if name not in said), None)
            if choosing is not None:
                self._choose(choosing)
                continue
            kind, cross = str(said["kind"]), str(said["cross"])
            form = caliper_form(kind, cross)
            drawings = self._drawings(kind, cross)
            position = next((k for k, item in enumerate(form) if item.name not in said), None)
            if position is not None:
                self._read(kind, cross, form, position, drawings)
                continue
            found = {item.name: said[item.name] for item in form}
            readings = {name: value for name, value in found.items() if isinstance(value, float)}
            try:
                yoke_read(kind, cross, readings)
            except ShapeError as fault:
                self._tell(
                    f"These readings make no sound yoke: {fault}. The last one is asked again."
                )
                self._back()
                continue
            return MeasuredYoke(kind, cross, readings)

    def _drawings(self, kind: str, cross: str) -> Mapping[str, Path]:
        if self._draw is None:
            return {}
        if self._drawn is None or self._drawn[0] != (kind, cross):
            self._drawn = (kind, cross), self._draw(kind, cross)
        return self._drawn[1]

    def _back(self) -> None:
        if self._answers:
            self._answers.pop()
        else:
            self._tell("This is the first question.")

    def _steps(self, text: str, more: str) -> bool:
        """Whether what was typed is a wish about the talk itself, which is then granted."""
        low = text.lower()
        if low in _QUIT:
            raise _EndedError
        if low in _BACK:
            self._back()
        elif low in _HELP:
            self._tell(more)
        else:
            return False
        return True

    def _choose(self, name: str) -> None:
        asks, more, options = _CHOICES[name]
        names = options()
        for number, option in enumerate(dict.fromkeys(names.values()), start=1):
            self._tell(f"  {number}  {option}")
        text = self._ask(f"{asks} ").strip()
        if self._steps(text, more):
            return
        if not text:
            self._tell("An answer is needed here.")
            return
        read: Reader = choice(name, names)
        try:
            self._answers.append((name, read(text)[name]))
        except AnswerError as fault:
            self._tell(str(fault))

    def _read(
        self,
        kind: str,
        cross: str,
        form: tuple[CaliperReading, ...],
        position: int,
        drawings: Mapping[str, Path],
    ) -> None:
        reading = form[position]
        prompt = f"{position + 1}/{len(form)} {reading.asks} [{generic_words(reading)}] "
        text = self._ask(prompt).strip()
        shown = f" Drawing: {drawings[reading.name]}" if reading.name in drawings else ""
        if self._steps(text, f"{reading.how}{shown}"):
            return
        if not text:
            self._answers.append((reading.name, None))
            return
        try:
            value = parse_length(text)
        except UnitsError as fault:
            self._tell(str(fault))
            return
        if value <= 0.0:
            self._tell(f'came "{text}"; expected more than 0')
            return
        self._answers.append((reading.name, value))
        for doubt in doubts(kind, cross, {reading.name: value}):
            self._tell(f"Check: {doubt}{_stop(doubt)} If it is wrong, type back.")


def _stop(sentence: str) -> str:
    return "" if sentence.endswith("?") else "."


def _kinds() -> dict[str, str]:
    return {kind: kind for kind in yoke_kinds()}


def _crosses() -> dict[str, str]:
    """Names of the crosses first, so that numbers count them, then what else they are called."""
    sizes = cross_sizes()
    return {size.name: size.name for size in sizes} | {
        alias: size.name for size in sizes for alias in size.aliases
    }


_CHOICES: Final[Mapping[str, tuple[str, str, Callable[[], dict[str, str]]]]] = {
    "kind": (
        "What kind of yoke is it?",
        "A weld yoke is welded into the tube, a flange yoke is bolted face to face, a strap yoke "
        "holds its caps by straps or U-bolts, a sliding yoke runs on the output's splines. Deep-"
        "throat ones have more room between the ears and are made for steep angles.",
        _kinds,
    ),
    "cross": (
        "Which cross goes into it?",
        "Diameter of a cap and length over the ends of two opposite caps, in mm. Measure both on "
        "the cross; not over the clips.",
        _crosses,
    ),
}
