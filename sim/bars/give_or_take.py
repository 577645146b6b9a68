"""How far off numbers of a rig may be, to first order: of one pose, of the shaft at ride height."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
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
"""Trucks drawn for what is left of a bend."""


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


def left_draws(shape: Shape | None, off: float) -> FloatArray:
    """What is left of a bend in many trucks (n,), rad, less what is left as it is.

    off : rad, 95 of 100 bends are no farther off. The joint is good for what its shape has by
        the same draw; what a forecast is known to leave open is as good as a bend that is off.
    """
    columns = 0 if shape is None else len(shape.free)
    z = normal_draws(1 + columns, DRAWS, 0)
    known = 0.0 if shape is None or not isfinite(shape.forecast_off) else shape.forecast_off
    moved = z[:, 0] * hypot(off, known) / SURE
    if shape is not None and columns:
        moved += shape.clear(z[:, 1:]) - shape.clear(np.zeros((1, columns))) + shape.later
    return np.asarray(moved)


def middle_95(values: FloatArray) -> tuple[float, float]:
    """Where 95 of 100 values lie."""
    low, high = np.quantile(values, (0.025, 0.975))
    return float(low), float(high)


@dataclass(frozen=True, eq=False)
class PoseOff:
    """How far off one pose may be, 95 of 100 either way.

    Attributes
    ----------
    bends : rad by joint.
    lefts : rad by joint, the least and the most that is left of the bend it is good for.
    length, slip : mm, of how far the slip has moved from ride height.
    chance : that metal meets in it or the slip has run out; of several joints and ends of the slip
        that of the likeliest.
    """

    bends: Mapping[Joint, float]
    lefts: Mapping[Joint, tuple[float, float]]
    length: float
    slip: float
    chance: float

    @property
    def likely(self) -> Likely:
        """What is likely."""
        return likely_of(self.chance)


def pose_off(
    rig: Rig,
    at: Pose,
    doubts: Doubts,
    left: Mapping[Joint, float],
    slip_left: tuple[float, float],
) -> PoseOff:
    """How far off a pose may be.

    left : rad by joint, left of the bend it is good for.
    slip_left : mm, to close and to open; inf where nobody measured it.
    """

    def numbers(rig: Rig) -> FloatArray:
        vehicle = vehicle_of(rig)
        state = line(vehicle, at.travel, at.roll, at.wrap)
        ends = [vehicle.slip.closes + state.slip, vehicle.slip.opens - state.slip]
        known = [float(each) if np.isfinite(each) else 0.0 for each in ends]
        return np.array([*map(float, state.bends.values()), state.length, state.slip, *known])

    *bent, length, slip, closes, opens = map(float, give_or_take(rig, doubts.moving, numbers))
    bends = dict(zip(left, bent, strict=True))
    drawn = {
        joint: left[joint] + left_draws(doubts.shapes.get(joint), off)
        for joint, off in bends.items()
    }
    chances = [float((each <= 0.0).mean()) for each in drawn.values()]
    chances += [_past(*each) for each in zip(slip_left, (closes, opens), strict=True)]
    lefts = {joint: middle_95(each) for joint, each in drawn.items()}
    return PoseOff(bends, lefts, length, slip, max(chances))


def _past(left: float, off: float) -> float:
    """Chance that nothing is left, where 95 of 100 are no farther off."""
    if not off > 0.0:
        return float(left <= 0.0)
    return float(ndtr(-left * SURE / off))
