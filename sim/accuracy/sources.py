"""Every number of a rig that may be off, with how to put it off."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from functools import partial
from math import radians
from typing import Any, Final

from pydantic import BaseModel

from sim.accuracy.source import Source, Unit, Why
from sim.rig import Rig
from sim.rig.choice import Choice
from sim.rig.datum import with_taped_length
from sim.rig.defaults import DEFAULTS
from sim.units import Angle, Length, UnitsError, parse_angle, parse_length

TAPE: Final = 25.4 / 8
"""mm. A tape is good to so much (common practice, no source)."""
ANGLE_FINDER: Final = radians(0.5)
"""rad. An angle finder is good to so much (common practice, no source)."""

SURE_OF: Final = frozenset(
    {"schema", "name", "note", "wanted", "drive", "wrap", "surroundings", "seen_on_truck", "visits"}
)
"""Tables in which nothing is that the motion hangs on, or that say by themselves how far off."""

NO_MATTER: Final = frozenset({"shaft.tube.outside", "shaft.tube.wall", "shaft.phase"})
"""Numbers that no joint and no slip hangs on."""

Step = str | int


def sources_of(rig: Rig) -> tuple[Source, ...]:
    """Every length and angle of a rig that places or moves the shaft, in the order of the file.

    What nobody gave is off as far as what may as well be true, on average (`sim.rig.defaults`).
    """
    return tuple(_sources(rig))


def _sources(rig: Rig) -> Iterator[Source]:
    assumed = {each.key for each in rig.assumed}
    for path, value in _numbers(rig, ()):
        key = _key(path)
        if key in NO_MATTER:
            continue
        unit: Unit = "mm" if isinstance(value, Length) else "rad"
        size = value.mm if isinstance(value, Length) else value.rad
        why: Why = "assumed" if key.split("[")[0] in assumed else "usual"
        off = TAPE if unit == "mm" else ANGLE_FINDER
        if why == "assumed":
            off = max(off, _spread(path, key, size))
        put = partial(put_off, path=path)
        yield Source(key, size, unit, off, why, put=put)


def _numbers(held: Any, path: tuple[Step, ...]) -> Iterator[tuple[tuple[Step, ...], Any]]:
    """Path and value of every length and angle."""
    if isinstance(held, Length | Angle):
        yield path, held
    elif isinstance(held, Choice):
        return
    elif isinstance(held, BaseModel):
        for name in type(held).model_fields:
            if path or name not in SURE_OF:
                yield from _numbers(getattr(held, name), (*path, name))
    elif isinstance(held, tuple):
        for place, each in enumerate(held):
            yield from _numbers(each, (*path, place))


def _spread(path: tuple[Step, ...], key: str, value: float) -> float:
    """How far off what nobody gave may be: as far as what may as well be true, on average."""
    name = key.split("[", maxsplit=1)[0]
    default = next((each for each in DEFAULTS if each.key == name), None)
    aways = []
    for other in () if default is None else default.others:
        typed = other.value
        if isinstance(typed, list) and isinstance(path[-1], int):
            typed = typed[path[-1]]
        if isinstance(typed, str):
            aways.append(abs(_size(typed, value) - value))
    return sum(aways) / len(aways) if aways else 0.0


def _size(typed: str, otherwise: float) -> float:
    """The size of a typed length or angle, mm or rad; another where it is neither."""
    for read in (parse_length, parse_angle):
        with suppress(UnitsError):
            return read(typed)
    return otherwise


def _key(path: tuple[Step, ...]) -> str:
    key = ""
    for step in path:
        key += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if key else step
    return key


def put_off(rig: Rig, off: float, path: tuple[Step, ...]) -> Rig:
    """A rig with one of its numbers off by so much, mm or rad; not checked like a file."""
    made: Rig = _put(rig, path, off)
    if made.ride_height is None or made.ride_height.tape is None:
        return made
    length = with_taped_length(made.ride_height, made.output, made.axle, made.shaft)
    return made.model_copy(update={"ride_height": length})


def _put(held: Any, path: tuple[Step, ...], off: float) -> Any:
    if not path:
        if isinstance(held, Length):
            return Length(held.mm + off, held.typed)
        return Angle(held.rad + off, held.typed)
    step, *rest = path
    if isinstance(step, int):
        return (*held[:step], _put(held[step], tuple(rest), off), *held[step + 1 :])
    return held.model_copy(update={step: _put(getattr(held, step), tuple(rest), off)})


def rig_with(rig: Rig, sources: tuple[Source, ...], offs: tuple[float, ...]) -> Rig:
    """A rig with several numbers off at once."""
    for each, off in zip(sources, offs, strict=True):
        rig = each.put(rig, off)
    return rig
