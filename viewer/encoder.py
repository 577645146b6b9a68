"""The one encoder of results as plain data for programs: published keys, units in them, no words.

Each result is written by the list of its keys, `KEY` or `KEY=PATH` where the attribute is called
otherwise. The last part of a key is its unit, so `touch_deg=curve.touch_min` is that many rad in
degrees; `KEY=PATH:UNIT` where the key does not say it, and `:fraction` for a length as a tape shows
it. What has keys of its own (`publish`) is written by them wherever it stands.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import singledispatch
from math import degrees, isfinite, pi
from typing import Any, Final

import numpy as np

from sim.around.surroundings import SurroundingGap
from sim.findings import Measure
from sim.remark import Remark
from sim.speed import Felt
from sim.vehicle import Pose
from viewer.words.remarks import said
from viewer.words.units import format_fraction

_UNITS: Final[Mapping[str, Callable[[float], float]]] = {
    "deg": degrees,
    "nm": lambda newton_mm: newton_mm / 1000.0,
    "rpm": lambda rad_per_second: rad_per_second * (30.0 / pi),
    "kmh": lambda mm_per_second: mm_per_second * 3.6e-3,
}
"""What the numbers of the inside are told in; mm, kg, hours and shares are as they are."""

_KEYS: Final[dict[type, str]] = {
    Measure: "value unit",
    SurroundingGap: (
        "name part of yields gap_mm certified_mm finished not_looked_at=unseen at points_mm=points"
    ),
}
"""The keys of each kind of result that has its own."""


def publish(keys: Mapping[type, str]) -> None:
    """Give kinds of results their keys."""
    _KEYS.update(keys)


def number(value: float) -> float | None:
    """A finite number, or None: JSON has neither nan nor infinity."""
    return float(value) if isfinite(value) else None


def keyed(result: object, keys: str) -> dict[str, Any]:
    """Those keys of a result."""
    told = {}
    for key, _, path in (each.partition("=") for each in keys.split()):
        way, _, unit = path.partition(":")
        told[key] = plain(_at(result, way or key), f"_{unit}" if unit else key)
    return told


def each_keyed(results: Iterable[object], keys: str) -> list[dict[str, Any]]:
    """The same of several results."""
    return [keyed(result, keys) for result in results]


def felt_data(felt: Felt) -> dict[str, Any]:
    """From which speed on shake is felt, and the number behind it; null where it never is."""
    keys = "felt_above_rpm=speed felt_above_kmh=road felt_governs=governs like_one_joint_deg=bend"
    return keyed(felt, keys) | ({} if felt.ever else {"felt_above_rpm": None})


@singledispatch
def plain(value: Any, key: str = "") -> Any:
    """A value as JSON has it, in the unit that its key ends with."""
    del key
    return keyed(value, _KEYS[type(value)])


@plain.register(int)
@plain.register(str)
@plain.register(type(None))
def _(value: Any, key: str = "") -> Any:
    del key
    return value


@plain.register(float)
def _(value: float, key: str = "") -> float | str | None:
    if key == "_fraction":
        return format_fraction(value)
    return number(_UNITS.get(key.rpartition("_")[2], float)(value))


@plain.register(np.ndarray)
@plain.register(np.generic)
def _(value: Any, key: str = "") -> Any:
    return plain(value.tolist(), key)


@plain.register(tuple)
@plain.register(list)
def _(value: Iterable[Any], key: str = "") -> list[Any]:
    return [plain(each, key) for each in value]


@plain.register(Mapping)
def _(value: Mapping[str, Any], key: str = "") -> dict[str, Any]:
    return {name: plain(each, key) for name, each in value.items()}


@plain.register(Remark)
def _(value: Remark, key: str = "") -> str:
    del key
    return said(value)


@plain.register(Pose)
def _(value: Pose, key: str = "") -> dict[str, float]:
    """Travel positive in bump, wrap nose up; no minus before a zero."""
    del key
    return {
        "travel_mm": value.travel + 0.0,
        "roll_deg": degrees(value.roll) + 0.0,
        "wrap_deg": degrees(value.wrap) + 0.0,
    }


def _at(result: object, path: str) -> Any:
    """What stands at a path of attributes and places; None where there is nothing on the way."""
    found: Any = result
    for name in path.split("."):
        if found is None:
            return None
        found = found[int(name)] if name.isdigit() else getattr(found, name)
    return found
