"""Road speeds, speeds of turning and balance grades as they are typed in a rig file."""

import re
from collections.abc import Callable, Mapping
from math import pi
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, WithJsonSchema

from sim.rig.fields import refusal

MILE: Final = 1_609_344.0
"""mm."""

_ROAD: Final[Mapping[str, float]] = {
    "mph": MILE / 3600.0,
    "km/h": 1e6 / 3600.0,
    "kmh": 1e6 / 3600.0,
    "kph": 1e6 / 3600.0,
    "m/s": 1000.0,
}
_TURNING: Final[Mapping[str, float]] = {
    "rpm": 2.0 * pi / 60.0,
    "1/min": 2.0 * pi / 60.0,
    "rad/s": 1.0,
}
_TEXT: Final = re.compile(r"\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*(?P<unit>[A-Za-z1/]+)\s*")
_GRADE: Final = re.compile(r"\s*[Gg]\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*")
FASTEST: Final = 1e5
"""mm/s, 360 km/h. A higher road speed has the wrong unit."""
MOST_TURNING: Final = 3000.0
"""rad/s, about 28,600 rpm. No engine here turns faster."""
GRADES: Final = (1.0, 100.0)
"""Least and most of a grade, mm/s, that a shaft is balanced to."""

_SPEED_TEXT: Final = 'a road speed with its unit, such as "70 mph" or "110 km/h"'
_TURNING_TEXT: Final = 'a speed of turning with its unit, such as "4500 rpm"'
_GRADE_TEXT: Final = 'a balance grade such as "G16" or "G40"'


def road_speed_of(text: str) -> float | None:
    """Road speed (mm/s) of a text such as "70 mph" or "110 km/h"; None if it is none."""
    return _value(text, _ROAD)


def turning_of(text: str) -> float | None:
    """Speed (rad/s) of a text such as "4500 rpm"; None if it is none."""
    return _value(text, _TURNING)


def grade_of(text: str) -> float | None:
    """Balance grade (mm/s) of a text such as "G16"; None if it is none."""
    found = _GRADE.fullmatch(text)
    return float(found["number"]) if found else None


def _value(text: str, units: Mapping[str, float]) -> float | None:
    found = _TEXT.fullmatch(text)
    unit = units.get(found["unit"].lower()) if found else None
    return float(found["number"]) * unit if found and unit else None


def _reader(
    parse: Callable[[str], float | None], expected: str, least: float, most: float
) -> Callable[[Any], str]:
    def read(value: Any) -> str:
        if not isinstance(value, str):
            bare = isinstance(value, int | float) and not isinstance(value, bool)
            raise refusal("a number without a unit" if bare else "", expected)
        found = parse(value)
        if found is None:
            raise refusal("", expected)
        if not found > 0.0:
            raise refusal("not above zero", expected)
        if not least <= found <= most:
            raise refusal("beyond any vehicle", f"{expected}; is the unit right?")
        return value

    return read


def _schema(title: str, says: str, examples: list[str], pattern: str) -> WithJsonSchema:
    return WithJsonSchema(
        {
            "type": "string",
            "title": title,
            "description": says,
            "examples": examples,
            "pattern": pattern,
        }
    )


_WITH_UNIT: Final = r"^\s*[0-9]+(\.[0-9]+)?\s*[A-Za-z1/]+\s*$"

RoadSpeed = Annotated[
    str,
    BeforeValidator(_reader(road_speed_of, _SPEED_TEXT, 0.0, FASTEST)),
    _schema("RoadSpeed", "A road speed with its unit.", ["70 mph", "110 km/h"], _WITH_UNIT),
]
"""Kept as typed; `road_speed_of` gives the number."""

Turning = Annotated[
    str,
    BeforeValidator(_reader(turning_of, _TURNING_TEXT, 0.0, MOST_TURNING)),
    _schema("Turning", "A speed of turning with its unit.", ["4500 rpm"], _WITH_UNIT),
]
"""Kept as typed; `turning_of` gives the number."""

Grade = Annotated[
    str,
    BeforeValidator(_reader(grade_of, _GRADE_TEXT, *GRADES)),
    _schema(
        "Grade",
        "A balance grade.",
        ["G16", "G40"],
        r"^\s*[Gg]\s*[0-9]+(\.[0-9]+)?\s*$",
    ),
]
"""Kept as typed; `grade_of` gives the number."""
