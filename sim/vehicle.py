"""The vehicle as the mathematics sees it: two joints, a suspension, a travel, a slip."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isfinite
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, read_only
from sim.front_section import FrontSection, Joint, ends_of, still_of
from sim.head.bend import Head
from sim.suspension.base import Suspension
from sim.travel.region import Pose, TravelRegion, VehicleError

__all__ = [
    "RIDE",
    "Joint",
    "Pose",
    "Slip",
    "SlipPlace",
    "TravelRegion",
    "Vehicle",
    "VehicleError",
]

SlipPlace = Literal["shaft", "output"]


RIDE = Pose()
"""Ride height, level, unwrapped."""


@dataclass(frozen=True)
class Slip:
    """What the slip has left at ride height, mm; `inf` for what nobody measured.

    What nobody measured has no end that anything could run into, so nothing is judged by it.
    """

    at: SlipPlace
    """"shaft": a slip joint within the shaft. "output": a yoke sliding on the output spline."""
    closes: float
    """Closing left before it bottoms."""
    opens: float
    """Opening left before the spline engagement gets too short."""
    comes_apart: float | None = None
    """Opening left before it comes apart, where known."""
    stands_in: tuple[float, float] = (38.1, 76.2)
    """What a generic slip closes and opens (from memory), for the size of one that nobody
    measured."""

    def __post_init__(self) -> None:
        if self.at not in get_args(SlipPlace):
            raise VehicleError(f"slip at: got {self.at!r}, expected one of {get_args(SlipPlace)}")
        for name in ("closes", "opens"):
            value = getattr(self, name)
            if not value >= 0.0:
                raise VehicleError(f"slip {name}: got {value} mm, expected zero or more")
        apart = self.comes_apart
        if apart is not None and isfinite(self.opens) and not apart >= self.opens:
            raise VehicleError(
                f"slip comes_apart: got {self.comes_apart} mm, expected at least what it opens, "
                f"{self.opens} mm"
            )

    @property
    def measured(self) -> bool:
        """Whether it is known both ways."""
        return isfinite(self.closes) and isfinite(self.opens)

    @property
    def sized(self) -> "Slip":
        """The same with a size for every side, to draw and to keep clear of, not to judge by."""
        closes, opens = self.stands_in
        if self.comes_apart is not None:
            opens = min(opens, self.comes_apart)
        return replace(
            self,
            closes=self.closes if isfinite(self.closes) else closes,
            opens=self.opens if isfinite(self.opens) else opens,
        )


@dataclass(frozen=True, eq=False)
class Vehicle:
    """Everything that decides where the shaft runs. Points in mm, axes of length one.

    A yoke's x axis points away from its cross along its own shaft: the output yoke's toward the
    transfer case, the pinion yoke's toward the axle housing.
    """

    p_C_output: FloatArray
    """(3,) output joint at ride height, in C."""
    axis_C_output: FloatArray
    """(3,) x axis of the output yoke, in C."""
    p_A_pinion: FloatArray
    """(3,) pinion joint, in A."""
    axis_A_pinion: FloatArray
    """(3,) x axis of the pinion yoke, in A."""
    suspension: Suspension
    travel: TravelRegion
    slip: Slip
    front: bool
    phase: float = 0.0
    """Turn (rad) of the shaft's pinion-end bores against its output-end bores, right-handed about
    the direction from the output joint to the pinion joint."""
    output_head: Head | None = None
    """The double-Cardan head at the output end; its joint centre is that of its ball, which the
    output's side carries. None for a single joint."""
    pinion_head: Head | None = None
    """The same at the pinion end, its ball on the pinion's side."""
    section: FrontSection | None = None
    """The front section of a two-piece shaft; the output joint above is then its far end."""

    @property
    def ends(self) -> tuple[Joint, Joint]:
        """The joints at the ends of the shaft that moves with the axle."""
        return ends_of(self.section)

    @property
    def still(self) -> Mapping[Joint, float]:
        """Bend (rad) of each joint before that shaft, which the axle does not change."""
        return still_of(self.section)

    @property
    def joints(self) -> tuple[Joint, ...]:
        """Every joint, from the output to the pinion."""
        return *self.still, *self.ends

    @property
    def heads(self) -> Mapping[Joint, Head]:
        """The double-Cardan heads, by the joint that each is."""
        heads = zip(self.ends, (self.output_head, self.pinion_head), strict=True)
        return {joint: head for joint, head in heads if head is not None}

    @property
    def beyond_readings(self) -> tuple[float, float]:
        """How far (mm) the travel goes below and above the heights the suspension was read at."""
        read = self.suspension.range()
        if read is None:
            return 0.0, 0.0
        low, high = read
        return max(0.0, low + self.travel.droop), max(0.0, self.travel.bump - high)

    def __post_init__(self) -> None:
        for name in ("p_C_output", "p_A_pinion"):
            object.__setattr__(self, name, _vector(name, getattr(self, name)))
        for name in ("axis_C_output", "axis_A_pinion"):
            vector = _vector(name, getattr(self, name))
            length = float(np.linalg.norm(vector))
            if length == 0.0:
                raise VehicleError(f"{name}: got a zero vector, expected a direction")
            object.__setattr__(self, name, read_only(vector / length))
        if self.front != self.suspension.front:
            raise VehicleError(
                f"front: the vehicle says {self.front}, its suspension {self.suspension.front}; "
                "expected the same"
            )
        if not isfinite(self.phase):
            raise VehicleError(f"phase: got {self.phase}, expected an angle in rad")
        if np.array_equal(self.p_C_output, self.p_A_pinion):
            raise VehicleError("p_A_pinion: the pinion joint lies on the output joint at ride")


def _vector(name: str, value: ArrayLike) -> FloatArray:
    vector = read_only(value)
    if vector.shape != (3,) or not np.isfinite(vector).all():
        raise VehicleError(f"{name}: got {value!r}, expected three finite numbers")
    return vector
