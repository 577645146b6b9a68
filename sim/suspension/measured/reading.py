"""What is read at one height of the axle, and how a height is said."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Final

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema

from sim.table.fields import FARTHEST, Size, Slope
from sim.table.form import field, maybe
from sim.table.kinds import refusal
from sim.table.part import Either, Part
from sim.units import Length, Off, UnitsError

_EXPECTED: Final = '"ride", or a distance with a direction such as "4 in bump" or "8 in droop"'
_AT: Final = re.compile(
    r"\s*(?P<distance>.*\S)\s+(?P<word>bump|droop)\s*(?P<off>((±|\+-|\+/-|by\b).*)?)", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Height:
    """A height of the axle: millimetres above ride height, and the text typed for it."""

    mm: float
    typed: str
    off: Off | None = None
    """How far off it may be; None where nobody typed that."""

    def __str__(self) -> str:
        return self.typed


def parse_height(text: Any) -> Height:
    """Read a height as a shop says it: "ride", "4 in bump", "8 in droop"."""
    if not isinstance(text, str):
        raise refusal("not a text", _EXPECTED)
    if text.strip().lower() in {"ride", "ride height"}:
        return Height(0.0, text)
    match = _AT.fullmatch(text)
    if match is None:
        raise refusal("no direction", _EXPECTED)
    try:
        length = Length.parse(f"{match['distance']} {match['off']}")
    except UnitsError as fault:
        raise refusal(fault.why, _EXPECTED) from None
    mm = length.mm
    if mm < 0.0:
        raise refusal("negative", _EXPECTED)
    if mm > FARTHEST:
        raise refusal("longer than any vehicle", f"under {FARTHEST:g} mm; is the unit right?")
    return Height(mm if match["word"].lower() == "bump" else 0.0 - mm, text, length.off)


HeightText = Annotated[
    Height,
    PlainValidator(parse_height),
    PlainSerializer(lambda height: height.typed, return_type=str),
    WithJsonSchema(
        {
            "type": "string",
            "description": "A height of the axle: ride, or a distance from it with a direction.",
            "examples": ["ride", "4 in bump", "8 in droop"],
            "pattern": "^\\s*([Rr][Ii][Dd][Ee]|.*[0-9].* ([Bb][Uu][Mm][Pp]|[Dd][Rr][Oo][Oo][Pp]))",
        }
    ),
]


class ReadingTable(Part):
    """What is read at one height of the axle, level and without torque."""

    up = Either(
        ("points_up", "points_down"), 'points_up or points_down, such as "1 deg"', neither=0.0
    )
    """Slope of the pinion in the side view, rad, positive up."""

    at: HeightText = field(
        "Height of the axle.",
        name="height of the axle",
        asks="Reading {place}: at which height of the axle?",
        datum="Such as 4 in bump, ride, 8 in droop; level, without torque.",
    )
    length: Size = field(
        "Joint center to joint center at this height.",
        "37 1/4 in",
        asks="How long is the shaft there, joint center to joint center?",
        datum="Along the shaft, as at ride height.",
    )
    points_up: Slope | None = maybe(
        "How far the pinion points up from level at this height.",
        asks="How does the pinion point there, against level?",
        datum="Such as 2 deg up.",
    )
    points_down: Slope | None = maybe("How far the pinion points down from level at this height.")
