"""A `Plan` on a page of matplotlib's, with the words it needs."""

from dataclasses import dataclass
from io import BytesIO
from textwrap import fill

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from viewer.draw.plan import ARROW, INK, Plan, Stroke, Word

SIZE = (10.0, 7.5)
"""Page, in; at `DPI` 1000 x 750 px, which a phone shows whole."""

DPI = 100

Room = tuple[float, float, float, float]
"""Left, bottom, width, height, as shares of the page."""

DRAWN: Room = (0.05, 0.16, 0.90, 0.57)
"""Of the drawing on a page with words."""

THINNEST, THICKEST = 0.6, 3.0
"""Points a line is wide at least and at most."""


@dataclass(frozen=True, eq=False)
class PlanPage:
    """A drawing with what is asked above it and what is seen below.

    Attributes
    ----------
    head : the small line on top. asks, how : the question, and how it is answered.
    plan : the drawing. seen, key, foot : lines below it: its view, its signs, and one more.
    """

    head: str
    asks: str
    how: str
    plan: Plan
    seen: str
    key: str
    foot: str

    def png(self) -> bytes:
        """The page as a PNG picture."""
        page = Figure(figsize=SIZE, facecolor="white")
        FigureCanvasAgg(page)
        page.text(0.05, 0.955, self.head, fontsize=12, color="#555555")
        asks = fill(self.asks, 58)
        page.text(0.05, 0.935, asks, fontsize=17, fontweight="bold", va="top", linespacing=1.25)
        low = 0.93 - 0.045 * (1 + asks.count("\n"))
        page.text(0.05, low, fill(self.how, 92), fontsize=12, va="top", linespacing=1.35)
        draw_plan(page, self.plan, DRAWN)
        page.text(0.05, 0.125, self.seen, fontsize=11)
        page.text(0.05, 0.085, self.key, fontsize=10, color="#333333")
        page.text(0.05, 0.035, self.foot, fontsize=11, color="#333333")
        drawn = BytesIO()
        page.savefig(drawn, format="png", dpi=DPI)
        return drawn.getvalue()


def draw_plan(page: Figure, plan: Plan, room: Room) -> None:
    """Draw a plan, as large as it fits into its room."""
    axes = page.add_axes(room)
    axes.set_axis_off()
    axes.set_aspect("equal")
    axes.set_xlim(plan.low[0], plan.high[0])
    axes.set_ylim(plan.low[1], plan.high[1])
    wide, tall = plan.high - plan.low
    size = page.get_size_inches()
    # A mm of the drawing in points, so that lines are as thick as they are meant.
    point = 72.0 * min(room[2] * size[0] / wide, room[3] * size[1] / tall)
    for mark in plan.marks:
        if isinstance(mark, Stroke):
            width = float(np.clip(mark.width * point, THINNEST, THICKEST))
            dashes = [length * point / width for length in mark.dashes or ()]
            axes.add_collection(
                LineCollection(
                    list(mark.segments),
                    colors=mark.colour,
                    linewidths=width,
                    linestyles=[(0.0, dashes)] if dashes else "solid",
                    capstyle="round" if mark.round_ends else "butt",
                )
            )
        elif isinstance(mark, Word):
            axes.text(
                *mark.at,
                mark.text,
                fontsize=mark.size * point,
                fontweight="bold" if mark.bold else "normal",
                color=INK,
                ha="center",
                va="center",
            )
        else:
            axes.add_patch(Polygon(np.array(mark.corners), facecolor=ARROW, edgecolor="none"))
