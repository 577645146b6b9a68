"""What only a front axle has: caster that the pinion takes along, and hubs that may unlock."""

from collections.abc import Iterator
from math import degrees
from typing import Final

from sim.assessment import Assessment
from sim.derive import ride_height_of
from sim.findings import Finding, Measure, deg
from sim.rests_on import aim, unevenness
from sim.vehicle import RIDE

SMOOTH: Final = 3.0
"""deg. Bend of one joint up to which a shaft runs well at road speed (common practice, no
source)."""


def front_findings(found: Assessment) -> Iterator[Finding]:
    """Notes on a front axle, where its caster or its hubs are said; never a stop.

    The pinion looks rearward, so raising it turns the housing forward at its top, and the
    steering axis leans with it. Seen from the side every direction fixed to the housing turns by
    the same angle, whatever the kingpins lean sideways: the caster changes by exactly the angle
    raised [derivation].
    """
    rig, basis = found.rig, found.basis
    caster = rig.axle.steers
    if caster is not None:
        raised = ride_height_of(rig).down - rig.axle.up
        yield Finding(
            "caster",
            "clear",
            "axle",
            deg(-raised),
            deg(caster),
            deg(caster - raised),
            RIDE,
            {"raised": raised, "caster": caster},
            basis.of(aim),
        )
    if rig.axle.hubs is not None:
        like = degrees(found.running.like_one_joint)
        yield Finding(
            "hubs",
            "clear",
            "axle",
            Measure(SMOOTH - like, "deg"),
            Measure(SMOOTH, "deg"),
            Measure(like, "deg"),
            RIDE,
            {"hubs": rig.axle.hubs},
            basis.of(unevenness),
        )
