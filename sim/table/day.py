"""A day, as a rig file has it: year, month, day."""

from datetime import date
from typing import Annotated, Any, Final

from pydantic import PlainValidator, WithJsonSchema

from sim.table.kinds import refusal

_EXPECTED: Final = 'a day as year, month and day, such as "2026-04-11"'


def day_of(value: Any) -> str:
    """A day in figures that can be put in order; TOML's own days are read too."""
    if isinstance(value, date):
        return value.isoformat()[:10]
    if not isinstance(value, str):
        raise refusal("not a text", _EXPECTED)
    if len(value) != 10:
        raise refusal("not as year, month and day", _EXPECTED)
    try:
        date.fromisoformat(value)
    except ValueError:
        raise refusal("not in the calendar", _EXPECTED) from None
    return value


Day = Annotated[
    str,
    PlainValidator(day_of),
    WithJsonSchema(
        {
            "type": "string",
            "format": "date",
            "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
            "description": "A day: year, month, day.",
            "examples": ["2026-04-11"],
        }
    ),
]
"""A day of the calendar, kept as its text; such texts are in the order of the days."""
