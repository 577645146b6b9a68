"""The picture of a yoke: as it was placed, with what was found on it."""

import numpy as np

from geometry.imported.importing import ImportedYoke
from geometry.imported.units import spoken
from geometry.yoke import YokeShape
from viewer.scene.yoke import BoreMark, YokePicture
from viewer.scene.yoke_shelf import shown_parts
from viewer.words.captions import (
    MEASURED_CAUTION,
    SCAN_CAUTION,
    bores_caption,
    measured_lines,
    placed_lines,
)
from viewer.words.yoke import FULL


def imported_picture(made: ImportedYoke) -> YokePicture:
    """Picture of a yoke from a mesh file, without what the program has added."""
    report, found = made.report, made.yoke.dimensions
    bores = report.placement.bores
    mark = None
    if bores is not None:
        # Which of the two bores is on the +y side follows from the placement.
        ends = np.sort((bores.ends[:, None] * bores.axis) @ report.placement.R_YM[1])
        word = bores_caption(half_round=bores.arc < FULL)
        mark = BoreMark(bores.diameter, (ends[0], ends[1], ends[2], ends[3]), word)
    return YokePicture(
        shown_parts(made.yoke, frozenset({"caps"})),
        mark,
        found.get("inside_span"),
        found.get("depth_on_axis"),
        headline=f"{report.source} as it was placed",
        lines=placed_lines(spoken(report.unit.unit or ""), report.placement.how),
        caution=SCAN_CAUTION,
    )


def measured_picture(shape: YokeShape, title: str) -> YokePicture:
    """Picture of a yoke with the dimensions measured."""
    inner, outer = 0.5 * shape.inside_span, 0.5 * shape.outside_span
    return YokePicture(
        shown_parts(shape.build()),
        BoreMark(shape.bore, (-outer, -inner, inner, outer)),
        shape.inside_span,
        shape.throat_depth,
        headline=title,
        lines=measured_lines(shape.bore),
        caution=MEASURED_CAUTION,
    )
