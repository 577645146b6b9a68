"""One cross of a rig as its needles are asked: sizes, bend, yokes, and which of them drives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from geometry.cross import CrossShape
from geometry.yoke import YokeShape
from sim.bearing.needles import Needles
from sim.derive import ride_height_of
from sim.front_section import shaft_drives
from sim.parts.catalogue import yoke_shape
from sim.rig import Rig
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of
from sim.rig.typed_joints import typed_joint
from sim.seen.words import HeadCross, YokeName
from sim.sizing.joint_size import needles_of
from sim.strength import Trunnion
from sim.vehicle import Joint

STANDS_IN = "weld yoke"
"""For a yoke from a mesh file and for the middle yoke of a head, whose ears have no dimensions."""


@dataclass(frozen=True, eq=False)
class CrossAt:
    """One cross of a rig at ride height.

    Attributes
    ----------
    joint : which joint it is in.
    cross, trunnion, needles : its sizes, and the rest as strength has them.
    bend : rad at ride height, of this cross.
    drives : which yoke is nearer the engine.
    yokes : what both are built from. In a head the middle yoke is the other one of the inner cross,
        and stands for the shaft's at the outer cross.
    front : whether the shaft goes to a front axle, and so turns the other way about itself.
    """

    joint: Joint
    cross: CrossShape
    trunnion: Trunnion
    needles: Needles
    bend: float
    drives: YokeName
    yokes: Mapping[YokeName, YokeShape]
    front: bool


def cross_at(rig: Rig, joint: Joint, which: HeadCross | None = None) -> CrossAt:
    """A cross of a rig; of a head the outer one where nothing else is asked.

    Raises NoSuchJointError for a joint that the shaft does not have.
    """
    typed = typed_joint(rig, joint)
    shape = fitted_cross(typed.cross)
    ride = ride_height_of(rig)
    bend = ride.bends[joint]
    output, pinion = heads_of(rig.shaft)
    head = {"output": output, "pinion": pinion}.get(joint)
    inner = which == "inner"
    if head is not None:
        split = head.split(bend)
        bend = float(split.sliding if inner else split.fixed)
    middle: YokeName | None = None if head is None else "end" if inner else "shaft"
    yokes: dict[YokeName, YokeShape] = {}
    for name, choice in typed.by_side.items():
        generic = choice.is_own or name == middle
        yokes[name] = (
            yoke_shape(STANDS_IN, shape) if generic else fitted_yoke(choice, shape, rig.shaft.tube)
        )
    return CrossAt(
        joint=joint,
        cross=shape,
        trunnion=Trunnion.of(shape),
        needles=needles_of(shape),
        bend=bend,
        drives="shaft" if shaft_drives(joint) else "end",
        yokes=MappingProxyType(yokes),
        front=ride.front,
    )
