"""One turn of the shaft: each joint's own spin, and where every part sits in the chassis."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import pi
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from geometry.head.turning import head_poses
from geometry.joint import rotations
from geometry.tolerances import TOL
from sim.cardan import Chain, chain
from sim.frames import FloatArray, bend_frame, dot, locked, pose, unit
from sim.front_section import shaft_drives
from sim.head.bend import carrying_drives
from sim.line.single import line
from sim.line.state import LineState
from sim.vehicle import RIDE, Joint, Pose, Vehicle

PARTS = (
    "output yoke",
    "output cross",
    "output shaft yoke",
    "shaft",
    "pinion shaft yoke",
    "pinion cross",
    "pinion yoke",
    "housing",
)
"""The parts of a shaft with single joints, by name; a head adds its center yoke and second cross,
such as "output center yoke" and "output second cross". On a two-piece shaft the yokes and cross at
the near end of the rear section are "middle yoke", "middle cross", "middle shaft yoke", and before
them come "output yoke", "output cross", "front section yoke". Yokes are posed in their yoke frame,
crosses in their cross frame; the shaft has x from its own first cross, its origin, toward the
pinion joint, and y along its output-end bores; the housing has frame A."""

TouchLimit = Callable[[FloatArray], FloatArray]
"""Touch bend (rad) of a joint at its own spin (rad)."""


@dataclass(frozen=True, eq=False)
class TurnState:
    """The shaft turned to some spin in some pose, batch first."""

    line: LineState
    spins: Mapping[Joint, FloatArray]
    """(...) spin of every joint from the output to the pinion, rad: turn of its driving yoke from
    the bores lying in the plane of the bend, right-handed about the yoke's own x axis."""
    X_C: Mapping[str, FloatArray]
    """Part name to its (..., 4, 4) pose in C, mm."""

    @property
    def turns(self) -> dict[Joint, tuple[FloatArray, FloatArray]]:
        """Bend and own spin (...) in rad of every joint, from the output to the pinion."""
        return {joint: (bend, self.spins[joint]) for joint, bend in self.line.bends.items()}


@dataclass(frozen=True, eq=False)
class JointAt:
    """A joint where the line of the shaft has it, batch first.

    Attributes
    ----------
    joint : which one.
    near, far : (..., 3) directions, toward the pinion, of what drives it and of what it drives.
    centre : (..., 3) mm, that of the ball of a head.
    bend : (...) rad.
    phase : turn (rad) of the bores at the far end of the shaft behind it against those here,
        right-handed about `far`.
    """

    joint: Joint
    near: FloatArray
    far: FloatArray
    centre: FloatArray
    bend: FloatArray
    phase: float = 0.0


def joints_at(vehicle: Vehicle, state: LineState) -> Iterator[JointAt]:
    """Every joint from the output to the pinion; those of a front section among them."""
    shape, section = state.shaft_axis_C.shape, vehicle.section
    if section is not None:
        near, far, centre = (
            np.broadcast_to(way, shape)
            for way in (-section.axis_C_output, section.axis_C, section.p_C_output)
        )
        yield JointAt("output", near, far, centre, state.bends["output"], section.phase)
    first, last = vehicle.ends
    near = np.broadcast_to(-vehicle.axis_C_output, shape)
    shaft, bends = state.shaft_axis_C, state.bends
    yield JointAt(first, near, shaft, state.p_C_output, bends[first], vehicle.phase)
    yield JointAt(last, shaft, state.axis_C_pinion, state.p_C_pinion, bends[last])


def turn(
    vehicle: Vehicle, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike, spin: ArrayLike
) -> TurnState:
    """Turn the shaft to `spin` (rad) in poses of the axle; everything broadcasts.

    `spin` is the turn of the output yoke from its bores lying in the output joint's bend plane,
    right-handed about the yoke's x axis (toward the transfer case); each shaft carries it on to
    the next joint. Where a joint is straight (below `geometry.tolerances.TOL.straight`) the
    vertical plane stands in for its bend plane.
    """
    t, r, w, s = np.broadcast_arrays(*(np.asarray(v, float) for v in (travel, roll, wrap, spin)))
    state = line(vehicle, t, r, w)
    spins: dict[Joint, FloatArray] = {}
    X_C: dict[str, FloatArray] = {}
    bores: FloatArray | None = None
    for at in joints_at(vehicle, state):
        R_CJ = bend_frame(-at.near, at.far, at.bend)
        spins[at.joint] = np.array(s) if bores is None else spin_of(bores, R_CJ)
        parts = _parts(vehicle, at, R_CJ, spins[at.joint])
        X_C |= parts
        *_, X_C_Driven = parts.values()
        driven = X_C_Driven[..., :3, 1]
        bores = np.cos(at.phase) * driven + np.sin(at.phase) * np.cross(at.far, driven)
    X_C["housing"] = vehicle.suspension.poses(t, r, w).X_CA
    return TurnState(
        state,
        MappingProxyType({joint: locked(spins[joint]) for joint in spins}),
        MappingProxyType({part: locked(X_C[part]) for part in X_C}),
    )


