"""When a joint touches over a whole turn, as a plot that reads in black and white."""

from io import BytesIO
from math import degrees
from textwrap import fill
from typing import TYPE_CHECKING

import numpy as np

from geometry.contact.touch import TouchCurve
from sim.bench.fitted import FittedJoint, ReadingFit
from sim.bench.turned import spin_at
from viewer.draw.camera import Floats
from viewer.words.bench import FITTED
from viewer.words.fitted import band_words
from viewer.words.verdicts import CAUTION

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def curve_plot(
    name: str, joint: str, curve: TouchCurve, found: FittedJoint | None, nearer: str = ""
) -> bytes:
    """The plot as PNG.

    name : of the rig. found : what its bench readings come to; None where there are none.
    nearer : key of the yoke nearer the engine, such as `shaft_yoke`.
    """
    from matplotlib.figure import Figure

    figure = Figure(figsize=(10.0, 6.2), layout="constrained")
    axes = figure.subplots()
    turn = np.degrees(np.append(curve.spin, 2.0 * np.pi))
    title = f"{name}: {joint} joint, bend at which it touches"
    if found is not None:
        low, high = _closed(found.low), _closed(found.high)
        axes.fill_between(turn, low, high, color="0.85", label="95 joints of 100 that read like it")
        for edge in (low, high):
            axes.plot(turn, edge, color="0.45", lw=1.0, ls="--")
        title += f" ({FITTED})"
        lowest = f"lowest of a turn {band_words(*found.lowest)}"
        for end, word in zip(found.lowest, (lowest, None), strict=True):
            axes.axhline(degrees(end), color="0.3", lw=1.2, ls=":", label=word)
        for each in found.readings:
            _mark(axes, each, each.turned.clamped == nearer)
    label = "as the file has it" if found is None else "the fitted yokes"
    axes.plot(turn, _closed(curve.touch), "k-", lw=2.2, label=label)
    figure.suptitle(fill(title, 80), fontsize=14, parse_math=False)
    axes.set_xlabel("turn of the yoke nearer the engine, deg; 0 with its ears in line", fontsize=12)
    axes.set_ylabel("bend, deg", fontsize=12)
    axes.set_xlim(0.0, 360.0)
    axes.set_xticks(range(0, 361, 45))
    axes.grid(color="0.85")
    axes.legend(fontsize=11, loc="upper right")
    axes.margins(y=0.22)
    figure.supxlabel(fill(CAUTION, 120), fontsize=8, color="0.35")
    drawn = BytesIO()
    figure.savefig(drawn, format="png", dpi=120)
    return drawn.getvalue()


def _mark(axes: "Axes", reading: ReadingFit, driving: bool) -> None:
    """A reading with its error at the turns it was taken at; of a whole turn at its left end.

    One that is left out of the fit is hollow; one that only says nothing touched points up.
    """
    ears = reading.turned.ears
    turns = [4.0]
    if ears is not None:
        spin = degrees(float(spin_at(reading.read, ears, driving)))
        turns = [turn for turn in (spin, spin + 180.0, spin + 360.0) if turn <= 360.0]
    read = degrees(reading.read)
    axes.errorbar(
        turns,
        [read] * len(turns),
        yerr=degrees(reading.off),
        fmt="^" if reading.way == "clear" else "o",
        color="k",
        mfc="k" if reading.counts else "w",
        ms=8,
        capsize=5,
        zorder=5,
        clip_on=False,
        label=_says(reading),
    )
    for turn in turns:
        to = (9, 6) if turn < 350.0 else (-18, 6)
        axes.annotate(
            f"{reading.number}", (turn, read), to, textcoords="offset points", fontsize=12
        )


def _says(reading: ReadingFit) -> str:
    says = f"reading {reading.number}"
    if reading.way == "clear":
        says += ", clear up to there"
    elif reading.turned.ears is None:
        says += ", lowest of a turn"
    return says if reading.counts else f"{says}, left out"


def _closed(bends: Floats) -> Floats:
    """Bends (n,) rad over a turn, in deg, the first once more at its end."""
    return np.asarray(np.degrees(np.append(bends, bends[0])))
