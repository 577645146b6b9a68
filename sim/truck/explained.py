"""What would have to be how wrong for the computed to be as it was seen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import log1p
from typing import Final

import numpy as np
from scipy.optimize import minimize_scalar, nnls
from scipy.stats import chi2

from sim.frames import FloatArray
from sim.truck.numbers import Doubtful, Numbers

MOST: Final = 32.0
"""Deviations. Nothing is believed to be farther off, and no rig is looked at there."""

STEPS: Final = (1.0, 2.0, 4.0, 8.0, 16.0, MOST)
"""Deviations each way at which a number is tried before it is narrowed down."""

EXACT: Final = 1e-6
"""Share of a variance that is left to what nothing else moves."""

ROUNDS: Final = 6
"""Times that the least unlikely combination is found anew about where the last one lies."""

NOTHING: Final = 1e-9
"""Squared deviations that are as good as none."""

LEAST: Final = 1e-3
"""Deviations. Nearer than this a round has come to rest."""

DOUBT: Final = 0.05
"""Chance below which what is left over is no longer put down to everything else."""


@dataclass(frozen=True)
class Wrong:
    """One number, and what it would have to be.

    Attributes
    ----------
    of : which number.
    deviations : by how many of its own deviations it would have to be off.
    rest : what is left over once it is so, in deviations of everything else, squared and summed.
    explains : whether what is left over may be put down to everything else.
    """

    of: Doubtful
    deviations: float
    rest: float
    explains: bool

    @property
    def off(self) -> float:
        """How far off it would have to be, in its unit."""
        return self.deviations * self.of.deviation

    @property
    def would_be(self) -> float:
        """What it would have to be, in its unit."""
        return self.of.value + self.off

    @property
    def unlikely(self) -> float:
        """How unlikely it is, to put them in order.

        Errors are as typed or usual but for one that is gross, which may be of any size, a larger
        one less often [derivation: minus twice the log of a normal law for the rest and of a Cauchy
        law, one deviation wide, for this one].
        """
        return self.rest + 2.0 * log1p(self.deviations**2)


@dataclass(frozen=True)
class Together:
    """The least unlikely combination.

    Attributes
    ----------
    squares : of all deviations, summed.
    chance : of being so far off by the errors that are typed or usual.
    parts : what would have to be how wrong, most of it first.
    """

    squares: float
    chance: float
    parts: tuple[Wrong, ...]


def left_over(numbers: Numbers, past: FloatArray, white: FloatArray) -> float:
    """What is left over: squared deviations of everything that is not taken to be off.

    past : by how much (m,) the computed is over the seen.
    white : (m, m) makes what everything else may be off independent, one deviation each.

    What has to be at least or at most the seen may be more or less by as much as leaves the least
    [LAWSON].
    """
    signs = {"at least": 1.0, "at most": -1.0}
    slack = [
        signs[each.sense] * column
        for each, column in zip(numbers.observed, white.T, strict=True)
        if each.sense != "is"
    ]
    goal = white @ past
    if not slack:
        return float(goal @ goal)
    return float(nnls(np.array(slack).T, goal)[1] ** 2)


def wrong_now(numbers: Numbers) -> int:
    """How many readings and how many of the rest that are not as seen there are."""
    past = numbers.past(np.zeros(len(numbers.doubtful)))
    met = {"is": np.zeros(len(past), bool), "at least": past >= 0.0, "at most": past <= 0.0}
    return sum(not met[each.sense][place] for place, each in enumerate(numbers.observed))


def alone(numbers: Numbers) -> tuple[Wrong, ...]:
    """For each number what it would have to be by itself, the least unlikely first.

    It is free, everything else as far off as is usual: what the computed is short of the seen then
    is least by generalised least squares [AITKEN]. A straight line tells about where; then it is
    put into the rig itself, and the place found by trying.
    """
    slopes = numbers.slopes
    whole = slopes @ slopes.T
    told = [
        _alone(numbers, column, whole - np.outer(slope, slope))
        for column, slope in enumerate(slopes.T)
    ]
    found = [each for each in told if each is not None]
    return tuple(sorted(found, key=lambda each: (not each.explains, each.unlikely)))


def _alone(numbers: Numbers, column: int, others: FloatArray) -> Wrong | None:
    """None where it changes nothing for the better."""
    # What nothing else moves is taken to be met all but exactly by this one.
    floor = np.diag(EXACT * numbers.spread**2)
    white = np.linalg.inv(np.linalg.cholesky(others + floor))
    unit = np.eye(len(numbers.doubtful))[column]

    def left(off: float) -> float:
        past = numbers.past(off * unit)
        return float("inf") if np.isnan(past).any() else left_over(numbers, past, white)

    off = _least(left, left(0.0))
    if off == 0.0:
        return None
    rest = left(off)
    chance = float(chi2.sf(rest, max(1, wrong_now(numbers) - 1)))
    return Wrong(numbers.doubtful[column], off, rest, chance >= DOUBT)


def _least(left: Callable[[float], float], start: float) -> float:
    """Where (deviations) least is left, nearest to none; 0 where nothing is better."""
    if not start > NOTHING:
        return 0.0
    tried = {0.0: start} | {s * way: left(s * way) for s in STEPS for way in (1.0, -1.0)}
    ways = sorted(tried)
    enough = NOTHING * (1.0 + start)
    met = [each for each in ways if tried[each] <= enough]
    if met:
        inner = min(met, key=abs)
        before = max(
            (each for each in ways if abs(each) < abs(inner) and each * inner >= 0.0), key=abs
        )
        return _edge(left, before, inner, enough)
    best = min(ways, key=lambda each: (tried[each], abs(each)))
    if not tried[best] < start * (1.0 - 1e-6):
        place = ways.index(0.0)
        low, high = ways[place - 1], ways[place + 1]
    else:
        place = ways.index(best)
        low, high = ways[max(0, place - 1)], ways[min(len(ways) - 1, place + 1)]
    found = minimize_scalar(left, bounds=(low, high), method="bounded", options={"xatol": 1e-4})
    off = float(found.x)
    if not left(off) < start * (1.0 - 1e-6):
        return 0.0
    return off


def _edge(left: Callable[[float], float], outside: float, inside: float, enough: float) -> float:
    """The last place on the way to `outside` at which hardly anything is left."""
    for _ in range(40):
        middle = 0.5 * (outside + inside)
        if left(middle) <= enough:
            inside = middle
        else:
            outside = middle
        if abs(inside - outside) < 1e-5:
            break
    return inside


def together(numbers: Numbers) -> Together | None:
    """The least unlikely combination of everything; None where none was found.

    The least sum of squared deviations with which the computed is as it was seen: the least
    distance between inequalities [LAWSON], about where the last round lies until it rests.
    """
    z = np.zeros(len(numbers.doubtful))
    for _ in range(ROUNDS):
        past = numbers.past(z)
        if np.isnan(past).any():
            return None
        slopes = numbers.slopes_at(z)
        following = _nearest(numbers, slopes, slopes @ z - past)
        if following is None:
            return None
        moved = float(np.abs(following - z).max())
        z = following
        if moved < LEAST:
            break
    squares = float(z @ z)
    asked = wrong_now(numbers)
    if np.isnan(numbers.past(z)).any() or not asked:
        return None
    parts = [
        Wrong(each, float(off), 0.0, True)
        for each, off in zip(numbers.doubtful, z, strict=True)
        if abs(off) > 0.05
    ]
    parts.sort(key=lambda each: -abs(each.deviations))
    return Together(squares, float(chi2.sf(squares, asked)), tuple(parts))


def _nearest(numbers: Numbers, slopes: FloatArray, wanted: FloatArray) -> FloatArray | None:
    """The shortest z with slopes @ z = wanted, or at least or at most that [LAWSON]."""
    rows: list[FloatArray] = []
    ends: list[float] = []
    scale = np.linalg.norm(slopes, axis=1)
    for each, slope, end, size in zip(numbers.observed, slopes, wanted, scale, strict=True):
        if not size > 0.0:
            continue  # what nothing moves is told by whoever looks at what is left
        if each.sense in ("is", "at least"):
            rows.append(slope / size)
            ends.append(end / size)
        if each.sense in ("is", "at most"):
            rows.append(-slope / size)
            ends.append(-end / size)
    if not rows:
        return None
    table = np.vstack([np.array(rows).T, np.array(ends)])
    goal = np.zeros(len(table))
    goal[-1] = 1.0
    weights, away = nnls(table, goal)
    if away < 1e-9:
        return None
    residual = table @ weights - goal
    return np.asarray(-residual[:-1] / residual[-1])
