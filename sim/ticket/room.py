"""The room that is left at the joints and beside the shaft over the whole travel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import degrees

from sim.around.outline import agreeing
from sim.around.surroundings import SurroundingGap, surrounding_gaps
from sim.assessment import Assessment, JointAssessment
from sim.flags import Flag
from sim.rig import Rig
from sim.units import format_angle, format_length, format_length_under, format_under
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class Room:
    """What is left.

    Attributes
    ----------
    joints : each over the whole travel.
    near : the smallest gap to each thing near the shaft.
    """

    joints: Mapping[Joint, JointAssessment]
    near: tuple[SurroundingGap, ...]

    @property
    def tight(self) -> dict[Joint, float]:
        """Least gap (mm) of each joint whose largest bend keeps its reserve, but not the gap's."""
        return {
            joint: found.gap.distance
            for joint, found in self.joints.items()
            if found.room.short_of(found.most) == "gap"
        }


def room_of(found: Assessment) -> Room:
    """Find the room of a rig.

    Raises
    ------
    MeshError
        For the mesh file of a thing near the shaft that cannot be read.
    """
    return Room(found.joints, surrounding_gaps(found.rig, found.vehicle, found.parts))


def room_flags(rig: Rig, room: Room) -> Iterator[Flag]:
    """What touches or has less room than wanted, as a check judges it."""
    reserve, wanted = rig.wanted.bend.rad, rig.wanted.gap
    for joint, found in room.joints.items():
        margin, who = found.margin, f"the {joint} joint"
        if margin <= 0.0:
            says = f"{who} touches within the travel: clear to {format_angle(found.clear)}"
            yield Flag("touches", f"{says}, bent to {format_angle(found.most)}")
        elif margin < reserve:
            left = format_under(degrees(margin), degrees(reserve), 1)
            says = f"{who} keeps only {left} deg before it touches, {format_angle(reserve)} wanted"
            yield Flag("joint-close", says)
    for joint, gap in room.tight.items():
        left = f"{gap / 25.4:.3f} in ({format_under(gap, wanted.mm, 2)} mm)"
        says = f"the {joint} joint keeps only {left} between its metal at the largest bend"
        yield Flag("joint-gap", f"{says}, {wanted} ({wanted.mm:.2f} mm) wanted")
    yield from _near_flags(rig, room)


def _near_flags(rig: Rig, room: Room) -> Iterator[Flag]:
    wanted = rig.wanted.clearance.mm
    for gap in room.near:
        who = f"the {gap.called}"
        if gap.touches:
            touch = agreeing(gap.called, "touches", "touch")
            yield Flag("hits-surroundings", f"{who} {touch} the {gap.name} within the travel")
        elif gap.certified_mm < wanted:
            left = format_length_under(gap.sure_mm, wanted)
            come = agreeing(gap.called, "comes", "come")
            says = f"{who} {come} within {left} of the {gap.name}, {format_length(wanted)} wanted"
            yield Flag("near-surroundings", says)
