"""Where to aim the pinion, as a table or a plot that reads in black and white."""

import csv
from io import BytesIO, StringIO
from math import degrees
from pathlib import Path
from textwrap import fill

import numpy as np

from sim.cures.aim import AimCurve
from sim.speed import UNDER_POWER
from viewer.cures.json import aim_data
from viewer.words.verdicts import CAUTION
from viewer.written.files import AskedError, replace
from viewer.written.outputs import PICTURE, Kind, table

COLUMNS = (
    "turn_deg",
    "pinion_up_deg",
    "lead_and_lag_deg",
    "lead_and_lag_driven_deg",
    "least_left",
    "verdict",
)


def write_aim(curve: AimCurve, name: str, path: Path) -> None:
    """Write the curve as CSV or as a plot, by the file's ending.

    Raises AskedError for another ending, FileError where it cannot be written.
    """
    asked_for(path)
    if path.suffix.lower() == ".csv":
        text = StringIO()
        rows = csv.DictWriter(text, COLUMNS, extrasaction="ignore", lineterminator="\n")
        rows.writeheader()
        rows.writerows(aim_data(curve)["aims"])
        replace(path, text.getvalue(), "the table")
        return
    replace(path, _plot(curve, name), "the plot")


def asked_for(path: Path) -> None:
    """Refuse a name that says neither table nor plot. Raises AskedError."""
    if path.suffix.lower() not in (".csv", ".png"):
        raise AskedError(f"--aim: came {path.name}, expected a name that ends in .csv or .png")


def kind_of(path: Path | None) -> Kind:
    """What a name asks for, told by its ending."""
    is_plot = path is not None and path.suffix.lower() == ".png"
    return PICTURE if is_plot else table(COLUMNS)


def _plot(curve: AimCurve, name: str) -> bytes:
    """The plot as PNG."""
    from matplotlib.figure import Figure

    up = [degrees(aim.pinion_up) for aim in curve.aims]
    figure = Figure(figsize=(10.0, 7.0), layout="constrained")
    shake, room = figure.subplots(2, 1, sharex=True)
    figure.suptitle(f"{name}: where to aim the pinion", fontsize=15, parse_math=False)
    shake.plot(up, [degrees(a.uneven) for a in curve.aims], "k-", lw=2.2, label="coasting")
    share = f"driving, {UNDER_POWER:.0%} of the wrap"
    shake.plot(up, [degrees(a.uneven_driven) for a in curve.aims], "k--", lw=2.2, label=share)
    shake.set_ylabel("uneven turning at ride height, deg", fontsize=12)
    shake.set_ylim(bottom=0.0)
    shake.legend(fontsize=11)
    styles = {"output": "-", "middle": ":", "pinion": "--"}
    for joint in curve.aims[0].outcome.margins:
        left = [degrees(aim.outcome.margins[joint]) for aim in curve.aims]
        room.plot(up, left, f"k{styles[joint]}", lw=2.2, label=f"{joint} joint")
    room.axhline(0.0, color="0.35", lw=1.2)
    room.axhspan(min(0.0, *room.get_ylim()), 0.0, facecolor="0.9", hatch="///", edgecolor="0.6")
    room.set_ylabel("left over the whole travel, deg", fontsize=12)
    room.set_xlabel("pinion points up, deg", fontsize=12)
    room.legend(fontsize=11)
    now = next((degrees(a.pinion_up) for a in curve.aims if abs(a.turn) < 1e-9), np.nan)
    best = degrees(curve.best.pinion_up)
    for axes in (shake, room):
        axes.axvline(now, color="k", lw=1.0, ls=":")
        axes.axvline(best, color="k", lw=1.6)
        axes.grid(color="0.85")
        axes.tick_params(labelsize=11)
    top = shake.get_ylim()[1]
    shake.text(now, top, " now", va="top", fontsize=11)
    shake.text(best, 0.88 * top, " best", va="top", fontsize=11, weight="bold")
    figure.supxlabel(fill(CAUTION, 120), fontsize=8, color="0.35")
    drawn = BytesIO()
    figure.savefig(drawn, format="png", dpi=160)
    return drawn.getvalue()
