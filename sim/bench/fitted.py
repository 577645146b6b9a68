"""What a joint's readings come to: its own yokes with their bands, and what is left in doubt."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Literal

import numpy as np

from geometry.contact.touch import TouchCurve
from sim.bench.free import YokePair
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.vehicle import Joint

Way = Literal["bench", "lowest", "clear", "catch", "maker", "caliper"]
"""How something is read: the touch at one turn; the lowest over a whole turn; that it did not touch
up to there; the height at which the hand-turned shaft catches; what the maker states; a dimension
with a caliper."""


@dataclass(frozen=True)
class Turned:
    """How a joint is held while it is bent until it touches.

    Attributes
    ----------
    clamped : key of the yoke that is held, such as `pinion_yoke`; "" where that says nothing.
    ears : rad from the plane of the bend to the bores of that yoke, 0 to pi; None for the lowest
        touch of a whole turn.
    """

    clamped: str = ""
    ears: float | None = None

    @property
    def word(self) -> Literal["any", "in line", "between", "across", ""]:
        """The word of a rig file for it; "" where it has none."""
        if self.ears is None:
            return "any"
        words: dict[float, Literal["in line", "between", "across"]] = {
            0.0: "in line",
            0.25 * pi: "between",
            0.5 * pi: "across",
        }
        return next((word for at, word in words.items() if abs(self.ears - at) < 1e-9), "")


@dataclass(frozen=True)
class ReadingFit:
    """One reading against the fit.

    Attributes
    ----------
    number : which of the joint's readings, from 1 as in the rig file's key path.
    key : its key path, such as `shaft.pinion_end.bench[1]`.
    way : how it was read.
    turned : how the joint was held.
    read : bend that was read, rad; of `catch` that of the joint at that height.
    off : 95 of 100 such readings are no farther off, rad; what the tool or the height is off.
    fits : bend of the fitted joint there, rad; nan where it touches at none.
    without : low and high (rad) between which 95 of 100 lie that all the other readings allow, and
        this one's own error with them.
    counts : whether it was taken into the fit.
    """

    number: int
    key: str
    way: Way
    turned: Turned
    read: float
    off: float
    fits: float
    without: tuple[float, float]
    counts: bool = True


@dataclass(frozen=True)
class Contradiction:
    """Readings that cannot all be so.

    Attributes
    ----------
    kind : "readings" where two of them fight, "yoke" where this kind of yoke cannot do it.
    numbers : which readings, from 1, the least likely first.
    nearest : of each the nearest bend (rad) that yokes of this kind come to, given the others.
    odds : how seldom readings are as far apart as that by their errors alone; 0 to 1.
    """

    kind: Literal["readings", "yoke"]
    numbers: tuple[int, ...]
    nearest: tuple[float, ...]
    odds: float


@dataclass(frozen=True)
class FittedDimension:
    """One dimension of a fitted yoke.

    Attributes
    ----------
    free : what was known of it before.
    value : of the yoke that is shown, mm.
    low, high : 95 of 100 joints that agree with all that was read lie between, mm.
    """

    free: Free
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class NextReading:
    """One reading more, and what it is worth.

    Attributes
    ----------
    way : "bench", "lowest" or "caliper".
    turned : how the joint is held; of a caliper nothing.
    key : key path of the dimension that a caliper reads; "" of all others.
    off : error that is expected of it, rad or mm.
    low, high : between what it will read, 95 of 100, rad or mm.
    band : expected width (rad) of the band of the lowest touch after it.
    narrows : that width by the width now, 0 to 1.
    """

    way: Way
    turned: Turned
    key: str
    off: float
    low: float
    high: float
    band: float
    narrows: float


@dataclass(frozen=True, eq=False)
class FittedJoint:
    """A joint's yokes as its readings have them: fitted, not measured.

    Attributes
    ----------
    joint : which one.
    pair : its yokes and cross, to be built: the likeliest, with the lowest touch of `curve`.
    z : (d,) their draw.
    draws : (n, d) joints that agree with all that was read, each as likely as the others.
    touches : (n,) rad, their lowest touch, by size.
    readings : each against the fit, in the order of the rig file.
    dimensions : of both yokes, all that was free.
    curve : certified touch curve of these yokes.
    low, high : (n,) rad at the spins of `curve`: 95 of 100 joints that agree with all that was read
        touch between; nan where none does.
    lowest : low and high (rad) of the lowest touch of a whole turn, in the same sense.
    before : the same before any reading.
    contradictions : where readings fight each other or the kind of yoke; the rest is computed.
    next : readings that would narrow the band of the lowest touch, the best first.
    forecast_off : rad; 95 of 100 forecasts of the lowest touch are no farther off the full curve.
    replaced : whether the forecast of the yokes shown was farther off, and put right by full ones.
    """

    joint: Joint
    pair: YokePair
    z: FloatArray
    draws: FloatArray
    touches: FloatArray
    readings: tuple[ReadingFit, ...]
    dimensions: tuple[FittedDimension, ...]
    curve: TouchCurve
    low: FloatArray
    high: FloatArray
    lowest: tuple[float, float]
    before: tuple[float, float]
    contradictions: tuple[Contradiction, ...]
    next: tuple[NextReading, ...]
    forecast_off: float
    replaced: bool

    @property
    def values(self) -> dict[str, dict[str, float]]:
        """Fitted dimensions (mm) by their names, by the key of their yoke."""
        found: dict[str, dict[str, float]] = {}
        for each in self.dimensions:
            found.setdefault(each.free.yoke, {})[each.free.name] = each.value
        return found

    @property
    def width(self) -> float:
        """Width of the band of the lowest touch, rad."""
        return float(np.subtract(*self.lowest[::-1]))
