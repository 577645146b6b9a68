"""Which parts of a rig make up each joint, where they are typed, and which nobody named."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from geometry.errors import BindpointError
from sim.front_section import Joint, shaft_drives
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

    @property
    def by_side(self) -> dict[Literal["shaft", "end"], YokeChoice]:
        """The shaft's own yoke, and the other one."""
        near, far = self.yokes.values()
        shaft, end = (near, far) if shaft_drives(self.joint) else (far, near)
        return {"shaft": shaft, "end": end}


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


@dataclass(frozen=True)
class GenericParts:
    """Parts of a joint that stand in for what nobody named.

    Attributes
    ----------
    cross : size of the cross; None where it was named.
    head : kind of the double-Cardan head; None where it was named or there is none.
    yokes : kinds of the yokes that were not named, from the engine on.
    """

    cross: str | None = None
    head: str | None = None
    yokes: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything of the joint is generic in place of a named part."""
        return bool(self.cross or self.head or self.yokes)


def generic_parts(rig: Rig, joint: Joint) -> GenericParts:
    """What nobody named of a joint of a rig; nothing where it was read on the bench itself."""
    end, assumed = typed_joint(rig, joint), {each.key for each in rig.assumed}
    if end.typed.bench and end.typed.joint == "single":
        return GenericParts()
    head = getattr(end.typed, "head", None)
    return GenericParts(
        cross=end.cross.name if f"{end.table}.cross" in assumed else None,
        head=head.name if head is not None and f"{end.table}.head" in assumed else None,
        yokes=tuple(yoke.name for key, yoke in end.yokes.items() if key in assumed),
    )
