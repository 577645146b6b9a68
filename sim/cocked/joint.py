"""The caps of one cross of a rig: sizes, bend, which yoke drives, as the needles are asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from geometry.cross import CrossShape
from sim.bearing.needles import Needles
from sim.derive import ride_height_of
from sim.rig import Rig
from sim.rig.fitted import fitted_cross, heads_of
from sim.rig.typed_joints import typed_joint
from sim.sizing.joint_size import needles_of
from sim.strength import Trunnion
from sim.vehicle import Joint

Cap = Literal["shaft_a", "shaft_b", "end_a", "end_b"]
"""The caps of a cross: in the shaft's own yoke, and in the other one. In a head the middle yoke is
the other one of the inner cross, and stands for the shaft's at the outer cross."""

Crosses = Literal["single", "outer", "inner"]
"""The cross of a single joint, or that of a head nearer the vehicle or nearer the shaft."""

CAPS: Final[tuple[Cap, ...]] = get_args(Cap)


@dataclass(frozen=True)
class CrossAt:
    """One cross of a rig at ride height.

    Attributes
    ----------
    joint : which joint it is in. cross : its sizes.
    trunnion, needles : as strength has them. bend : rad at ride height, of this cross.
    drives : which yoke is nearer the engine.
    """

    joint: Joint
    cross: CrossShape
    trunnion: Trunnion
    needles: Needles
    bend: float
    drives: Literal["shaft", "end"]


def cross_at(rig: Rig, joint: Joint, which: Crosses | None = None) -> CrossAt:
    """A cross of a rig.

    Raises NoSuchJointError for a joint that the shaft does not have.
    """
    typed = typed_joint(rig, joint)
    shape = fitted_cross(typed.cross)
    bend = ride_height_of(rig).bends[joint]
    output, pinion = heads_of(rig.shaft)
    head = {"output": output, "pinion": pinion}.get(joint)
    if head is not None:
        split = head.split(bend)
        bend = float(split.sliding if which == "inner" else split.fixed)
    return CrossAt(
        joint=joint,
        cross=shape,
        trunnion=Trunnion.of(shape),
        needles=needles_of(shape),
        bend=bend,
        drives="shaft" if joint == "pinion" else "end",
    )
