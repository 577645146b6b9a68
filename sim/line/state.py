"""Where the shaft runs in one axle pose, or in a million of them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class LineState:
    """Joint centres, bends and slip, batch first; nan where the shaft cannot reach."""

    p_C_output: FloatArray
    """(..., 3) output joint, mm."""
    p_C_pinion: FloatArray
    """(..., 3) pinion joint, mm."""
    shaft_axis_C: FloatArray
    """(..., 3) direction of length one from the output joint toward the pinion joint."""
    axis_C_pinion: FloatArray
    """(..., 3) x axis of the pinion yoke, away from its cross toward the housing."""
    bends: Mapping[Joint, FloatArray]
    """(...) angle between the two axes at every joint from the output to the pinion, rad; 0 is
    straight."""
    length: FloatArray
    """(...) joint centre to joint centre, mm."""
    slip: FloatArray
    """(...) opening of the slip since ride height, mm; negative where it closes."""

    @property
    def output_bend(self) -> FloatArray:
        """(...) rad, bend at the near end of the shaft that moves with the axle."""
        *_, near, _ = self.bends.values()
        return near

    @property
    def pinion_bend(self) -> FloatArray:
        """(...) rad, bend at its far end."""
        *_, far = self.bends.values()
        return far

    @property
    def reachable(self) -> NDArray[np.bool_]:
        """(...) false where no position of suspension and shaft solves the pose."""
        return np.isfinite(self.slip) & np.isfinite(self.length)
