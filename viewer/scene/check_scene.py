"""The sheet of a check: the tightest joint above, the whole shaft below."""

from dataclasses import dataclass, replace

import numpy as np

from viewer.draw.base import BLACK, Canvas, Pen
from viewer.draw.camera import Region
from viewer.draw.part_canvas import PartCanvas
from viewer.scene.joint import JointPicture
from viewer.scene.joint_scene import draw_joint
from viewer.scene.page import EDGE, scale_of
from viewer.scene.shaft import ShaftPicture
from viewer.scene.shaft_scene import draw_shaft

SHEET = (1600, 2000)
"""Size of the sheet, px: 8 x 10 in at 200 dots an inch, so that both halves are of full size."""


@dataclass(frozen=True, eq=False)
class CheckPicture:
    """A joint, and the shaft it is part of; the caution of the sheet is that of the shaft."""

    joint: JointPicture
    shaft: ShaftPicture


def draw_check_sheet(picture: CheckPicture, canvas: Canvas) -> None:
    """Draw both pictures, one above the other, with one caution at the foot."""
    width, height = map(float, canvas.size)
    half = 0.5 * height
    upper = PartCanvas(canvas, Region(0.0, half, width, half), "upper")
    lower = PartCanvas(canvas, Region(0.0, 0.0, width, half), "lower")
    draw_joint(replace(picture.joint, caution=""), upper)
    draw_shaft(picture.shaft, lower)
    edge, scale = EDGE * scale_of(upper), scale_of(upper)
    ends = np.array([[[edge, half], [width - edge, half]]])
    canvas.stroke(ends, Pen(BLACK, 2.0 * scale))
