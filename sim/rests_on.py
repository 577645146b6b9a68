"""What a number of a check rests on: the assumed values that it comes out differently without.

Each value that nobody gave is put otherwise (`sim.rig.otherwise`), and what a finding is made of
is worked out again: a bend or the slip in the pose that was found, the shapes of a joint. At the
worst pose of a sweep a number moves with each value as the worst itself does, to first order; a
pose at an end of the travel moves along with that end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property, lru_cache
from math import degrees, nan
from typing import Any, Final, Literal

import numpy as np

from geometry.errors import BindpointError
from sim.around.outline import slip_in_shaft
from sim.derive import ride_height_of, vehicle_of
from sim.frames import FloatArray
from sim.line import line, running
from sim.rig import Assumed, Rig
from sim.rig.carrier import MiddleJoint
from sim.rig.choice import YokeChoice
from sim.rig.fitted import fitted_cross, fitted_head, fitted_yoke
from sim.rig.otherwise import otherwise
from sim.rig.shaft import End, Tube
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint, Pose, TravelRegion, Vehicle

SAME: Final = 1e-3
"""mm or deg. Less than that nobody is told, and what is lost to rounding and to the closing of
links stays far under it."""

ROLLS: Final = 33
"""Rolls at full droop that are asked where straps let go."""

AT_END: Final = 1e-6
"""mm or rad. A pose that a sweep found at an end of the travel is there but for rounding."""


class Stand:
    """A rig and its vehicle as they are, or with one assumed value put otherwise."""

    def __init__(self, rig: Rig, vehicle: Vehicle, ends: TravelRegion) -> None:
        """Ends of the travel as they are, from which poses are told to be at an end."""
        self.rig, self.vehicle, self._ends = rig, vehicle, ends

    def at(self, pose: Pose) -> Pose:
        """The same pose; where it is at an end of the travel, at that end of this vehicle's.

        Ends are those of the travel, corners among them, and those of roll and wrap at its height.
        """
        was, now = self._ends, self.vehicle.travel
        travel = pose.travel
        if len(was.kinks) == len(now.kinks):
            travel = _carried(travel, was.kinks, now.kinks)
        rolls = [float(box.roll_limit(at)) for box, at in ((was, pose.travel), (now, travel))]
        wraps = [box.wrap_limits(at) for box, at in ((was, pose.travel), (now, travel))]
        return Pose(
            travel,
            _carried(pose.roll, *((limit, -limit) for limit in rolls)),
            _carried(pose.wrap, *((float(low), float(high)) for low, high in wraps)),
        )

    def rivals(self, pose: Pose) -> FloatArray:
        """Where the worst that was found in a pose may be now, (3, n): travel mm, roll, wrap rad.

        With straps elsewhere the axle may roll at full droop as it could not before.
        """
        was, now = self._ends, self.vehicle.travel
        if was.droop_strap == now.droop_strap:
            return _column(self.at(pose))
        bottom = now.kinks[0]
        low, high = was.wrap_limits(pose.travel)
        there = now.wrap_limits(bottom)
        wrap = _carried(pose.wrap, (float(low), float(high)), tuple(float(end) for end in there))
        limit = float(now.roll_limit(bottom))
        rolls = np.linspace(-limit, limit, ROLLS)
        let_go = np.stack([np.full(ROLLS, bottom), rolls, np.full(ROLLS, wrap)])
        return np.concatenate([_column(pose), let_go], axis=1)


Number = Callable[[Stand], Any]
"""A number, several, or shapes of a rig as it stands, to be compared."""


def _column(pose: Pose) -> FloatArray:
    return np.array([[pose.travel], [pose.roll], [pose.wrap]])


def _carried(value: float, was: Sequence[float], now: Sequence[float]) -> float:
    """The end that a value is at, as it is now; a value that is at none stays."""
    for end, other in zip(was, now, strict=True):
        if abs(value - end) <= AT_END:
            return other
    return value


class Basis:
    """Tells for any number of a check on which assumed values it rests."""

    def __init__(self, rig: Rig, vehicle: Vehicle) -> None:
        self._rig, self._vehicle = rig, vehicle

    @cached_property
    def _as_it_is(self) -> Stand:
        return Stand(self._rig, self._vehicle, self._vehicle.travel)

    @cached_property
    def _otherwise(self) -> tuple[tuple[str, Stand], ...]:
        return tuple(self._stands())

    def _stands(self) -> Iterator[tuple[str, Stand]]:
        for key, rig in otherwise(self._rig):
            try:
                yield key, Stand(rig, vehicle_of(rig), self._vehicle.travel)
            except BindpointError:  # cannot be otherwise in this way
                continue

    def of(self, *numbers: Number) -> tuple[Assumed, ...]:
        """Which assumed values any of these numbers rests on, in the order of the file."""
        base = [(number, number(self._as_it_is)) for number in numbers]
        moving = {
            key
            for key, stand in self._otherwise
            if not all(_same(number, was, stand) for number, was in base)
        }
        return tuple(each for each in self._rig.assumed if each.key in moving)


def where(counts: bool, number: Number) -> tuple[Number, ...]:
    """The number where it counts, to rest on."""
    return (number,) if counts else ()


def _same(number: Number, was: Any, stand: Stand) -> bool:
    try:
        now = number(stand)
    except BindpointError:  # parts that do not go together are other parts
        return False
    if isinstance(was, float | np.ndarray):
        return bool(np.allclose(was, now, rtol=0.0, atol=SAME, equal_nan=True))
    return bool(was == now)


def bend(joint: Joint, at: Pose, is_worst: bool = False) -> Number:
    """Bend (deg) of a joint in a pose; is_worst : whether that is where it is the most."""

    def number(stand: Stand) -> float:
        poses = stand.rivals(at) if is_worst else _column(stand.at(at))
        return degrees(_most(line(stand.vehicle, *poses).bends[joint]))

    return number


def _most(values: FloatArray) -> float:
    """The most of values of which some may be out of reach; nan where all are."""
    reached = values[np.isfinite(values)]
    return float(reached.max()) if reached.size else nan


def slip(at: Pose, way: Literal["closes", "opens"]) -> Number:
    """How far the slip closes or opens (mm from ride height) in the pose where it does the most."""
    sense = 1.0 if way == "opens" else -1.0

    def number(stand: Stand) -> float:
        return _most(sense * line(stand.vehicle, *stand.rivals(at)).slip)

    return number


def centres(at: Pose, seen_from_axle: bool = False) -> Number:
    """Both ends of the shaft (2, 3) in a pose, mm in C or in A."""

    def number(stand: Stand) -> Any:
        pose = stand.at(at)
        state = line(stand.vehicle, pose.travel, pose.roll, pose.wrap)
        ends = np.stack([state.p_C_output, state.p_C_pinion])
        if not seen_from_axle:
            return ends
        axle = stand.vehicle.suspension.poses(pose.travel, pose.roll, pose.wrap)
        return (ends - axle.p_C_A) @ axle.R_CA

    return number


def housing(at: Pose) -> Number:
    """Where the axle's housing is in a pose, mm: its centre, and points a metre along its axes."""

    def number(stand: Stand) -> Any:
        pose = stand.at(at)
        axle = stand.vehicle.suspension.poses(pose.travel, pose.roll, pose.wrap)
        return np.stack([axle.p_C_A, *(axle.p_C_A + 1000.0 * axle.R_CA.T)])

    return number


