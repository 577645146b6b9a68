"""The front section of a two-piece shaft: from the output joint through the carrier bearing.

Output and carrier bearing both sit on the chassis, so the front section does not move with the
axle: its joint at the output keeps one bend, and its far end, beyond the bearing, is where the
rear section hangs. To the rear section that end is an output like any other.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal, get_args

import numpy as np

from geometry.errors import BindpointError
from sim.frames import FloatArray, angle_between, read_only, unit

Joint = Literal["output", "middle", "pinion"]
"""The joints from the engine to the axle; the middle one is that of a two-piece shaft."""
JOINTS: Final[tuple[Joint, ...]] = get_args(Joint)


def shaft_drives(joint: str) -> bool:
    """Whether the shaft's own yoke of a joint is the one nearer the engine: only at the pinion."""
    return joint == "pinion"


class FrontSectionError(BindpointError, ValueError):
    """A front section that cannot be."""


@dataclass(frozen=True, eq=False)
class FrontSection:
    """A front section, in C.

    Attributes
    ----------
    p_C_output : (3,) mm, output joint.
    axis_C_output : (3,) x axis of the output yoke, of length one.
    p_C_bearing : (3,) mm, middle of the carrier bearing.
    beyond : mm, from the bearing to the middle joint, along the section.
    phase : rad, turn of the ears at the middle joint against those at the output joint,
        right-handed about the direction from the output joint to the middle joint.
    """

    p_C_output: FloatArray
    axis_C_output: FloatArray
    p_C_bearing: FloatArray
    beyond: float
    phase: float = 0.0

    def __post_init__(self) -> None:
        for name in ("p_C_output", "axis_C_output", "p_C_bearing"):
            object.__setattr__(self, name, read_only(getattr(self, name)))
        if not self.to_bearing > 0.0:
            raise FrontSectionError("the carrier bearing lies on the output joint")
        if not self.beyond > 0.0:
            raise FrontSectionError(
                f"the middle joint lies {self.beyond:g} mm beyond the carrier bearing; expected a "
                "length above zero"
            )

    @property
    def to_bearing(self) -> float:
        """From the output joint to the bearing, mm."""
        return float(np.linalg.norm(self.p_C_bearing - self.p_C_output))

    @property
    def length(self) -> float:
        """From the output joint to the middle joint, mm."""
        return self.to_bearing + self.beyond

    @property
    def axis_C(self) -> FloatArray:
        """(3,) direction from the output joint to the middle joint."""
        return read_only(unit(self.p_C_bearing - self.p_C_output))

    @property
    def p_C_middle(self) -> FloatArray:
        """(3,) mm, the middle joint."""
        return read_only(self.p_C_output + self.length * self.axis_C)

    @cached_property
    def bend(self) -> float:
        """Bend of the output joint, rad; the same in every pose of the axle."""
        return float(angle_between(-self.axis_C_output, self.axis_C))


def ends_of(section: FrontSection | None) -> tuple[Joint, Joint]:
    """The joints at the ends of the shaft that moves with the axle, behind a front section."""
    return ("output" if section is None else "middle"), "pinion"


def still_of(section: FrontSection | None) -> Mapping[Joint, float]:
    """Bend (rad) of each joint before that shaft, which the axle does not change."""
    return {} if section is None else {"output": section.bend}
