"""The unit of a mesh: stated, told by its size and its bores, or asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from geometry.errors import MeshError

MM_IN: Mapping[str, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "m": 1000.0,
    "ft": 304.8,
    "micron": 0.001,
}
"""Millimetres in a unit, by definition."""

_WORDS = {
    "millimetre": "mm",
    "millimeter": "mm",
    "centimetre": "cm",
    "centimeter": "cm",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "metre": "m",
    "meter": "m",
    "foot": "ft",
    "feet": "ft",
    "um": "micron",
}

_SPOKEN = {"in": "inches", "m": "metres"}
"""Units whose short names a sentence stumbles over."""

LEAST_SIZE, MOST_SIZE = 50.0, 400.0
"""Longest side of a yoke, mm: from a bare yoke for the smallest cross to a long sliding yoke.
Common practice, no source."""

LEAST_BORE, MOST_BORE = 16.0, 60.0
"""Diameter of the bores, mm, from light to heavy shafts. Common practice, no source."""

_NEAR_CAP = 0.08
"""How far the bores may be off the caps that go in, as a share: the nearest two sizes of cap are
further apart, and no two units are near each other."""

_GUESSED = ("mm", "cm", "in", "m")


@dataclass(frozen=True)
class UnitCandidate:
    """What a mesh would be in one unit.

    size : longest side, mm
    bore : diameter of its bores, mm; None where they are not known
    plausible : whether both are those of a yoke
    """

    unit: str
    size: float
    bore: float | None
    plausible: bool


class Note(NamedTuple):
    """Something to be said of an import, without words: a code, and numbers and notes by name."""

    code: str
    values: dict[str, Any]


def note(code: str, /, **values: Any) -> Note:
    """What is said by this code with these values (mm, rad, ...)."""
    return Note(code, values)


@dataclass(frozen=True)
class UnitGuess:
    """The unit of a mesh as far as it can be told.

    unit : the one it must be; None when the user has to say
    why : what speaks for it; None when the user has to say
    candidates : what the mesh would be in each unit
    question : what to ask the user; empty when there is nothing to ask
    """

    unit: str | None
    why: Note | None
    candidates: tuple[UnitCandidate, ...]
    question: str = ""

    @property
    def mm(self) -> float:
        """Millimetres in the unit. Raises UnitQuestion when it is not known."""
        if self.unit is None:
            raise UnitQuestion(self)
        return MM_IN[self.unit]


class UnitQuestion(MeshError):  # noqa: N818  (it asks; nothing is wrong with the mesh)
    """The unit of a mesh cannot be told; `guess` says what it would be in each."""

    def __init__(self, guess: UnitGuess) -> None:
        super().__init__(guess.question)
        self.guess = guess


def unit_named(name: str) -> str:
    """Return the short name of a unit. Raises MeshError for one that is not known."""
    plain = name.strip().lower()
    short = _WORDS.get(plain, plain)
    if short not in MM_IN:
        raise MeshError(f"no unit {name!r} for a mesh; there are {', '.join(MM_IN)}")
    return short


def spoken(unit: str) -> str:
    """Return a unit's short name, or its word where the short name would make a sentence odd."""
    return _SPOKEN.get(unit, unit)


def guess_unit(
    size: float,
    stated: str | None = None,
    bore: float | None = None,
    cap: float | None = None,
) -> UnitGuess:
    """Tell the unit of a mesh.

    size, bore : its longest side and the diameter of its bores, in its own numbers
    stated : what the file says, which many programs get wrong
    cap : mm, diameter of the caps that go into the bores, if known; it settles the matter

    A unit is taken when it is the only one that makes a yoke, or the stated one does.
    """
    units = dict.fromkeys([*_GUESSED, *(unit for unit in MM_IN if unit == stated)])
    candidates = tuple(_candidate(unit, size, bore, cap) for unit in units)
    sound = [candidate for candidate in candidates if candidate.plausible]
    if stated in [candidate.unit for candidate in sound]:
        return UnitGuess(stated, note("unit-stated", unit=stated), candidates)
    if len(sound) == 1:
        only = sound[0]
        unit = spoken(only.unit)
        why = note("unit-only", unit=unit, size=only.size, bore=only.bore, stated=stated)
        return UnitGuess(only.unit, why, candidates)
    return UnitGuess(None, None, candidates, _question(size, stated, candidates, sound))


def _candidate(unit: str, size: float, bore: float | None, cap: float | None) -> UnitCandidate:
    long = size * MM_IN[unit]
    wide = None if bore is None else bore * MM_IN[unit]
    sound = LEAST_SIZE <= long <= MOST_SIZE
    if wide is not None:
        sound = sound and LEAST_BORE <= wide <= MOST_BORE
        if cap is not None:
            sound = abs(wide / cap - 1.0) <= _NEAR_CAP
    return UnitCandidate(unit, long, wide, sound)


def _question(
    size: float,
    stated: str | None,
    candidates: tuple[UnitCandidate, ...],
    sound: list[UnitCandidate],
) -> str:
    says = f"the file says {stated}, which makes no yoke" if stated else "the file says no unit"
    each = ", ".join(f"as {item.unit} {_told(item.size)}" for item in sound or candidates)
    return (
        f"the mesh is {size:.4g} long and {says}; the part would be {each}. Which unit is it in? "
        f"({', '.join(item.unit for item in sound or candidates)})"
    )


def _told(mm: float) -> str:
    return f"{mm / 1000.0:.3g} m" if mm >= 1000.0 else f"{mm:.3g} mm"
