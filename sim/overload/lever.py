"""Bind as a lever: what the axle does to ears and trunnions when it is forced past touch.

Where the yokes touch, the joint is no hinge any more. Bent on by d, the shaft bends as a beam that
is clamped at this joint and hinged at its other one, L away: M = 3 E I d / L [derivation]. Nothing
pushes harder than what pushes it on: of an axle that hangs, its own weight W. By virtual work
W dz = M db, so M is at most W dz/db, with db/dz how much a mm of travel bends the joint. And a
tube that yields pushes no harder either. The least of the three is what there is.

The yokes meet at a spot r from the middle of the cross. To hold M over that arm takes a force of
M / r at the least (exactly, where it is square to the arm), and the caps of a yoke, half each, hold
against it: it pulls the ears along the shaft, lifts what is strapped, and bends the trunnions.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import inf
from typing import Literal

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_not_negative, require_positive
from sim.strength import (
    JointEnd,
    Member,
    Strength,
    StrengthError,
    clamp_members,
    ear_members,
    joint_load,
    trunnion_members,
)

Limit = Literal["shaft", "weight", "tube"]
"""What keeps the moment from growing: how stiff the shaft is, the axle's weight, a tube that bends
for good."""


@dataclass(frozen=True)
class Lever:
    """A joint forced past touch.

    Attributes
    ----------
    past : rad beyond it. reached : whether the travel bends the joint to where it touches.
    moment : N mm at the joint. limit : what limits that.
    by_shaft, by_weight, by_tube : N mm, the three of which the least counts.
    arm : mm from the middle of the cross to where the yokes meet.
    prying : N at least between them. cap_force : N, half of that, on each cap.
    trunnion_moment : N mm at the root of a trunnion. ear_moment : at the root of the longest ear,
        where the yokes meet so that the force acts across it; where it acts along it, it only pulls
        and `strength` has that.
    strength : every member under that, and the weakest; safety is times the moment.
    """

    past: float
    reached: bool
    moment: float
    limit: Limit
    by_shaft: float
    by_weight: float
    by_tube: float
    arm: float
    prying: float
    cap_force: float
    trunnion_moment: float
    ear_moment: float
    strength: Strength


def beam_moment(section: TubeSection, modulus: float, length: float, past: float) -> float:
    """Moment (N mm) of a shaft clamped at one joint, hinged at the other, turned by `past` rad."""
    require_positive(StrengthError, modulus=modulus, length=length)
    require_not_negative(StrengthError, past=past)
    return 3.0 * modulus * section.second_moment * past / length


def lever(
    joint: JointEnd,
    tube: tuple[TubeSection, Material],
    length: float,
    arm: float,
    past: float,
    weight: float,
    bends_by: float,
    reached: bool = True,
) -> Lever:
    """Force a joint past touch.

    length : mm to the other joint. arm : mm from the cross to where the yokes meet. past : rad.
    weight : N that hangs on it. bends_by : rad of bend for each mm that it hangs lower; 0 where
    travel does not bend it.
    """
    require_positive(StrengthError, arm=arm)
    require_not_negative(StrengthError, bends_by=bends_by)
    if weight != inf:  # the ground pushes as hard as it takes
        require_not_negative(StrengthError, weight=weight)
    section, steel = tube
    limits: dict[Limit, float] = {
        "shaft": beam_moment(section, steel.modulus, length, past),
        "weight": weight / bends_by if bends_by > 0.0 else inf,
        "tube": steel.yields / section.bending(1.0),
    }
    limit: Limit = min(limits, key=lambda name: limits[name])
    moment = limits[limit]
    prying = moment / arm
    members = tuple(pried(joint, prying))
    return Lever(
        past=past,
        reached=reached,
        moment=moment,
        limit=limit,
        by_shaft=limits["shaft"],
        by_weight=limits["weight"],
        by_tube=limits["tube"],
        arm=arm,
        prying=prying,
        cap_force=0.5 * prying,
        trunnion_moment=0.5 * prying * joint.trunnion.lever,
        ear_moment=0.5 * prying * max((yoke.ear.root_at for yoke in joint.yokes), default=0.0),
        strength=Strength(moment, members),
    )


def pried(joint: JointEnd, prying: float) -> Iterator[Member]:
    """Members of a joint whose caps hold half of a force (N) each, along the shaft."""
    trunnion = joint.trunnion
    along = joint_load(0.0, 0.0, trunnion.arm, prying)
    # To a trunnion a force is a force, whichever way: that of this torque in a straight joint.
    across = joint_load(prying * trunnion.arm, 0.0, trunnion.arm)
    softest = min((yoke.made_of for yoke in joint.yokes), key=lambda m: m.bears, default=None)
    for found in trunnion_members(across, trunnion, joint.cross, softest or joint.cross):
        yield replace(found, name=f"{joint.name}: {found.name}")
    for yoke in joint.yokes:
        held = ear_members(along, yoke.ear, yoke.made_of)
        if yoke.ear.ring_radius is not None:  # the ring tears whichever way its cap is pushed
            held = (ear_members(across, yoke.ear, yoke.made_of)[0], *held[1:])
        if yoke.cap is not None:
            held += clamp_members(along, yoke.cap, yoke.bolts or yoke.made_of)
        for found in held:
            yield replace(found, name=f"{yoke.name}: {found.name}")
