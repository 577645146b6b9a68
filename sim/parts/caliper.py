"""A yoke from caliper readings: the few numbers that matter, asked as they can be measured.

A caliper seldom reads a dimension of the shape itself: nobody can put one on the cross centre.
So every reading is taken from an edge that is there, and turned into the dimension here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import isfinite, sqrt

from geometry.errors import ShapeError
from geometry.yoke import YokeShape
from sim.parts.catalogue import CatalogueError, yoke_shape

FLOOR_AT = 20.0
"""mm from the middle at which the fall of the throat's floor is read."""

BESIDE_WELL = 3.0
"""mm from the edge of a nut's well at which the floor beside it is read."""

UNLIKELY = 1.6
"""Factor off the generic yoke of that size from which a reading is doubted."""

INCH = 25.4


@dataclass(frozen=True)
class CaliperReading:
    """One thing to measure on a yoke.

    name : of the reading
    dimension : of the yoke that it gives
    asks : the question, in one line
    how : how to measure it
    generic : mm, what it is on the generic yoke of that size
    """

    name: str
    dimension: str
    asks: str
    how: str
    generic: float


@dataclass(frozen=True)
class _Way:
    """How a reading becomes a dimension and back, mm, given the other dimensions by name."""

    dimension: Callable[[float, Mapping[str, float]], float]
    reading: Callable[[float, Mapping[str, float]], float]


def _fall(at: float, radius: float) -> float:
    """How far an arc has fallen `at` mm beside its middle."""
    return radius - sqrt(max(radius**2 - at**2, 0.0))


def beside_well(values: Mapping[str, float]) -> float:
    """How far from the shaft's axis the floor is read on a yoke with a well for a nut, mm."""
    return 0.5 * values["nut_well"] + BESIDE_WELL


def _well_floor(values: Mapping[str, float]) -> float:
    """From the middle of the floor, which the well has taken, back to the bore's near edge, mm."""
    return 0.5 * values["bore"] - _fall(beside_well(values), values["saddle_radius"])


_AS_READ = _Way(lambda read, _: read, lambda value, _: value)
_FROM_BORE = _Way(
    lambda read, values: read + 0.5 * values["bore"],
    lambda value, values: value - 0.5 * values["bore"],
)
_FALLING = _Way(
    lambda fall, _: (FLOOR_AT**2 + fall**2) / (2.0 * fall),
    lambda radius, _: _fall(FLOOR_AT, radius),
)
_BESIDE_WELL = _Way(
    lambda read, values: read + _well_floor(values),
    lambda value, values: value - _well_floor(values),
)

_READINGS: Mapping[str, tuple[str, _Way, str, str]] = {
    "inside span": (
        "inside_span",
        _AS_READ,
        "How far apart are the inside faces of the two ears?",
        "Inside jaws between the flats round the bores.",
    ),
    "ear thickness": (
        "ear_thickness",
        _AS_READ,
        "How thick is an ear, from its inside face to its outside face, at the bore?",
        "Outside jaws over one ear, beside the bore; not over a snap ring or a boss.",
    ),
    "ear wall": (
        "ear_radius",
        _FROM_BORE,
        "How much metal is there between the bore and the end of the ear?",
        "Outside jaws, one in the bore, one on the round end of the ear, in line with the shaft. "
        "This number and the throat decide most often when the yokes touch: take it on both ears "
        "and put down the larger.",
    ),
    "ear bevel": (
        "ear_edge",
        _AS_READ,
        "How wide is the bevel or rounding along the outer edges of the ears?",
        "From the outside face to where the bevel ends, square to the face. A rounding counts "
        "like the bevel that would just clear it.",
    ),
    "root width": (
        "ear_root_width",
        _AS_READ,
        "How wide is an ear across its flanks where it begins to spread into the neck?",
        "Outside jaws across the ear, just before the flanks curve outward.",
    ),
    "saddle width": (
        "saddle_width",
        _AS_READ,
        "How wide is an ear across its flanks, over both bolt bosses?",
        "Outside jaws across the ear at the saddle.",
    ),
    "throat gap": (
        "throat_depth",
        _FROM_BORE,
        "How far is it from the bore to the floor of the throat, in the middle between the ears?",
        "Put a straight rod as thick as the caps through both bores and take the depth gauge from "
        "its near side down to the floor. With the cross in, from the cap's near side.",
    ),
    "well gap": (
        "throat_depth",
        _BESIDE_WELL,
        f"How far is it from the bore to the floor of the throat, {BESIDE_WELL:g} mm beside the "
        "nut's well?",
        "Put a straight rod as thick as the caps into both saddles and take the depth gauge from "
        "its near side down to the floor, halfway between the ears. With the cross in, from the "
        "cap's near side.",
    ),
    "nut well": (
        "nut_well",
        _AS_READ,
        "How wide is the well for the nut in the floor of the throat?",
        "Inside jaws across the well.",
    ),
    "throat radius": (
        "throat_radius",
        _AS_READ,
        "What is the radius between the floor of the throat and the inside of an ear?",
        "A radius gauge, or a coin or washer that lies snug in the corner: half its diameter.",
    ),
    "floor fall": (
        "saddle_radius",
        _FALLING,
        f"By how much does the floor of the throat fall away {FLOOR_AT:g} mm beside its middle?",
        "Lay a straight edge on the floor, square to the bores and to the shaft, and measure the "
        f"gap under it {FLOOR_AT:g} mm from the middle.",
    ),
    "shoulder gap": (
        "weld_land",
        _FROM_BORE,
        "How far is it from the bore to the shoulder that the tube butts against?",
        "From the bore's near edge, along the shaft, to the end of the tube or the middle of the "
        "weld.",
    ),
    "shoulder": (
        "shoulder",
        _AS_READ,
        "How long is the full round behind the ears, up to where the tube begins?",
        "Along the shaft, where the yoke is as thick as the tube.",
    ),
    "tube diameter": (
        "tube_diameter",
        _AS_READ,
        "What is the outside diameter of the tube?",
        "Outside jaws on bare tube beside the weld.",
    ),
    "flange gap": (
        "flange_face",
        _FROM_BORE,
        "How far is it from the bore to the face of the flange that is bolted up?",
        "Stand the yoke on its face and measure up to the bore's near edge.",
    ),
    "flange thickness": (
        "flange_thickness",
        _AS_READ,
        "How thick is the flange at its rim?",
        "Outside jaws at the rim, without the locating ring.",
    ),
    "flange diameter": (
        "flange_diameter",
        _AS_READ,
        "What is the outside diameter of the flange?",
        "Outside jaws across the rim.",
    ),
    "bolt circle": (
        "bolt_circle",
        _AS_READ,
        "What is the diameter of the circle through the middles of the bolts?",
        "Between two opposite bolts, from the left edge of the one to the left edge of the other.",
    ),
    "bolt head": (
        "bolt_head",
        _AS_READ,
        "How wide is a bolt head across its flats?",
        "Outside jaws; the size of the wrench that fits.",
    ),
    "bolt head height": (
        "bolt_head_height",
        _AS_READ,
        "How far does a bolt head stand up, with its washer?",
        "Depth gauge from the top of the head to what it is screwed down on.",
    ),
    "web": (
        "web",
        _AS_READ,
        "How much metal is there from the floor of the throat to where the shank is round?",
        "Along the shaft, from the floor to where the ears' roots have gone over into the round.",
    ),
    "barrel diameter": (
        "barrel_diameter",
        _AS_READ,
        "What is the outside diameter of the barrel?",
        "Outside jaws where the seal runs.",
    ),
    "hub diameter": (
        "hub_diameter",
        _AS_READ,
        "What is the outside diameter of the hub?",
        "Outside jaws on the round behind the ears.",
    ),
    "strap width": (
        "strap_width",
        _AS_READ,
        "How wide is a strap, along the cap?",
        "Outside jaws over its edges.",
    ),
    "strap thickness": (
        "strap_thickness",
        _AS_READ,
        "How thick is a strap's metal?",
        "Outside jaws, at the top of its arch.",
    ),
    "strap bolt spacing": (
        "strap_bolt_spacing",
        _AS_READ,
        "How far apart are the middles of the two bolts of one strap?",
        "From the left edge of the one head to the left edge of the other.",
    ),
}

