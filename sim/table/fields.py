"""Lengths, angles and points as a rig file holds them, as pydantic types.

A value is typed text with its unit. Directions are words in the key, so an angle, and a length
whose key says a direction, is never negative.
"""

import math
from dataclasses import dataclass, field
from typing import Annotated, Any, ClassVar, Final

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from sim.table.kinds import Kind, Range, refusal
from sim.units import EXAMPLES, Angle, Length, UnitsError

FARTHEST: Final = 10_000.0
"""mm. No point of a vehicle lies farther from its axle; a larger number has the wrong unit."""

_TO_FARTHEST: Final = Range(0.0, FARTHEST, "mm")
_TO_SQUARE: Final = Range(0.0, 90.0, "deg", below=True)


def one_schema(number: int) -> BeforeValidator:
    """That a file follows the one schema this program reads."""

    def read(value: Any) -> Any:
        if isinstance(value, bool) or value != number:
            raise refusal("a schema this program does not know", f"schema = {number}")
        return value

    return BeforeValidator(read)


def one_kind(kind: str, otherwise: str) -> BeforeValidator:
    """That a file says it is of a kind; `otherwise` is what another one is."""

    def read(value: Any) -> Any:
        if value != kind:
            raise refusal(otherwise, f'kind = "{kind}"')
        return value

    return BeforeValidator(read)


def impossible(key: str, came: Length, why: str, expected: str) -> PydanticCustomError:
    """Build the error of a table whose keys contradict one another, told at one of them."""
    context: dict[str, Any] = {"key": key, "came": f'"{came}"', "why": why, "expected": expected}
    return PydanticCustomError("impossible", "{key}: {why}; expected {expected}", context)


@dataclass(frozen=True)
class Measured(Kind):
    """A length or an angle, kept with the text typed for it."""

    expected: ClassVar[str]
    quantity: ClassVar[type[Length] | type[Angle]]

    crosses: bool = field(default=False, kw_only=True)
    """Whether another key says the same the other way, so that it may be off past nothing."""

    def read(self, value: Any) -> Length | Angle:
        """Read a text with its unit."""
        if isinstance(value, str):
            try:
                found = self.quantity.parse(value)
            except UnitsError as fault:
                raise refusal(fault.why, fault.expected) from None
            self.within(found)
            return found
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise refusal("not a text", self.expected)
        if not math.isfinite(value):
            raise refusal("not a finite number", self.expected)
        raise refusal("a number without a unit", self.expected)

    def within(self, found: Any) -> None:
        """Refuse what is negative where that is no direction, and an error larger than that."""
        if self.range.least != 0.0:
            return
        number = found.mm if isinstance(found, Length) else found.rad
        if number < 0.0:
            raise refusal("negative", "zero or more", "negative")
        size = None if found.off is None else found.off.size
        if size is not None and not self.crosses and 0.0 < number < size:
            raise refusal("an error larger than the value", "an error no larger than the value")

    def json_schema(self) -> dict[str, Any]:
        """A text that begins with a digit and ends with a unit."""
        digit = r"[0-9\u00bc-\u00be\u2150-\u215e]"  # a fraction character too
        unit = r"[A-Za-z\u00b0'\"\u2032\u2033\u2019\u201d]"
        return {"type": "string", "minLength": 2, "maxLength": 80, "pattern": f"{digit}.*{unit}"}


@dataclass(frozen=True)
class OfLength(Measured):
    """A length, in millimetres."""

    quantity = Length
    expected = 'a length with its unit, such as "{}" or "{}"'.format(*EXAMPLES["length"])

    title: str = "Length"
    range: Range = _TO_FARTHEST
    units: tuple[str, ...] = ("in", "mm", "cm", "ft")
    says: str = "A length with its unit; inches may have a fraction."
    examples: tuple[str, ...] = ("36 5/16 in", "36-5/16 in", "3 ft 0-5/16 in", "922 mm", "92.2 cm")

    def within(self, found: Any) -> None:
        """Refuse what is too long, too."""
        if abs(found.mm) > self.range.most:
            expected = f"under {self.range.most:g} mm; is the unit right?"
            raise refusal("longer than any vehicle", expected)
        if self.range.above and found.mm <= 0.0:
            raise refusal("not above zero", "a length above zero")
        super().within(found)


@dataclass(frozen=True)
class OfAngle(Measured):
    """An angle, in degrees in its range and in radians once it is read."""

    quantity = Angle
    expected = 'an angle with its unit, such as "{}" or "{}"'.format(*EXAMPLES["angle"])

    title: str = "Angle"
    range: Range = _TO_SQUARE
    units: tuple[str, ...] = ("deg",)
    says: str = "An angle with its unit, never negative: the key says the direction."
    examples: tuple[str, ...] = ("3 1/4 deg", "3.25 deg", "0.0567 rad")

    def within(self, found: Any) -> None:
        """Refuse what is too large, too."""
        super().within(found)
        most = self.range.most
        if found.rad >= math.radians(most):
            raise refusal(f"{most:g} deg or more", f"an angle under {most:g} deg")


AnyLength = Annotated[Length, OfLength(range=Range(-FARTHEST, FARTHEST, "mm"))]
"""A length of either sign, as the coordinates of a point are."""

Distance = Annotated[Length, OfLength()]
"""A length of zero or more."""

Size = Annotated[Length, OfLength(range=Range(0.0, FARTHEST, "mm", above=True))]
"""A length above zero."""

Offset = Annotated[Length, OfLength(crosses=True)]
"""How far to one side, up or down something lies: a length of zero or more."""

Slope = Annotated[Angle, OfAngle(crosses=True)]
"""How much a part points up, down, left or right of straight ahead: from 0 to under 90 deg."""

Bend = Annotated[Angle, OfAngle()]
"""How far a joint is bent: from 0 to under 90 deg."""

Swing = Annotated[Angle, OfAngle(range=Range(0.0, 45.0, "deg", below=True))]
"""How far an axle rolls or wraps each way: from 0 to under 45 deg."""

Turn = Annotated[Angle, OfAngle(range=Range(0.0, 180.0, "deg", below=True))]
"""A turn of a shaft: from 0 to under 180 deg."""


def several(expected: str, fewest: int = 0, count: str = "") -> BeforeValidator:
    """Read an array of tables, `fewest` at the least, or of as many things as `count` says."""

    def read(value: Any) -> tuple[Any, ...]:
        if not isinstance(value, list | tuple):
            raise refusal(f"not an array {'in [ ]' if count else 'of tables'}", expected)
        if count and len(value) != _COUNTS[count]:
            raise refusal(f"{len(value)} in place of {count}", expected)
        if len(value) < fewest:
            raise refusal("too few", expected)
        return tuple(value)

    return BeforeValidator(read)


_COUNTS: Final = {"two": 2, "three": 3}
_THREE: Final = several(
    'three lengths: forward, left, up, such as ["47 in", "0 in", "9 in"]', count="three"
)

Point = Annotated[
    tuple[AnyLength, AnyLength, AnyLength],
    _THREE,
    Field(examples=[["47 in", "0 in", "9 in"]]),
]
"""Forward, left, up from the centre of the axle housing at ride height."""

Dimensions = Annotated[
    tuple[Size, Size, Size],
    _THREE,
    Field(examples=[["3 in", "30 in", "3 in"]]),
]
"""Size of a box along forward, left, up."""

Name = Annotated[str, Field(min_length=1, max_length=200)]
"""A text for people."""


def millimetres(point: tuple[Length, Length, Length]) -> tuple[float, float, float]:
    """Coordinates (mm) of a typed point."""
    x, y, z = point
    return x.mm, y.mm, z.mm
