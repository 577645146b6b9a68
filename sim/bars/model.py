"""What a rig comes to when everything that may be off is, draw by draw.

A draw puts every source off by so many of its deviations, builds the vehicle of that rig and looks
at it in few poses: a ladder of heights, and the worst poses that the sweep of the rig as it is
found, moved along with the ends of the travel. Joints touch where their shape has it by the same
draw. What a look misses of a whole sweep at the numbers as they are is added to every draw, so that
the middle is exactly what the check says.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import inf, isfinite, nan
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.errors import BindpointError
from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars.poses import first_height, ladder
from sim.bench.shape import Free, Shape
from sim.derive import vehicle_of
from sim.findings import Code
from sim.frames import FloatArray
from sim.line import line
from sim.rests_on import Stand
from sim.rig import Rig
from sim.vehicle import Joint, Pose, Vehicle

Flags = NDArray[np.bool_]

Key = tuple[Code, str]
"""Code and subject of a finding."""

POSE: Final = 3
"""Numbers of a pose: travel mm, roll and wrap rad."""

LEAST: Final = 1e-6
"""rad. Bend between touching and a gap wanted of hardly anything; keeps the numbers finite."""

NUMBERS: Final = 7
"""Of each finding of a draw: what is left, the worst value, its pose, first and level height."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """What n draws come to.

    Attributes
    ----------
    left : (n,) by finding, how far from touching or running out, mm or rad; 0 and less is past it.
        Of `out-of-reach` 1 or -1. nan where the rig cannot be.
    worst : (n,) by finding, its worst value, mm or rad.
    at : (n, 3) by finding, the pose of that: travel mm, roll and wrap rad.
    first, level : (n,) by finding, height (mm) at which it first touches or runs out, by any roll
        and wrap, and with none; nan where it does not.
    possible : (n,) whether the rig can be.
    """

    left: Mapping[Key, FloatArray]
    worst: Mapping[Key, FloatArray]
    at: Mapping[Key, FloatArray]
    first: Mapping[Key, FloatArray]
    level: Mapping[Key, FloatArray]
    possible: Flags


@dataclass(frozen=True, eq=False)
class Model:
    """A rig with all that may be off.

    Columns of a draw are standard normals, independent of each other: first one for each source
    that is not a matter of a joint's shape, in the order of their keys, then those of each shape.
    So what is drawn with a seed does not depend on the order of the sources.

    Attributes
    ----------
    found : what the rig as it is comes to.
    sources : what may be off; those of a joint that has a shape are in its shape.
    shapes : of each joint whose parts may be off.
    """

    found: Assessment
    sources: tuple[Source, ...]
    shapes: Mapping[Joint, Shape] = field(default_factory=dict)

    @cached_property
    def moving(self) -> tuple[Source, ...]:
        """Sources that are a column of their own, in the order of the columns."""
        mine = [each for each in self.sources if each.joint not in self.shapes]
        return tuple(sorted(mine, key=lambda each: each.key))

    @cached_property
    def free(self) -> tuple[Free, ...]:
        """Dimensions of the shapes, in the order of the columns behind the sources."""
        return tuple(each for joint in sorted(self.shapes) for each in self.shapes[joint].free)

    @property
    def keys(self) -> tuple[str, ...]:
        """Key path of every column."""
        return (*(each.key for each in self.moving), *(each.key for each in self.free))

    def margins(self, z: FloatArray) -> Mapping[Key, FloatArray]:
        """How far from touching (n,), mm or rad by finding, draws `z` (n, k) are; see `Drawn`."""
        return self.drawn(z).left

    def drawn(self, z: FloatArray) -> Drawn:
        """Everything that draws `z` (n, k) come to."""
        return self.told(self.rows(z))

    def rows(self, z: FloatArray) -> FloatArray:
        """The same as bare numbers (n, findings, `NUMBERS`), nan where a rig cannot be."""
        rows = self._looked(np.asarray(z, dtype=np.float64))
        return rows + self._missed

    @property
    def asked(self) -> tuple[Key, ...]:
        """Findings that are asked for, in the order of the rows."""
        return tuple(self._asked())

    def told(self, rows: FloatArray) -> Drawn:
        """Rows by name."""
        named = dict(zip(self.asked, np.moveaxis(rows, 1, 0), strict=True))
        return Drawn(
            left={key: each[:, 0] for key, each in named.items()},
            worst={key: each[:, 1] for key, each in named.items()},
            at={key: each[:, 2:5] for key, each in named.items()},
            first={key: each[:, 5] for key, each in named.items()},
            level={key: each[:, 6] for key, each in named.items()},
            possible=np.asarray(np.isfinite(rows[:, :, 0]).all(axis=1)),
        )

    def rig(self, z: FloatArray) -> Rig:
        """The rig of one draw (k,); shapes of joints stay as they are.

        Raises BindpointError where it cannot be.
        """
        rig = self.found.rig
        for source, off in zip(self.moving, z, strict=False):
            rig = source.put(rig, float(off) * source.deviation)
        return rig

    def limits(self, z: FloatArray) -> dict[Joint, tuple[FloatArray, FloatArray]]:
        """Bend (rad) at which each joint touches, and that which leaves the gap wanted, (n,)."""
        limits: dict[Joint, tuple[FloatArray, FloatArray]] = {}
        for joint, each in self.found.joints.items():
            room, none = each.room, np.zeros(len(z))
            clear, keeps = none + room.clear, none + room.keeps.certified_clear
            if joint in self.shapes:
                shape, mine = self.shapes[joint], z[:, self._columns(joint)]
                middle = np.zeros((1, mine.shape[1]))
                clear += shape.clear(mine) - shape.clear(middle)
                keeps += shape.keeps(mine) - shape.keeps(middle)
            limits[joint] = clear, np.minimum(keeps, clear)
        return limits

    def _columns(self, joint: Joint) -> slice:
        """Columns of the shape of a joint."""
        start = len(self.moving)
        for each in sorted(self.shapes):
            stop = start + len(self.shapes[each].free)
            if each == joint:
                return slice(start, stop)
            start = stop
        return slice(start, start)

    def _asked(self) -> Iterator[Key]:
        slip = self.found.vehicle.slip
        for joint in self.found.joints:
            yield "joint-bend", joint
            if self.found.rig.wanted.gap.mm > 0.0:
                yield "joint-gap", joint
        if isfinite(slip.closes):
            yield "slip-closes", "slip"
        if isfinite(slip.opens):
            yield "slip-opens", "slip"
        if slip.comes_apart is not None:
            yield "slip-comes-apart", "slip"
        yield "turns-at-ride", "axle"
        yield "out-of-reach", "axle"

    def _looked(self, z: FloatArray) -> FloatArray:
        """Rows by looks alone."""
        limits, asked = self.limits(z), self.asked
        rows = np.full((len(z), len(asked), NUMBERS), nan)
        for number, draw in enumerate(z):
            mine = {joint: (float(a[number]), float(b[number])) for joint, (a, b) in limits.items()}
            try:
                rig = self.rig(draw)
                vehicle = vehicle_of(rig)
            except BindpointError:
                continue
            look = Look(vehicle, self._also(rig, vehicle), mine, rig.wanted.gap.mm)
            rows[number] = [look.of(key) for key in asked]
        return rows

    def _also(self, rig: Rig, vehicle: Vehicle) -> FloatArray:
        """Poses (n, 3) that the sweep of the rig as it is found the worst, moved along."""
        stand = Stand(rig, vehicle, self.found.vehicle.travel)
        return np.concatenate([stand.rivals(at).T for at in self._worst])

    @cached_property
    def _worst(self) -> tuple[Pose, ...]:
        swept = self.found.swept
        bends = [swept.joints[joint].most.at for joint in self.found.vehicle.ends]
        return tuple(dict.fromkeys([*bends, swept.slip.shortest.at, swept.slip.longest.at]))

    @cached_property
    def _missed(self) -> FloatArray:
        """(findings, `NUMBERS`) what a look at the rig as it is misses of its check."""
        looked = self._looked(np.zeros((1, len(self.keys))))[0]
        off = np.zeros(looked.shape)
        for row, (code, subject) in enumerate(self.asked):
            left, first = self._checked(code, subject)
            if isfinite(left):
                off[row, 0] = left - looked[row, 0]
                off[row, 1] = -off[row, 0] if code != "joint-gap" else off[row, 0]
            if isfinite(first) and isfinite(looked[row, 5]):
                off[row, 5] = first - looked[row, 5]
        return off

    def _checked(self, code: Code, subject: str) -> tuple[float, float]:
        """What is left (mm or rad) by the check, and the height of first contact; nan if none."""
        moved = self.found.swept.slip
        if code == "slip-closes":
            return moved.closes_left, nan
        if code == "slip-opens":
            return moved.opens_left, nan
        if code == "slip-comes-apart":
            return moved.apart_left if moved.apart_left is not None else nan, nan
        if code in {"joint-bend", "joint-gap"}:
            joint = next(each for each in self.found.joints if each == subject)
            found = self.found.joints[joint]
            if code == "joint-gap":
                gap = found.gap.distance
                return (gap if 0.0 < gap < self.found.rig.wanted.gap.mm else nan), nan
            first = found.first if found.margin <= 0.0 else None
            return found.margin, nan if first is None else first.travel
        return nan, nan


class Look:
    """One vehicle in the poses that are looked at."""

    def __init__(
        self,
        vehicle: Vehicle,
        also: FloatArray,
        limits: Mapping[Joint, tuple[float, float]],
        gap: float,
    ) -> None:
        """Poses (n, 3) to look at besides the ladder; limits of the bends, rad; gap wanted, mm."""
        self.slip, self.limits, self.gap = vehicle.slip, limits, gap
        self.rungs = ladder(vehicle.travel)
        shape = self.rungs.poses.shape[:2]
        self.poses = np.concatenate([self.rungs.poses.reshape(-1, POSE), also])
        state = line(vehicle, *self.poses.T)
        self.reached = state.reachable
        self.bends, self.opens = state.bends, state.slip
        self.shape, self.count = shape, shape[0] * shape[1]

    def of(self, key: Key) -> list[float]:
        """Left, worst, its pose, first and level of a finding."""
        code, subject = key
        if code == "out-of-reach":
            return [1.0 if bool(self.reached.all()) else -1.0, *[nan] * (NUMBERS - 1)]
        if code == "turns-at-ride":
            ride = self.rungs.ride * self.shape[1]
            left, bend = min(
                (limit - float(self.bends[joint][ride]), float(self.bends[joint][ride]))
                for joint, (limit, _) in self.limits.items()
            )
            return [left, bend, 0.0, 0.0, 0.0, nan, nan]
        if code == "slip-closes":
            return self._past(-self.opens, self.slip.closes)
        if code == "slip-opens":
            return self._past(self.opens, self.slip.opens)
        if code == "slip-comes-apart":
            apart = self.slip.comes_apart
            return self._past(self.opens, inf if apart is None else apart)
        joint = next(each for each in self.limits if each == subject)
        clear, keeps = self.limits[joint]
        told = self._past(self.bends[joint], clear)
        if code == "joint-gap":
            # Between the two certified bends the gap falls in a straight line, nearly.
            told[0] *= self.gap / max(clear - keeps, LEAST)
            told[1] = told[0]
        return told

    def _past(self, values: FloatArray, limit: float) -> list[float]:
        """Numbers of something (n,) that touches or runs out at a limit."""
        known = np.where(self.reached, values, -inf)
        top = int(known.argmax())
        steps = known[: self.count].reshape(self.shape)
        return [
            limit - float(known[top]),
            float(known[top]),
            *map(float, self.poses[top]),
            first_height(self.rungs, steps.max(axis=1) - limit),
            first_height(self.rungs, steps[:, 0] - limit),
        ]
