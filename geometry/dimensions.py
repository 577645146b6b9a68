"""Dimensions with a name, a unit and a word on what to measure, declared as dataclass fields."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from math import isfinite
from typing import Any, Literal

from geometry.errors import ShapeError

Unit = Literal["length", "angle", "count"]


@dataclass(frozen=True)
class Dimension:
    """One dimension of a part that a user may see and override.

    name : as in the rig file
    unit : "length" (mm), "angle" (rad) or "count"
    about : what to measure, in a sentence
    """

    name: str
    unit: Unit
    about: str


def length(about: str) -> Any:
    """Declare a dimension in mm; `about` says what a caliper would measure."""
    return field(metadata={"unit": "length", "about": about})


def angle(about: str) -> Any:
    """Declare a dimension in rad; `about` says what a protractor would measure."""
    return field(metadata={"unit": "angle", "about": about})


def count(about: str) -> Any:
    """Declare a whole number of things; `about` says what to count."""
    return field(metadata={"unit": "count", "about": about})


class Shape:
    """A part as a frozen dataclass of dimensions, each declared by one of the above."""

    @classmethod
    def described(cls) -> tuple[Dimension, ...]:
        """Return every dimension with its unit and what to measure."""
        return tuple(
            Dimension(item.name, item.metadata["unit"], item.metadata["about"])
            for item in fields(cls)  # type: ignore[arg-type]
            if "unit" in item.metadata
        )

    def dimensions(self) -> dict[str, float]:
        """Return the value of every dimension by name, mm, rad or a count."""
        return {item.name: float(getattr(self, item.name)) for item in self.described()}

    def check(self) -> None:
        """Raise ShapeError unless every dimension is a positive number (an angle: any)."""
        for item in self.described():
            value = getattr(self, item.name)
            if not isfinite(value) or (item.unit != "angle" and value <= 0.0):
                raise ShapeError(f"{item.name} is {value:g}; expected more than 0")
            if item.unit == "count" and value != round(value):
                raise ShapeError(f"{item.name} is {value:g}; expected a whole number")

    def require(self, holds: bool, clash: str, **more: float) -> None:
        """Raise ShapeError with `clash`, which names the dimensions, unless `holds`.

        In it "{bore}" becomes "bore 27 mm", "{bore:of}" "bore of 27 mm" and "{bore:is}" "bore is
        27"; with any other format, as `more` always, it is the number alone.
        """
        if not holds:
            told = {name: _Told(name, value) for name, value in self.dimensions().items()}
            raise ShapeError(clash.format(**told, **more))


@dataclass(frozen=True)
class _Told:
    """A dimension as a clash tells of it."""

    name: str
    value: float

    def __format__(self, how: str) -> str:
        between = {"": " ", "of": " of ", "is": " is "}.get(how)
        if between is None:
            return format(self.value, how)
        return f"{self.name}{between}{self.value:g}" + ("" if how == "is" else " mm")
