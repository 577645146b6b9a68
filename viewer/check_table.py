"""The sweep as a table of poses, for a spreadsheet."""

import csv
from pathlib import Path

import numpy as np

from sim.check import Check
from sim.line import line
from viewer.files import writable

STEPS = (25, 5, 5)
"""Rows along travel, roll and wrap, evenly spaced over the travel box. The answers of a check do
not come from these rows; they are there to read and to plot."""

COLUMNS = (
    "travel_mm",
    "roll_deg",
    "wrap_deg",
    "pinion_x_mm",
    "pinion_y_mm",
    "pinion_z_mm",
    "output_bend_deg",
    "pinion_bend_deg",
    "length_mm",
    "slip_mm",
    "output_margin_deg",
    "pinion_margin_deg",
)


def write_table(result: Check, path: Path) -> int:
    """Write the table as CSV and return its number of rows.

    Raises FileError when the file cannot be written.
    """
    vehicle = result.derivation.vehicle
    box = vehicle.travel
    axes = [
        np.unique(np.linspace(low, high, n))
        for low, high, n in zip(box.low, box.high, STEPS, strict=True)
    ]
    travel, roll, wrap = (grid.ravel() for grid in np.meshgrid(*axes, indexing="ij"))
    state = line(vehicle, travel, roll, wrap)
    limits = {name: found.curve.certified_clear for name, found in result.joints.items()}
    columns = [
        travel,
        np.degrees(roll),
        np.degrees(wrap),
        *state.p_C_pinion.T,
        np.degrees(state.output_bend),
        np.degrees(state.pinion_bend),
        state.length,
        state.slip,
        np.degrees(limits["output"] - state.output_bend),
        np.degrees(limits["pinion"] - state.pinion_bend),
    ]
    rows = np.column_stack(columns)
    with writable(path, "the table"), path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(COLUMNS)
        writer.writerows([f"{value:.6f}" for value in row] for row in rows)
    return len(rows)
