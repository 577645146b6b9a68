"""Where the two joints lie at ride height, and which way output and pinion point there."""

from dataclasses import dataclass

import numpy as np

from sim.frames import FloatArray, Vec3, angle_between
from sim.front_section import FrontSection, Joint, ends_of, still_of


@dataclass(frozen=True, eq=False)
class Ride:
    """Both joints and what points where at ride height, in C: mm, and unit directions."""

    front: bool
    p_C_output: FloatArray
    """(3,) the joint the shaft hangs on: output joint, or middle joint of a two-piece shaft."""
    p_C_pinion: FloatArray
    """(3,) pinion joint."""
    output_points: FloatArray
    """(3,) where what it hangs on points: toward the axle."""
    pinion_points: FloatArray
    """(3,) where the pinion points: toward the output."""
    section: FrontSection | None = None
    """The front section of a two-piece shaft; its end is then what the shaft hangs on."""

    @property
    def shaft(self) -> FloatArray:
        """(3,) from the output joint to the pinion joint, mm."""
        return self.p_C_pinion - self.p_C_output

    @property
    def length(self) -> float:
        """Joint centre to joint centre, mm."""
        return float(np.linalg.norm(self.shaft))

    @property
    def lower(self) -> float:
        """How much lower the pinion joint sits than the output joint, mm."""
        return -float(self.shaft[2])

    @property
    def offset_left(self) -> float:
        """How far to the left of the output joint the pinion joint sits, mm."""
        return float(self.shaft[1])

    @property
    def along(self) -> float:
        """How far the pinion joint lies from the output joint toward the axle, level, mm."""
        return float(self.shaft[0]) * (1.0 if self.front else -1.0)

    @property
    def down(self) -> float:
        """Slope of the shaft in the side view, rad, positive down toward the axle."""
        return float(np.arctan2(self.lower, self.along))

    @property
    def left(self) -> float:
        """Slope of the shaft in the plan view, rad, positive left toward the axle."""
        return float(np.arctan2(self.offset_left, self.along))

    @property
    def pinion_up(self) -> float:
        """Slope of the pinion in the side view, rad, positive up."""
        return float(np.arctan2(self.pinion_points[2], abs(self.pinion_points[0])))

    @property
    def bends(self) -> dict[Joint, float]:
        """Bend of every joint from the output to the pinion, rad."""
        moving = zip(self.ends, (self.output_bend, self.pinion_bend), strict=True)
        return {**still_of(self.section), **dict(moving)}

    @property
    def ends(self) -> tuple[Joint, Joint]:
        """The joints at the ends of the shaft that moves with the axle."""
        return ends_of(self.section)

    @property
    def output_bend(self) -> float:
        """Angle between the output shaft and the driveshaft, rad."""
        return float(angle_between(self.output_points, self.shaft))

    @property
    def pinion_bend(self) -> float:
        """Angle between the driveshaft and the pinion, rad."""
        return float(angle_between(self.pinion_points, -self.shaft))


def vec3(point: FloatArray) -> Vec3:
    """Plain numbers of a point (3,)."""
    x, y, z = point.tolist()
    return x, y, z
