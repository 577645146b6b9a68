"""A vehicle in the few poses that tell the worst, and where something first touches.

They are a ladder of heights (`sim.bars.poses`) and the worst poses that a sweep of the rig as it is
found, moved along with the ends of the travel.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, isfinite, nan
from typing import Final, Literal

import numpy as np

from sim.bars.poses import first_height, ladder
from sim.frames import FloatArray
from sim.line import line
from sim.vehicle import Joint, Vehicle

What = Literal["bend", "ride", "shortest", "longest", "closes", "opens", "apart", "reach", "near"]

Of = tuple[What, str | None]
"""What is looked at, and of which joint or thing: a joint's worst bend and its bend at ride height,
rad; how short and long the slip gets, mm from ride height; what it has both ways and until it comes
apart, mm; 1 where every pose is reached and -1 where one is not; the gap to a thing near the shaft,
mm, below zero how deep it meets."""

NUMBERS: Final = 6
"""Of each: its value, the pose of that, and the heights at which it is first past its limit, by any
roll and wrap, and level without wrap; nan where there are none."""

VALUE, FIRST, LEVEL = 0, 4, 5
POSE: Final = slice(1, 4)


def looked_at(vehicle: Vehicle, near: Sequence[str]) -> tuple[Of, ...]:
    """What is looked at of a vehicle with things near it, in order."""
    slip = vehicle.slip
    has: tuple[tuple[What, float | None], ...] = (
        ("closes", slip.closes),
        ("opens", slip.opens),
        ("apart", slip.comes_apart),
    )
    return (
        *(("bend", joint) for joint in vehicle.joints),
        *(("ride", joint) for joint in vehicle.joints),
        ("shortest", None),
        ("longest", None),
        *((what, None) for what, far in has if far is not None and isfinite(far)),
        ("reach", None),
        *(("near", name) for name in near),
    )


def look(vehicle: Vehicle, also: FloatArray, clear: dict[Joint, float]) -> FloatArray:
    """Everything of `looked_at` but what is near, (m, `NUMBERS`).

    also : poses (n, 3) to look at besides the ladder.
    clear : rad, bend at which each joint touches.
    """
    return np.array(_Look(vehicle, also, clear).all)


class _Look:
    def __init__(self, vehicle: Vehicle, also: FloatArray, clear: dict[Joint, float]) -> None:
        self.vehicle, self.clear = vehicle, clear
        self.ladder = ladder(vehicle.travel)
        steps, rolls, _ = self.ladder.poses.shape
        self.rungs = steps, rolls
        self.poses = np.concatenate([self.ladder.poses.reshape(-1, 3), also])
        self.state = line(vehicle, *self.poses.T)
        self.reached = self.state.reachable

    @property
    def all(self) -> list[list[float]]:
        """Every row."""
        bends, ride = self.state.bends, self.ladder.ride * self.rungs[1]
        return [
            *(self._most(bend, self.clear[joint]) for joint, bend in bends.items()),
            *(_plain(float(bend[ride])) for bend in bends.values()),
            *(self._of(what) for what, of in looked_at(self.vehicle, ()) if of is None),
        ]

    def _of(self, what: What) -> list[float]:
        slip = self.vehicle.slip
        if what == "longest":
            return self._most(self.state.slip, slip.opens)
        if what == "shortest":
            told = self._most(-self.state.slip, slip.closes)
            told[VALUE] = -told[VALUE]
            return told
        if what == "reach":
            return _plain(1.0 if bool(self.reached.all()) else -1.0)
        has = {"closes": slip.closes, "opens": slip.opens, "apart": slip.comes_apart}[what]
        return _plain(nan if has is None else has)

    def _most(self, values: FloatArray, limit: float) -> list[float]:
        """The most of values (n,) in the poses, and where they are first past a limit."""
        known = np.where(self.reached, values, -inf)
        top = int(known.argmax())
        count = self.rungs[0] * self.rungs[1]
        steps = known[:count].reshape(self.rungs)
        return [
            float(known[top]),
            *map(float, self.poses[top]),
            first_height(self.ladder, steps.max(axis=1) - limit),
            first_height(self.ladder, steps[:, 0] - limit),
        ]


def _plain(value: float) -> list[float]:
    return [value, *[nan] * (NUMBERS - 1)]
