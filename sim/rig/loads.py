"""Torques, forces and bare numbers as they are typed in a rig file."""

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Final

from pydantic import AfterValidator, BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from sim.rig.fields import LARGEST_NUMBER, refusal

POUND: Final = 4.4482216152605
"""N. The weight of a pound."""
KILOGRAM: Final = 9.80665
"""N. The weight of a kilogram under standard gravity."""

_NEWTON: Final[Mapping[str, float]] = {
    "n": 1.0,
    "kn": 1000.0,
    "lb": POUND,
    "lbs": POUND,
    "lbf": POUND,
    "kg": KILOGRAM,
}
_NEWTON_MM: Final[Mapping[str, float]] = {
    "nm": 1000.0,
    "knm": 1e6,
    "lbft": 12.0 * 25.4 * POUND,
    "lbfft": 12.0 * 25.4 * POUND,
    "ftlb": 12.0 * 25.4 * POUND,
    "ftlbs": 12.0 * 25.4 * POUND,
    "lbin": 25.4 * POUND,
    "inlb": 25.4 * POUND,
}
_TEXT: Final = re.compile(r"\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*(?P<unit>[A-Za-z][A-Za-z .\-]*)")
MOST: Final = 1e12
"""N, or N mm. A thousand times what any vehicle has."""
_FORCE: Final = 'a force or weight with its unit, such as "1900 lb", "8.5 kN" or "860 kg"'
_TORQUE: Final = 'a torque with its unit, such as "300 lb-ft" or "400 N m"'


def force_of(text: str) -> float | None:
    """Force (N) of a text such as "1900 lb" or "8.5 kN"; None if it is none."""
    return _value(text, _NEWTON)


def torque_of(text: str) -> float | None:
    """Torque (N mm) of a text such as "300 lb-ft" or "400 N m"; None if it is none."""
    return _value(text, _NEWTON_MM)


def _value(text: str, units: Mapping[str, float]) -> float | None:
    found = _TEXT.fullmatch(text)
    unit = units.get(re.sub(r"[ .\-]", "", found["unit"]).lower()) if found else None
    return float(found["number"]) * unit if found and unit else None


def _reader(parse: Callable[[str], float | None], expected: str) -> Callable[[Any], str]:
    def read(value: Any) -> str:
        if not isinstance(value, str):
            bare = isinstance(value, int | float) and not isinstance(value, bool)
            raise refusal("a number without a unit" if bare else "", expected)
        found = parse(value)
        if found is None:
            raise refusal("", expected)
        if not found > 0.0:
            raise refusal("not above zero", expected)
        if found > MOST:
            raise refusal("beyond any vehicle", f"{expected}; is the unit right?")
        return value

    return read


def _schema(title: str, says: str, examples: list[str]) -> WithJsonSchema:
    return WithJsonSchema(
        {
            "type": "string",
            "title": title,
            "description": says,
            "examples": examples,
            "pattern": r"^\s*[0-9]+(\.[0-9]+)?\s*[A-Za-z][A-Za-z .\-]*$",
        }
    )


Force = Annotated[
    str,
    BeforeValidator(_reader(force_of, _FORCE)),
    _schema("Force", "A force or weight with its unit.", ["1900 lb", "8.5 kN", "860 kg"]),
]
"""Kept as typed; `force_of` gives the number."""

Torque = Annotated[
    str,
    BeforeValidator(_reader(torque_of, _TORQUE)),
    _schema("Torque", "A torque with its unit.", ["300 lb-ft", "400 N m"]),
]
"""Kept as typed; `torque_of` gives the number."""


def _number(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise refusal("not a number", "a number without a unit, not in quotes, such as 4.1")
    if not 0.0 < value < LARGEST_NUMBER:
        raise refusal("", "a number above zero")
    return value


def _under(most: float) -> Callable[[float], float]:
    def check(value: float) -> float:
        if value > most:
            raise refusal("", f"a number above zero, up to {most:g}")
        return value

    return check


Ratio = Annotated[
    float,
    BeforeValidator(_number),
    AfterValidator(_under(1000.0)),
    WithJsonSchema({"type": "number", "title": "Ratio", "exclusiveMinimum": 0, "maximum": 1000}),
]
"""A ratio of two speeds or torques."""

Efficiency = Annotated[
    float,
    BeforeValidator(_number),
    AfterValidator(_under(1.0)),
    WithJsonSchema({"type": "number", "title": "Efficiency", "exclusiveMinimum": 0, "maximum": 1}),
]
"""What is left of a whole, from above 0 to 1."""

Friction = Annotated[
    float,
    BeforeValidator(_number),
    AfterValidator(_under(2.0)),
    WithJsonSchema({"type": "number", "title": "Friction", "exclusiveMinimum": 0, "maximum": 2}),
]
"""A coefficient of friction of tyres on the ground."""


_PERCENT: Final = re.compile(r"\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*(?:%|percent)\s*")
_SHARE: Final = 'a share in per cent, such as "5 %"'


def share_of(text: str) -> float | None:
    """Share of a text such as "5 %"; None if it is none."""
    found = _PERCENT.fullmatch(text)
    return float(found["number"]) / 100.0 if found else None


def _share(value: Any) -> str:
    if not isinstance(value, str):
        bare = isinstance(value, int | float) and not isinstance(value, bool)
        raise refusal("a number without a unit" if bare else "", _SHARE)
    found = share_of(value)
    if found is None:
        raise refusal("", _SHARE)
    if not found < 1.0:
        raise refusal("all of it or more", "a share from 0 to under 100 %")
    return value


Share = Annotated[
    str,
    BeforeValidator(_share),
    WithJsonSchema(
        {
            "type": "string",
            "title": "Share",
            "description": "How far off a number may be, as a share of it.",
            "examples": ["5 %"],
            "pattern": r"^\s*[0-9]+(\.[0-9]+)?\s*(%|percent)\s*$",
        }
    ),
]
"""Kept as typed; `share_or` gives the number."""


ALL: Final = 1.0
"""The share that is all of it."""


def _left(value: Any) -> str:
    if isinstance(value, str) and share_of(value) == ALL:
        return value
    try:
        return _share(value)
    except PydanticCustomError:
        raise refusal(
            "a number without a unit" if isinstance(value, int | float) else "",
            'a share from 0 to 100 %, such as "40 %"',
        ) from None


LeftShare = Annotated[
    str,
    BeforeValidator(_left),
    WithJsonSchema(
        {
            "type": "string",
            "title": "Share left",
            "description": "What is left of something, from none of it to all of it.",
            "examples": ["40 %"],
            "pattern": r"^\s*[0-9]+(\.[0-9]+)?\s*(%|percent)\s*$",
        }
    ),
]
"""What is left of a whole, 0 to 100 %, kept as typed; `share_or` gives the number."""


def share_or(typed: str | None, generic: float) -> float:
    """Share of a text that was checked; a generic one where nothing is typed."""
    found = None if typed is None else share_of(typed)
    return generic if found is None else found


def newton_mm(text: str) -> float:
    """Torque (N mm) of a text that was checked."""
    return torque_of(text) or 0.0


def newton(text: str) -> float:
    """Force (N) of a text that was checked."""
    return force_of(text) or 0.0
