"""The picture of a relief: what to grind in the plan that serves best."""

from collections.abc import Callable
from math import degrees
from pathlib import Path

from geometry.contact.joint_parts import DRIVEN, DRIVING
from geometry.errors import BindpointError
from geometry.relief import Plan, Relief
from sim.parts.hardware import JointHardware
from viewer.scene.relief import ReliefPicture, ground_yoke
from viewer.scene.relief_scene import PAGE_OF
from viewer.written.picture import save_picture

Says = Callable[[JointHardware, Plan], str]
"""Says in a sentence what a plan does."""


class NothingGroundError(BindpointError, ValueError):
    """A relief in which no metal is taken off, so that there is nothing to draw."""


def draw_relief(
    rig_name: str, hardware: JointHardware, found: Relief, path: Path, says: Says, caution: str
) -> None:
    """Draw the plan that serves best.

    Raises NothingGroundError where there is none, PictureError when there can be no picture.
    """
    picture = relief_picture(rig_name, hardware, found, says, caution)
    save_picture(picture, path, PAGE_OF[len(picture.yokes)])


def relief_picture(
    rig_name: str, hardware: JointHardware, found: Relief, says: Says, caution: str
) -> ReliefPicture:
    """Picture of the plan that serves best.

    Raises NothingGroundError where no way of grinding gains anything.
    """
    plan = best_plan(found)
    built = {DRIVING: hardware.driving, DRIVEN: hardware.driven}
    yokes = tuple(
        ground_yoke(hardware.yoke_name(body), built[body], cut) for body, cut in plan.cuts.items()
    )
    if not yokes:
        raise NothingGroundError(
            f"{rig_name}: no picture, since grinding gains nothing at the {hardware.joint} joint"
        )
    return ReliefPicture(
        yokes,
        found.least_wall,
        f"Grinding the {hardware.joint} joint: {degrees(found.before):.1f} to "
        f"{degrees(plan.reached):.1f} deg",
        (f"{rig_name}. {degrees(found.wanted):.1f} deg is wanted.", says(hardware, plan)),
        caution,
    )


def best_plan(found: Relief) -> Plan:
    """One that reaches the bend wanted with the least metal off, or else one that gains most."""
    return min(found.plans, key=lambda plan: (plan.stop is not None, -plan.reached, plan.volume))
