"""What is left to the limits of joints and slip, for any number of poses."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, locked
from sim.line.single import line
from sim.vehicle import Vehicle

CHUNK = 8192
"""Poses solved at a time: their arrays stay in the processor's cache, and memory stays small."""


@dataclass(frozen=True, eq=False)
class Margins:
    """What is left in each pose, (...); negative past the limit, nan where out of reach."""

    output: FloatArray
    """Touch bend less bend at the output joint, rad."""
    pinion: FloatArray
    """The same at the pinion joint."""
    closes: FloatArray
    """Closing left in the slip, mm."""
    opens: FloatArray
    """Opening left in the slip, mm."""


def margins(
    vehicle: Vehicle,
    travel: ArrayLike,
    roll: ArrayLike,
    wrap: ArrayLike,
    touch_output: float,
    touch_pinion: float,
) -> Margins:
    """Compare poses (broadcast; mm, rad) with the touch bends (rad) and the vehicle's slip."""
    poses = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (travel, roll, wrap)))
    t, r, w = (values.reshape(-1) for values in poses)
    left = np.empty((4, t.size))
    for start in range(0, t.size, CHUNK):
        part = slice(start, start + CHUNK)
        state = line(vehicle, t[part], r[part], w[part])
        np.subtract(touch_output, state.output_bend, out=left[0, part])
        np.subtract(touch_pinion, state.pinion_bend, out=left[1, part])
        np.add(vehicle.slip.closes, state.slip, out=left[2, part])
        np.subtract(vehicle.slip.opens, state.slip, out=left[3, part])
    shaped = locked(left.reshape(4, *poses[0].shape))
    return Margins(output=shaped[0], pinion=shaped[1], closes=shaped[2], opens=shaped[3])
