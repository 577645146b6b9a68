"""How stiff leaf springs are against winding up, from their geometry or their rate.

Each half of a spring is a cantilever on the clamp, the eyes are pinned. Frame, shackle, friction
between the leaves and wind-up stops are left out: all but the last let the axle wrap less in a
quick pull and more in a worn spring. Rates are per spring, in N/mm and N mm/rad.
"""

from dataclasses import dataclass
from math import isfinite
from typing import Final

from sim.wrap.estimate import Estimate, WrapError, carried

STEEL: Final = 206_000.0
"""N/mm2. Modulus of spring steel (from memory; good to some per cent)."""


@dataclass(frozen=True)
class HalfRates:
    """A spring as two cantilevers on its clamp."""

    ahead: float
    """Length (mm) from the clamp to the eye ahead of it."""
    behind: float
    """The same behind it."""
    rate_ahead: float
    """Force at the end of the half ahead for each mm it bends, N/mm."""
    rate_behind: float
    """The same behind."""

    def __post_init__(self) -> None:
        for name in ("ahead", "behind", "rate_ahead", "rate_behind"):
            value = getattr(self, name)
            if not (isfinite(value) and value > 0.0):
                raise WrapError(f"spring {name}: got {value}, expected a number above zero")

    @property
    def vertical(self) -> float:
        """Rate of the whole spring up and down, N/mm: L^2 / (b^2/ka + a^2/kb) [derivation]."""
        a, b = self.ahead, self.behind
        return (a + b) ** 2 / (b**2 / self.rate_ahead + a**2 / self.rate_behind)

    @property
    def windup(self) -> float:
        """Torque on the clamp for each rad that it winds up, N mm/rad: L^2 / (1/ka + 1/kb).

        With eyes pinned the clamp turns about itself for equal halves only: it also rises or
        falls otherwise, which is in the formula [derivation].
        """
        return (self.ahead + self.behind) ** 2 / (1.0 / self.rate_ahead + 1.0 / self.rate_behind)


def from_rate(rate: float, ahead: float, behind: float) -> HalfRates:
    """Split a measured rate (N/mm) of a whole spring on its halves (mm), as 1/length^3.

    That is so for one section all along, however many leaves it has [derivation].
    """
    if not (isfinite(rate) and rate > 0.0):
        raise WrapError(f"spring rate: got {rate} N/mm, expected a number above zero")
    shape = HalfRates(ahead, behind, ahead**-3, behind**-3)
    scale = rate / shape.vertical
    return HalfRates(ahead, behind, scale * shape.rate_ahead, scale * shape.rate_behind)


def from_leaves(
    leaves: int,
    width: float,
    thickness: float,
    ahead: float,
    behind: float,
    modulus: float = STEEL,
) -> HalfRates:
    """Rates of a spring from its leaves (mm): each half k = E n b t^3 / (6 l^3).

    That of a spring of uniform strength, with equal halves 8 E n b t^3 / (3 L^3) for the whole
    [SARKAR, prob. 8.10]. Leaves of several thicknesses: give the mean of t^3, its third root.
    """
    for name, value in (("leaves", leaves), ("width", width), ("thickness", thickness)):
        if not (isfinite(value) and value > 0):
            raise WrapError(f"spring {name}: got {value}, expected a number above zero")
    bending = modulus * leaves * width * thickness**3 / 6.0
    return HalfRates(ahead, behind, bending / ahead**3, bending / behind**3)


@dataclass(frozen=True)
class SpringWrap:
    """Wrap of an axle on two leaf springs under torque at its wheels."""

    wrap: Estimate
    """rad, for a torque of either sense; linear."""
    torque: Estimate
    """What winds the springs up, both together, N mm."""
    stiffness: Estimate
    """Of both springs together, N mm/rad."""


def spring_wrap(
    windup: Estimate,
    axle_torque: Estimate,
    seat_above: float = 0.0,
    tyre_radius: float | None = None,
) -> SpringWrap:
    """Wrap of two equal springs of wind-up stiffness `windup` (N mm/rad each).

    `axle_torque` (N mm) is that of both wheels on the ground. It pushes the housing forward at
    its centre by torque / tyre_radius, and the springs hold against it at their seats: with
    those `seat_above` the centre (mm, springs over the axle) the push winds them up further, with
    springs under the axle less [derivation]. Without a tyre radius the push is left out.
    """
    if tyre_radius is not None and not tyre_radius > 0.0:
        raise WrapError(f"tyre radius: got {tyre_radius} mm, expected a number above zero")
    lever = 1.0 + (seat_above / tyre_radius if tyre_radius is not None else 0.0)
    torque = carried(lambda t: lever * t, axle_torque)
    stiffness = carried(lambda k: 2.0 * k, windup)
    return SpringWrap(carried(lambda t, k: t / k, torque, stiffness), torque, stiffness)
