"""Putting a number of a rig off, without the checks that a file goes through."""

from __future__ import annotations

from typing import Any

from sim.rig import Rig
from sim.rig.datum import with_taped_length
from sim.rig.numbers import Step, key_of
from sim.suspension.measured.reading import Height
from sim.units import Angle, Length


def put_off(rig: Rig, off: float, path: tuple[Step, ...]) -> Rig:
    """A rig with one of its numbers off by so much, mm or rad.

    A slope goes through zero: one that points up by 0 deg and is off by -1 deg points down by 1.
    A distance that ends the travel or the slip is never less than nothing.
    """
    made: Rig = _put(rig, path, off, at_least_nothing=_is_an_end(path))
    key = key_of(path).split("[", maxsplit=1)[0]
    made._assumed = tuple(each for each in rig.assumed if each.key != key)
    if made.ride_height is None or made.ride_height.tape is None:
        return made
    length = with_taped_length(made.ride_height, made.output, made.axle, made.shaft)
    return made.model_copy(update={"ride_height": length})


def _is_an_end(path: tuple[Step, ...]) -> bool:
    return path[0] == "travel" or path[:2] == ("shaft", "slip")


def _put(held: Any, path: tuple[Step, ...], off: float, at_least_nothing: bool) -> Any:
    if not path:
        return _moved(held, off, at_least_nothing)
    step, *rest = path
    if isinstance(step, int):
        put = _put(held[step], tuple(rest), off, at_least_nothing)
        return (*held[:step], put, *held[step + 1 :])
    put = _put(getattr(held, step), tuple(rest), off, at_least_nothing)
    return held.model_copy(update={step: put})


def _moved(held: Length | Angle | Height, off: float, at_least_nothing: bool) -> Any:
    """The value off by so much, with a text of its own: rigs are told apart by what is typed."""
    number = (held.rad if isinstance(held, Angle) else held.mm) + off
    put = max(number, 0.0) if at_least_nothing else number
    return type(held)(put, f"{put:.12g} {'rad' if isinstance(held, Angle) else 'mm'}")
