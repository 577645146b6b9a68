"""Generic defaults for what a rig file leaves out, each with its reason.

Nothing that decides the answer by itself has a default: where the joints lie, how the output and
the pinion point, and how far the axle travels are always asked. All numbers here are common
practice without a source, or from memory; none is measured, so each one used is listed to the
user as assumed.
"""

from collections.abc import Callable, Iterable
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, Final

from sim.remark import Remark
from sim.suspension import KINDS
from sim.table.default import Data, Default, at
from sim.units import Length, UnitsError


@dataclass(frozen=True)
class Assumed:
    """A value that was left out of the file and taken from a generic default."""

    key: str
    """Key path, such as `travel.roll`."""
    value: Any
    """The value as it would be typed in the file."""
    why: str

    @property
    def remark(self) -> Remark:
        """What is to be said of it."""
        value = f"[{', '.join(self.value)}]" if isinstance(self.value, list) else str(self.value)
        return Remark("assumed", self.key, what=self.key, value=value, why=self.why)


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


_CROSS: Final = "27 x 82"
_AHEAD: Final = "generic: straight ahead, no side angle was given"
_SLIP: Final = (
    "generic slip, a third closing and two thirds opening (from memory), to draw it; nothing is "
    "judged by it: measure yours"
)
_YOKE: Final = "generic yoke; measure yours"
_HEAD: Final = "generic head; measure yours"
_RESERVE: Final = "generic reserve (common practice, no source)"

DEFAULTS: Final[tuple[Default, ...]] = (
    Default("schema", 1, "the only schema there is"),
    Default("name", "Unnamed rig", "no name was given"),
    Default("output.points_left", "0 deg", _AHEAD, unless=("output.points_right",)),
    Default(
        "ride_height.shaft_points_left",
        "0 deg",
        "generic: no side offset was given",
        unless=(
            "output.joint",
            "ride_height.shaft_points_right",
            "ride_height.pinion_left",
            "ride_height.pinion_right",
        ),
        when="ride_height",
    ),
    Default("axle.position", "rear", "generic: no position was given"),
    Default(
        "axle.snout",
        "11 in",
        "generic length from axle centre to pinion joint (from memory); measure yours",
        unless=("axle.pinion_joint",),
    ),
    Default("axle.points_left", "0 deg", _AHEAD, unless=("axle.points_right",)),
    Default("axle.wrap_centre", ["0 in", "0 in", "0 in"], "wrap turns the housing about itself"),
    Default("travel.roll", "8 deg", "generic roll each way (from memory); measure yours"),
    Default(
        "travel.stops_apart",
        "32 in",
        "generic distance of stops under a frame (from memory); measure yours",
    ),
    Default("travel.droop_strap", "sides", "generic: a strap or a shock at each side"),
    Default(
        "travel.nose_up",
        _where("axle.position", "front", "4 deg", "7 deg"),
        "generic wrap of an ordinary leaf axle (from memory); measure yours",
        unless=("wrap",),
    ),
    Default(
        "travel.nose_down",
        _where("axle.position", "front", "7 deg", "4 deg"),
        "generic wrap of an ordinary leaf axle (from memory); measure yours",
        unless=("wrap",),
    ),
    Default(
        "travel.wrap_at_droop",
        "100 %",
        "generic: all of the wrap with the wheels hanging too; torque needs load on the tyres, so "
        "less is likely",
    ),
    Default("wrap.drive.low_range", 1.0, "generic: no low range was given", when="wrap"),
    Default("wrap.drive.converter", 1.0, "generic: a clutch", when="wrap"),
    Default(
        "wrap.drive.efficiency",
        0.85,
        "generic gearbox and transfer case (from memory)",
        when="wrap",
    ),
    Default("wrap.drive.friction", 1.0, "generic tyres on dry rock (from memory)", when="wrap"),
    Default(
        "suspension.kind",
        "vertical",
        "generic: nothing is known of the suspension",
        unless=("suspension",),
    ),
    *(default for kind in KINDS.values() for default in kind.defaults),
    Default("shaft.tube.outside", "3 in", "generic tube"),
    Default("shaft.tube.wall", "0.083 in", "generic tube"),
    Default("shaft.slip.at", "shaft", "generic: a slip joint within the shaft"),
    Default("shaft.slip.closes", "1 1/2 in", _SLIP),
    Default("shaft.slip.opens", _opens("3 in"), _SLIP),
    Default("shaft.output_end.joint", "single", "generic: one cross"),
    Default(
        "shaft.output_end.cross",
        _like("shaft.pinion_end.cross", _CROSS),
        "generic joint size, or that of the pinion end; measure yours",
    ),
    Default(
        "shaft.output_end.output_yoke",
        _where("shaft.slip.at", "output", "sliding yoke", "flange yoke"),
        _YOKE,
    ),
    Default("shaft.output_end.shaft_yoke", "weld yoke", _YOKE),
    Default("shaft.pinion_end.joint", "single", "generic: one cross"),
    Default(
        "shaft.pinion_end.cross",
        _like("shaft.output_end.cross", _CROSS),
        "generic joint size, or that of the output end; measure yours",
    ),
    Default("shaft.pinion_end.shaft_yoke", "weld yoke", _YOKE),
    Default(
        "shaft.pinion_end.pinion_yoke",
        _where("shaft.pinion_end.joint", "double", "flange yoke", "strap yoke"),
        _YOKE,
    ),
    *(
        Default(f"{end}.head", _where(f"{end}.joint", "double", "ordinary head", None), _HEAD)
        for end in ("shaft.output_end", "shaft.pinion_end")
    ),
    Default(
        "carrier.middle_joint_beyond",
        "3 1/2 in",
        "generic (from memory); measure yours",
        when="carrier",
    ),
    Default("carrier.phase", "0 deg", "generic: the ears are in line", when="carrier"),
    Default("carrier.middle.joint", "single", "generic: one cross", when="carrier"),
    Default(
        "carrier.middle.cross",
        _like("shaft.pinion_end.cross", _CROSS),
        "generic joint size, or that of the pinion end; measure yours",
        when="carrier",
    ),
    Default("carrier.middle.front_yoke", "flange yoke", _YOKE, when="carrier"),
    Default("carrier.middle.shaft_yoke", "weld yoke", _YOKE, when="carrier"),
    Default("shaft.phase", "0 deg", "generic: the ears at both ends are in line"),
    Default("wanted.bend", "2 deg", _RESERVE),
    Default("wanted.gap", "1/16 in", _RESERVE),
    Default("wanted.clearance", "1/2 in", _RESERVE),
    Default("wanted.slip", "3/4 in", _RESERVE),
)


