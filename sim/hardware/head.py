"""The built parts of a double-Cardan head, asked like those of a single joint."""

from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

import numpy as np

from geometry.built import built
from geometry.contact.gap import Gap, gap_at
from geometry.contact.touch import Contact, TouchCurve
from geometry.cross import Cross
from geometry.head import HeadShape, OuterYoke
from geometry.head.turning import second_spin
from geometry.tolerances import TOL
from geometry.yoke import Yoke
from sim.hardware.head_touch import HeadTouch, head_touch
from sim.hardware.joint import JointHardware, joint_hardware
from sim.head.bend import Head, carrying_drives
from sim.head.catalogue import head_of
from sim.kept.outer_yokes import cached_outer_limit
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.carrier import MiddleJoint
from sim.rig.fitted import fitted_head
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint


@dataclass(frozen=True)
class HeadGap(Gap):
    """A gap in a head; `cross` is 0 for the cross nearer the engine, 1 for the other."""

    cross: int = 0


@dataclass(frozen=True)
class HeadContact(Contact):
    """A contact in a head; `cross` as for a gap, bend and spin those of that cross."""

    cross: int = 0


@dataclass(frozen=True)
class HeadHardware:
    """The parts of a head, built when they are asked for.

    Attributes
    ----------
    joint : "output" or "pinion".
    shape : what they are built from.
    head : its centring, as the mathematics of the line sees it.
    notes : nothing; a head comes from the catalogue.
    """

    joint: Joint
    shape: HeadShape
    head: Head
    notes: tuple[Remark, ...] = ()

    @property
    def fitted(self) -> bool:
        """No: bench readings say nothing of a head."""
        return False

    @property
    def carrying_drives(self) -> bool:
        """Whether the yoke with the ball is the one nearer the engine."""
        return carrying_drives(self.joint)

    @property
    def driving_from(self) -> OuterYoke:
        """What the outer yoke nearer the engine is built from."""
        return self.shape.carrying_yoke() if self.carrying_drives else self.shape.sliding_yoke()

    @property
    def driven_from(self) -> OuterYoke:
        """What the other outer yoke is built from."""
        return self.shape.sliding_yoke() if self.carrying_drives else self.shape.carrying_yoke()

    @property
    def driving(self) -> Yoke:
        """The outer yoke nearer the engine."""
        return built(self.driving_from)

    @property
    def driven(self) -> Yoke:
        """The other outer yoke."""
        return built(self.driven_from)

    @property
    def centre(self) -> Yoke:
        """The yoke between the two crosses."""
        return built(self.shape.centre())

    @property
    def cross(self) -> Cross:
        """Either of the two crosses."""
        return built(self.shape.cross)

    @cached_property
    def crosses(self) -> tuple[JointHardware, JointHardware]:
        """The two joints of the head, the one nearer the engine first."""
        centre, cross = self.shape.centre(), self.shape.cross
        return (
            JointHardware(self.joint, self.driving_from, centre, cross),
            JointHardware(self.joint, centre, self.driven_from, cross),
        )

    def bends(self, bend: float) -> tuple[float, float]:
        """Bend (rad) at either cross when the head is bent this far (rad)."""
        first, second = self.head.split(bend).ordered(self.carrying_drives)
        return float(first), float(second)

    def head_touch(self, gap: float = 0.0) -> HeadTouch:
        """When it touches, or leaves less than a gap (mm) at a cross, and what stops it."""
        first, second = (cross.touch(gap) for cross in self.crosses)
        outer = cached_outer_limit(self.shape, self.head.limit)
        return head_touch(self.head, first, second, self.carrying_drives, outer)

    def touch(self, gap: float = 0.0) -> TouchCurve:
        """When it touches, or leaves less than a gap (mm), by the bend of the whole head."""
        found = self.head_touch(gap)
        first, _ = found.curves
        cross = 1 if found.limited_by == "second cross" else 0
        lowest = None
        if found.contact is not None:
            lowest = HeadContact(**_fields(found.contact), cross=cross)
        clear = np.minimum(found.touch, TOL.bend_limit) - 2.0 * first.bracket
        return TouchCurve(
            spin=found.spin,
            touch=found.touch,
            clear=np.maximum(clear, found.certified_total),
            contacts=tuple(self._contact(found, i) for i in range(len(found.spin))),
            touch_min=found.touch_total,
            first=lowest,
            certified_clear=found.certified_total,
            chord=max(curve.chord for curve in found.curves),
            limit=TOL.bend_limit,
            course=found.course,
            gap=gap,
        )

    def _contact(self, found: HeadTouch, i: int) -> HeadContact | None:
        """What touches at sampled spin number `i`; None where it is at neither cross."""
        bend, _ = self.bends(float(found.touch[i]))
        spin = float(found.spin[i])
        near, far = found.curves
        if near.touch[i] <= bend + near.bracket and near.contacts[i] is not None:
            return HeadContact(**_fields(near.contacts[i]), cross=0)
        turned = float(second_spin(bend, spin)) % (2.0 * np.pi)
        j = round(turned / (2.0 * np.pi) * len(far.spin)) % len(far.spin)
        contact = far.contacts[j]
        if contact is None or found.touch[i] >= self.head.limit - 1e-9:
            return None
        return HeadContact(**_fields(contact), cross=1)

    def smallest_gap(self, bend: float) -> Gap:
        """Smallest gap over a turn at this bend (rad) of the head."""
        gaps = [
            _tagged(cross.smallest_gap(part), number)
            for number, (cross, part) in enumerate(zip(self.crosses, self.bends(bend), strict=True))
        ]
        return min(gaps, key=lambda gap: (not gap.overlaps, gap.distance))

    def gap_at(self, bend: float, spin: float) -> Gap:
        """Gap at one bend of the head and spin of its driving outer yoke, rad."""
        first, second = self.bends(bend)
        turns = (first, spin), (second, float(second_spin(first, spin)))
        gaps = [
            _tagged(gap_at(cross.closing, *turn), number)
            for number, (cross, turn) in enumerate(zip(self.crosses, turns, strict=True))
        ]
        return min(gaps, key=lambda gap: (not gap.overlaps, gap.distance))

    def names(self, found: Gap | Contact) -> tuple[str, str]:
        """What a shop calls the two bodies that meet."""
        return self.crosses[cross_of(found)].names(found)


EndHardware = JointHardware | HeadHardware
"""The built parts of a joint, single or double, and what can be asked of them."""


def end_hardware(rig: Rig, joint: Joint) -> EndHardware:
    """Make the parts of one joint of a rig, single or double, ready to be built.

    Raises
    ------
    BindpointError
        For a name that is not in the catalogue or dimensions that make no sound part.
    """
    end = typed_joint(rig, joint).typed
    shape = None if isinstance(end, MiddleJoint) else fitted_head(end, rig.shaft.tube)
    if shape is None:
        return joint_hardware(rig, joint)
    return HeadHardware(joint, shape, head_of(shape))


def cross_of(found: Gap | Contact) -> int:
    """Number of the cross of a head at which something was found; 0 in a single joint."""
    return found.cross if isinstance(found, HeadGap | HeadContact) else 0


def _tagged(gap: Gap, cross: int) -> HeadGap:
    return HeadGap(**_fields(gap), cross=cross)


def _fields(found: Gap | Contact | None) -> dict[str, Any]:
    return {} if found is None else {each.name: getattr(found, each.name) for each in fields(found)}
