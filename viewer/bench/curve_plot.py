"""When a joint touches over a whole turn, as a plot that reads in black and white."""

from io import BytesIO
from math import degrees
from textwrap import fill

import numpy as np

from geometry.contact.touch import TouchCurve
from sim.bench.fitted import FittedJoint
from viewer.draw.camera import Floats
from viewer.words.bench import FITTED
from viewer.words.fitted import band_words
from viewer.words.verdicts import CAUTION


def curve_plot(name: str, joint: str, curve: TouchCurve, found: FittedJoint | None) -> bytes:
    """The plot as PNG.

    name : of the rig. found : what its bench readings come to; None where there are none.
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
        axes.axhspan(degrees(found.lowest[0]), degrees(found.lowest[1]), xmax=0.015, color="k")
        axes.text(4.0, degrees(found.lowest[0]), f"  lowest {band_words(*found.lowest)}", va="top")
    label = "as the file has it" if found is None else "the fitted yokes"
    axes.plot(turn, _closed(curve.touch), "k-", lw=2.2, label=label)
    figure.suptitle(fill(title, 80), fontsize=14, parse_math=False)
    axes.set_xlabel("turn of the yoke nearer the engine, deg; 0 with its ears in line", fontsize=12)
    axes.set_ylabel("bend, deg", fontsize=12)
    axes.set_xlim(0.0, 360.0)
    axes.set_xticks(range(0, 361, 45))
    axes.grid(color="0.85")
    axes.legend(fontsize=11)
    figure.supxlabel(fill(CAUTION, 120), fontsize=8, color="0.35")
    drawn = BytesIO()
    figure.savefig(drawn, format="png", dpi=120)
    return drawn.getvalue()


def _closed(bends: Floats) -> Floats:
    """Bends (n,) rad over a turn, in deg, the first once more at its end."""
    return np.asarray(np.degrees(np.append(bends, bends[0])))
