"""One shaft with a single joint or a double-Cardan head at either end.

A head bends about its ball, so the line is that of a single joint there; only the shaft itself
ends at the head's other cross, whose distance from the ball changes a little with the bend.
"""

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, angle_between, components_last, locked, unit
from sim.head.bend import reach_of
from sim.line.state import LineState
from sim.tolerances import TOL
from sim.vehicle import Joint, Vehicle

Components = tuple[FloatArray, FloatArray, FloatArray]


def line(vehicle: Vehicle, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike) -> LineState:
    """Solve the shaft for axle poses that broadcast: travel mm, roll and wrap rad.

    A slip in the shaft takes up the changing distance of the joints. A yoke sliding on the
    output spline moves its joint along the output axis while the shaft keeps its length; where
    it cannot, the state is nan (`LineState.reachable`).
    """
    p_C_pinion, axis_C_pinion = vehicle.suspension.carry(
        travel, roll, wrap, vehicle.p_A_pinion, vehicle.axis_A_pinion
    )
    shape = p_C_pinion.shape[:-1]
    apart = _split(p_C_pinion - vehicle.p_C_output)
    ride_squared = _ride_length_squared(vehicle)
    if vehicle.slip.at == "shaft":
        p_C_output = np.broadcast_to(vehicle.p_C_output, (*shape, 3))
        slip = np.sqrt(_dot(apart, apart)) - np.sqrt(ride_squared)
    else:
        outward = _split(-vehicle.axis_C_output)
        slip, apart = _slid(vehicle, apart, outward, axis_C_pinion, ride_squared)
        p_C_output = vehicle.p_C_output - slip[..., None] * vehicle.axis_C_output
    length = np.sqrt(_dot(apart, apart))
    axis = np.empty((3, *shape))
    for row, component in enumerate(apart):
        np.divide(component, length, out=axis[row, ...])
    shaft = (axis[0], axis[1], axis[2])
    output_bend = _angle(shaft, _split(-vehicle.axis_C_output))
    pinion_bend = _angle(shaft, _split(axis_C_pinion))
    if vehicle.slip.at == "shaft" and _headed(vehicle):
        slip = slip - (_head_reach(vehicle, output_bend, pinion_bend) - _ride_head_reach(vehicle))
    return LineState(
        p_C_output=locked(p_C_output),
        p_C_pinion=locked(p_C_pinion),
        shaft_axis_C=locked(components_last(axis)),
        axis_C_pinion=locked(axis_C_pinion),
        bends=_bends(vehicle, output_bend, pinion_bend),
        length=locked(length),
        slip=locked(slip),
    )


def _bends(vehicle: Vehicle, near: FloatArray, far: FloatArray) -> dict[Joint, FloatArray]:
    """Bend of every joint (...), given those at both ends of the shaft that moves."""
    still: dict[Joint, FloatArray] = {
        joint: np.broadcast_to(bend, near.shape) for joint, bend in vehicle.still.items()
    }
    return still | dict(zip(vehicle.ends, (locked(near), locked(far)), strict=True))


def _ride_length_squared(vehicle: Vehicle) -> FloatArray:
    apart = _split(vehicle.p_A_pinion - vehicle.p_C_output)
    return _dot(apart, apart)


HEAD_STEPS = 40
"""Rounds that may settle the slide of a shaft with a head. A head's reach changes by a few mm over
its whole bend, so most rounds shrink the error tenfold; a steep output only fivefold."""


def _slid(
    vehicle: Vehicle,
    apart: Components,
    outward: Components,
    axis_C_pinion: FloatArray,
    ride_squared: FloatArray,
) -> tuple[FloatArray, Components]:
    """Slide (mm) of a yoke on the output spline, and the joints' distance that is left."""
    slip = _slide(apart, outward, ride_squared)
    if not _headed(vehicle):
        return slip, _beyond(apart, slip, outward)
    ride, pinion_axis = np.sqrt(ride_squared), _split(axis_C_pinion)
    still_moves = np.isfinite(slip)
    for _ in range(HEAD_STEPS):
        x, y, z = _beyond(apart, slip, outward)
        length = np.sqrt(_dot((x, y, z), (x, y, z)))
        shaft = (x / length, y / length, z / length)
        output_bend, pinion_bend = _angle(shaft, outward), _angle(shaft, pinion_axis)
        longer = _head_reach(vehicle, output_bend, pinion_bend) - _ride_head_reach(vehicle)
        target = ride_squared + longer * (2.0 * ride + longer)  # exact where nothing got longer
        before, slip = slip, _slide(apart, outward, target)
        still_moves = np.abs(slip - before) > TOL.settled
        if not still_moves.any():
            break
    slip = np.where(still_moves, np.nan, slip)
    return slip, _beyond(apart, slip, outward)


def _beyond(apart: Components, slip: FloatArray, outward: Components) -> Components:
    """From the output joint, slid by `slip` (mm), to the pinion joint."""
    x, y, z = (a - slip * o for a, o in zip(apart, outward, strict=True))
    return x, y, z


def _headed(vehicle: Vehicle) -> bool:
    return bool(vehicle.heads)


def _head_reach(vehicle: Vehicle, output_bend: ArrayLike, pinion_bend: ArrayLike) -> FloatArray:
    """From the balls of the heads to the shaft's own crosses, summed over both ends, mm."""
    return reach_of(vehicle.output_head, output_bend) + reach_of(vehicle.pinion_head, pinion_bend)


def _ride_head_reach(vehicle: Vehicle) -> FloatArray:
    shaft = unit(vehicle.p_A_pinion - vehicle.p_C_output)
    return _head_reach(
        vehicle,
        angle_between(shaft, -vehicle.axis_C_output),
        angle_between(shaft, vehicle.axis_A_pinion),
    )


def _slide(apart: Components, outward: Components, ride_squared: FloatArray) -> FloatArray:
    """How far (mm) the output joint slides along `outward` to keep the shaft's length.

    |apart - slip outward| = ride length is a quadratic in slip; of its two roots the one with
    the pinion joint beyond the output joint. It is taken as the quotient that does not cancel
    for small slips, so that ride height gives exactly zero.
    """
    along = _dot(apart, outward)
    excess = _dot(apart, apart) - ride_squared
    square = along * along - excess
    root = np.sqrt(np.where(square < 0.0, np.nan, square))
    towards = along > 0.0
    safe = np.where(towards, along + root, 1.0)
    return np.where(towards, excess / safe, along - root)


def _angle(u: Components, v: Components) -> FloatArray:
    """Angle between two batches of unit vectors, rad; accurate also where they align."""
    x = u[1] * v[2] - u[2] * v[1]
    y = u[2] * v[0] - u[0] * v[2]
    z = u[0] * v[1] - u[1] * v[0]
    angle: FloatArray = np.arctan2(np.sqrt(x * x + y * y + z * z), _dot(u, v))
    return angle


def _split(vectors: FloatArray) -> Components:
    return vectors[..., 0], vectors[..., 1], vectors[..., 2]


def _dot(u: Components, v: Components) -> FloatArray:
    product: FloatArray = u[0] * v[0] + u[1] * v[1] + u[2] * v[2]
    return product
