"""What a kind of value is: how it is read, its units, and from where to where it goes."""

import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Final, get_args, get_origin

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, PydanticCustomError
from pydantic_core.core_schema import (
    no_info_plain_validator_function,
    plain_serializer_function_ser_schema,
)

LARGEST_NUMBER: Final = 2**63
"""Integers of TOML have 64 bits; what is longer was never meant, and no sum can hold it."""


def refusal(why: str, expected: str, kind: str = "measurement") -> PydanticCustomError:
    """Build an error that `sim.rig.validation` turns into a problem with these two texts.

    `why` may be empty where the value itself says enough.
    """
    context: dict[str, Any] = {"why": why, "expected": expected}
    return PydanticCustomError(kind, "{why}; expected {expected}", context)


@dataclass(frozen=True)
class Range:
    """From where to where a kind of value goes; beyond it a value is refused.

    Attributes
    ----------
    least, most : in `unit`, the ends.
    unit : what they are in; "" for a bare number.
    above, below : whether the end itself is refused too.
    """

    least: float
    most: float
    unit: str = ""
    above: bool = False
    below: bool = False

    def json_schema(self) -> dict[str, Any]:
        """Keywords of JSON Schema that say the same of a bare number."""
        low = "exclusiveMinimum" if self.above else "minimum"
        high = "exclusiveMaximum" if self.below else "maximum"
        return {low: self.least, high: self.most}


@dataclass(frozen=True)
class Kind(ABC):
    """A kind of value, as metadata of the type that holds it: `Annotated[Length, DISTANCE]`.

    Attributes
    ----------
    title : name of the kind.
    range : what is not refused.
    units : what a number alone may be meant in, to be asked back; empty where that is nobody's
        guess, or where there is no unit.
    says : what it is and how it is typed, in a sentence for editors.
    examples : as typed.
    """

    title: str
    range: Range
    units: tuple[str, ...] = ()
    says: str = ""
    examples: tuple[Any, ...] = ()

    @abstractmethod
    def read(self, value: Any) -> Any:
        """The value for what stands in a file. Raises `PydanticCustomError`."""

    @abstractmethod
    def json_schema(self) -> dict[str, Any]:
        """What editors know of it, besides title, meaning and examples."""

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Read with `read`; write as it was typed."""
        del source, handler
        typed = plain_serializer_function_ser_schema(lambda value: getattr(value, "typed", value))
        return no_info_plain_validator_function(self.read, serialization=typed)

    def __get_pydantic_json_schema__(
        self, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Say the kind in JSON Schema."""
        del core_schema, handler
        told = {"title": self.title, "description": self.says, "examples": list(self.examples)}
        return {**{key: value for key, value in told.items() if value}, **self.json_schema()}


def is_bare(value: Any) -> bool:
    """Whether a value is a number that lacks quotes and unit."""
    return isinstance(value, int | float) and not isinstance(value, bool)


@dataclass(frozen=True)
class Typed(Kind):
    """Numbers with a unit that are kept as the text typed for them.

    Attributes
    ----------
    expected : what is wanted, in words for a fault.
    number : the number (inside units) in a text, or None where it is none.
    pattern : what editors hold a text to.
    """

    expected: str = ""
    number: Callable[[str], float | None] = lambda _: None
    pattern: str = ""

    def of(self, text: str | None, otherwise: float | None = None) -> float | None:
        """The number (inside units) of a text; `otherwise` where there is none or it is no such."""
        found = None if text is None else self.number(text)
        return otherwise if found is None else found

    def sure(self, text: str) -> float:
        """The number (inside units) of a text that was checked."""
        return self.number(text) or 0.0

    def read(self, value: Any) -> str:
        """Check a text and leave it as typed."""
        if not isinstance(value, str):
            raise refusal("a number without a unit" if is_bare(value) else "", self.expected)
        found = self.number(value)
        if found is None:
            raise refusal("", self.expected)
        self.within(found)
        return value

    def within(self, found: float) -> None:
        """Refuse a number out of range."""
        if not found > 0.0:
            raise refusal("not above zero", self.expected)
        if not self.range.least <= found <= self.range.most:
            raise refusal("beyond any vehicle", f"{self.expected}; is the unit right?")

    def json_schema(self) -> dict[str, Any]:
        """A text with a pattern."""
        return {"type": "string", "pattern": self.pattern}


@dataclass(frozen=True)
class Number(Kind):
    """A bare number."""

    def read(self, value: Any) -> float:
        """Check a number above zero."""
        if not is_bare(value):
            raise refusal("not a number", "a number without a unit, not in quotes, such as 4.1")
        if not 0.0 < value < LARGEST_NUMBER:
            raise refusal("", "a number above zero")
        if value > self.range.most:
            raise refusal("", f"a number above zero, up to {self.range.most:g}")
        return float(value)

    def json_schema(self) -> dict[str, Any]:
        """A number in its range."""
        return {"type": "number", **self.range.json_schema()}


@dataclass(frozen=True)
class Count(Kind):
    """A whole number of things."""

    def read(self, value: Any) -> int:
        """Check a whole number."""
        least, most = self.range.least, self.range.most
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise refusal("", f"a whole number from {least:g} to {most:g}")
        return value

    def json_schema(self) -> dict[str, Any]:
        """A whole number in its range."""
        return {"type": "integer", **self.range.json_schema()}


def in_units(
    units: Mapping[str, float], text: re.Pattern[str], skip: str = r"\s"
) -> Callable[[str], float | None]:
    """A reader of texts of a number and one of `units`, whose names have nothing of `skip`."""

    def number(typed: str) -> float | None:
        found = text.fullmatch(typed)
        unit = units.get(re.sub(skip, "", found["unit"]).lower()) if found else None
        return float(found["number"]) * unit if found and unit else None

    return number


def kind_of(field: FieldInfo) -> Kind | None:
    """The kind of value that stands at a field; None for a table, a choice, a text, yes or no."""
    return next(_kinds((*field.metadata, field.annotation)), None)


def _kinds(annotations: tuple[Any, ...]) -> Iterator[Kind]:
    for each in annotations:
        if isinstance(each, Kind):
            yield each
        elif get_origin(each) is Annotated:
            yield from _kinds((*each.__metadata__, get_args(each)[0]))
        else:
            yield from _kinds(get_args(each))
