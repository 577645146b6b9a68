"""One turn of the shaft: each joint's own spin, and where every part sits in the chassis."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import pi
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from geometry.head.turning import head_poses
from geometry.joint import rotations
from geometry.tolerances import TOL
from sim.cardan import Chain, chain
from sim.frames import FloatArray, bend_frame, dot, locked, pose
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
"""The parts of a shaft with single joints, by name; a head adds its centre yoke and second cross,
such as "output centre yoke" and "output second cross". On a two-piece shaft the yokes and cross at
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
    output_spin: FloatArray
    """(...) spin of the output joint, rad: turn of the output yoke from its bores lying in the
    plane of the bend, right-handed about the yoke's own x axis."""
    first_spin: FloatArray
    """(...) spin of the joint at the near end of the shaft, rad: that of the output joint, or on a
    two-piece shaft of the middle joint, whose driving yoke is on the front section."""
    pinion_spin: FloatArray
    """(...) spin of the pinion joint, rad in [-pi, pi]: the same for the shaft's yoke there."""
    X_C: Mapping[str, FloatArray]
    """Part name to its (..., 4, 4) pose in C, mm."""


def turn(
    vehicle: Vehicle, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike, spin: ArrayLike
) -> TurnState:
    """Turn the shaft to `spin` (rad) in poses of the axle; everything broadcasts.

    `spin` is the turn of the output yoke from its bores lying in the output joint's bend plane,
    right-handed about the yoke's x axis (toward the transfer case), also where a front section
    carries it on to the middle joint. Where a joint is straight (below
    `geometry.tolerances.TOL.straight`) the vertical plane stands in for its bend plane.
    """
    t, r, w, s = np.broadcast_arrays(*(np.asarray(v, float) for v in (travel, roll, wrap, spin)))
    state = line(vehicle, t, r, w)
    u = state.shaft_axis_C
    R_CJ = bend_frame(np.broadcast_to(vehicle.axis_C_output, u.shape), u, state.output_bend)
    first_spin, section = s, vehicle.section
    X_C: dict[str, FloatArray] = {}
    if section is not None:
        first_spin = spin_of(section.middle_bores(s), R_CJ)
        X_C = section.poses(s)
    X_C |= _first_parts(vehicle, state, R_CJ, first_spin)
    bores = X_C["shaft"][..., :3, 1]
    pinion_bores = np.cos(vehicle.phase) * bores + np.sin(vehicle.phase) * np.cross(u, bores)
    R_CK = bend_frame(-u, state.axis_C_pinion, state.pinion_bend)
    pinion_spin = spin_of(pinion_bores, R_CK)
    X_C |= _pinion_parts(vehicle, state, R_CK, pinion_spin)
    X_C["housing"] = vehicle.suspension.poses(t, r, w).X_CA
    return TurnState(
        state,
        locked(np.array(s)),
        locked(np.array(first_spin)),
        locked(pinion_spin),
        MappingProxyType({part: locked(X_C[part]) for part in X_C}),
    )


def spin_of(bores: FloatArray, R_CJ: FloatArray) -> FloatArray:
    """Spin (...) in rad of a joint with frame R_CJ (..., 3, 3) whose driving bores lie so."""
    return np.asarray(np.arctan2(dot(bores, R_CJ[..., 2]), dot(bores, R_CJ[..., 1])))


