"""What is computed for everything seen, whatever of the rig and of what was seen is off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from geometry.errors import BindpointError
from sim.accuracy.source import SURE, Source
from sim.bars.poses import ladder
from sim.bench.shape import Free, Shape
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig
from sim.search.envelope import envelope
from sim.truck.observed import Axis, Observed
from sim.vehicle import Joint, Vehicle


@dataclass(frozen=True)
class Doubtful:
    """One number that may be off.

    Attributes
    ----------
    key : its key path; value : as it is; unit : of both.
    off : 95 of 100 are no farther off.
    source : how it is put into the rig; None of a dimension or of what was seen.
    own : which observation it is of, and what of it; None of the rig's own numbers.
    """

    key: str
    value: float
    unit: str
    off: float
    source: Source | None = None
    own: tuple[int, Axis] | None = None

    @property
    def deviation(self) -> float:
        """One standard deviation, in its unit."""
        return self.off / SURE


@dataclass(frozen=True, eq=False)
class Numbers:
    """What is computed for some things seen.

    Draws are standard normals `z` (k,), one for each of `doubtful`: the rig's own numbers, the
    dimensions of its yokes, and those of what was seen.

    Attributes
    ----------
    rig : as it is.
    observed : what was seen, m.
    sources : numbers of the rig that may be off.
    shapes : of the joints whose yokes may be off.
    clear : rad, certified clear bend of every joint.
    """

    rig: Rig
    observed: tuple[Observed, ...]
    sources: tuple[Source, ...]
    shapes: Mapping[Joint, Shape] = field(default_factory=dict)
    clear: Mapping[Joint, float] = field(default_factory=dict)

    @cached_property
    def moving(self) -> tuple[Source, ...]:
        """Sources that no shape has in it, in the order of their keys."""
        mine = [each for each in self.sources if each.joint not in self.shapes]
        return tuple(sorted(mine, key=lambda each: each.key))

    @cached_property
    def shaped(self) -> tuple[tuple[Joint, Free], ...]:
        """Dimensions in doubt, each with its joint."""
        return tuple(
            (joint, free) for joint in sorted(self.shapes) for free in self.shapes[joint].free
        )

    @cached_property
    def doubtful(self) -> tuple[Doubtful, ...]:
        """Everything that may be off, in the order of a draw."""
        rigs = [Doubtful(s.key, s.value, s.unit, s.off, source=s) for s in self.moving]
        yokes = [Doubtful(free.key, free.value, "mm", free.off) for _, free in self.shaped]
        seen = [
            Doubtful(key, value, "mm" if axis in ("at", "seen") else "rad", off, own=(place, axis))
            for place, each in enumerate(self.observed)
            for axis, key, value, off in each.offs(self.rig.measured_with)
        ]
        return (*rigs, *yokes, *seen)

    @cached_property
    def own(self) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        """Which of `doubtful` (k,) are of what was seen."""
        return np.array([each.own is not None for each in self.doubtful], dtype=bool)

    def past(self, z: FloatArray) -> FloatArray:
        """By how much (m,) the computed is over the seen, mm or rad; nan where none can be."""
        rig = self.rig
        try:
            for source, off in zip(self.moving, z, strict=False):
                if off:
                    rig = source.put(rig, float(off) * source.deviation)
            vehicle = vehicle_of(rig)
        except BindpointError:
            return np.full(len(self.observed), np.nan)
        return self._past(vehicle, z) + self._missed

    @cached_property
    def slopes(self) -> FloatArray:
        """Change (m, k) of `past` with one deviation more of each, halfway between both sides.

        Where a rig cannot be one way, the other way's; where it can be neither way, none.
        """
        return self.slopes_at(np.zeros(len(self.doubtful)))

    @cached_property
    def spread(self) -> FloatArray:
        """One standard deviation (m,) of `past`, of everything; above zero."""
        return np.asarray(np.sqrt(np.sum(self.slopes**2, axis=1)) + 1e-12)

    def slopes_at(self, z: FloatArray) -> FloatArray:
        """The same about a draw."""
        middle = self.past(z)
        slopes = np.zeros((len(self.observed), len(self.doubtful)))
        for column, step in enumerate(np.eye(len(self.doubtful))):
            up, down = self.past(z + step) - middle, middle - self.past(z - step)
            up, down = np.where(np.isnan(up), down, up), np.where(np.isnan(down), up, down)
            slopes[:, column] = np.nan_to_num(0.5 * (up + down))
        return slopes

    def _past(self, vehicle: Vehicle, z: FloatArray) -> FloatArray:
        offs = self._offs(z)
        clear = self._clear(z)
        poses = np.array([self._pose(place, offs) for place in range(len(self.observed))])
        state = line(vehicle, *poses.T.reshape(3, -1))
        past = np.empty(len(self.observed))
        run: tuple[float, float] | None = None
        for place, each in enumerate(self.observed):
            slip = float(state.slip[place])
            if each.what == "turned":
                joints = state.bends if each.joint is None else (each.joint,)
                past[place] = max(float(state.bends[j][place]) - clear[j] for j in joints)
                continue
            if each.at is None:
                run = run or _run(vehicle)
                slip = run[1] if each.what == "paint_ran" else -run[0]
            elif each.what == "slip_closed":
                slip = -slip
            past[place] = slip - each.seen - offs.get((place, "seen"), 0.0)
        return past

    def _pose(
        self, place: int, offs: Mapping[tuple[int, Axis], float]
    ) -> tuple[float, float, float]:
        at = self.observed[place].at
        if at is None:
            return 0.0, 0.0, 0.0
        ways: tuple[tuple[Axis, float], ...] = (
            ("at", at.travel),
            ("roll", at.roll),
            ("wrap", at.wrap),
        )
        travel, roll, wrap = (value + offs.get((place, axis), 0.0) for axis, value in ways)
        return travel, roll, wrap

    def _offs(self, z: FloatArray) -> dict[tuple[int, Axis], float]:
        """How far off (mm, rad) what was seen is in a draw."""
        return {
            each.own: float(off) * each.deviation
            for each, off in zip(self.doubtful, z, strict=True)
            if each.own is not None and off
        }

    def _clear(self, z: FloatArray) -> dict[Joint, float]:
        """Bend (rad) at which each joint touches in a draw."""
        clear = dict(self.clear)
        start = len(self.moving)
        for joint in sorted(self.shapes):
            shape = self.shapes[joint]
            mine = z[start : start + len(shape.free)]
            start += len(shape.free)
            if joint in clear and np.any(mine):
                both = shape.clear(np.stack([mine, np.zeros_like(mine)]))
                clear[joint] += float(both[0] - both[1])
        return clear

    @cached_property
    def _missed(self) -> FloatArray:
        """What a look at few poses of the travel misses of a whole sweep, of paint (m,)."""
        missed = np.zeros(len(self.observed))
        if any(each.at is None for each in self.observed):
            vehicle = vehicle_of(self.rig)
            shortest, longest = _run(vehicle)
            slip = envelope(vehicle).slip
            for place, each in enumerate(self.observed):
                if each.what == "paint_ran":
                    missed[place] = slip.longest.value - longest
                elif each.what == "paint_ran_in":
                    missed[place] = shortest - slip.shortest.value
        return missed


def _run(vehicle: Vehicle) -> tuple[float, float]:
    """How short and how long the slip gets over a ladder of heights, mm from ride height."""
    slip = line(vehicle, *ladder(vehicle.travel).poses.reshape(-1, 3).T).slip
    known = slip[np.isfinite(slip)]
    return (float(known.min()), float(known.max())) if len(known) else (np.nan, np.nan)
