"""Everything seen on the truck, held against what is computed for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import nan

import numpy as np
from scipy.special import ndtr

from sim.accuracy.source import SURE, Source
from sim.assessment import Assessor
from sim.bench.shape import Shape
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.rig import Rig
from sim.truck.contradictions import Contradiction, contradictions
from sim.truck.explained import DOUBT, Together, Wrong, alone, together
from sim.truck.numbers import Numbers
from sim.truck.observed import Observed, observed_of
from sim.vehicle import Joint


@dataclass(frozen=True)
class HeldItem:
    """One thing seen, beside what is computed for it.

    Attributes
    ----------
    observed : what was seen.
    computed : mm of slip; of a touch rad, how far the joint is bent past where it touches.
    off : 95 of 100 computed ones are no farther off, by what may be off of the rig; nan where the
        rig cannot be in that pose.
    seen_off : the same of what was seen, by its own errors, in the unit of the computed.
    chance : of the computed being so far from the seen, or of touching (being free) as seen; 1
        where nothing is computed.
    beyond : whether it lies past the travel of the rig.
    agrees : whether they differ by no more than may be off. That is asked of everything seen at
        once, each against the chance that is left for it [HOLM]: of 100 trucks on which nothing is
        wrong, 95 agree in all.
    """

    observed: Observed
    computed: float
    off: float
    seen_off: float
    chance: float
    beyond: bool
    agrees: bool = True

    @property
    def reached(self) -> bool:
        """Whether the rig can be in that pose."""
        return bool(np.isfinite(self.computed))


@dataclass(frozen=True)
class HeldAgainst:
    """What was seen on a truck against its rig.

    Attributes
    ----------
    items : everything seen, in the order of the file.
    contradictions : pairs of which one is wrong, left out of what follows.
    alone : where something disagrees, what each number would have to be by itself to agree with
        all that was seen, least unlikely first.
    together : the least unlikely combination.
    """

    items: tuple[HeldItem, ...]
    contradictions: tuple[Contradiction, ...] = ()
    alone: tuple[Wrong, ...] = ()
    together: Together | None = None

    @cached_property
    def contradicted(self) -> frozenset[int]:
        """Numbers of what contradicts something else seen."""
        return frozenset(n for each in self.contradictions for n in (each.one, each.other))

    @property
    def disagrees(self) -> bool:
        """Whether something that nothing else seen contradicts is not as computed."""
        return any(
            not each.agrees and each.observed.number not in self.contradicted for each in self.items
        )


def held_against(
    rig: Rig, sources: Sequence[Source] = (), shapes: Mapping[Joint, Shape] | None = None
) -> HeldAgainst:
    """Hold what was seen on the truck against what its rig comes to.

    sources, shapes : what may be off of the rig.
    Raises BindpointError for parts and vehicles that cannot be.
    """
    observed = observed_of(rig)
    if not observed:
        return HeldAgainst(())
    numbers = _numbers(rig, observed, tuple(sources), dict(shapes or {}))
    past = numbers.past(np.zeros(len(numbers.doubtful)))
    known = [place for place in range(len(observed)) if np.isfinite(past[place])]
    if len(known) < len(observed):
        numbers = _some(numbers, [observed[place] for place in known])
    found = past[known]
    pairs = contradictions(numbers, found)
    items = _judged(_items(observed, numbers, past))
    held = HeldAgainst(items, pairs)
    if not held.disagrees:
        return held
    sound = [each for each in numbers.observed if each.number not in held.contradicted]
    rest = numbers if len(sound) == len(numbers.observed) else _some(numbers, sound)
    return HeldAgainst(items, pairs, alone(rest), together(rest))


def _numbers(
    rig: Rig,
    observed: tuple[Observed, ...],
    sources: tuple[Source, ...],
    shapes: Mapping[Joint, Shape],
) -> Numbers:
    """What is computed, with the touch of the joints that somebody turned."""
    asked = {each.joint for each in observed if each.what == "turned"}
    joints = [j for j in vehicle_of(rig).joints if asked and (None in asked or j in asked)]
    assessor = Assessor()
    clear = {joint: assessor.room(rig, joint).clear for joint in joints}
    mine = {joint: shape for joint, shape in shapes.items() if joint in clear}
    return Numbers(rig, observed, sources, mine, clear)


def _some(numbers: Numbers, observed: Sequence[Observed]) -> Numbers:
    """The same of some of what was seen."""
    return Numbers(numbers.rig, tuple(observed), numbers.sources, numbers.shapes, numbers.clear)


def _items(
    observed: tuple[Observed, ...], numbers: Numbers, past: FloatArray
) -> tuple[HeldItem, ...]:
    """Each of what was seen, by what may be off of it and of the rig."""
    travel = vehicle_of(numbers.rig).travel
    slopes = {each.number: row for each, row in zip(numbers.observed, numbers.slopes, strict=True)}
    items = []
    for each, over in zip(observed, past, strict=True):
        row = slopes.get(each.number)
        if row is None:
            items.append(HeldItem(each, nan, nan, nan, 1.0, beyond=True))
            continue
        rig, own = (float(np.linalg.norm(row[mask])) for mask in (~numbers.own, numbers.own))
        chance = chance_of(each, float(over), float(np.hypot(rig, own)))
        beyond = each.at is not None and not (travel.low[0] <= each.at.travel <= travel.high[0])
        items.append(
            HeldItem(each, float(over) + each.seen, SURE * rig, SURE * own, chance, beyond)
        )
    return tuple(items)


def _judged(items: tuple[HeldItem, ...]) -> tuple[HeldItem, ...]:
    """The same, with those that disagree told so."""
    left, wrong = len(items), set[int]()
    for each in sorted(items, key=lambda each: each.chance):
        if each.chance * left >= DOUBT:
            break
        wrong.add(each.observed.number)
        left -= 1
    return tuple(replace(each, agrees=each.observed.number not in wrong) for each in items)


def chance_of(seen: Observed, past: float, spread: float) -> float:
    """Chance of what was seen, where the computed is `past` it and spreads so much (one deviation).

    Of a reading: of being at least so far off, either way. Of a touch, of turning free and of paint
    that ran at least so far: of being so.
    """
    if not spread > 0.0:
        return float(
            {"is": past == 0.0, "at least": past >= 0.0, "at most": past <= 0.0}[seen.sense]
        )
    if seen.sense == "is":
        return float(2.0 * ndtr(-abs(past) / spread))
    return float(ndtr(past / spread if seen.sense == "at least" else -past / spread))
