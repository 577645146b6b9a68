"""The 3D parts of a rig's joints, built from the catalogue and the rig's own dimensions."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from geometry.contact.gap import Gap, gap_at, keeps_gap
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import Contact, TouchCurve
from geometry.cross import Cross, CrossShape
from geometry.errors import MeshError, ShapeError
from geometry.yoke import Yoke
from sim.kept.gaps import cached_gap
from sim.kept.touch_curves import cached_touch
from sim.parts.catalogue import ordinary
from sim.rig import Rig
from sim.rig.choice import YokeChoice
from sim.rig.fitted import built_yoke, fitted_cross
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint

CENTRE = "centre yoke"
"""Kind of the yoke between the two crosses of a head."""


@dataclass(frozen=True)
class JointHardware:
    """The built parts of one joint.

    Attributes
    ----------
    joint : "output", "middle" or "pinion".
    driving : the yoke nearer the engine.
    driven : the other yoke.
    cross : the cross between them.
    on_front_section : whether one of the yokes is on the front section of a two-piece shaft.
    notes : what is worth knowing of yokes that came from mesh files.
    """

    joint: Joint
    driving: Yoke
    driven: Yoke
    cross: Cross
    on_front_section: bool = False
    notes: tuple[str, ...] = ()

    def __getstate__(self) -> dict[str, Any]:
        """All but what is ready for queries, which another process makes anew."""
        return {name: value for name, value in self.__dict__.items() if name != "closing"}

    @cached_property
    def parts(self) -> JointParts:
        """What of them can touch."""
        return JointParts(self.driving.contact, self.driven.contact, self.cross.contact)

    @cached_property
    def closing(self) -> ClosingJoint:
        """The joint ready for distance queries.

        Raises ShapeError when the parts overlap before the joint bends.
        """
        return self._closing(0.0)

    def _closing(self, gap: float) -> ClosingJoint:
        try:
            return ClosingJoint(self.parts, gap)
        except ShapeError as error:
            pair = f"{self.driving.name} and {self.driven.name}"
            raise ShapeError(f"{self.joint} joint ({pair}): {error}") from error

    def touch(self, gap: float = 0.0) -> TouchCurve:
        """When it touches, or leaves less than a gap (mm); from the cache where it is known."""
        if gap > 0.0:
            return cached_touch(self.parts, lambda: self._closing(gap), gap=gap)
        return cached_touch(self.parts, lambda: self.closing)

    def smallest_gap(self, bend: float) -> Gap:
        """Smallest gap over a whole turn at this bend (rad); from the cache where it is known."""
        return cached_gap(self.parts, bend, lambda: self.closing)

    def keeps_gap(self, bend: float, wanted: float) -> bool:
        """Whether the gap is `wanted` (mm) or more over a whole turn at this bend (rad)."""
        return keeps_gap(self.closing, bend, wanted)

    def gap_at(self, bend: float, spin: float) -> Gap:
        """Gap at one bend and spin (rad)."""
        return gap_at(self.closing, bend, spin)

    def names(self, found: Gap | Contact) -> tuple[str, str]:
        """What a shop calls the two bodies that meet."""
        first, second = found.bodies
        return self.yoke_name(first), self.yoke_name(second)

    def yoke_name(self, body: str) -> str:
        """What a shop calls a body: "pinion yoke", "weld yoke", "cross"."""
        if body == "cross":
            return "cross"
        if self._yoke(body).kind == CENTRE:
            return CENTRE
        inner = body == ("driving" if self.joint == "pinion" else "driven")
        kind = ordinary(self._yoke(body).kind)
        if self.on_front_section and inner == (self.joint == "output"):
            return f"front section's {kind}"
        return f"shaft's {kind}" if inner else f"{self.joint} {kind}"

    def _yoke(self, body: str) -> Yoke:
        return self.driving if body == "driving" else self.driven


def joint_hardware(rig: Rig, joint: Joint) -> JointHardware:
    """Build the yokes and the cross of one joint of a rig.

    Raises
    ------
    BindpointError
        For a name that is not in the catalogue or dimensions that make no sound part.
    """
    end = typed_joint(rig, joint)
    held = fitted_cross(end.cross)
    (near, near_notes), (far, far_notes) = (_built(*yoke, held, rig) for yoke in end.yokes.items())
    return JointHardware(
        joint,
        near,
        far,
        held.build(),
        rig.carrier is not None and joint != "pinion",
        (*near_notes, *far_notes),
    )


def _built(
    key: str, choice: YokeChoice, cross: CrossShape, rig: Rig
) -> tuple[Yoke, tuple[str, ...]]:
    """Build a yoke; a mesh file that makes none is told with the key that asks for it."""
    try:
        return built_yoke(choice, cross, rig.shaft.tube, rig.folder)
    except MeshError as error:
        raise MeshError(f"{rig.name}: {key}: {error}") from None
