"""The picture of a yoke: as it was placed, with what was found on it."""

from pathlib import Path

import numpy as np

from geometry.imported.importing import ImportedYoke
from geometry.imported.units import spoken
from geometry.yoke import YokeShape
from viewer.scene.yoke import BoreMark, YokePicture, shown_parts
from viewer.scene.yoke_scene import exact
from viewer.words.yoke import FULL
from viewer.written.picture import save_picture


def draw_imported(made: ImportedYoke, path: Path) -> None:
    """Draw a yoke from a mesh file, without what the program has added.

    Raises PictureError when there can be no picture here.
    """
    save_picture(imported_picture(made), path)


def imported_picture(made: ImportedYoke) -> YokePicture:
    """Return the picture of a yoke from a mesh file."""
    report, found = made.report, made.yoke.dimensions
    bores = report.placement.bores
    mark = None
    if bores is not None:
        word = "half-round saddles as found" if bores.arc < FULL else "bores as found"
        # Which of the two bores is on the +y side follows from the placement.
        ends = np.sort((bores.ends[:, None] * bores.axis) @ report.placement.R_YM[1])
        mark = BoreMark(bores.diameter, (ends[0], ends[1], ends[2], ends[3]), word)
    placed = "by its two bores" if report.placement.how == "bores" else "by the three picks"
    return YokePicture(
        shown_parts(made.yoke, frozenset({"caps"})),
        mark,
        found.get("inside_span"),
        found.get("depth_on_axis"),
        f"{report.source} as it was placed",
        (f"Taken to be in {spoken(report.unit.unit or '')}. Placed {placed}.",),
    )


def draw_measured(shape: YokeShape, title: str, path: Path) -> None:
    """Draw a yoke with the dimensions measured.

    Raises PictureError when there can be no picture here.
    """
    save_picture(measured_picture(shape, title), path)


def measured_picture(shape: YokeShape, title: str) -> YokePicture:
    """Return the picture of a yoke with the dimensions measured."""
    inner, outer = 0.5 * shape.inside_span, 0.5 * shape.outside_span
    ends = (-outer, -inner, inner, outer)
    return YokePicture(
        shown_parts(shape.build()),
        BoreMark(shape.bore, ends),
        shape.inside_span,
        shape.throat_depth,
        title,
        (f"Bores {exact(shape.bore)}; what was not measured is generic.",),
        "Look whether it is the yoke in your hand: what was left out is generic. It is geometry: "
        "it certifies nothing.",
    )
