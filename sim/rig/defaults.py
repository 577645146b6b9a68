"""Generic defaults for what a rig file leaves out, each with its reason.

Nothing that decides the answer by itself has a default: where the joints lie, how the output and
the pinion point, and how far the axle travels are always asked. All numbers here are common
practice without a source, or from memory; none is measured, so each one used is listed to the
user as assumed. Beside each stand the other values that may as well be true, from the same memory,
which `sim.turning_over` tries.
"""

from collections.abc import Callable, Mapping
from copy import deepcopy
from typing import Any, Final

from sim.parts.catalogue import DEEP, cross_sizes
from sim.suspension import KINDS
from sim.suspension.leaf.table import LeafTable
from sim.table.default import Data, Default, Other, at, less, more
from sim.units import Length, UnitsError


def _where(key: str, word: str, value: str, other: str | None) -> Callable[[Data], str | None]:
    """One value where a key says a word, another where it does not; None for no value."""
    return lambda data: value if at(data, key) == word else other


def _like(other: str, otherwise: Any) -> Callable[[Data], Any]:
    def value(data: Data) -> Any:
        found = at(data, other)
        return otherwise if found is None else deepcopy(found)

    return value


def _opens(typed: str) -> Callable[[Data], str]:
    """How far a slip opens: no farther than it takes to come apart, where that is known."""

    def value(data: Data) -> str:
        apart = at(data, "shaft.slip.comes_apart")
        try:
            known = isinstance(apart, str) and Length.parse(apart).mm < Length.parse(typed).mm
        except UnitsError:  # told where that key is read
            return typed
        return apart if known else typed

    return value


def _next_cross(step: int) -> Callable[[Data], dict[str, str] | None]:
    """The next size of cross, smaller or larger, at every joint whose cross nobody named."""

    def value(data: Data) -> dict[str, str] | None:
        keys = [key for key in _CROSSES if "carrier" in data or not key.startswith("carrier")]
        typed = next((name for key in keys if (name := at(data, key)) is not None), _CROSS)
        if isinstance(typed, Mapping):
            typed = typed.get("size")
        sizes = cross_sizes()
        places = [n for n, size in enumerate(sizes) if typed in (size.name, *size.aliases)]
        if not places or not 0 <= places[0] + step < len(sizes):
            return None
        left_out = [key for key in keys if at(data, key) is None]
        return dict.fromkeys(left_out, sizes[places[0] + step].name)

    return value


def _deep_throats(joint: str, *keys: str) -> Callable[[Data], dict[str, str] | None]:
    """Deep-throat yokes in place of all at a joint that nobody named; None beside a head."""

    def value(data: Data) -> dict[str, str] | None:
        if at(data, f"{joint}.joint") == "double":
            return None
        defaults = {each.key: each for each in DEFAULTS}
        left_out = [f"{joint}.{key}" for key in keys if at(data, f"{joint}.{key}") is None]
        return {key: f"{DEEP} {defaults[key].typed(data)}" for key in left_out}

    return value


def _leaf_springs(data: Data) -> dict[str, Any]:
    """Leaf springs of an ordinary size, which turn the housing as they move it."""
    springs = LeafTable.of_ordinary_size(at(data, "axle.position") == "front")
    return {"suspension": springs.model_dump(mode="json", by_alias=True, exclude_none=True)}


def _sideways(left: str, angle: str) -> tuple[Other, ...]:
    """The same angle to either side; `left` is the key that says left."""
    return Other({left: angle}), Other({left.replace("left", "right"): angle})


_CROSS: Final = "27 x 82"
_AHEAD: Final = "generic: straight ahead, no side angle given"
_SLIP: Final = (
    "generic slip, a third to close and two thirds to open (from memory), to draw it; nothing is "
    "judged by it: measure yours"
)
_YOKE: Final = "generic yoke; measure yours"
_HEAD: Final = "generic head; measure yours"
_RESERVE: Final = "generic reserve (common practice, no source)"

_AT_A_GLANCE: Final = "whoever sees the shaft sees it"
_A_WISH: Final = "a wish, and nothing to be measured"
_NOT_THE_TRUCK: Final = "it says nothing of the truck"
_NEXT: Final = "the sizes that are taken for one another by eye"
_RELIEVED: Final = "a yoke may have been made or ground to bend further"
_TOOTH: Final = "a tooth off, of sixteen"

THROAT_OFF: Final = 25.4 / 8
"""mm by which the throat of a yoke that is known by its kind alone may be shallower or deeper than
that of the catalogue: forgings of one kind and size differ about so much (from memory)."""

