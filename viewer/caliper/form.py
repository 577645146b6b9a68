"""The form of caliper readings: a sheet to print, and the table of a rig file they make."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape

from sim.parts.caliper import CaliperReading, caliper_form, dimensions_read
from sim.parts.catalogue import yoke_shape
from viewer.caliper.drawing import drawing
from viewer.words.units import format_fraction

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


def yoke_table(kind: str, cross: str, readings: Mapping[str, float]) -> dict[str, str]:
    """Return the table of a rig file for a yoke as read: its kind and the dimensions measured."""
    dimensions = dimensions_read(kind, cross, readings)
    return {"kind": kind} | {name: f"{value:.2f} mm" for name, value in dimensions.items()}
