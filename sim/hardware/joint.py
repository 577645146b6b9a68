"""The 3D parts of a rig's joints, built from the catalogue and the rig's own dimensions."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from geometry.built import built
from geometry.contact.gap import Gap, gap_at
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import Contact, TouchCurve
from geometry.cross import Cross, CrossShape
from geometry.errors import MeshError, ShapeError
from geometry.head import OuterYoke
from geometry.yoke import Yoke, YokeShape
from sim.front_section import shaft_drives
from sim.kept.gaps import cached_gap
from sim.kept.touch_curves import cached_touch, pair_key
from sim.parts.catalogue import ordinary
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.choice import YokeChoice
from sim.rig.fitted import fitted_cross, yoke_source
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint

CENTRE = "center yoke"
"""Kind of the yoke between the two crosses of a head."""

YokeSource = YokeShape | OuterYoke | Yoke
"""What a yoke is built from; the yoke itself where that came from a mesh file."""


def yoke_of(source: YokeSource) -> Yoke:
    """The built yoke of a source."""
    return source if isinstance(source, Yoke) else built(source)


@dataclass(frozen=True)
class JointHardware:
    """The parts of one joint, built when they are asked for: what is kept of it needs none of them.

    Attributes
    ----------
    joint : "output", "middle" or "pinion".
    driving_from : what the yoke nearer the engine is built from; the yoke itself where that came
        from a mesh file.
    driven_from : the same of the other yoke.
    cross_from : what the cross between them is built from.
    on_front_section : whether one of the yokes is on the front section of a two-piece shaft.
    notes : what is worth knowing of yokes that came from mesh files, or were fitted to readings.
    """

    joint: Joint
    driving_from: YokeSource
    driven_from: YokeSource
    cross_from: CrossShape
    on_front_section: bool = False
    notes: tuple[Remark, ...] = ()

    def __getstate__(self) -> dict[str, Any]:
        """All but what is ready for queries, which another process makes anew."""
        return {name: value for name, value in self.__dict__.items() if name != "closing"}

    @property
    def fitted(self) -> bool:
        """Whether its yokes are fitted to bench readings, not measured."""
        return any(note.code == "fitted" for note in self.notes)

    @property
    def driving(self) -> Yoke:
        """The yoke nearer the engine."""
        return yoke_of(self.driving_from)

    @property
    def driven(self) -> Yoke:
        """The other yoke."""
        return yoke_of(self.driven_from)

    @property
    def cross(self) -> Cross:
        """The cross between them."""
        return built(self.cross_from)

    @cached_property
    def key(self) -> str:
        """All that the parts are built from: equal keys, equal parts."""
        return pair_key(self.driving_from, self.driven_from, self.cross_from)

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
            pair = f"{self.driving_from.name} and {self.driven_from.name}"
            raise ShapeError(f"{self.joint} joint ({pair}): {error}") from error

    def touch(self, gap: float = 0.0) -> TouchCurve:
        """When it touches, or leaves less than a gap (mm); from the cache where it is known."""
        return cached_touch(
            self.key, lambda: self._closing(gap) if gap > 0.0 else self.closing, gap=gap
        )

    def smallest_gap(self, bend: float) -> Gap:
        """Smallest gap over a whole turn at this bend (rad); from the cache where it is known."""
        return cached_gap(self.key, bend, lambda: self.closing)

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
        yoke = self.driving_from if body == "driving" else self.driven_from
        if yoke.kind == CENTRE:
            return CENTRE
        inner = body == ("driving" if shaft_drives(self.joint) else "driven")
        kind = ordinary(yoke.kind)
        if self.on_front_section and inner == (self.joint == "output"):
            return f"front section's {kind}"
        return f"shaft's {kind}" if inner else f"{self.joint} {kind}"


def joint_hardware(rig: Rig, joint: Joint) -> JointHardware:
    """Make the yokes and the cross of one joint of a rig ready to be built.

    Raises
    ------
    BindpointError
        For a name that is not in the catalogue or dimensions that make no sound part.
    """
    end = typed_joint(rig, joint)
    held = fitted_cross(end.cross)
    if end.typed.bench and (fitted := _fitted(rig, joint, held)) is not None:
        return fitted
    (near, near_notes), (far, far_notes) = (_source(*yoke, held, rig) for yoke in end.yokes.items())
    return JointHardware(
        joint,
        near,
        far,
        held,
        rig.carrier is not None and joint != "pinion",
        (*near_notes, *far_notes),
    )


def _fitted(rig: Rig, joint: Joint, held: CrossShape) -> JointHardware | None:
    """A joint as its bench readings have it; None where nothing of it is free."""
    # Slow to read, and most rigs have no readings.
    from sim.bench.fit import fitted_joint  # noqa: PLC0415
    from sim.bench.remarks import remarks  # noqa: PLC0415

    fitted = fitted_joint(rig, joint)
    if fitted is None:
        return None
    if not any(each.counts for each in fitted.readings):
        end = typed_joint(rig, joint)
        near, far = (_source(*yoke, held, rig)[0] for yoke in end.yokes.items())
    else:
        near, far = fitted.pair.driving, fitted.pair.driven
    return JointHardware(
        joint,
        near,
        far,
        held,
        rig.carrier is not None and joint != "pinion",
        tuple(remarks(rig, joint, fitted)),
    )


def _source(
    key: str, choice: YokeChoice, cross: CrossShape, rig: Rig
) -> tuple[YokeSource, tuple[Remark, ...]]:
    """Source of a yoke; a mesh file that makes none is told with the key that asks for it."""
    try:
        return yoke_source(choice, cross, rig.shaft.tube, rig.folder)
    except MeshError as error:
        raise MeshError(f"{rig.name}: {key}: {error}") from None
