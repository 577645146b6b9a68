"""Where the pinion goes with the travel: a table for a spreadsheet, or a plot to print."""

from io import BytesIO
from math import degrees
from pathlib import Path
from textwrap import fill

import numpy as np

from geometry.errors import BindpointError
from sim.frames import FloatArray
from sim.pinion_path import PinionPath, pinion_path
from sim.rig import Rig
from sim.vehicle import Vehicle
from viewer.check.table import write_columns
from viewer.words.verdicts import CAUTION
from viewer.written.files import replace
from viewer.written.outputs import PICTURE, Kind, table

COLUMNS = (
    "travel_mm",
    "roll_deg",
    "pinion_x_mm",
    "pinion_y_mm",
    "pinion_z_mm",
    "pinion_up_deg",
    "turned_up_deg",
    "forward_mm",
    "side_shift_mm",
    "yaw_deg",
)

STEPS = 61
"""Heights from the lowest to the highest at which the axle has a roll."""


class PathFileError(BindpointError, ValueError):
    """A name that says neither table nor plot."""


def write_path(rig: Rig, vehicle: Vehicle, path: Path) -> None:
    """Write the pinion's path as a table (.csv) or draw it (.png).

    Raises PathFileError for another ending, FileError when the file cannot be written.
    """
    region = vehicle.travel
    paths = []
    for roll in sorted({-region.most_roll, 0.0, region.most_roll}):
        low, high = (float(each) for each in region.travel_limits(roll, 0.0))
        paths.append(pinion_path(vehicle, np.linspace(low, high, STEPS), roll))
    if kind_of(path) is PICTURE:
        _plot(rig.name, paths, path)
    else:
        write_columns(path, COLUMNS, map(_columns, paths))


def kind_of(path: Path | None) -> Kind:
    """What a name asks for: a table (.csv) or a plot (.png). Raises PathFileError for another."""
    ending = path.suffix.lower() if path is not None else ".csv"
    if ending not in (".csv", ".png"):
        raise PathFileError(f"{path}: expected a name ending in .csv (a table) or .png (a plot)")
    return PICTURE if ending == ".png" else table(COLUMNS)


def _columns(path: PinionPath) -> list[FloatArray]:
    return [
        path.travel,
        np.degrees(path.roll),
        *path.p_C_pinion.T,
        np.degrees(path.points_up),
        np.degrees(path.turned_up),
        path.forward,
        path.side_shift,
        np.degrees(path.yaw),
    ]


LOOKS = (("#1a4e8a", "--"), ("black", "-"), ("#b34700", ":"))
"""Colour and dash of each roll; the dashes alone tell them apart."""


def _plot(name: str, paths: list[PinionPath], place: Path) -> None:
    from matplotlib.figure import Figure

    figure = Figure(figsize=(11, 8), layout="constrained")
    axes = figure.subplots(2, 2)
    figure.suptitle(
        f"{name}: where the pinion goes", fontsize=15, fontweight="bold", parse_math=False
    )
    panels = (
        ("pinion joint forward, in", lambda p: (p.p_C_pinion[:, 0] - _ride(p, 0)) / 25.4),
        ("pinion nose turned up, deg", lambda p: np.degrees(p.turned_up)),
        ("side shift of the axle, in (left positive)", lambda p: p.side_shift / 25.4),
        ("axle turned from above, deg (right wheel ahead positive)", lambda p: np.degrees(p.yaw)),
    )
    looks = LOOKS if len(paths) > 1 else LOOKS[1:2]
    for axis, (label, value) in zip(axes.ravel(), panels, strict=True):
        for path, (colour, dash) in zip(paths, looks, strict=True):
            axis.plot(value(path), path.travel / 25.4, dash, color=colour, label=_roll(path))  # type: ignore[no-untyped-call]
        axis.axhline(0.0, color="0.6", linewidth=0.8)
        axis.axvline(0.0, color="0.6", linewidth=0.8)
        axis.set_xlabel(label, fontsize=11)
        axis.set_ylabel("axle height from ride, in (bump up)", fontsize=11)
        axis.grid(visible=True, color="0.9")
    axes[0, 0].legend(fontsize=10)
    figure.text(0.01, -0.04, fill(CAUTION, 150), fontsize=8, color="0.35", va="top")
    drawn = BytesIO()
    figure.savefig(drawn, format="png", dpi=110, bbox_inches="tight")
    replace(place, drawn.getvalue(), "the plot")


def _ride(path: PinionPath, component: int) -> float:
    return float(np.interp(0.0, path.travel, path.p_C_pinion[:, component]))


def _roll(path: PinionPath) -> str:
    roll = degrees(float(path.roll.ravel()[0]))
    if abs(roll) < 0.05:
        return "level"
    return f"{abs(roll):.0f} deg, {'left' if roll > 0.0 else 'right'} wheel up"
