"""The picture of a relief: what to grind in the plan that serves best."""

from geometry.contact.pair import DRIVEN, DRIVING
from geometry.errors import BindpointError
from geometry.relief import Plan, Relief
from sim.hardware.joint import JointHardware
from viewer.relief.text import GRIND_CAUTION, headline
from viewer.scene.ground_yoke import GroundYoke
from viewer.scene.relief import ReliefPicture
from viewer.words.captions import ground_headline, ground_lines
from viewer.words.verdicts import CAUTION


class NothingGroundError(BindpointError, ValueError):
    """A relief in which no metal is taken off, so that there is nothing to draw."""


def relief_picture(rig_name: str, hardware: JointHardware, found: Relief) -> ReliefPicture:
    """Picture of the plan that serves best.

    Raises NothingGroundError where no way of grinding gains anything.
    """
    plan = best_plan(found)
    built = {DRIVING: hardware.driving, DRIVEN: hardware.driven}
    yokes = tuple(
        GroundYoke.of(hardware.yoke_name(body), built[body], cut) for body, cut in plan.cuts.items()
    )
    if not yokes:
        raise NothingGroundError(
            f"{rig_name}: no picture, since grinding gains nothing at the {hardware.joint} joint"
        )
    return ReliefPicture(
        yokes,
        found.least_wall,
        headline=ground_headline(hardware.joint, found, plan.reached),
        lines=(*ground_lines(rig_name, hardware, found), headline(hardware, plan)),
        caution=f"{GRIND_CAUTION} {CAUTION}",
    )


def best_plan(found: Relief) -> Plan:
    """One that reaches the bend wanted with the least metal off, or else one that gains most."""
    return min(found.plans, key=lambda plan: (plan.stop is not None, -plan.reached, plan.volume))
