"""How much torque can reach the axle: low gear, capped by the grip of the tyres."""

from dataclasses import dataclass
from math import isfinite
from typing import Literal

from sim.wrap.estimate import Estimate, WrapError, carried

Governs = Literal["engine", "grip"]


@dataclass(frozen=True)
class PinionTorque:
    """Most torque in the shaft, and what sets it."""

    torque: Estimate
    """N mm at the pinion."""
    governs: Governs
    """"engine": low gear at full torque. "grip": the tyres slip before that."""
    engine: Estimate
    """What the engine gives in low gear, N mm."""
    grip: Estimate
    """What makes the tyres slip, N mm."""


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


def low_gear(
    engine: Estimate,
    gear: float,
    transfer: float = 1.0,
    converter: float = 1.0,
    efficiency: float = 0.85,
) -> Estimate:
    """Torque (N mm) behind the gearbox from the engine's own: T i_gear i_transfer i_converter eta.

    The efficiency of a gearbox with a transfer case in low range is from memory.
    """
    _positive(gear=gear, transfer=transfer, converter=converter, efficiency=efficiency)
    return carried(lambda t: t * gear * transfer * converter * efficiency, engine)


def grip(
    axle_load: Estimate,
    friction: Estimate,
    tyre_radius: float,
    axle_ratio: float,
    efficiency: float = 1.0,
) -> Estimate:
    """Torque (N mm) at the pinion that makes both tyres slip: mu W r / (i_axle eta).

    `axle_load` in N, with whatever driving or braking shifts onto the axle. An efficiency under 1
    lets the pinion take more torque before the tyres do. Friction on dry rock goes up to about
    1.0 (from memory).
    """
    _positive(tyre_radius=tyre_radius, axle_ratio=axle_ratio, efficiency=efficiency)
    return carried(
        lambda load, mu: mu * load * tyre_radius / (axle_ratio * efficiency), axle_load, friction
    )


def pinion_torque(engine: Estimate, slips_at: Estimate) -> PinionTorque:
    """Give the lesser of what the engine gives and what the tyres hold, both at the pinion."""
    return PinionTorque(
        torque=carried(min, engine, slips_at),
        governs="engine" if engine.value <= slips_at.value else "grip",
        engine=engine,
        grip=slips_at,
    )


def torque_of_pull(force: Estimate, arm: Estimate) -> Estimate:
    """Torque (N mm) of a pull (N) square to a bar, `arm` (mm) from the axis that it turns."""
    return carried(lambda f, a: f * a, force, arm)


def _positive(**numbers: float) -> None:
    for name, value in numbers.items():
        if not (isfinite(value) and value > 0.0):
            raise WrapError(f"{name}: got {value}, expected a number above zero")
