"""A yoke from caliper readings: the few numbers that matter, asked as they can be measured.

Each kind of yoke says what a caliper reads on it (`geometry.yoke.reading`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

from geometry.errors import ShapeError
from geometry.yoke import YokeShape
from geometry.yoke.reading import Reading
from sim.parts.catalogue import CatalogueError, yoke_shape
from sim.remark import Remark

UNLIKELY = 1.6
"""Factor off the generic yoke of that size from which a reading is doubted."""

INCH = 25.4


@dataclass(frozen=True, kw_only=True)
class CaliperReading(Reading):
    """One thing to measure on a yoke, with `generic`: what it is on the generic one, mm."""

    generic: float


def caliper_form(kind: str, cross: str) -> tuple[CaliperReading, ...]:
    """Return what to measure on a yoke of a kind for a cross, in the order to ask.

    kind, cross : as in the catalogue
    Raises CatalogueError for a name that it does not know.
    """
    shape = yoke_shape(kind, cross)
    values = shape.dimensions()
    return tuple(
        CaliperReading(**vars(each), generic=each.way.reading(values[each.dimension], values))
        for each in shape.readings()
    )


def dimensions_read(kind: str, cross: str, readings: Mapping[str, float]) -> dict[str, float]:
    """Return the dimensions that readings, mm by name, give; what was not read is left out.

    Raises CatalogueError for a reading that the form of that kind does not have, ShapeError for
    one that is no length.
    """
    form = {reading.name: reading for reading in caliper_form(kind, cross)}
    for name, value in readings.items():
        if name not in form:
            raise CatalogueError(f"no reading {name!r} on a {kind}; there are: {', '.join(form)}")
        if not isfinite(value) or value <= 0.0:
            raise ShapeError(f"{name} is {value:g} mm; expected more than 0")
    values = yoke_shape(kind, cross).dimensions()
    found: dict[str, float] = {}
    # In the order of the form: a reading may rest on one before it.
    for name, each in form.items():
        if name in readings:
            found[each.dimension] = each.way.dimension(readings[name], values)
            values[each.dimension] = found[each.dimension]
    return found


def yoke_read(kind: str, cross: str, readings: Mapping[str, float]) -> YokeShape:
    """Return the yoke with the dimensions read, mm by name, and the generic ones for the rest.

    Raises CatalogueError for unknown names, ShapeError for readings that make no sound yoke.
    """
    return yoke_shape(kind, cross, dimensions_read(kind, cross, readings))


def doubts(kind: str, cross: str, readings: Mapping[str, float]) -> tuple[Remark, ...]:
    """Return what is odd about readings, mm by name, for the user to look at again.

    A reading far off the generic yoke of that size is doubted; one that would be near it in the
    other unit is taken for a mix-up of inch and millimetre.
    """
    found = []
    for reading in caliper_form(kind, cross):
        name, value, usual = reading.name, readings.get(reading.name, 0.0), reading.generic
        if not value > 0.0 or not usual > 0.0 or _near(value, usual):
            continue
        if _near(value * INCH, usual):
            found.append(Remark("reading-in-inches", name=name, value=value, usual=usual))
        elif _near(value / INCH, usual):
            typed = value / INCH
            found.append(Remark("reading-in-mm", name=name, value=value, usual=usual, typed=typed))
        else:
            found.append(Remark("reading-odd", name=name, value=value, usual=usual))
    return tuple(found)


def _near(value: float, usual: float) -> bool:
    return 1.0 / UNLIKELY < value / usual < UNLIKELY