def aim(stand: Stand) -> float:
    """How far (deg) the pinion points off the shaft at ride height, seen from the side."""
    return degrees(ride_height_of(stand.rig).down - stand.rig.axle.up)


def unevenness(stand: Stand) -> float:
    """Bend (deg) of the one joint that is as uneven as the whole shaft at ride height."""
    return degrees(running(stand.vehicle).like_one_joint)


def thickness(joint: Joint | None) -> Number:
    """What decides how thick the shaft is at a joint, or along tube and slip."""
    return shapes(joint) if joint is not None else _between


def _between(stand: Stand) -> Any:
    """Shape of the slip with its tube; of a shaft without, its tube's diameter, mm."""
    tube = stand.rig.shaft.tube
    if stand.vehicle.slip.at != "shaft":
        return tube.outside.mm
    size = tube.outside.mm, tube.wall.mm
    return slip_in_shaft(
        fitted_cross(stand.rig.shaft.pinion_end.cross).name, size, stand.vehicle.slip
    )


def shapes(joint: Joint) -> Number:
    """Everything that the parts of a joint are built from."""

    def number(stand: Stand) -> Any:
        return _shapes(typed_joint(stand.rig, joint).typed, stand.rig.shaft.tube)

    return number


@lru_cache(maxsize=256)
def _shapes(end: End | MiddleJoint, tube: Tube) -> tuple[Any, ...]:
    """Shapes of the head, or of cross and yokes; of a yoke from a mesh file what the rig says."""
    if not isinstance(end, MiddleJoint):
        head = fitted_head(end, tube)
        if head is not None:
            return (head,)
    cross = fitted_cross(end.cross)
    yokes: list[YokeChoice] = [getattr(end, key) for key in end.yokes]
    return cross, *(yoke if yoke.is_own else fitted_yoke(yoke, cross, tube) for yoke in yokes)
