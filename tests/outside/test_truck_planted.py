"""Made-up trucks of which one number was typed grossly wrong: how often it is told first.

The truth is the typed rig with every number off as its tool is, drawn at random, and one of them
by as much as makes what is seen differ surely. What is seen is computed from the truth, with its
own errors. Several numbers may move all that is seen alike (how high both ends of a shaft sit,
say); nothing seen can tell those apart, and each of them counts.
"""

from __future__ import annotations

from math import degrees

import numpy as np
import pytest

from sim.accuracy.source import SURE, Source
from sim.accuracy.sources import sources_of
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.truck.explained import MOST
from sim.truck.held import held_against
from sim.truck.numbers import Numbers
from sim.truck.observed import observed_of

POSES = ((-75.0, 0.0), (-150.0, 0.0), (-220.0, 0.0), (75.0, 0.0), (-120.0, 0.09))
"""Heights (mm) and rolls (rad) at which the slip is read."""

FINE = 25.4 / 32
"""mm. What marks and a steel rule are good to: 95 of 100 heights and readings."""

SURELY = 6.0
"""Deviations of everything else by which what is seen is moved."""

CASES = 50
"""Of each rig."""


GROSS = 6.0
"""Deviations of its own that a gross error is at the least."""

ALIKE = 0.98
"""Cosine of what two numbers do to all that is seen, from which on nothing tells them apart."""


def seen_on(truth: Rig, random: np.random.Generator) -> list[dict[str, str]]:
    """Readings of the slip on a truck."""
    vehicle = vehicle_of(truth)
    entries = []
    for height, roll in POSES:
        at = height + random.normal() * FINE / SURE
        slip = float(line(vehicle, at, roll, 0.0).slip) + random.normal() * FINE / SURE
        way = "bump" if height > 0.0 else "droop"
        entry = {"at": f"{abs(height) / 25.4:.5f} in {way} +- 1/32 in"}
        if roll:
            entry["left_up"] = f"{degrees(roll):.5f} deg +- 0.02 deg"
        entry["slip_opened" if slip > 0.0 else "slip_closed"] = (
            f"{abs(slip) / 25.4:.5f} in +- 1/32 in"
        )
        entries.append(entry)
    return entries


def put_off(rig: Rig, sources: tuple[Source, ...], z: FloatArray) -> Rig:
    for each, off in zip(sources, z, strict=True):
        rig = each.put(rig, float(off) * each.deviation)
    return rig


def by_others(slopes: FloatArray, column: int) -> float:
    """By how many deviations of everything else one deviation of a number moves what is seen."""
    slope = slopes[:, column]
    others = slopes @ slopes.T - np.outer(slope, slope) + 1e-9 * np.eye(len(slopes))
    return float(np.sqrt(slope @ np.linalg.solve(others, slope)))


@pytest.mark.slow
@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "goat-path-buggy"])
def test_the_planted_error_is_told_first(name: str) -> None:
    rig = load_demo(name)
    sources = sources_of(rig)
    random = np.random.default_rng(7)
    like = changed(rig, {"seen_on_truck": seen_on(rig, random)})
    numbers = Numbers(like, observed_of(like), sources)
    keys = [each.key for each in numbers.doubtful]
    places = [keys.index(each.key) for each in sources]
    moves = [max(by_others(numbers.slopes, place), 1e-9) for place in places]
    sizes = [max(GROSS, SURELY / each) for each in moves]
    plantable = [i for i, size in enumerate(sizes) if size <= 0.8 * MOST]
    own = numbers.slopes[:, numbers.own]
    white = np.linalg.inv(np.linalg.cholesky(own @ own.T)) @ numbers.slopes
    length = np.linalg.norm(white, axis=0) + 1e-12

    first = cases = 0
    while cases < CASES:
        planted = int(random.choice(plantable))
        z = random.normal(size=len(sources))
        z[planted] = sizes[planted] * random.choice([-1.0, 1.0])
        truck = changed(rig, {"seen_on_truck": seen_on(put_off(rig, sources, z), random)})
        found = held_against(truck, sources)
        if not found.disagrees:
            continue
        cases += 1
        told = keys.index(found.alone[0].of.key) if found.alone else None
        if told is not None:
            mine = places[planted]
            cosine = abs(white[:, mine] @ white[:, told]) / (length[mine] * length[told])
            first += told == mine or cosine > ALIKE
    assert first >= 0.9 * cases, first