_EARS = ("inside span", "ear thickness")
_THROAT = ("throat gap", "throat radius", "floor fall")
_ROUND = (*_EARS, "ear wall", "ear bevel", "root width", *_THROAT)

_FORMS: Mapping[str, tuple[str, ...]] = {
    "weld yoke": (*_ROUND, "shoulder gap", "shoulder", "tube diameter"),
    "flange yoke": (
        *_ROUND,
        "flange gap",
        "flange thickness",
        "flange diameter",
        "bolt circle",
        "bolt head",
        "bolt head height",
    ),
    "strap yoke": (
        *_EARS,
        "saddle width",
        "ear bevel",
        "nut well",
        "well gap",
        "hub diameter",
        "strap width",
        "strap thickness",
        "strap bolt spacing",
        "bolt head",
        "bolt head height",
    ),
    "sliding yoke": (*_ROUND, "web", "barrel diameter"),
}
"""What to measure on each kind, that which most often decides a touch among the first."""


def caliper_form(kind: str, cross: str) -> tuple[CaliperReading, ...]:
    """Return what to measure on a yoke of a kind for a cross, in the order to ask.

    kind, cross : as in the catalogue
    Raises CatalogueError for a name that it does not know.
    """
    shape = yoke_shape(kind, cross)
    values = shape.dimensions()
    found = []
    for name in _FORMS[shape.kind]:
        dimension, way, asks, how = _READINGS[name]
        generic = way.reading(values[dimension], values)
        found.append(CaliperReading(name, dimension, asks, how, generic))
    return tuple(found)


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
    for name in form:
        if name in readings:
            dimension, way, _, _ = _READINGS[name]
            found[dimension] = values[dimension] = way.dimension(readings[name], values)
    return found


def yoke_read(kind: str, cross: str, readings: Mapping[str, float]) -> YokeShape:
    """Return the yoke with the dimensions read, mm by name, and the generic ones for the rest.

    Raises CatalogueError for unknown names, ShapeError for readings that make no sound yoke.
    """
    return yoke_shape(kind, cross, dimensions_read(kind, cross, readings))


def doubts(kind: str, cross: str, readings: Mapping[str, float]) -> tuple[str, ...]:
    """Return what is odd about readings, mm by name, for the user to look at again.

    A reading far off the generic yoke of that size is doubted; one that would be near it in the
    other unit is taken for a mix-up of inch and millimetre.
    """
    found = []
    for reading in caliper_form(kind, cross):
        value = readings.get(reading.name)
        if value is None or not value > 0.0 or not reading.generic > 0.0:
            continue
        if _near(value, reading.generic):
            continue
        usual = f"{reading.name} is {value:g} mm; about {reading.generic:.3g} mm is usual here"
        if _near(value * INCH, reading.generic):
            found.append(f"{usual}. Was it {value:g} inch?")
        elif _near(value / INCH, reading.generic):
            found.append(f"{usual}. Was it {value / INCH:.4g} mm, entered as inch?")
        else:
            found.append(f"{usual}. Measure it again")
    return tuple(found)


def _near(value: float, usual: float) -> bool:
    return 1.0 / UNLIKELY < value / usual < UNLIKELY
