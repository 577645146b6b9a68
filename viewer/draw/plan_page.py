"""A `Plan` on a page of matplotlib's."""

import numpy as np
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from viewer.draw.plan import ARROW, INK, Plan, Stroke, Word

Room = tuple[float, float, float, float]
"""Left, bottom, width, height, as shares of the page."""

THINNEST, THICKEST = 0.6, 3.0
"""Points a line is wide at least and at most."""


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
