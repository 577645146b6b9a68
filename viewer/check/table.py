"""The sweep as a table of poses, for a spreadsheet."""

import csv
from collections.abc import Iterable, Sequence
from io import StringIO
from pathlib import Path

import numpy as np
import numpy.typing as npt

from sim.check import Check
from sim.frames import FloatArray
from sim.line import line
from sim.vehicle import Joint, TravelRegion
from viewer.written.files import replace

STEPS = (25, 5, 5)
"""Rows along travel, roll and wrap, evenly spaced over what there is: at each height over the roll
and the wrap that the axle has there. The answers of a check do not come from these rows; they are
there to read and to plot."""


def columns_of(joints: Sequence[Joint]) -> tuple[str, ...]:
    """Names of the columns for a shaft with these joints."""
    return (
        *("travel_mm", "roll_deg", "wrap_deg", "pinion_x_mm", "pinion_y_mm", "pinion_z_mm"),
        *(f"{joint}_bend_deg" for joint in joints),
        *("length_mm", "slip_mm"),
        *(f"{joint}_margin_deg" for joint in joints),
    )


COLUMNS = columns_of(("output", "pinion"))


def write_table(result: Check, path: Path) -> int:
    """Write the table as CSV and return its number of rows.

    Raises FileError when the file cannot be written.
    """
    vehicle = result.derivation.vehicle
    travel, roll, wrap = _poses(vehicle.travel)
    state = line(vehicle, travel, roll, wrap)
    columns = [
        travel,
        np.degrees(roll),
        np.degrees(wrap),
        *state.p_C_pinion.T,
        *(np.degrees(bend) for bend in state.bends.values()),
        state.length,
        state.slip,
        *(np.degrees(result.joints[joint].clear - bend) for joint, bend in state.bends.items()),
    ]
    return write_columns(path, columns_of(vehicle.joints), [columns])


def write_columns(
    path: Path, heads: Sequence[str], parts: Iterable[Sequence[npt.ArrayLike]]
) -> int:
    """Write columns of numbers under their heads, one part after the other; return their rows.

    Raises FileError when the file cannot be written.
    """
    rows = np.vstack([np.column_stack(columns) for columns in parts])
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow(heads)
    writer.writerows([f"{value:.6f}" for value in row] for row in rows)
    replace(path, text.getvalue(), "the table")
    return len(rows)


def _poses(region: TravelRegion) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Travel, roll and wrap of every row."""
    rows = []
    heights, rolls, wraps = STEPS
    for travel in np.unique(np.linspace(region.low[0], region.high[0], heights)):
        limit = float(region.roll_limit(travel))
        least, most = (float(each) for each in region.wrap_limits(travel))
        roll = np.unique(np.linspace(-limit, limit, rolls))
        wrap = np.unique(np.linspace(least, most, wraps))
        rows += [(float(travel), r, w) for r in roll.tolist() for w in wrap.tolist()]
    travel, roll, wrap = np.array(rows).T
    return travel, roll, wrap
