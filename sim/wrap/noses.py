"""Axle wrap both ways: from driving in low gear and from braking, each within the tyres' grip."""

from dataclasses import dataclass
from typing import Final, Literal

from sim.remark import Remark
from sim.wrap.estimate import Estimate
from sim.wrap.torque import PinionTorque

Governs = Literal["engine", "grip"]

NOTHING: Final = Estimate.exactly(0.0)


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
    def of(cls, pinion: PinionTorque, axle_ratio: float, efficiency: float = 1.0) -> "AxleTorque":
        """From the torque in the shaft; `efficiency` as the grip was worked out with."""
        share = axle_ratio * efficiency
        held = pinion.grip
        return cls(
            pinion.at_axle(axle_ratio, efficiency),
            Estimate(share * held.value, share * held.low, share * held.high),
            pinion.governs,
        )


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
        wrap = Estimate(-wrap.value, -wrap.high, -wrap.low)
    return Estimate(wrap.value, max(0.0, wrap.low), wrap.high)
