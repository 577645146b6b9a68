"""What was read on a joint goes with it: a cure that puts other parts in has no readings of them."""

from __future__ import annotations

from sim.rig import Rig, changed
from sim.rig.typed_joints import TypedJoint, typed_joints


def with_own_joints(before: Rig, cured: Rig) -> Rig:
    """A cured rig without the bench readings of joints whose cross or yokes are other ones."""
    were = {each.joint: each for each in typed_joints(before)}
    gone = {
        f"{each.table}.bench": None
        for each in typed_joints(cured)
        if each.typed.bench and _parts(each) != _parts(were.get(each.joint))
    }
    return changed(cured, gone) if gone else cured


def _parts(joint: TypedJoint | None) -> object:
    """The parts of a joint, dimensions and all; None of no joint."""
    if joint is None:
        return None
    yokes = [(yoke.name, dict(yoke.own), yoke.file) for yoke in joint.yokes.values()]
    return joint.cross.name, dict(joint.cross.own), yokes