def still_spin(vehicle: Vehicle, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike) -> FloatArray:
    """Spin (...) in rad of an output yoke that is not turned at all, in poses that broadcast.

    Its bores lie level across the chassis. Spin counts from the plane of the bend, and that plane
    swings about the yoke as the axle moves; a yoke that stands still has another spin then.
    """
    at = next(joints_at(vehicle, line(vehicle, travel, roll, wrap)))
    x_axis = -np.asarray(at.near)
    level = unit(np.cross(x_axis, (0.0, 0.0, 1.0)))
    return spin_of(level, bend_frame(x_axis, at.far, at.bend))


def spin_of(bores: FloatArray, R_CJ: FloatArray) -> FloatArray:
    """Spin (...) in rad of a joint with frame R_CJ (..., 3, 3) whose driving bores lie so."""
    return np.asarray(np.arctan2(dot(bores, R_CJ[..., 2]), dot(bores, R_CJ[..., 1])))


def _parts(
    vehicle: Vehicle, at: JointAt, R_CJ: FloatArray, spin: FloatArray
) -> dict[str, FloatArray]:
    """Pose the parts of one joint, turned to its own `spin` (rad), the driven one last."""
    name, head = at.joint, vehicle.heads.get(at.joint)
    driving, driven = f"{name} yoke", f"{name} shaft yoke"
    if shaft_drives(name):
        driving, driven = driven, driving
    elif name in vehicle.still:
        driven = "front section yoke"
    if head is None:
        turned = rotations(at.bend, spin)
        X_C = {driving: turned.R_JD, f"{name} cross": turned.R_JX, driven: turned.R_JN}
        X_C = {part: pose(R_CJ @ R, at.centre) for part, R in X_C.items()}
    else:
        split, carries = head.split(at.bend), carrying_drives(name)
        behind = np.asarray(head.ball if carries else split.reach)
        placed = head_poses(*split.ordered(carries), spin, head.span)
        X_CH = pose(R_CJ, at.centre - behind[..., None] * at.near)
        X_C = {
            driving: X_CH @ placed.X_H_driving,
            f"{name} cross": X_CH @ placed.X_H_cross,
            f"{name} center yoke": X_CH @ placed.X_H_centre,
            f"{name} second cross": X_CH @ placed.X_H_second_cross,
            driven: X_CH @ placed.X_H_driven,
        }
    return X_C | ({"shaft": X_C[driven]} if name == vehicle.ends[0] else {})


@dataclass(frozen=True)
class FreeTurn:
    """Whether the shaft can be turned all the way round in one pose."""

    margin: float
    """Least room (rad) over the whole turn of all joints; negative where metal meets first."""
    joint: Joint
    """The joint with the least room."""
    spin: float
    """Turn of the output yoke (rad) at which it has the least room."""

    @property
    def free(self) -> bool:
        """Whether nothing touches over the whole turn."""
        return self.margin > 0.0


def free_turn(
    vehicle: Vehicle, at: Pose, touch: Mapping[Joint, TouchLimit], spins: int = 720
) -> FreeTurn:
    """Turn the shaft by hand through a whole turn in one pose, asking some joints at each spin.

    Each joint is compared with its touch bend at its own spin, which the joints before it and the
    phases decide; for the least room over a whole turn each joint meets its tightest spin anyway.
    """
    spin = np.arange(spins) * (2.0 * pi / spins)
    turned = turn(vehicle, at.travel, at.roll, at.wrap, spin).turns
    rooms: dict[Joint, FloatArray] = {}
    for name, limit in touch.items():
        bend, own = turned[name]
        rooms[name] = limit(own) - bend
    joint = min(rooms, key=lambda name: float(rooms[name].min()))
    tightest = int(np.argmin(rooms[joint]))
    return FreeTurn(float(rooms[joint][tightest]), joint, float(spin[tightest]))


def running(vehicle: Vehicle, at: Pose = RIDE) -> Chain:
    """Give the pinion yoke's turning over one even turn of the output, exactly."""
    axes, phases = shafts(vehicle, at)
    return chain(axes, phases)


def shafts(vehicle: Vehicle, at: Pose = RIDE) -> tuple[FloatArray, tuple[float, ...]]:
    """Directions (n + 1, 3) of all shafts from the output to the pinion, and their phases (n - 1).

    Every joint counts: the front section of a two-piece shaft, both crosses of a head.
    """
    axes: list[FloatArray] = []
    phases: list[float] = []
    for each in joints_at(vehicle, line(vehicle, at.travel, at.roll, at.wrap)):
        axes += [] if axes else [each.near]
        head = vehicle.heads.get(each.joint)
        if head is not None:
            first, _ = head.split(each.bend).ordered(carrying_drives(each.joint))
            axes.append(_between(each.near, each.far, first))
            phases.append(0.0)
        axes.append(each.far)
        phases.append(each.phase)
    return np.stack(axes), tuple(phases[:-1])


def _between(start: FloatArray, end: FloatArray, bend: FloatArray) -> FloatArray:
    """Direction (3,) bent by `bend` (rad) from `start` toward `end`, in their plane."""
    aside = end - dot(end, start) * start
    size = np.linalg.norm(aside)
    if size < TOL.straight:
        return start
    return np.cos(bend) * start + np.sin(bend) * aside / size


def limit_by_spin(spin: FloatArray, touch: FloatArray) -> TouchLimit:
    """Touch limit that runs straight between samples (n,) over a full turn, rad."""

    def limit(asked: FloatArray) -> FloatArray:
        value: FloatArray = np.interp(asked, spin, touch, period=2.0 * pi)
        return value

    return limit
