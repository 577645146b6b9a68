"""One shaft with a single joint at either end; slip in the shaft or at the output."""

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, components_last, locked
from sim.line.state import LineState
from sim.vehicle import Vehicle

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
        length = np.sqrt(_dot(apart, apart))
        slip = length - np.sqrt(ride_squared)
    else:
        outward = _split(-vehicle.axis_C_output)
        slip = _slide(apart, outward, ride_squared)
        x, y, z = (a - slip * o for a, o in zip(apart, outward, strict=True))
        apart = x, y, z
        p_C_output = vehicle.p_C_output - slip[..., None] * vehicle.axis_C_output
        length = np.sqrt(_dot(apart, apart))
    axis = np.empty((3, *shape))
    for row, component in enumerate(apart):
        np.divide(component, length, out=axis[row, ...])
    shaft = (axis[0], axis[1], axis[2])
    return LineState(
        p_C_output=locked(p_C_output),
        p_C_pinion=locked(p_C_pinion),
        shaft_axis_C=locked(components_last(axis)),
        axis_C_pinion=locked(axis_C_pinion),
        output_bend=locked(_angle(shaft, _split(-vehicle.axis_C_output))),
        pinion_bend=locked(_angle(shaft, _split(axis_C_pinion))),
        length=locked(length),
        slip=locked(slip),
    )


def _ride_length_squared(vehicle: Vehicle) -> FloatArray:
    apart = _split(vehicle.p_A_pinion - vehicle.p_C_output)
    return _dot(apart, apart)


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
