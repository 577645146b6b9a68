"""Where the shaft runs in one axle pose, or in a million of them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray


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
    output_bend: FloatArray
    """(...) angle between the two axes at the output joint, rad; 0 is straight."""
    pinion_bend: FloatArray
    """(...) the same at the pinion joint."""
    length: FloatArray
    """(...) joint centre to joint centre, mm."""
    slip: FloatArray
    """(...) opening of the slip since ride height, mm; negative where it closes."""

    @property
    def reachable(self) -> NDArray[np.bool_]:
        """(...) false where no position of suspension and shaft solves the pose."""
        return np.isfinite(self.slip) & np.isfinite(self.length)
