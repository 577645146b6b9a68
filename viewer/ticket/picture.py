"""The drawing on a build ticket: where each length runs from and to, in black and white.

Along the shaft it is to scale; across it is not, and every yoke looks alike.
"""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Final

from sim.ticket.cut_list import Cut, Part
from sim.ticket.ticket import Ticket
from viewer.words.build import GIVE_OR_TAKE, ears_words, picture_note
from viewer.words.build_cut import LEAST_OFF
from viewer.words.units import format_fraction
from viewer.written.files import AskedError, replace

if TYPE_CHECKING:
    from matplotlib.axes import Axes

TALL, NARROW, EARS = 26.0, 15.0, 32.0
"""Half heights of tube, slip and yoke, in the drawing's own units."""

LINES: Final = (-64.0, -104.0, -160.0)
"""Where the dimension lines lie: parts, parts too short for their number, the whole."""

CHARACTER: Final = 0.0062
"""Width of a character of a number, as a share of the drawing's width."""

NAME: Final = 11
"""Characters of a name that stand in a line."""

HEAD: Final = {"arrowstyle": "<|-|>", "color": "k", "lw": 1.1, "shrinkA": 0.0, "shrinkB": 0.0,
               "mutation_scale": 11.0}  # fmt: skip


def drawn_to(path: Path) -> None:
    """Refuse a name that is no picture's. Raises AskedError."""
    if path.suffix.lower() != ".png":
        raise AskedError(f"--picture: came {path.name}, expected a name that ends in .png")


def draw_build(ticket: Ticket, path: Path) -> None:
    """Draw the pieces of a ticket with their lengths. Raises FileError where it cannot be."""
    from matplotlib.figure import Figure

    cuts = ticket.cuts.cuts
    longest = max(cut.piece.length for cut in cuts)
    figure = Figure(figsize=(13.0, 3.9 * len(cuts) + 1.7), layout="constrained")
    figure.suptitle(
        f"{ticket.rig.name}: build ticket, lengths at ride height", fontsize=15, parse_math=False
    )
    for place, cut in enumerate(cuts):
        axes = figure.add_subplot(len(cuts), 1, place + 1)
        off = None if ticket.sure is None else ticket.sure.lengths[place]
        _piece(axes, cut, longest, off)
        axes.set_xlim(-0.07 * longest, 1.07 * longest)
        axes.set_ylim(-205.0, 122.0)
        axes.axis("off")
    figure.supxlabel(picture_note(ticket), fontsize=11)
    drawn = BytesIO()
    figure.savefig(drawn, format="png", dpi=150)
    replace(path, drawn.getvalue(), "the picture")


def _piece(axes: Axes, cut: Cut, longest: float, off: float | None) -> None:
    """One piece with its parts, their dimension lines, and the whole below them.

    off : mm that its length may be off as it was measured; None where that is not told.
    """
    length = cut.piece.length
    parts = cut.parts or (Part("no cut length: see the ticket", length, "stub"),)
    axes.set_title(ears_words(cut), loc="left", fontsize=13)
    at = 0.0
    for number, part in enumerate(parts):
        end = at + part.length
        outward = number == 0 or parts[number - 1].kind == "head"
        _body(axes, (at, end) if outward else (end, at), part)
        if part.kind != "yoke":
            called = "head" if part.kind == "head" else part.name.split(",", maxsplit=1)[0]
            _name(axes, 0.5 * (at + end), called)
        if cut.parts:
            says = format_fraction(part.length)
            tight = len(says) * CHARACTER * 1.14 * longest > part.length
            _dimension(axes, (at, end), LINES[1 if tight else 0], says, part.is_tube)
        at = end
    for x, joint in ((0.0, cut.piece.first.joint), (at, cut.piece.last.joint)):
        axes.plot([x], [0.0], "o", ms=15, mfc="w", mec="k", mew=1.6, zorder=5)
        axes.plot([x], [0.0], "o", ms=3.5, color="k", zorder=6)
        axes.text(x, 66.0, f"{joint} joint\ncenter", ha="center", va="bottom", fontsize=11)
    whole = f"joint center to joint center {format_fraction(length)} ({length:.1f} mm)"
    if off is not None and off > LEAST_OFF:
        whole += f", {GIVE_OR_TAKE} {format_fraction(off)}"
    if len(cut.tubes) > 1 and cut.cut is not None:
        whole += f";  tube in all {format_fraction(cut.cut)} ({cut.cut:.1f} mm)"
    _dimension(axes, (0.0, at), LINES[2], whole, False)


def _body(axes: Axes, ends: tuple[float, float], part: Part) -> None:
    """One part: a yoke narrows from its ears to the tube, a slip is sleeve and stub, a tube a box.

    Of a head, what lies between its ball and its inner cross.
    ends : its x, the end nearer to the piece's own joint first.
    """
    near, far = ends
    low, high = min(ends), max(ends)
    kind = part.kind
    if kind == "yoke":
        outline = [(near, EARS), (near, -EARS), (far, -TALL), (far, TALL)]
        axes.fill(*zip(*outline, strict=True), fc="0.85", ec="k", lw=1.3, zorder=3)
    elif kind == "head":
        middle = 0.5 * (low + high)
        outline = [(low, EARS), (low, -EARS), (middle, -TALL), (high, -EARS)]
        outline += [(high, EARS), (middle, TALL)]
        axes.fill(*zip(*outline, strict=True), fc="0.7", ec="k", lw=1.3, zorder=2)
    elif kind == "slip":
        mouth = low + 0.6 * (high - low)
        axes.fill_between([mouth, high], -NARROW, NARROW, fc="w", ec="k", lw=1.3, hatch="---")
        axes.fill_between([low, mouth], -0.85 * TALL, 0.85 * TALL, fc="0.93", ec="k", lw=1.3)
        for x, half in ((0.5 * (low + mouth), "sleeve"), (0.5 * (mouth + high), "stub")):
            box = {"fc": "w", "ec": "none", "pad": 1.0}
            axes.text(x, 0.0, half, ha="center", va="center", fontsize=9, bbox=box)
    else:
        axes.fill_between(
            [low, high], -TALL, TALL, fc="w", ec="k", lw=1.3, hatch="" if kind == "tube" else "//"
        )


def _name(axes: Axes, x: float, name: str) -> None:
    """What a part is, above it; a name of a few words stands in two lines."""
    lines = name if len(name) > 2 * NAME else fill(name, NAME)
    axes.text(x, 34.0, lines, ha="center", va="bottom", fontsize=11)


def _dimension(axes: Axes, ends: tuple[float, float], y: float, says: str, bold: bool) -> None:
    """A dimension line with arrows at both ends, its extension lines and its number."""
    for x in ends:
        axes.plot([x, x], [-EARS - 4.0, y - 6.0], "k-", lw=0.6, zorder=1)
    axes.annotate("", (ends[0], y), (ends[1], y), arrowprops=HEAD)
    axes.text(
        0.5 * (ends[0] + ends[1]),
        y - 8.0,
        says,
        ha="center",
        va="top",
        fontsize=12,
        weight="bold" if bold else "normal",
        bbox={"fc": "w", "ec": "none", "pad": 1.0},
    )
