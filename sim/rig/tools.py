"""Tools that a truck is measured with, and how far off what each of them reads may be."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Final, Literal

from sim.rig.measured_with import MeasuredWith
from sim.suspension.measured.reading import Height
from sim.units import Angle, Length

Of = Literal["length", "angle", "part"]
"""What is read: a length or an angle of the truck, or a dimension of one of its parts."""


@dataclass(frozen=True)
class Tool:
    """A tool, and how far off 95 of 100 of its readings are at most.

    Attributes
    ----------
    name : as it is typed.
    length, angle : mm and rad; None of what it does not read.
    source : where the numbers are from; "" of the shop's own.
    """

    name: str
    length: float | None
    angle: float | None
    source: str = ""

    def off(self, value: Length | Angle | Height) -> float | None:
        """How far off it may read such a value, mm or rad; None where it does not read it."""
        return self.angle if isinstance(value, Angle) else self.length


@cache
def _shipped() -> Mapping[str, Any]:
    text = files("models").joinpath("accuracy", "tools.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def generic_tools() -> Mapping[str, Tool]:
    """Every tool that is shipped, by its name."""
    return {
        each["name"]: Tool(
            each["name"],
            Length.parse(each["length"]).mm if "length" in each else None,
            Angle.parse(each["angle"]).rad if "angle" in each else None,
            each["source"],
        )
        for each in _shipped()["tools"]
    }


def usual_tool(of: Of) -> Tool:
    """The tool that is taken where nobody says which."""
    return generic_tools()[_shipped()["usual"][of]]


def tools_of(said: MeasuredWith | None) -> Mapping[str, Tool]:
    """Every tool by its name, those of a rig before the generic ones."""
    own = {
        each.name: Tool(
            each.name,
            None if each.length is None else each.length.mm,
            None if each.angle is None else each.angle.rad,
        )
        for each in (() if said is None else said.tools)
    }
    return {**generic_tools(), **own}


def better_tools(off: float, of: Of, said: MeasuredWith | None = None) -> tuple[Tool, ...]:
    """Tools that read a length or an angle at least by a third closer than so much, best first.

    off : mm or rad.
    """
    field = "angle" if of == "angle" else "length"
    known = [(getattr(each, field), each) for each in tools_of(said).values()]
    better = [(far, each) for far, each in known if far is not None and far <= CLOSER * off]
    if of != "part":
        better = [(far, each) for far, each in better if each.name not in FOR_PARTS]
    return tuple(each for _, each in sorted(better, key=lambda pair: pair[0]))


CLOSER: Final = 2.0 / 3.0
"""A tool that reads hardly closer than the one that was used is not worth a walk."""

FOR_PARTS: Final = frozenset({"caliper"})
"""Tools that cannot be held to a truck."""
