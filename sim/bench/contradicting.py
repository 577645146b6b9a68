"""Which readings fight each other, and what no yoke of the kind can do."""

from __future__ import annotations

from itertools import combinations
from typing import Final

import numpy as np

from sim.bench.evidence import Evidence, Predict, some
from sim.bench.fitted import Contradiction
from sim.bench.nearest import Nearest, nearest
from sim.frames import FloatArray

SELDOM: Final = 0.005
"""Readings that are so seldom so far apart are said to fight: one honest joint in 200 is asked to
be read again in vain."""

REACH: Final = (0.001, 0.999)
"""Shares of the kind between which it is said to come to a bend."""

AGREES: Final = 0.05
"""A set of readings at least so likely agrees."""


def contradictions(
    predict: Predict, evidence: Evidence, starts: FloatArray, kind: FloatArray
) -> tuple[tuple[Contradiction, ...], tuple[int, ...]]:
    """What cannot all be so, and which readings count all the same, by their places from 0.

    starts : (k, d) draws to seek from.
    kind : (n, readings) what draws of the kind come to, rad: nobody is told of a nearer bend than
        those of 999 in 1000.

    First each reading alone against the kind, then pairs, then all together. Of two that fight the
    one goes without which the rest agrees, where only one does that; else both go.
    """

    def of(places: list[int]) -> Nearest:
        return nearest(some(predict, places), evidence.only(places), starts)

    reach = np.quantile(kind, REACH, axis=0)
    told: list[Contradiction] = []
    counted = list(range(len(evidence)))
    for place in list(counted):
        alone = of([place])
        if alone.odds < SELDOM:
            told.append(_told("yoke", [place], alone, reach))
            counted.remove(place)
    while len(counted) > 1:
        whole = of(counted)
        if whole.odds >= SELDOM:
            break
        pairs = [(of(list(pair)), list(pair)) for pair in combinations(counted, 2)]
        pair, fight = min(pairs, key=lambda found: found[0].odds)
        if pair.odds >= SELDOM:
            # No two of them, but all together: what the kind cannot do.
            without = {place: of([p for p in counted if p != place]).odds for place in counted}
            order = sorted(counted, key=lambda place: -without[place])
            told.append(_told("yoke", order, of(order), reach))
            if without[order[0]] < SELDOM:
                break
            counted.remove(order[0])
            continue
        rest = {place: of([p for p in counted if p != place]).odds for place in fight}
        fight.sort(key=lambda place: -rest[place])
        told.append(_told("readings", fight, of(fight), reach))
        gone = fight[:1] if rest[fight[0]] >= AGREES > rest[fight[1]] else fight
        counted = [place for place in counted if place not in gone]
    return tuple(told), tuple(counted)


def _told(kind: str, places: list[int], found: Nearest, reach: FloatArray) -> Contradiction:
    numbers = tuple(place + 1 for place in places)
    near = tuple(float(bend) for bend in np.clip(found.shown, *reach[:, places]))
    return Contradiction("readings" if kind == "readings" else "yoke", numbers, near, found.odds)
