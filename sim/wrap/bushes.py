"""Wrap of an axle on links, from the give of its bushes under torque."""

from dataclasses import dataclass
from math import inf, isfinite
from typing import Final

from sim.suspension.links import Links, under_torque
from sim.wrap.estimate import Estimate, WrapError

STIFFNESS_OFF: Final = 0.3
"""Share by which bushes may be softer or stiffer than said (from memory)."""


@dataclass(frozen=True)
class BushWrap:
    """Wrap of an axle on links under torque at its wheels, at one pose."""

    wrap: Estimate
    """rad, nose up positive."""
    centre: float
    """How far above the housing centre the point lies that stays put fore-aft, mm."""
    most_give: float
    """What the bush that gives most gives, mm."""
    softest: str
    """Its name."""
    bottoms: bool
    """Whether that may be more than a bush gives: rubber at its end holds the axle better."""


def bush_wrap(
    links: Links,
    torque: Estimate,
    tyre_radius: float = inf,
    stiffness_off: float = STIFFNESS_OFF,
    travel: float = 0.0,
    roll: float = 0.0,
) -> BushWrap:
    """Wrap under the torque (N mm) that the wheels put on the ground, driving forward positive.

    Every bush may be softer or stiffer by the share `stiffness_off` (30 % from memory: rubber is
    made to that), all of them at once. Bushes s times as stiff under a torque T give what these
    give under T/s, since the energy s sum(k e^2)/2 - T w has its least there; how far a bush can
    give, and so which poses are in reach, has nothing to do with it [derivation]. That a bush
    bottoms is not counted, which is on the safe side, and told.

    Raises `WrapError` where the pose is out of reach or the links do not balance the torque.
    """
    if not 0.0 <= stiffness_off < 1.0:
        raise WrapError(f"stiffness_off: got {stiffness_off}, expected a share from 0 to under 1")
    if not isfinite(float(links.solved(travel, roll)[0])):
        raise WrapError(
            f"wrap of the links at {travel} mm, {roll} rad: got a pose out of reach, expected one "
            "that the links reach"
        )
    scales = (1.0, 1.0 - stiffness_off, 1.0 + stiffness_off)
    loads = [
        torque.value,
        *(load / scale for scale in scales[1:] for load in (torque.low, torque.high)),
    ]
    told = [under_torque(links, load, tyre_radius, travel, roll) for load in loads]
    wraps = [float(each.wrap) for each in told]
    lost = [load for load, wrap in zip(loads, wraps, strict=True) if not isfinite(wrap)]
    if lost:
        raise WrapError(
            f"wrap of the links: got a torque of {max(lost, key=abs):.4g} N mm, expected one that "
            "the links and their bushes can balance"
        )
    gives = told[0].give.mm
    softest = int(gives.argmax())
    return BushWrap(
        wrap=Estimate(wraps[0], min(wraps), max(wraps)),
        centre=float(told[0].centre),
        most_give=float(gives[softest]),
        softest=told[0].give.bushes[softest],
        bottoms=max(float(each.give.mm.max()) for each in told) > links.most_give,
    )
