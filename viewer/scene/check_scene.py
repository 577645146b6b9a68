"""The sheet of a check: the tightest joint above, the whole shaft below."""

from dataclasses import dataclass, replace

import numpy as np

from viewer.draw.base import BLACK, Pen
from viewer.draw.camera import Region
from viewer.draw.stage import Stage
from viewer.scene.joint import JointPicture
from viewer.scene.joint_scene import draw_joint
from viewer.scene.page import EDGE
from viewer.scene.shaft import ShaftPicture
from viewer.scene.shaft_scene import draw_shaft

SHEET = (1600, 2000)
"""Size of the sheet, px: 8 x 10 in at 200 dots an inch, so that both halves are of full size."""


@dataclass(frozen=True, eq=False)
class CheckPicture:
    """A joint, and the shaft it is part of; the caution of the sheet is that of the shaft."""

    joint: JointPicture
    shaft: ShaftPicture


def draw_check_sheet(picture: CheckPicture, stage: Stage, page: Region) -> None:
    """Draw both pictures, one above the other, with one caution at the foot."""
    half = 0.5 * page.height
    draw_joint(replace(picture.joint, caution=""), stage, Region(page.left, half, page.width, half))
    draw_shaft(picture.shaft, stage, Region(page.left, page.bottom, page.width, half))
    ends = np.array([[[page.left + EDGE, half], [page.right - EDGE, half]]])
    stage.stroke(ends, Pen(BLACK, 2.0))
