"""The picture of a check: the tightest joint at its worst pose."""

from math import degrees
from pathlib import Path

from sim.check import Check, JointCheck
from viewer.picture import save_picture
from viewer.scene.build_joint import joint_picture, worst_gap
from viewer.words import pose_words


def draw_check(result: Check, path: Path) -> None:
    """Draw the joint with the least bend left, at its worst pose.

    Raises PictureError when there can be no picture here.
    """
    found = result.joints[result.tightest]
    at = found.sweep.most.at
    picture = joint_picture(
        result.derivation.vehicle,
        at,
        found.hardware,
        worst_gap(found),
        _headline(found),
        (f"{result.rig.name}.", f"At {pose_words(at)}.", _bends(found)),
    )
    save_picture(picture, path)


def _headline(found: JointCheck) -> str:
    joint = f"The {found.hardware.joint} joint"
    if found.margin <= 0.0:
        return f"{joint} touches"
    return f"{joint} at its worst: {degrees(found.margin):.1f} deg left"


def _bends(found: JointCheck) -> str:
    bend, clear = degrees(found.sweep.most.value), degrees(found.curve.certified_clear)
    return f"Bent {bend:.1f} deg; clear to {clear:.1f} deg."
