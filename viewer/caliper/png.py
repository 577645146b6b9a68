"""The drawings of the caliper form as PNG files: one for each reading, with the words it needs."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from textwrap import fill

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from geometry.yoke import YokeShape
from geometry.yoke.reading import ACROSS, ALONG_BORES, ALONG_SHAFT
from sim.parts.caliper import CaliperReading, caliper_form
from sim.parts.catalogue import yoke_shape
from viewer.caliper.drawing import plan_of
from viewer.caliper.form import form_page, generic_words
from viewer.draw.plan import SMALL_PARTS, Plan, Stroke
from viewer.draw.plan_page import draw_plan
from viewer.written.files import FileError, replace, writable
from viewer.written.outputs import FORM, PICTURE, demand_room

SIZE = (10.0, 7.5)
"""Page, in; at `DPI` 1000 x 750 px, which a phone shows whole."""

DPI = 100

DRAWN = (0.05, 0.16, 0.90, 0.57)
"""Left, bottom, width, height of the drawing, as shares of the page."""

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
    shape = yoke_shape(kind, cross)
    form = caliper_form(kind, cross)
    if folder.exists() and not folder.is_dir():
        raise FileError(f"{folder}: this is a file; expected a folder for the drawings")
    files = {
        reading.name: folder / f"{number:02d}-{reading.name.replace(' ', '-')}.png"
        for number, reading in enumerate(form, start=1)
    }
    sheet = folder / "sheet.html"
    for place in () if force else (*files.values(), sheet):
        demand_room(place, FORM if place == sheet else PICTURE, "--drawings")
    with writable(folder, "the drawings"):
        folder.mkdir(parents=True, exist_ok=True)
    for number, reading in enumerate(form, start=1):
        drawn = BytesIO()
        page = _page(shape, reading, f"{number} of {len(form)}", kind)
        page.savefig(drawn, format="png", dpi=DPI)
        replace(files[reading.name], drawn.getvalue(), "the drawing")
    replace(sheet, form_page(kind, cross), "the sheet")
    return files


def _page(shape: YokeShape, reading: CaliperReading, number: str, kind: str) -> Figure:
    page = Figure(figsize=SIZE, facecolor="white")
    FigureCanvasAgg(page)
    page.text(0.05, 0.955, f"{number}   {kind}: {reading.name}", fontsize=12, color="#555555")
    asks = fill(reading.asks, 58)
    page.text(0.05, 0.935, asks, fontsize=17, fontweight="bold", va="top", linespacing=1.25)
    low = 0.93 - 0.045 * (1 + asks.count("\n"))
    page.text(0.05, low, fill(reading.how, 92), fontsize=12, va="top", linespacing=1.35)
    plan = plan_of(shape, reading.name)
    draw_plan(page, plan, DRAWN)
    page.text(0.05, 0.125, SEEN[plan.view], fontsize=11)
    page.text(0.05, 0.085, _key(plan), fontsize=10, color="#333333")
    page.text(
        0.05,
        0.035,
        f"Generic yoke of this size: {generic_words(reading)}. Yours may look different.",
        fontsize=11,
        color="#333333",
    )
    return page


def _key(plan: Plan) -> str:
    lines = [mark for mark in plan.marks if isinstance(mark, Stroke) and len(mark.segments)]
    told = ["hatched: metal that is cut"]
    if any(line.colour == SMALL_PARTS for line in lines):
        told.append("blue: what is pressed in or bolted on")
    if any(line.dashes for line in lines):
        told.append("dashed: rod, straight edge or tube")
    return "Red arrow: measure this; " + "; ".join(told) + "."
