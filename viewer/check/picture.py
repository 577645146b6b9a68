"""The picture of a check: the tightest joint at its worst pose, and the whole shaft."""

from math import degrees
from pathlib import Path
from textwrap import wrap

from sim.around.surroundings import SurroundingGap
from sim.assessment import JointAssessment
from sim.check import Check
from sim.findings import Code
from sim.pose import PoseCheck, posed
from sim.rig.generic import GenericParts, generic_parts
from sim.vehicle import Pose
from viewer.scene.build_joint import joint_picture, worst_gap
from viewer.scene.build_shaft import nearby, shaft_picture
from viewer.scene.check_scene import SHEET, CheckPicture
from viewer.scene.joint import JointPicture
from viewer.scene.marks import short_length
from viewer.scene.shaft import ShaftPicture
from viewer.scene.shaft_parts import tube_size
from viewer.words.assumed import assumed_words, joint_words
from viewer.words.poses import pose_words
from viewer.words.verbs import agreeing
from viewer.words.verdicts import check_word, headline
from viewer.written.picture import save_picture

WIDTH = 90
"""Letters in a line across the sheet."""


def draw_check(result: Check, path: Path) -> None:
    """Draw the joint with the least bend left, at its worst pose, and the whole shaft.

    Raises PictureError when there can be no picture here.
    """
    save_picture(check_picture(result), path, SHEET)


def check_picture(result: Check) -> CheckPicture:
    """Picture of a check.

    The shaft is shown where it comes nearest to its surroundings; without any, where the joint
    above is at its worst.
    """
    nearest = min(result.found.near, key=lambda gap: gap.gap_mm, default=None)
    return CheckPicture(_joint(result), _shaft(result, nearest))


def _joint(result: Check) -> JointPicture:
    found = result.joints[result.tightest]
    at = found.sweep.most.at
    return joint_picture(
        result.derivation.vehicle,
        at,
        found.hardware,
        worst_gap(found),
        _headline(found, generic_parts(result.rig, result.tightest)),
        (
            f"{result.rig.name}.",
            f"At {pose_words(at)}. {_bends(found)}",
            *_rests(result, "joint-bend", result.tightest),
        ),
    )


def _shaft(result: Check, nearest: SurroundingGap | None) -> ShaftPicture:
    """The whole shaft in the pose that its half of the sheet is about."""
    rig, tightest = result.rig, result.joints[result.tightest]
    at = tightest.sweep.most.at if nearest is None else nearest.at
    title = "The whole shaft in the same pose"
    if nearest is not None and nearest.touches:
        touch = agreeing(nearest.called, "touches", "touch")
        title = f"The {nearest.called} {touch} the {nearest.name}"
    elif nearest is not None:
        left = short_length(nearest.sure_mm)
        title = f"Nearest to the {nearest.name}: {left} left"
    marked = () if nearest is None else (nearest,)
    return shaft_picture(
        _posed(result, at),
        tube_size(rig),
        title,
        (f"At {pose_words(at)}.", *wrap(_whole(result), WIDTH), *_near_rests(result, nearest)),
        near=nearby(rig, result.derivation.vehicle, at, marked),
    )


def _posed(result: Check, at: Pose) -> PoseCheck:
    """The checked shaft in one pose, the output yoke as it stands at spin 0."""
    rooms = {joint: found.room for joint, found in result.joints.items()}
    return posed(result.rig, result.derivation.vehicle, rooms, at, 0.0)


def _headline(found: JointAssessment, generic: GenericParts) -> str:
    joint = joint_words(found.hardware.joint, generic)
    if found.margin <= 0.0:
        return f"{joint} touches"
    return f"{joint} at its worst: {degrees(found.margin):.1f} deg left"


def _rests(result: Check, code: Code, subject: str) -> list[str]:
    """What a finding rests on that nobody gave, in lines."""
    said = [
        assumed_words(each)
        for each in result.findings
        if each.code == code and each.subject == subject
    ]
    return [row for line in said for row in wrap(line, WIDTH)]


def _near_rests(result: Check, nearest: SurroundingGap | None) -> list[str]:
    return [] if nearest is None else _rests(result, "surroundings", nearest.name)


def _whole(result: Check) -> str:
    """The verdict of the whole check, which may rest on the slip, of which no joint tells."""
    return f"The whole check: {check_word(result)}. {headline(result)}"


def _bends(found: JointAssessment) -> str:
    bend, clear = degrees(found.sweep.most.value), degrees(found.curve.certified_clear)
    return f"Bent {bend:.1f} deg; clear to {clear:.1f} deg."
