"""Every number of a rig that may be off, with how to put it off."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, Final

from sim.accuracy.off import off_of
from sim.accuracy.put import put_off
from sim.accuracy.source import Source, Unit
from sim.accuracy.wrapped import wrap_sources
from sim.rig import Rig
from sim.rig.choice import Choice
from sim.rig.defaults import DEFAULTS
from sim.rig.numbers import Step, key_of, numbers_in
from sim.suspension.measured.reading import Height
from sim.units import Angle, Length, parse_angle, parse_length

SURE_OF: Final = frozenset(
    {"schema_number", "name", "note", "wanted", "drive", "wrap", "seen_on_truck", "visits"}
    | {"measured_with"}
)
"""Tables on which no chance hangs; a [wrap] table says by itself how far off it is."""

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
        "suspension.fixed_eye[2]",
        "suspension.shackled_eye[2]",
        "suspension.bush_stiffness",
        "suspension.most_give",
    }
)
"""Numbers that no bend and no slip hangs on, or hardly. How far aside an eye is does not turn its
spring, nor does it matter how far aside the axle wraps about."""

OF_THE_FILE: Final = ("schema", "name")


NOTHING_IS_JUDGED: Final = frozenset({"shaft.slip.closes", "shaft.slip.opens"})
"""By these where nobody gave them."""


def sources_of(rig: Rig) -> tuple[Source, ...]:
    """Every length and angle of a rig that places or moves the shaft, in the order of the file.

    Each is off as far as is typed behind it, or as the tool is that it was read with; what nobody
    gave, as far as trucks differ (`sim.rig.defaults`). Dimensions of parts are in the shape of
    their joint (`sim.bench`).
    """
    return tuple(_sources(rig))


def _sources(rig: Rig) -> Iterator[Source]:
    assumed = {each.key for each in rig.assumed}
    for name in type(rig).model_fields:
        if name in SURE_OF:
            continue
        for path, value in _read(getattr(rig, name), (name,)):
            key = key_of(path)
            table = key.split("[", maxsplit=1)[0]
            if key in NO_MATTER or _is_of_a_part(rig, path):
                continue
            if table not in assumed:
                off, why, tool = off_of(value, rig.measured_with)
            elif key not in NOTHING_IS_JUDGED:
                off, why, tool = _spread(rig, table, path), "assumed", ""
            else:
                continue
            unit: Unit = "rad" if isinstance(value, Angle) else "mm"
            size = value.rad if isinstance(value, Angle) else value.mm
            yield Source(key, size, unit, off, why, tool, put=partial(put_off, path=path))
    yield from wrap_sources(rig)


def _read(
    held: Any, path: tuple[Step, ...]
) -> Iterator[tuple[tuple[Step, ...], Length | Angle | Height]]:
    """Lengths and angles, and the heights at which an axle was read; ride height is no reading."""
    yield from numbers_in(held, path)
    for place, reading in enumerate(getattr(held, "readings", ())):
        if reading.at.mm != 0.0:
            yield (*path, "readings", place, "at"), reading.at


def left_out(rig: Rig) -> tuple[str, ...]:
    """Keys of what nobody gave and that is in no source: words, kinds, shares, ratios."""
    counted = {each.key.split("[")[0] for each in sources_of(rig)}
    no_matter = NO_MATTER | set(OF_THE_FILE)
    return tuple(
        each.key
        for each in rig.assumed
        if each.key not in counted | no_matter and not each.key.startswith("wanted.")
    )


def _is_of_a_part(rig: Rig, path: tuple[Step, ...]) -> bool:
    """Whether it is a dimension of a cross, a yoke or a head, or a bench reading of a joint."""
    held: Any = rig
    for step in path:
        if isinstance(held, Choice) or step == "bench":
            return True
        held = held[step] if isinstance(step, int) else getattr(held, step)
    return False


def _spread(rig: Rig, key: str, path: tuple[Step, ...]) -> float:
    """How far off a value may be that nobody gave, mm or rad."""
    default = next(each for each in DEFAULTS if each.key == key)
    data = rig.model_dump(mode="json", by_alias=True) if callable(default.off) else {}
    typed = default.off(data) if callable(default.off) else default.off
    if isinstance(typed, list) and isinstance(path[-1], int):
        typed = typed[path[-1]]
    return parse_angle(typed) if isinstance(_held(rig, path), Angle) else parse_length(typed)


def _held(rig: Rig, path: tuple[Step, ...]) -> Any:
    held: Any = rig
    for step in path:
        held = held[step] if isinstance(step, int) else getattr(held, step)
    return held


def rig_with(rig: Rig, sources: tuple[Source, ...], offs: tuple[float, ...]) -> Rig:
    """A rig with several numbers off at once."""
    for each, off in zip(sources, offs, strict=True):
        rig = each.put(rig, off)
    return rig
