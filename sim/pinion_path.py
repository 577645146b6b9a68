"""Where the pinion goes with the travel, as a table: what a plot or a sheet shows."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, locked
from sim.vehicle import Vehicle


@dataclass(frozen=True, eq=False)
class PinionPath:
    """The housing and its pinion over the travel, (...); nan where it cannot be reached."""

    travel: FloatArray
    """Height of the housing centre above ride height, mm."""
    roll: FloatArray
    """Left wheel up positive, rad."""
    p_C_pinion: FloatArray
    """(..., 3) pinion joint: forward, left, up from the axle's centre at ride height, mm."""
    points_up: FloatArray
    """Slope of the pinion in the side view, rad, positive up."""
    points_left: FloatArray
    """Slope of the pinion in the plan view, rad, positive left, looking toward the output."""
    turned_up: FloatArray
    """How far the nose has turned up since ride height in the side view, rad."""
    forward: FloatArray
    """Fore-aft move of the housing centre, mm, forward positive."""
    side_shift: FloatArray
    """Sideways move of the housing centre, mm, left positive."""
    yaw: FloatArray
    """Turn of the axle seen from above, rad, left positive: its right wheel ahead."""


def pinion_path(
    vehicle: Vehicle, travel: ArrayLike, roll: ArrayLike = 0.0, wrap: ArrayLike = 0.0
) -> PinionPath:
    """Follow the pinion over travel (mm), roll and wrap (rad), broadcast.

    The yaw is that of the axle tube in the plan view.
    """
    t, r, w = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (travel, roll, wrap)))
    housing = vehicle.suspension.poses(t, r, w)
    points = housing.direction(-vehicle.axis_A_pinion)
    tube = housing.direction((0.0, 1.0, 0.0))
    ahead = -1.0 if vehicle.front else 1.0
    up = np.arctan2(points[..., 2], ahead * points[..., 0])
    still = -vehicle.axis_A_pinion
    moved = housing.p_C_A
    return PinionPath(
        travel=locked(t.copy()),
        roll=locked(r.copy()),
        p_C_pinion=locked(housing.point(vehicle.p_A_pinion)),
        points_up=locked(up),
        points_left=locked(np.arctan2(points[..., 1], ahead * points[..., 0])),
        turned_up=locked(up - np.arctan2(still[2], ahead * still[0])),
        forward=locked(moved[..., 0].copy()),
        side_shift=locked(moved[..., 1].copy()),
        yaw=locked(np.arctan2(-tube[..., 0], tube[..., 1])),
    )


COLUMNS: tuple[str, ...] = (
    "travel_mm",
    "pinion_x_mm",
    "pinion_y_mm",
    "pinion_z_mm",
    "pinion_up_deg",
    "pinion_left_deg",
    "nose_turned_up_deg",
    "axle_forward_mm",
    "axle_left_mm",
    "axle_yaw_left_deg",
)
"""Heads of the columns of `table`."""


def table(path: PinionPath) -> FloatArray:
    """The path as rows of plain numbers (poses, columns), in mm and degrees; see `COLUMNS`."""
    pinion = path.p_C_pinion
    angles = (path.points_up, path.points_left, path.turned_up)
    columns = [
        path.travel,
        *np.moveaxis(pinion, -1, 0),
        *(np.degrees(angle) for angle in angles),
        path.forward,
        path.side_shift,
        np.degrees(path.yaw),
    ]
    return locked(np.stack([np.ravel(column) for column in columns], axis=-1))
