"""Names and dimensions of parts in shop words."""

from collections.abc import Mapping
from functools import cache

from geometry.cross import Cross
from geometry.head.shape import HeadShape
from geometry.yoke import Yoke
from sim.parts.catalogue import dimension_names, yoke_kinds
from viewer.scene.part import Facts
from viewer.words.units import format_angle, format_length

INCH = 25.4

_PLACES = {
    "output yoke": "output yoke",
    "pinion yoke": "pinion yoke",
    "output shaft yoke": "shaft's yoke at the output",
    "middle yoke": "front section's yoke at the middle joint",
    "middle shaft yoke": "shaft's yoke at the middle joint",
    "front section yoke": "front section's yoke at the output",
    "pinion shaft yoke": "shaft's yoke at the pinion",
}


def title_of(name: str) -> str:
    """What a shop calls a yoke or cross of `viewer.scene.build_shaft.shaft_hardware`."""
    if name in _PLACES:
        return _PLACES[name]
    end, _, part = name.partition(" ")
    return f"{part} at the {end}"


def hardware_facts(name: str, part: Yoke | Cross) -> Facts:
    """Kind and dimensions of a yoke or cross."""
    kind = part.kind if isinstance(part, Yoke) else part.name
    return Facts(title_of(name), kind, dimension_rows(part.dimensions))


def tube_facts(title: str, outside: float, wall: float, length: float | None = None) -> Facts:
    """What is known of a tube, mm."""
    rows = [("outside", size_words(outside)), ("wall", f"{wall / INCH:.3f} in ({wall:.2f} mm)")]
    if length is not None:
        rows.append(("between the welds", size_words(length)))
    return Facts(title, "", tuple(rows))


def size_words(mm: float) -> str:
    """A size of a part: as a tape reads it, or in decimals where sixteenths would mislead.

    ``2 3/16 in (55.6 mm)``, but ``0.28 in (7.1 mm)`` and ``0.059 in (1.50 mm)``.
    """
    if abs(mm) >= INCH:
        return format_length(mm)
    fine = abs(mm) < 0.1 * INCH
    return f"{mm / INCH:.3f} in ({mm:.2f} mm)" if fine else f"{mm / INCH:.2f} in ({mm:.1f} mm)"


def dimension_rows(dimensions: Mapping[str, float]) -> tuple[tuple[str, str], ...]:
    """A word and a value for every dimension."""
    units = _units()
    rows = []
    for name, value in dimensions.items():
        unit = units.get(name, "length")
        if unit == "count":
            said = f"{value:.0f}"
        elif unit == "angle":
            said = format_angle(value)
        else:
            said = size_words(value)
        rows.append((name.replace("_", " "), said))
    return tuple(rows)


@cache
def _units() -> Mapping[str, str]:
    """Unit of every dimension by name; a name means the same in every kind."""
    kinds = [*yoke_kinds(), "cross", "slip"]
    known = {each.name: each.unit for each in HeadShape.described()}
    return known | {each.name: each.unit for kind in kinds for each in dimension_names(kind)}
