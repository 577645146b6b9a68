"""How far off numbers of a rig may be, to first order: of one pose, of the shaft at ride height."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot, isfinite
from typing import Final

import numpy as np
from scipy.special import ndtr

from geometry.errors import BindpointError
from sim.accuracy.source import SURE, Source
from sim.bars.doubts import Doubts
from sim.bars.draws import normal_draws
from sim.bars.result import Likely, likely_of
from sim.bench.shape import Shape
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig
from sim.vehicle import Joint, Pose

DRAWS: Final = 1024
"""Shapes drawn for how far off a clear bend may be."""


def give_or_take(
    rig: Rig, sources: Iterable[Source], numbers: Callable[[Rig], FloatArray]
) -> FloatArray:
    """How far off numbers (m,) of a rig may be: 95 of 100 trucks are no farther, either way alike.

    To first order: each source moves them as it does when it is off by all that 95 of 100 readings
    are within, half of the way from one side to the other, and what many move adds up by squares
    [derivation: the variance of a sum]. A way in which the rig cannot be counts as the other one.

    numbers : of a rig, in their own units. Raises BindpointError where it cannot be.
    """
    middle = numbers(rig)
    squares = np.zeros(middle.shape)
    for each in sources:
        ways = [_moved(rig, each, sign, numbers) for sign in (1.0, -1.0)]
        known = [way - middle for way in ways if way is not None]
        if len(known) == len(ways):
            squares += (0.5 * (known[0] - known[1])) ** 2
        elif known:
            squares += known[0] ** 2
    return np.asarray(np.sqrt(squares))


def _moved(
    rig: Rig, source: Source, sign: float, numbers: Callable[[Rig], FloatArray]
) -> FloatArray | None:
    try:
        return numbers(source.put(rig, sign * source.off))
    except BindpointError:
        return None


def clear_off(shape: Shape | None) -> float:
    """How far off the clear bend of a joint may be, rad; 0 where its parts are taken as they are.

    Half of what 95 of 100 shapes lie within, and what their forecast is known to leave open, by
    squares.
    """
    if shape is None or not shape.free:
        return 0.0
    clear = shape.clear(normal_draws(len(shape.free), DRAWS, 0))
    low, high = np.percentile(clear, (2.5, 97.5))
    left_open = shape.forecast_off if isfinite(shape.forecast_off) else 0.0
    return hypot(0.5 * float(high - low), left_open)


@dataclass(frozen=True, eq=False)
class PoseOff:
    """How far off one pose may be, 95 of 100 either way.

    Attributes
    ----------
    bends, lefts : rad by joint: how far it is bent, and what is left of the bend it is good for.
    length, slip : mm.
    chance : that metal meets in it or the slip has run out, of everything that may be off; each
        joint and end of the slip taken by itself, the likeliest.
    """

    bends: Mapping[Joint, float]
    lefts: Mapping[Joint, float]
    length: float
    slip: float
    chance: float

    @cached_property
    def likely(self) -> Likely:
        """What is likely."""
        return likely_of(self.chance)


def pose_off(
    rig: Rig,
    at: Pose,
    doubts: Doubts,
    left: Mapping[Joint, float],
    slip_left: Sequence[float],
) -> PoseOff:
    """How far off a pose may be.

    left : rad by joint, left of the bend it is good for. slip_left : mm, to close and to open.
    """

    def numbers(rig: Rig) -> FloatArray:
        state = line(vehicle_of(rig), at.travel, at.roll, at.wrap)
        return np.array([*map(float, state.bends.values()), state.length, state.slip])

    *bent, length, slip = map(float, give_or_take(rig, doubts.moving, numbers))
    bends = dict(zip(left, bent, strict=True))
    clear = {joint: clear_off(doubts.shapes.get(joint)) for joint in left}
    lefts = {joint: hypot(off, clear[joint]) for joint, off in bends.items()}
    chances = [_past(left[joint], lefts[joint]) for joint in left]
    chances += [_past(each, slip) for each in slip_left]
    return PoseOff(bends, lefts, length, slip, max(chances))


def _past(left: float, off: float) -> float:
    """Chance that nothing is left, where 95 of 100 are no farther off."""
    if not off > 0.0:
        return float(left <= 0.0)
    return float(ndtr(-left * SURE / off))