_CROSSES: Final = ("shaft.output_end.cross", "shaft.pinion_end.cross", "carrier.middle.cross")
_OTHER_CROSSES: Final = tuple(Other(_next_cross(step)) for step in (-1, 1))
_DEEP_OUTPUT: Final = (less(_deep_throats("shaft.output_end", "output_yoke", "shaft_yoke")),)
_DEEP_PINION: Final = (less(_deep_throats("shaft.pinion_end", "shaft_yoke", "pinion_yoke")),)
_DEEP_MIDDLE: Final = (less(_deep_throats("carrier.middle", "front_yoke", "shaft_yoke")),)

DEFAULTS: Final[tuple[Default, ...]] = (
    Default("schema", 1, "the only schema there is", because=_NOT_THE_TRUCK),
    Default("name", "Unnamed rig", "no name given", because=_NOT_THE_TRUCK),
    Default(
        "output.points_left",
        "0 deg",
        _AHEAD,
        unless=("output.points_right",),
        others=_sideways("output.points_left", "1 1/2 deg"),
        because="engines sit a degree or two askew",
        off="1 1/2 deg",
    ),
    Default(
        "ride_height.shaft_points_left",
        "0 deg",
        "generic: no side offset given",
        unless=(
            "output.joint",
            "ride_height.shaft_points_right",
            "ride_height.pinion_left",
            "ride_height.pinion_right",
        ),
        when="ride_height",
        others=_sideways("ride_height.pinion_left", "3 in"),
        because="an output sits up to some inches beside the pinion; front ones farther",
        off="4 deg",
    ),
    Default(
        "axle.position",
        "rear",
        "generic: no position given",
        others=(Other("front"),),
        because="there is no third",
    ),
    Default(
        "axle.snout",
        "11 in",
        "generic length from axle center to pinion joint (from memory); measure yours",
        unless=("axle.pinion_joint",),
        others=(Other("8 in"), Other("14 in")),
        because="short and long housings",
        off="3 in",
    ),
    Default(
        "axle.points_left",
        "0 deg",
        _AHEAD,
        unless=("axle.points_right",),
        others=_sideways("axle.points_left", "1 deg"),
        because="housings are set square to a degree",
        off="1 deg",
    ),
    Default(
        "axle.wrap_centre",
        ["0 in", "0 in", "0 in"],
        "the housing wraps about its own center",
        others=(Other(["0 in", "0 in", "3 in"]), Other(["0 in", "0 in", "-3 in"])),
        because="a spring's pad lies some inches above or below the tubes",
        off=["1 in", "1 in", "3 in"],
    ),
    Default(
        "travel.roll",
        "8 deg",
        "generic roll each way (from memory); measure yours",
        others=(less("4 deg"), more("15 deg")),
        because="stiff road springs, and an axle built to cross up",
        off="5 1/2 deg",
    ),
    Default(
        "travel.stops_apart",
        "32 in",
        "generic bump stop spacing (from memory); measure yours",
        others=(more("24 in"), less("40 in")),
        because="stops inside narrow rails, and out at the wheels",
        off="8 in",
    ),
    Default(
        "travel.droop_strap",
        "sides",
        "generic: a strap or a shock at each side",
        others=(more("middle"),),
        because="there is no third",
    ),
    Default(
        "travel.nose_up",
        _where("axle.position", "front", "4 deg", "7 deg"),
        "generic wrap of an ordinary leaf axle (from memory); measure yours",
        unless=("wrap",),
        others=(less("2 deg"), more(_where("axle.position", "front", "7 deg", "12 deg"))),
        because="an axle on links or with a bar, and soft springs with low gears",
        off=_where("axle.position", "front", "3 deg", "5 deg"),
    ),
    Default(
        "travel.nose_down",
        _where("axle.position", "front", "7 deg", "4 deg"),
        "generic wrap of an ordinary leaf axle (from memory); measure yours",
        unless=("wrap",),
        others=(less("2 deg"), more(_where("axle.position", "front", "12 deg", "7 deg"))),
        because="an axle on links or with a bar, and soft springs with low gears",
        off=_where("axle.position", "front", "5 deg", "3 deg"),
    ),
    Default(
        "travel.wrap_at_droop",
        "100 %",
        "generic: full wrap with the wheels hanging too; hanging tires take little torque, so "
        "less is likely",
        others=(less("50 %"), less("0 %")),
        because="wheels that hang clear of the ground hold no torque at all",
    ),
    Default(
        "wrap.drive.low_range",
        1.0,
        "generic: no low range given",
        when="wrap",
        others=(more(2.5), more(4.0)),
        because="an ordinary low range, and a crawler's",
    ),
    Default(
        "wrap.drive.converter",
        1.0,
        "generic: a clutch",
        when="wrap",
        others=(more(2.0),),
        because="a converter at stall about doubles the torque",
    ),
    Default(
        "wrap.drive.efficiency",
        0.85,
        "generic gearbox and transfer case (from memory)",
        when="wrap",
        others=(less(0.75), more(0.95)),
        because="an old automatic, and a gearbox in direct drive",
    ),
    Default(
        "wrap.drive.friction",
        1.0,
        "generic tires on dry rock (from memory)",
        when="wrap",
        others=(less(0.7),),
        because="dirt and wet road; little holds better than dry rock",
    ),
    Default(
        "suspension.kind",
        "vertical",
        "generic: suspension not given",
        unless=("suspension",),
        others=(Other(_leaf_springs),),
        because="springs that turn the housing as they move it",
    ),
    *(default for kind in KINDS.values() for default in kind.defaults),
    Default(
        "shaft.tube.outside",
        "3 in",
        "generic tube",
        others=(Other("2 in"), Other("3 1/2 in")),
        because="trail shafts and long ones",
    ),
    Default("shaft.tube.wall", "0.083 in", "generic tube", because="it is inside the tube"),
    Default(
        "shaft.slip.at", "shaft", "generic: a slip joint within the shaft", because=_AT_A_GLANCE
    ),
    Default(
        "shaft.slip.closes",
        "1 1/2 in",
        _SLIP,
        others=(more("3/4 in"),),
        because="a short slip, set in the middle",
    ),
    Default(
        "shaft.slip.opens",
        _opens("3 in"),
        _SLIP,
        others=(more("1 1/2 in"),),
        because="a short slip, set in the middle",
    ),
    Default("shaft.output_end.joint", "single", "generic: one cross", because=_AT_A_GLANCE),
    Default(
        "shaft.output_end.cross",
        _like("shaft.pinion_end.cross", _CROSS),
        "generic joint size, or that of the pinion end; measure yours",
        others=_OTHER_CROSSES,
        because=_NEXT,
    ),
    Default(
        "shaft.output_end.output_yoke",
        _where("shaft.slip.at", "output", "sliding yoke", "flange yoke"),
        _YOKE,
        others=_DEEP_OUTPUT,
        because=_RELIEVED,
    ),
    Default(
        "shaft.output_end.shaft_yoke", "weld yoke", _YOKE, others=_DEEP_OUTPUT, because=_RELIEVED
    ),
    Default("shaft.pinion_end.joint", "single", "generic: one cross", because=_AT_A_GLANCE),
    Default(
        "shaft.pinion_end.cross",
        _like("shaft.output_end.cross", _CROSS),
        "generic joint size, or that of the output end; measure yours",
        others=_OTHER_CROSSES,
        because=_NEXT,
    ),
    Default(
        "shaft.pinion_end.shaft_yoke", "weld yoke", _YOKE, others=_DEEP_PINION, because=_RELIEVED
    ),
    Default(
        "shaft.pinion_end.pinion_yoke",
        _where("shaft.pinion_end.joint", "double", "flange yoke", "strap yoke"),
        _YOKE,
        others=_DEEP_PINION,
        because=_RELIEVED,
    ),
    *(
        Default(
            f"{end}.head",
            _where(f"{end}.joint", "double", "ordinary head", None),
            _HEAD,
            others=(Other("high-angle head"),),
            because="the other kind of the catalogue",
        )
        for end in ("shaft.output_end", "shaft.pinion_end")
    ),
    Default(
        "carrier.middle_joint_beyond",
        "3 1/2 in",
        "generic (from memory); measure yours",
        when="carrier",
        others=(Other("2 in"), Other("6 in")),
        because="a stub as short as its seal allows, and a long one",
        off="2 in",
    ),
    Default(
        "carrier.phase",
        "0 deg",
        "generic: the ears are in line",
        when="carrier",
        others=(Other("22.5 deg"),),
        because=_TOOTH,
    ),
    Default(
        "carrier.middle.joint", "single", "generic: one cross", when="carrier", because=_AT_A_GLANCE
    ),
    Default(
        "carrier.middle.cross",
        _like("shaft.pinion_end.cross", _CROSS),
        "generic joint size, or that of the pinion end; measure yours",
        when="carrier",
        others=_OTHER_CROSSES,
        because=_NEXT,
    ),
    Default(
        "carrier.middle.front_yoke",
        "flange yoke",
        _YOKE,
        when="carrier",
        others=_DEEP_MIDDLE,
        because=_RELIEVED,
    ),
    Default(
        "carrier.middle.shaft_yoke",
        "weld yoke",
        _YOKE,
        when="carrier",
        others=_DEEP_MIDDLE,
        because=_RELIEVED,
    ),
    Default(
        "shaft.phase",
        "0 deg",
        "generic: the ears at both ends are in line",
        others=(Other("22.5 deg"),),
        because=_TOOTH,
    ),
    Default("wanted.bend", "2 deg", _RESERVE, because=_A_WISH),
    Default("wanted.gap", "1/16 in", _RESERVE, because=_A_WISH),
    Default("wanted.clearance", "1/2 in", _RESERVE, because=_A_WISH),
    Default("wanted.slip", "3/4 in", _RESERVE, because=_A_WISH),
)
