"""The form of caliper readings: a sheet to print, and the table of a rig file they make."""

from __future__ import annotations

from collections.abc import Mapping

from sim.parts.caliper import CaliperReading, caliper_form, dimensions_read
from sim.parts.catalogue import yoke_shape
from viewer.caliper.drawing import drawing
from viewer.draw.plan_sheet import Entry, sheet
from viewer.words.units import format_fraction

CAUTION = (
    "The generic values are common practice, from memory; measure yours. The result is geometry: "
    "it certifies nothing. Turn the shaft by hand through its whole travel before driving."
)


def form_page(kind: str, cross: str) -> str:
    """Return a page to print, HTML, that asks for every reading of a yoke, with a picture each.

    kind, cross : as in the catalogue
    Raises CatalogueError for a name that it does not know.
    """
    shape = yoke_shape(kind, cross)
    return sheet(
        f"Measuring a {kind} for the {cross} cross",
        "Caliper and depth gauge; write down what you read, with its unit.",
        [
            Entry(
                drawing(shape, reading.name),
                reading.asks,
                reading.how,
                f"generic: {generic_words(reading)}",
            )
            for reading in caliper_form(kind, cross)
        ],
        CAUTION,
    )


def generic_words(reading: CaliperReading) -> str:
    """Return the generic value of a reading as a shop reads it: mm and inch."""
    return f"{reading.generic:.1f} mm, {format_fraction(reading.generic, 64)}"


def yoke_table(kind: str, cross: str, readings: Mapping[str, float]) -> dict[str, str]:
    """Return the table of a rig file for a yoke as read: its kind and the dimensions measured."""
    dimensions = dimensions_read(kind, cross, readings)
    return {"kind": kind} | {name: f"{value:.2f} mm" for name, value in dimensions.items()}
