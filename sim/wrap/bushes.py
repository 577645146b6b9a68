"""Wrap of an axle on links, from the give of its bushes under torque."""

from dataclasses import dataclass, replace
from math import inf, isfinite

from sim.suspension.links import Links, under_torque
from sim.wrap.estimate import Estimate, WrapError


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


def bush_wrap(
    links: Links,
    torque: Estimate,
    tyre_radius: float = inf,
    stiffness_off: float = 0.3,
    travel: float = 0.0,
    roll: float = 0.0,
) -> BushWrap:
    """Wrap under the torque (N mm) that the wheels put on the ground, driving forward positive.

    Every bush may be softer or stiffer by the share `stiffness_off` (30 % from memory: rubber is
    made to that), all of them at once. Raises `WrapError` where the pose cannot be reached.
    """
    if not 0.0 <= stiffness_off < 1.0:
        raise WrapError(f"stiffness_off: got {stiffness_off}, expected a share from 0 to under 1")
    told = under_torque(links, torque.value, tyre_radius, travel, roll)
    if not isfinite(float(told.wrap)):
        raise WrapError(
            f"wrap of the links at {travel} mm, {roll} rad: got a pose out of reach, expected one "
            "that the links reach"
        )
    corners = [
        float(under_torque(_scaled(links, scale), load, tyre_radius, travel, roll).wrap)
        for scale in (1.0 - stiffness_off, 1.0 + stiffness_off)
        for load in (torque.low, torque.high)
    ]
    value = float(told.wrap)
    corners = [corner for corner in corners if isfinite(corner)]
    gives = told.give.mm
    softest = int(gives.argmax())
    return BushWrap(
        wrap=Estimate(value, min(value, *corners), max(value, *corners)),
        centre=float(told.centre),
        most_give=float(gives[softest]),
        softest=told.give.bushes[softest],
    )


def _scaled(links: Links, scale: float) -> Links:
    members = tuple(
        member if member.stiffness is None else replace(member, stiffness=scale * member.stiffness)
        for member in links.members
    )
    return replace(
        links,
        members=members,
        bush_stiffness=scale * links.bush_stiffness,
        most_give=links.most_give / scale,
    )
