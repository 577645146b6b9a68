"""A round stretch of a part that turns or moves: straight or tapered, on a line that moves."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sim.around.lines import Line, line_ends
from sim.frames import FloatArray
from sim.vehicle import Joint, Vehicle

Owner = Literal["shaft", "output", "axle"]


@dataclass(frozen=True)
class Rod:
    """A round stretch.

    name : what it is called
    radius : mm, throughout or at start and at stop
    start, stop : ends of its axis, each a share of the length of its line and a length (mm) along
        the line beyond that
    along : the line its axis lies on
    of : what it is a part of: the shaft, what sits at the output, the axle
    yields : whether it gives way where it is touched, as rubber does
    joint : the joint whose yokes or head it is of; None for tube and slip
    """

    name: str
    radius: float | tuple[float, float]
    start: tuple[float, float]
    stop: tuple[float, float]
    along: Line = "shaft"
    of: Owner = "shaft"
    yields: bool = False
    joint: Joint | None = None

    @property
    def radii(self) -> tuple[float, float]:
        """Radius at start and at stop, mm."""
        if isinstance(self.radius, tuple):
            return self.radius
        return self.radius, self.radius


def rod_ends(vehicle: Vehicle, rod: Rod, poses: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Both ends (n, 3), mm in C, of a rod's axis at poses (n, 3): travel mm, roll and wrap rad."""
    (begin,), (end,) = line_ends(vehicle, (rod.along,), poses)
    apart = end - begin
    length = np.linalg.norm(apart, axis=-1, keepdims=True)
    start, stop = (
        begin + (share * length + beyond) * (apart / length)
        for share, beyond in (rod.start, rod.stop)
    )
    return start, stop
