"""Every number of a rig that may be off, with how to put it off."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from functools import partial
from typing import Any, Final

from sim.accuracy.off import off_of
from sim.accuracy.source import Source, Unit
from sim.rig import Rig
from sim.rig.choice import Choice
from sim.rig.datum import with_taped_length
from sim.rig.defaults import DEFAULTS
from sim.rig.numbers import Step, key_of, numbers_in
from sim.units import Angle, Length, UnitsError, parse_angle, parse_length

SURE_OF: Final = frozenset(
    {"schema_number", "name", "note", "wanted", "drive", "wrap", "seen_on_truck", "visits"}
    | {"measured_with"}
)
"""Tables on which no chance hangs, or that say by themselves how far off they are: axle wrap that
is worked out is taken at its high, as the sweep takes it."""

NO_MATTER: Final = frozenset(
    {
        "shaft.tube.outside",
        "shaft.tube.wall",
        "shaft.phase",
        "shaft.slip.pushed_home",
        "carrier.bearing_stub",
        "carrier.phase",
        "axle.caster",
        "axle.negative_caster",
        "axle.tubes_outside",
        "axle.tubes_long",
        "axle.snout_outside",
        "output.case_outside",
        "output.case_long",
        "axle.wrap_centre[2]",
        "suspension.bush_stiffness",
        "suspension.most_give",
    }
)
"""Numbers that no bend and no slip hangs on, or hardly."""

OF_THE_FILE: Final = ("schema", "name")


def sources_of(rig: Rig) -> tuple[Source, ...]:
    """Every length and angle of a rig that places or moves the shaft, in the order of the file.

    What nobody gave is off as far as what may as well be true, on average (`sim.rig.defaults`).
    """
    return tuple(_sources(rig))


def _sources(rig: Rig) -> Iterator[Source]:
    assumed = {each.key for each in rig.assumed}
    for name in type(rig).model_fields:
        if name in SURE_OF:
            continue
        for path, value in numbers_in(getattr(rig, name), (name,)):
            key = key_of(path)
            if key in NO_MATTER or _is_of_a_part(rig, path):
                continue
            unit: Unit = "mm" if isinstance(value, Length) else "rad"
            size = value.mm if isinstance(value, Length) else value.rad
            off, why, tool = off_of(value, rig.measured_with)
            if key.split("[")[0] in assumed:
                off, why, tool = max(off, _spread(path, key, size)), "assumed", ""
            yield Source(key, size, unit, off, why, tool, put=partial(put_off, path=path))


def left_out(rig: Rig) -> tuple[str, ...]:
    """Keys of what nobody gave and that is in no source, such as words; and of wrap worked out."""
    counted = {each.key.split("[")[0] for each in sources_of(rig)}
    no_matter = NO_MATTER | set(OF_THE_FILE)
    left = [
        each.key
        for each in rig.assumed
        if each.key not in counted | no_matter and not each.key.startswith("wanted.")
    ]
    return (*left, *(("wrap",) if rig.wrap is not None else ()))


def _is_of_a_part(rig: Rig, path: tuple[Step, ...]) -> bool:
    """Whether it is a dimension of a cross, a yoke or a head, or a bench reading of a joint."""
    held: Any = rig
    for step in path:
        if isinstance(held, Choice) or step == "bench":
            return True
        held = held[step] if isinstance(step, int) else getattr(held, step)
    return False


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
