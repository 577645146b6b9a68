"""The room that is left at the joints and beside the shaft over the whole travel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sim.around.surroundings import SurroundingGap, surrounding_gaps
from sim.assessment import Assessment, JointAssessment
from sim.remark import Remark
from sim.rig import Rig
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


def room_flags(rig: Rig, room: Room) -> Iterator[Remark]:
    """What touches or has less room than wanted, as a check judges it."""
    reserve, wanted = rig.wanted.bend.rad, rig.wanted.gap
    for joint, found in room.joints.items():
        if found.margin <= 0.0:
            yield Remark("touches", joint=joint, clear=found.clear, bent=found.most)
        elif found.margin < reserve:
            yield Remark("joint-close", joint=joint, left=found.margin, wanted=reserve)
    for joint, gap in room.tight.items():
        yield Remark("joint-gap", joint=joint, gap=gap, wanted=wanted.mm, typed=str(wanted))
    clearance = rig.wanted.clearance.mm
    for near in room.near:
        if near.touches:
            yield Remark("hits-surroundings", part=near.called, name=near.name)
        elif near.certified_mm < clearance:
            yield Remark(
                "near-surroundings",
                part=near.called,
                name=near.name,
                gap=near.sure_mm,
                wanted=clearance,
            )
