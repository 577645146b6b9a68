"""The 3D parts of a rig's joints, built from the catalogue and the rig's own dimensions."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from geometry.cross import Cross, CrossShape
from geometry.errors import BindpointError, ShapeError
from geometry.joint_parts import ClosingJoint, JointParts
from geometry.yoke import Yoke
from sim.catalogue import cross_shape, dimension_names, yoke_shape
from sim.rig import Rig
from sim.rig.choice import YokeChoice
from sim.vehicle import Joint


class NoSuchJointError(BindpointError, LookupError):
    """A joint that this shaft does not have."""


@dataclass(frozen=True)
class JointHardware:
    """The built parts of one joint.

    Attributes
    ----------
    joint : "output", "middle" or "pinion".
    driving : the yoke nearer the engine.
    driven : the other yoke.
    cross : the cross between them.
    """

    joint: Joint
    driving: Yoke
    driven: Yoke
    cross: Cross

    @cached_property
    def parts(self) -> JointParts:
        """What of them can touch."""
        return JointParts(self.driving.contact, self.driven.contact, self.cross.contact)

    @cached_property
    def closing(self) -> ClosingJoint:
        """The joint ready for distance queries.

        Raises ShapeError when the parts overlap before the joint bends.
        """
        try:
            return ClosingJoint(self.parts)
        except ShapeError as error:
            pair = f"{self.driving.name} and {self.driven.name}"
            raise ShapeError(f"{self.joint} joint ({pair}): {error}") from error

    def yoke_name(self, body: str) -> str:
        """What a shop calls a body: "pinion yoke", "weld yoke", "cross"."""
        if body == "cross":
            return "cross"
        inner = body == ("driving" if self.joint == "pinion" else "driven")
        yoke = self.driving if body == "driving" else self.driven
        kind = yoke.kind.removeprefix("deep-throat ")
        if self.joint == "middle" and not inner:
            return f"front section's {kind}"
        return f"shaft's {kind}" if inner else f"{self.joint} {kind}"


def joint_hardware(rig: Rig, joint: Joint) -> JointHardware:
    """Build the yokes and the cross of one joint of a rig.

    Raises
    ------
    BindpointError
        For a name that is not in the catalogue or dimensions that make no sound part.
    """
    output, pinion = rig.shaft.output_end, rig.shaft.pinion_end
    chosen = {
        "output": (output.cross, output.output_yoke, output.shaft_yoke),
        "pinion": (pinion.cross, pinion.shaft_yoke, pinion.pinion_yoke),
    }
    if rig.carrier is not None:
        middle = rig.carrier.middle
        chosen["middle"] = middle.cross, middle.front_yoke, middle.shaft_yoke
    if joint not in chosen:
        raise NoSuchJointError(
            f"{rig.name}: came the {joint} joint of a shaft without a carrier bearing, expected "
            f"one of {', '.join(chosen)}"
        )
    cross, driving, driven = chosen[joint]
    held = cross_shape(cross.name, cross.overrides)
    tube = rig.shaft.tube
    fit = {"tube_diameter": tube.outside.mm, "pilot_diameter": tube.outside.mm - 2.0 * tube.wall.mm}
    return JointHardware(joint, _yoke(driving, held, fit), _yoke(driven, held, fit), held.build())


def _yoke(choice: YokeChoice, cross: CrossShape, fit: Mapping[str, float]) -> Yoke:
    """A yoke for this cross, made to fit the rig's tube where it is welded to one."""
    known = {dimension.name for dimension in dimension_names(choice.name)}
    fitted = {name: value for name, value in fit.items() if name in known}
    return yoke_shape(choice.name, cross, fitted | dict(choice.overrides)).build()
