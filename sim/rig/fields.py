"""The kinds of value a rig file holds: lengths, angles and points, as pydantic types.

A value is typed text with its unit. Directions are words in the key, so an angle, and a length
whose key says a direction, is never negative.
"""

import math
from collections.abc import Callable
from typing import Annotated, Any, Final, TypeVar

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    PlainSerializer,
    PlainValidator,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from sim.units import EXAMPLES, Angle, Length, UnitsError

FARTHEST: Final = 10_000.0
"""mm. No point of a vehicle lies farther from its axle; a larger number has the wrong unit."""

LARGEST_NUMBER: Final = 2**63
"""Integers of TOML have 64 bits; what is longer was never meant, and no sum can hold it."""

_Quantity = TypeVar("_Quantity", Length, Angle)


_PATTERN: Final = (
    r"[0-9\u00bc-\u00be\u2150-\u215e].*"  # a digit or a fraction character, then a unit
    r"[A-Za-z\u00b0'\"\u2032\u2033\u2019\u201d]"
)


def refusal(why: str, expected: str, kind: str = "measurement") -> PydanticCustomError:
    """Build an error that `sim.rig.validation` turns into a problem with these two texts.

    `why` may be empty where the value itself says enough.
    """
    context: dict[str, Any] = {"why": why, "expected": expected}
    return PydanticCustomError(kind, "{why}; expected {expected}", context)


def impossible(key: str, came: Length, why: str, expected: str) -> PydanticCustomError:
    """Build the error of a table whose keys contradict one another, told at one of them."""
    context: dict[str, Any] = {"key": key, "came": f'"{came}"', "why": why, "expected": expected}
    return PydanticCustomError("impossible", "{key}: {why}; expected {expected}", context)


def _reader(
    parse: Callable[[str], _Quantity], one: str, other: str, what: str
) -> Callable[[Any], _Quantity]:
    expected = f'{what} with its unit, such as "{one}" or "{other}"'

    def read(value: Any) -> _Quantity:
        if isinstance(value, str):
            try:
                return parse(value)
            except UnitsError as fault:
                raise refusal(fault.why, fault.expected) from None
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise refusal("not a text", expected)
        if isinstance(value, float) and not math.isfinite(value):
            raise refusal("not a finite number", expected)
        raise refusal("a number without a unit", expected)

    return read


def _schema(kind: str, says: str, examples: list[str]) -> WithJsonSchema:
    return WithJsonSchema(
        {
            "type": "string",
            "title": kind,
            "description": says,
            "examples": examples,
            "minLength": 2,
            "maxLength": 80,
            "pattern": _PATTERN,
        }
    )


def _within_reach(length: Length) -> Length:
    if abs(length.mm) > FARTHEST:
        raise refusal("longer than any vehicle", f"under {FARTHEST:g} mm; is the unit right?")
    return length


def _not_negative(quantity: _Quantity) -> _Quantity:
    value = quantity.mm if isinstance(quantity, Length) else quantity.rad
    if value < 0.0:
        raise refusal("negative", "zero or more", "negative")
    return quantity


def _positive(length: Length) -> Length:
    if length.mm <= 0.0:
        raise refusal("not above zero", "a length above zero")
    return length


def _below(limit_deg: float) -> Callable[[Angle], Angle]:
    def check(angle: Angle) -> Angle:
        if angle.rad >= math.radians(limit_deg):
            raise refusal(f"{limit_deg:g} deg or more", f"an angle under {limit_deg:g} deg")
        return angle

    return check


_typed = PlainSerializer(lambda quantity: quantity.typed, return_type=str)

AnyLength = Annotated[
    Length,
    PlainValidator(_reader(Length.parse, *EXAMPLES["length"], "a length")),
    AfterValidator(_within_reach),
    _typed,
    _schema(
        "Length",
        "A length with its unit; inches may have a fraction.",
        ["36 5/16 in", "36-5/16 in", "3 ft 0-5/16 in", "922 mm", "92.2 cm"],
    ),
]
"""A length of either sign, as the coordinates of a point are."""

Distance = Annotated[AnyLength, AfterValidator(_not_negative)]
"""A length of zero or more."""

Size = Annotated[AnyLength, AfterValidator(_positive)]
"""A length above zero."""

_angle = (
    PlainValidator(_reader(Angle.parse, *EXAMPLES["angle"], "an angle")),
    AfterValidator(_not_negative),
    _typed,
    _schema(
        "Angle",
        "An angle with its unit, never negative: the key says the direction.",
        ["3 1/4 deg", "3.25 deg", "0.0567 rad"],
    ),
)
Slope = Annotated[Angle, *_angle, AfterValidator(_below(90.0))]
"""How much a part points up, down, left or right of straight ahead: from 0 to under 90 deg."""

Swing = Annotated[Angle, *_angle, AfterValidator(_below(45.0))]
"""How far an axle rolls or wraps each way: from 0 to under 45 deg."""

Turn = Annotated[Angle, *_angle, AfterValidator(_below(180.0))]
"""A turn of a shaft: from 0 to under 180 deg."""


def _three(value: Any) -> tuple[Any, ...]:
    expected = 'three lengths: forward, left, up, such as ["47 in", "0 in", "9 in"]'
    if not isinstance(value, list | tuple):
        raise refusal("not an array in [ ]", expected)
    if len(value) != 3:
        raise refusal(f"{len(value)} in place of three", expected)
    return tuple(value)


Point = Annotated[
    tuple[AnyLength, AnyLength, AnyLength],
    BeforeValidator(_three),
    Field(examples=[["47 in", "0 in", "9 in"]]),
]
"""Forward, left, up from the centre of the axle housing at ride height."""

Dimensions = Annotated[
    tuple[Size, Size, Size],
    BeforeValidator(_three),
    Field(examples=[["3 in", "30 in", "3 in"]]),
]
"""Size of a box along forward, left, up."""

Name = Annotated[str, Field(min_length=1, max_length=200)]
"""A text for people."""


def millimetres(point: tuple[Length, Length, Length]) -> tuple[float, float, float]:
    """Coordinates (mm) of a typed point."""
    x, y, z = point
    return x.mm, y.mm, z.mm


def signed_angle(positive: Angle | None, negative: Angle | None) -> float:
    """One angle (rad) from a pair of keys with opposite words; 0 when neither is there."""
    if positive is not None:
        return positive.rad
    return -negative.rad if negative is not None else 0.0


def signed_length(positive: Length | None, negative: Length | None) -> float:
    """One length (mm) from a pair of keys with opposite words; 0 when neither is there."""
    if positive is not None:
        return positive.mm
    return -negative.mm if negative is not None else 0.0