def _first_parts(
    vehicle: Vehicle, state: LineState, R_CJ: FloatArray, spin: FloatArray
) -> dict[str, FloatArray]:
    """Pose the parts at the near end of the shaft, whose joint is turned to its own `spin`."""
    head, name = vehicle.output_head, vehicle.ends[0]
    if head is None:
        output = rotations(state.output_bend, spin)
        X_C_Shaft = pose(R_CJ @ output.R_JN, state.p_C_output)
        return {
            f"{name} yoke": pose(R_CJ @ output.R_JD, state.p_C_output),
            f"{name} cross": pose(R_CJ @ output.R_JX, state.p_C_output),
            f"{name} shaft yoke": X_C_Shaft,
            "shaft": X_C_Shaft,
        }
    split = head.split(state.output_bend)
    placed = head_poses(split.fixed, split.sliding, spin, head.span)
    X_CH = pose(R_CJ, state.p_C_output + head.ball * vehicle.axis_C_output)
    X_C_Shaft = X_CH @ placed.X_H_driven
    return {
        "output yoke": X_CH @ placed.X_H_driving,
        "output cross": X_CH @ placed.X_H_cross,
        "output centre yoke": X_CH @ placed.X_H_centre,
        "output second cross": X_CH @ placed.X_H_second_cross,
        "output shaft yoke": X_C_Shaft,
        "shaft": X_C_Shaft,
    }


def _pinion_parts(
    vehicle: Vehicle, state: LineState, R_CK: FloatArray, spin: FloatArray
) -> dict[str, FloatArray]:
    head = vehicle.pinion_head
    if head is None:
        pinion = rotations(state.pinion_bend, spin)
        return {
            "pinion shaft yoke": pose(R_CK @ pinion.R_JD, state.p_C_pinion),
            "pinion cross": pose(R_CK @ pinion.R_JX, state.p_C_pinion),
            "pinion yoke": pose(R_CK @ pinion.R_JN, state.p_C_pinion),
        }
    split = head.split(state.pinion_bend)
    placed = head_poses(split.sliding, split.fixed, spin, head.span)
    own_cross = state.p_C_pinion - split.reach[..., None] * state.shaft_axis_C
    X_CH = pose(R_CK, own_cross)
    return {
        "pinion shaft yoke": X_CH @ placed.X_H_driving,
        "pinion cross": X_CH @ placed.X_H_cross,
        "pinion centre yoke": X_CH @ placed.X_H_centre,
        "pinion second cross": X_CH @ placed.X_H_second_cross,
        "pinion yoke": X_CH @ placed.X_H_driven,
    }


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


def own_turns(vehicle: Vehicle, state: TurnState) -> dict[Joint, tuple[FloatArray, FloatArray]]:
    """Bend and own spin (...) in rad of every joint, from the output to the pinion."""
    spins = dict.fromkeys(vehicle.still, state.output_spin) | dict(
        zip(vehicle.ends, (state.first_spin, state.pinion_spin), strict=True)
    )
    return {joint: (bend, spins[joint]) for joint, bend in state.line.bends.items()}


def free_turn(
    vehicle: Vehicle, at: Pose, touch: Mapping[Joint, TouchLimit], spins: int = 720
) -> FreeTurn:
    """Turn the shaft by hand through a whole turn in one pose, asking some joints at each spin.

    Each joint is compared with its touch bend at its own spin, which the joints before it and the
    phases decide; for the least room over a whole turn each joint meets its tightest spin anyway.
    """
    spin = np.arange(spins) * (2.0 * pi / spins)
    turned = own_turns(vehicle, turn(vehicle, at.travel, at.roll, at.wrap, spin))
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
    state = line(vehicle, at.travel, at.roll, at.wrap)
    axes, phases = [-vehicle.axis_C_output], [vehicle.phase]
    if vehicle.section is not None:
        axes.insert(0, -vehicle.section.axis_C_output)
        phases.insert(0, vehicle.section.phase)
    if vehicle.output_head is not None:
        share = vehicle.output_head.split(state.output_bend)
        axes.append(_between(axes[-1], state.shaft_axis_C, share.fixed))
        phases.insert(-1, 0.0)
    axes.append(state.shaft_axis_C)
    if vehicle.pinion_head is not None:
        share = vehicle.pinion_head.split(state.pinion_bend)
        axes.append(_between(state.shaft_axis_C, state.axis_C_pinion, share.sliding))
        phases.append(0.0)
    axes.append(state.axis_C_pinion)
    return np.stack(axes), tuple(phases)


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
