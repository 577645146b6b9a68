"""What is left to the limits of joints and slip, for any number of poses."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, locked
from sim.line.single import line
from sim.vehicle import Joint, Vehicle

CHUNK = 8192
"""Poses solved at a time: their arrays stay in the processor's cache, and memory stays small."""


@dataclass(frozen=True, eq=False)
class Margins:
    """What is left in each pose, (...); negative past the limit, nan where out of reach."""

    joints: Mapping[Joint, FloatArray]
    """Touch bend less bend at each joint that was asked for, rad."""
    closes: FloatArray
    """Closing left in the slip, mm."""
    opens: FloatArray
    """Opening left in the slip, mm."""


def margins(
    vehicle: Vehicle,
    travel: ArrayLike,
    roll: ArrayLike,
    wrap: ArrayLike,
    touch: Mapping[Joint, float],
) -> Margins:
    """Compare poses (broadcast; mm, rad) with the touch bends (rad) and the vehicle's slip."""
    poses = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (travel, roll, wrap)))
    t, r, w = (values.reshape(-1) for values in poses)
    left = np.empty((len(touch) + 2, t.size))
    for start in range(0, t.size, CHUNK):
        part = slice(start, start + CHUNK)
        state = line(vehicle, t[part], r[part], w[part])
        for row, (joint, limit) in zip(left, touch.items(), strict=False):
            np.subtract(limit, state.bends[joint], out=row[part])
        np.add(vehicle.slip.closes, state.slip, out=left[-2, part])
        np.subtract(vehicle.slip.opens, state.slip, out=left[-1, part])
    *joints, closes, opens = locked(left.reshape(len(left), *poses[0].shape))
    return Margins(MappingProxyType(dict(zip(touch, joints, strict=True))), closes, opens)