def fill(data: Data) -> tuple[dict[str, Any], tuple[Assumed, ...]]:
    """Copy the data of a file with every default filled in, and tell which ones were."""
    filled = deepcopy(dict(data))
    assumed = []
    for default in DEFAULTS:
        says_so = (default.key, *default.unless)
        if any(at(filled, key) not in (None, {}) for key in says_so):
            continue
        if default.when and at(filled, default.when) is None:
            continue
        value = default.typed(filled)
        if value is None:
            continue
        if _put(filled, default.key, value):
            assumed.append(Assumed(default.key, value, default.why))
    return filled, tuple(assumed)


def without(data: Data, assumed: Iterable[Assumed]) -> dict[str, Any]:
    """Copy the data without the assumed values, nor the tables they leave empty."""
    kept = deepcopy(dict(data))
    for each in assumed:
        _drop(kept, each.key.split("."))
    return kept


def _put(data: dict[str, Any], key: str, value: Any) -> bool:
    """Set a value, making tables on the way; False where something else stands in the way."""
    *tables, last = key.split(".")
    here: Any = data
    for table in tables:
        here = here.setdefault(table, {})
        if not isinstance(here, dict):
            return False
    here[last] = value
    return True


def _drop(table: dict[str, Any], path: list[str]) -> None:
    first, *rest = path
    if not rest:
        table.pop(first, None)
    elif isinstance(table.get(first), dict):
        _drop(table[first], rest)
        if not table[first]:
            del table[first]
