"""Axle wrap both ways: from driving in low gear and from braking, each within the tyres' grip."""

from dataclasses import dataclass
from operator import neg
from typing import Literal

from sim.remark import Remark
from sim.wrap.estimate import Estimate, carried
from sim.wrap.torque import PinionTorque

Governs = Literal["engine", "grip"]


@dataclass(frozen=True)
class AxleTorque:
    """The most torque that turns the housing, at both wheels together, N mm, none negative."""

    driving: Estimate
    """Driving forward: low gear, or the tyres' grip where that is less."""
    braking: Estimate
    """Braking, or reversing: the tyres' grip, since brakes can lock wheels (common practice, no
    source). They sit on the housing and turn it by all that the ground holds [derivation]."""
    governs: Governs
    """What sets the driving torque."""

    @classmethod
    def of(cls, pinion: PinionTorque, axle_ratio: float) -> "AxleTorque":
        """From the torque in the shaft."""
        driving, braking = (
            carried(lambda t: t * axle_ratio, each) for each in (pinion.torque, pinion.grip)
        )
        return cls(driving, braking, pinion.governs)


@dataclass(frozen=True)
class AxleWrap:
    """How far an axle wraps each way, rad, as distances: none is negative."""

    nose_up: Estimate
    nose_down: Estimate
    up_governs: Governs
    """What sets the torque that lifts the nose."""
    down_governs: Governs
    torque: AxleTorque
    hints: tuple[Remark, ...] = ()
    """What to know about these numbers."""


def distance(wrap: Estimate) -> Estimate:
    """How far a wrap of either sign goes; none is under zero."""
    if wrap.value < 0.0:
        wrap = carried(neg, wrap)
    return Estimate(wrap.value, max(0.0, wrap.low), wrap.high)
