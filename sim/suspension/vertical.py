"""The suspension of which nothing is known but its travel."""

from dataclasses import dataclass

import numpy as np

from sim.frames import FloatArray
from sim.suspension.base import EulerSuspension, Motion
from sim.suspension.bodies import Body


@dataclass(frozen=True, kw_only=True)
class Vertical(EulerSuspension):
    """Straight up and down, rolling about the housing centre: R_CA = Rx(roll) @ R_wrap."""

    def motion(self, travel: FloatArray, roll: FloatArray) -> Motion:
        """Housing centre at (0, 0, travel), rolled."""
        still = np.zeros(())
        return Motion(x=still, y=still, z=travel, roll=roll, pitch=still)

    def bodies(self) -> tuple[Body, ...]:
        """Nobody knows what holds it."""
        return ()
