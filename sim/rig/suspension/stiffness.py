"""The stiffness of a bush as it is typed."""

import re
from typing import Annotated, Any, Final

from pydantic import AfterValidator, BeforeValidator, WithJsonSchema

from sim.rig.fields import refusal

_NEWTON_PER_MM: Final = {"n/mm": 1.0, "kn/mm": 1000.0, "lb/in": 4.4482216152605 / 25.4}
_TEXT: Final = re.compile(r"\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*(?P<unit>[A-Za-z]+/[A-Za-z]+)\s*")
_EXPECTED: Final = 'a stiffness with its unit, such as "5 kN/mm", "5000 N/mm" or "28500 lb/in"'


def stiffness_of(text: str) -> float | None:
    """Stiffness (N/mm) of a text such as "5 kN/mm" or "28500 lb/in"; None if it is none."""
    found = _TEXT.fullmatch(text)
    unit = _NEWTON_PER_MM.get(found["unit"].lower()) if found else None
    return float(found["number"]) * unit if found and unit else None


def _a_text(value: Any) -> Any:
    if not isinstance(value, str):
        raise refusal(
            "a number without a unit" if isinstance(value, int | float) else "", _EXPECTED
        )
    return value


def _above_zero(text: str) -> str:
    stiffness = stiffness_of(text)
    if stiffness is None:
        raise refusal("", _EXPECTED)
    if stiffness <= 0.0:
        raise refusal("not above zero", _EXPECTED)
    return text


Stiffness = Annotated[
    str,
    BeforeValidator(_a_text),
    AfterValidator(_above_zero),
    WithJsonSchema(
        {
            "type": "string",
            "title": "Stiffness",
            "description": "Stiffness of a bush with its unit.",
            "examples": ["5 kN/mm", "5000 N/mm", "28500 lb/in"],
            "pattern": r"^\s*[0-9]+(\.[0-9]+)?\s*([kK]?[nN]/[mM][mM]|[lL][bB]/[iI][nN])\s*$",
        }
    ),
]
"""Kept as typed; `stiffness_of` gives the number."""
