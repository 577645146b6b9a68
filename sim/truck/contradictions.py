"""Things seen that contradict one another, whatever the rig is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy.special import ndtr

from sim.frames import FloatArray
from sim.truck.explained import DOUBT
from sim.truck.numbers import Numbers
from sim.truck.observed import Observed


@dataclass(frozen=True)
class Contradiction:
    """Two things seen of which one is wrong.

    Attributes
    ----------
    one, other : numbers in the file, from 1.
    chance : that both are right, by what may be off of the rig and of both.
    """

    one: int
    other: int
    chance: float


def contradictions(numbers: Numbers, past: FloatArray) -> tuple[Contradiction, ...]:
    """Every pair that contradicts.

    A joint that touches in one pose and is free in another one where it bends farther: how it is
    built and how far it bends are the same in both, so little is left to be off. And two readings
    of the slip in one pose.
    """
    return tuple(_contradicting(numbers, past))


def _contradicting(numbers: Numbers, past: FloatArray) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(numbers.observed), 2):
        if {one.what, other.what} == {"turned"}:
            if one.joint != other.joint or one.sense == other.sense:
                continue
            touches, free = (i, j) if one.sense == "at least" else (j, i)
            # It can only be if the one that touches is bent at least as far as the free one.
            way = 1.0
            more = past[touches] - past[free]
            slope = numbers.slopes[touches] - numbers.slopes[free]
            chance = _chance(more, float(np.linalg.norm(slope)))
        elif _one_reading_twice(one, other):
            way = 1.0 if one.what == other.what else -1.0
            more = past[i] - way * past[j]
            slope = numbers.slopes[i] - way * numbers.slopes[j]
            chance = 2.0 * _chance(-abs(more), float(np.linalg.norm(slope)))
        else:
            continue
        if chance < DOUBT:
            yield Contradiction(one.number, other.number, chance)


def _one_reading_twice(one: Observed, other: Observed) -> bool:
    """Whether both are of where the slip stands in one pose."""
    slip = ("slip_opened", "slip_closed")
    return one.what in slip and other.what in slip and one.at == other.at


def _chance(more: float, spread: float) -> float:
    """Chance that a number is above zero."""
    return float(ndtr(more / spread)) if spread > 0.0 else float(more >= 0.0)
