"""Odds as bars on a sheet, with their words; they read in black and white."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from viewer.draw.base import BLACK, WHITE, Letters, Pen
from viewer.draw.camera import Region
from viewer.draw.stage import Page
from viewer.scene.labels import rectangle
from viewer.scene.page import GREY, fitted

ROW = 62.0
"""Height of a bar with its words, px."""

MOST_BARS = 6
"""Causes that have a bar, here and in the window."""

TALL = 22.0
"""Height of a bar, px."""

STROKES = 9.0
"""px between the strokes that fill all bars but the first, so that two are told apart."""


@dataclass(frozen=True)
class Bar:
    """One bar: what it is of, how long from 0 to 1, and what stands at its end."""

    name: str
    share: float
    says: str


def draw_odds(page: Page, bars: Sequence[Bar], region: Region) -> float:
    """Draw bars from the top of a region down, as many as fit; how low they reach, px."""
    top = region.top
    for number, bar in enumerate(bars):
        if top - ROW < region.bottom:
            break
        words = Letters(25.0, bold=number == 0)
        says = Letters(23.0, colour=GREY if number else BLACK, align="right")
        room = region.width - page.extent(bar.says, says) - 16.0
        page.write(bar.name, (region.left, top - 24.0), fitted(page, bar.name, words, room))
        page.write(bar.says, (region.right, top - 24.0), says)
        whole = Region(region.left, top - 34.0 - TALL, region.width, TALL)
        rectangle(page, whole, BLACK)
        rectangle(page, whole.grown(-2.0), WHITE)
        full = Region(whole.left, whole.bottom, max(4.0, bar.share * whole.width), TALL)
        if number == 0:
            rectangle(page, full, BLACK)
        else:
            _stroked(page, full)
        top -= ROW + 8.0
    return top


def _stroked(page: Page, box: Region) -> None:
    """Fill a box with slanted strokes and give it an end."""
    starts = np.arange(box.left - box.height, box.right, STROKES)
    low = np.stack([starts, np.full_like(starts, box.bottom)], axis=-1)
    high = low + box.height
    # Cut each stroke to the box: they run at 45 deg.
    left = np.maximum(box.left - low[:, 0], 0.0)[:, None]
    right = np.maximum(high[:, 0] - box.right, 0.0)[:, None]
    segments = np.stack([low + left, high - right], axis=1)
    page.stroke(segments[segments[:, 1, 0] > segments[:, 0, 0]], Pen(BLACK, 2.0))
    end = np.array([[[box.right, box.bottom], [box.right, box.top]]])
    page.stroke(end, Pen(BLACK, 3.0))
