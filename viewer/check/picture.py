"""The picture of a check: the tightest joint at its worst pose, and the whole shaft."""

from sim.check import Check
from sim.cures.first_cure import FirstCure
from sim.pose import pose_of
from sim.turning_over import TurningOver
from viewer.bars.asked import UNASKED, Sure
from viewer.scene.build_joint import joint_picture, worst_gap
from viewer.scene.build_shaft import nearby, shaft_picture
from viewer.scene.check_sheet import CheckPicture
from viewer.scene.shaft_parts import tube_size
from viewer.words import captions
from viewer.words.first_page import below_verdict, first_page


def check_picture(
    result: Check,
    told: TurningOver | None = None,
    cure: FirstCure | None = None,
    sure: Sure = UNASKED,
) -> CheckPicture:
    """Picture of a check: its first page and how sure that is; the tightest joint at its worst.

    Below them the shaft, where it comes nearest to its surroundings; without any, where the joint
    is at its worst.
    """
    vehicle, tightest = result.derivation.vehicle, result.joints[result.tightest]
    nearest = min(result.found.near, key=lambda gap: gap.gap_mm, default=None)
    worst = tightest.sweep.most.at
    at = worst if nearest is None else nearest.at
    page = first_page(result, told, cure)
    return CheckPicture(
        page.rig,
        f"{page.word}: {page.says}",
        (
            *(line.strip() for line in below_verdict(page)),
            *filter(None, (sure.says,)),
        ),
        joint_picture(
            vehicle,
            worst,
            tightest.hardware,
            worst_gap(tightest),
            captions.tightest_headline(result),
            captions.tightest_lines(result),
        ),
        shaft_picture(
            pose_of(result, at, 0.0),
            tube_size(result.rig),
            captions.whole_headline(nearest),
            captions.whole_lines(result, at, nearest),
            near=nearby(result.rig, vehicle, at, nearest),
        ),
    )
