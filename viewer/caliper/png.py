"""The drawings of the caliper form as PNG files: one for each reading, with the words it needs."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from geometry.yoke.reading import ACROSS, ALONG_BORES, ALONG_SHAFT
from sim.parts.caliper import CaliperReading, caliper_form
from sim.parts.catalogue import yoke_shape
from viewer.caliper.drawing import plan_of
from viewer.caliper.form import form_page, generic_words
from viewer.draw.plan import SMALL_PARTS, Plan, Stroke
from viewer.draw.plan_page import PlanPage
from viewer.written.plans import save_plans

SEEN = {
    ALONG_BORES: "Cut through the yoke, seen along its bores; the shaft goes off to the right.",
    ACROSS: "Cut through both bores, seen from above; the shaft goes off to the right.",
    ALONG_SHAFT: "Cut across the shaft, seen from the cross; the bores lie left and right.",
}


def save_drawings(kind: str, cross: str, folder: Path, force: bool = False) -> dict[str, Path]:
    """Write a PNG for every reading of a yoke, and a sheet to print; the PNGs by reading.

    kind, cross : as in the catalogue. force : whether they may replace files of another kind.
    Raises CatalogueError for a name that it does not know, FileError where nothing can be written.
    """
    form = caliper_form(kind, cross)
    pages = {
        reading.name: partial(_drawn, reading, f"{number} of {len(form)}", kind, cross)
        for number, reading in enumerate(form, start=1)
    }
    return save_plans(folder, pages, partial(form_page, kind, cross), force)


def _drawn(reading: CaliperReading, number: str, kind: str, cross: str) -> bytes:
    plan = plan_of(yoke_shape(kind, cross), reading.name)
    return PlanPage(
        f"{number}   {kind}: {reading.name}",
        reading.asks,
        reading.how,
        plan,
        SEEN[plan.view],
        _key(plan),
        f"Generic yoke of this size: {generic_words(reading)}. Yours may look different.",
    ).png()


def _key(plan: Plan) -> str:
    lines = [mark for mark in plan.marks if isinstance(mark, Stroke) and len(mark.segments)]
    told = ["hatched: metal that is cut"]
    if any(line.colour == SMALL_PARTS for line in lines):
        told.append("blue: what is pressed in or bolted on")
    if any(line.dashes for line in lines):
        told.append("dashed: rod, straight edge or tube")
    return "Red arrow: measure this; " + "; ".join(told) + "."
