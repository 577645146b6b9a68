"""Which parts of a rig make up each joint, and where they are typed."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.errors import BindpointError
from sim.front_section import Joint
from sim.rig.carrier import MiddleJoint
from sim.rig.choice import CrossChoice, YokeChoice
from sim.rig.rig import Rig
from sim.rig.shaft import End


class NoSuchJointError(BindpointError, LookupError):
    """A joint that this shaft does not have."""


@dataclass(frozen=True)
class TypedJoint:
    """The parts of one joint as a rig file has them.

    Attributes
    ----------
    joint : which one.
    table : key path of their table.
    typed : that table.
    """

    joint: Joint
    table: str
    typed: End | MiddleJoint

    @property
    def cross(self) -> CrossChoice:
        """Its cross."""
        return self.typed.cross

    @property
    def yokes(self) -> dict[str, YokeChoice]:
        """Its two yokes by their key paths, from the engine on."""
        return {f"{self.table}.{key}": getattr(self.typed, key) for key in self.typed.yokes}


def typed_joints(rig: Rig) -> tuple[TypedJoint, ...]:
    """The parts of every joint of a rig, from the output to the pinion."""
    shaft = rig.shaft
    middle = () if rig.carrier is None else (rig.carrier.middle,)
    return (
        TypedJoint("output", "shaft.output_end", shaft.output_end),
        *(TypedJoint("middle", "carrier.middle", each) for each in middle),
        TypedJoint("pinion", "shaft.pinion_end", shaft.pinion_end),
    )


def typed_joint(rig: Rig, joint: Joint) -> TypedJoint:
    """The parts of one joint of a rig.

    Raises NoSuchJointError for the middle joint of a shaft without a carrier bearing.
    """
    ends = {end.joint: end for end in typed_joints(rig)}
    if joint not in ends:
        raise NoSuchJointError(
            f"{rig.name}: came the {joint} joint of a shaft without a carrier bearing, expected "
            f"one of {', '.join(ends)}"
        )
    return ends[joint]
