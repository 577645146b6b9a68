"""The caliper readings of a yoke asked one at a time, with a step back and a word of doubt."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from geometry.errors import ShapeError
from sim.parts.caliper import caliper_form, doubts, yoke_read
from sim.parts.catalogue import cross_sizes, yoke_kinds
from viewer.caliper.form import generic_words
from viewer.interview.answers import AnswerError, Keys, Reader, choice, value_of
from viewer.interview.asking_back import LENGTH
from viewer.interview.question import Question
from viewer.interview.talk import Ask, EndedError, Talk, Tell
from viewer.words.lines import stopped
from viewer.words.remarks import said

Draw = Callable[[str, str], Mapping[str, Path]]
"""Makes the drawings for a kind of yoke and a cross; gives the file of each reading."""

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
    talk = _YokeTalk(ask, tell, kind, cross, draw)
    tell(WELCOME)
    try:
        return talk.hold()
    except (EOFError, EndedError):
        tell("Ended early; nothing was written.")
        return None


class _YokeTalk(Talk[MeasuredYoke]):
    """The talk about a yoke: its kind and its cross where they are not known, then each reading."""

    def __init__(
        self, ask: Ask, tell: Tell, kind: str | None, cross: str | None, draw: Draw | None
    ) -> None:
        super().__init__(ask, tell, remembers=False)
        self._draw = draw
        self._known = {
            name: value for name, value in (("kind", kind), ("cross", cross)) if value is not None
        }
        self._drawn: tuple[tuple[str, str], Mapping[str, Path]] | None = None

    def next(self) -> Question | None:
        """Kind and cross first, then the readings of that yoke's form."""
        said = self._known | self.said()
        choosing = next((name for name in _CHOICES if name not in said), None)
        if choosing is not None:
            return _choosing(choosing)
        kind, cross = self._yoke()
        form = caliper_form(kind, cross)
        drawings = self._drawings(kind, cross)
        for number, item in enumerate(form, start=1):
            if item.name not in self.answered:
                shown = f" Drawing: {drawings[item.name]}" if item.name in drawings else ""
                return Question(
                    item.name,
                    f"{number}/{len(form)} {item.asks}",
                    "",
                    _reading(item.name),
                    f"{item.how}{shown}",
                    generic_words(item),
                )
        return None

    def made(self) -> MeasuredYoke | None:
        """The yoke, if its readings make a sound one."""
        kind, cross = self._yoke()
        readings = self._readings()
        try:
            yoke_read(kind, cross, readings)
        except ShapeError as fault:
            self._tell(f"These readings make no sound yoke: {fault}. The last one is asked again.")
            return None
        return MeasuredYoke(kind, cross, readings)

    def accepted(self, keys: Keys) -> None:
        """Tell what is odd about a reading."""
        if keys.keys() & _CHOICES.keys():
            return
        for doubt in doubts(*self._yoke(), keys):
            self._tell(f"Check: {stopped(said(doubt))} If it is wrong, type back.")

    def _yoke(self) -> tuple[str, str]:
        said = self._known | self.said()
        return said["kind"], said["cross"]

    def _readings(self) -> dict[str, float]:
        return {name: value for name, value in self.said().items() if name not in _CHOICES}

    def _drawings(self, kind: str, cross: str) -> Mapping[str, Path]:
        if self._draw is None:
            return {}
        if self._drawn is None or self._drawn[0] != (kind, cross):
            self._drawn = (kind, cross), self._draw(kind, cross)
        return self._drawn[1]


def _choosing(name: str) -> Question:
    asks, more, options = _CHOICES[name]
    names = options()
    listed = enumerate(dict.fromkeys(names.values()), start=1)
    means = "\n".join(f"  {number}  {option}" for number, option in listed)
    return Question(name, asks, means, choice(name, names), more)


def _reading(name: str) -> Reader:
    """A length above zero, whose unit is asked back."""

    def read(text: str) -> Keys:
        LENGTH.unit_asked(text)
        value = value_of(LENGTH, text)
        if value <= 0.0:
            raise AnswerError(f'came "{text}"; expected more than 0')
        return {name: value}

    return read


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
