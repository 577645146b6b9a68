"""The guided form of caliper readings: a sheet to print, and the questions one at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from html import escape

from geometry.errors import ShapeError
from sim.caliper import CaliperReading, caliper_form, dimensions_read, doubts, yoke_read
from sim.catalogue import yoke_shape
from sim.units import UnitsError, format_fraction, parse_length
from viewer.caliper_drawing import drawing

Ask = Callable[[str], str]
"""Shows a prompt and gives back what was typed."""
Tell = Callable[[str], None]
"""Shows a text."""

CAUTION = (
    "The generic values are common practice, from memory; measure yours. The result is geometry: "
    "it certifies nothing. Turn the shaft by hand through its whole travel before driving."
)

_STYLE = (
    "body{font:15px/1.4 sans-serif;margin:2em auto;max-width:60em;color:#222}"
    "section{display:flex;gap:1.5em;align-items:center;border-top:1px solid #999;padding:1em 0;"
    "break-inside:avoid}svg{max-width:24em;height:auto;flex:none}"
    ".box{border:1.5px solid #222;min-width:9em;height:2em;display:inline-block}"
    "h2{font-size:1.05em;margin:0 0 .3em}p{margin:.3em 0}"
)


def form_page(kind: str, cross: str) -> str:
    """Return a page to print, HTML, that asks for every reading of a yoke, with a picture each.

    kind, cross : as in the catalogue
    Raises CatalogueError for a name that it does not know.
    """
    title = f"Measuring a {kind} for the {cross} cross"
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(title)}'
        f"</title><style>{_STYLE}</style></head><body><h1>{escape(title)}</h1>"
        f"<p>Caliper and depth gauge; write down what you read, with its unit.</p>"
        f"{''.join(_sections(kind, cross))}<p>{escape(CAUTION)}</p></body></html>\n"
    )


def _sections(kind: str, cross: str) -> Iterator[str]:
    shape = yoke_shape(kind, cross)
    for number, reading in enumerate(caliper_form(kind, cross), start=1):
        yield (
            f"<section>{drawing(shape, reading.name)}<div><h2>{number}. {escape(reading.asks)}"
            f'</h2><p>{escape(reading.how)}</p><p><span class="box"></span> '
            f"(generic: {escape(generic_words(reading))})</p></div></section>"
        )


def generic_words(reading: CaliperReading) -> str:
    """Return the generic value of a reading as a shop reads it: mm and inch."""
    return f"{reading.generic:.1f} mm, {format_fraction(reading.generic, 64)}"


def ask_readings(kind: str, cross: str, ask: Ask, tell: Tell) -> dict[str, float]:
    """Ask for every reading of a yoke, one at a time; return those given, mm by name.

    Nothing typed leaves the generic value; "?" tells how to measure; what cannot be read is asked
    again, and what is odd or makes no sound yoke is told. Nothing is taken back for it.
    """
    readings: dict[str, float] = {}
    for reading in caliper_form(kind, cross):
        value = _answer(reading, ask, tell)
        if value is None:
            continue
        readings[reading.name] = value
        for doubt in doubts(kind, cross, {reading.name: value}):
            tell(doubt)
    try:
        yoke_read(kind, cross, readings)
    except ShapeError as error:
        tell(f"these readings make no sound yoke: {error}")
    return readings


def _answer(reading: CaliperReading, ask: Ask, tell: Tell) -> float | None:
    while True:
        typed = ask(f"{reading.asks} [{generic_words(reading)}] ").strip()
        if not typed:
            return None
        if typed == "?":
            tell(reading.how)
            continue
        try:
            value = parse_length(typed)
        except UnitsError as error:
            tell(str(error))
            continue
        if value > 0.0:
            return value
        tell(f'came "{typed}"; expected more than 0')


def yoke_table(kind: str, cross: str, readings: dict[str, float]) -> dict[str, str]:
    """Return the table of a rig file for a yoke as read: its kind and the dimensions measured."""
    dimensions = dimensions_read(kind, cross, readings)
    return {"kind": kind} | {name: f"{value:.2f} mm" for name, value in dimensions.items()}
