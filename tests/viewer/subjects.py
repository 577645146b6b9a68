"""Subjects of pictures for the tests: an invented rig's joints and shaft, and two plain blocks."""

from functools import cache

import numpy as np

from geometry.contact.gap import gap_at, smallest_gap
from geometry.mesh import Mesh
from sim.derive import derive
from sim.frames import Rx, Rz, pose
from sim.hardware.joint import joint_hardware
from sim.pose import PoseCheck, check_pose
from sim.rig import parse_rig
from sim.vehicle import Pose
from tests.sim.rigs import COORDINATES
from tests.simple_shapes import box
from tests.viewer.recording_stage import RecordingStage
from viewer.scene.build_joint import joint_picture
from viewer.scene.build_shaft import shaft_picture
from viewer.scene.joint import JointPicture
from viewer.scene.page import unit_of
from viewer.scene.parts import PosedPart
from viewer.scene.shaft import ShaftPicture
from viewer.scene.spot import overlap

HEADLINE = "The pinion joint touches"
LINES = ("Test wagon, rear shaft.", "At 8 in droop.")
AT = Pose(-200.0, 0.1, -0.05)


@cache
def posed() -> PoseCheck:
    return check_pose(parse_rig(COORDINATES), AT, 0.3)


@cache
def yokes(bend_deg: float, spin_deg: float | None = None) -> JointPicture:
    """The pinion joint with catalogue yokes; at the tightest spin if none is given."""
    rig = parse_rig(COORDINATES)
    hardware = joint_hardware(rig, "pinion")
    bend = np.radians(bend_deg)
    if spin_deg is None:
        gap = smallest_gap(hardware.closing, bend)
    else:
        gap = gap_at(hardware.closing, bend, np.radians(spin_deg))
    return joint_picture(derive(rig).vehicle, AT, hardware, gap, HEADLINE, LINES)


@cache
def shaft() -> ShaftPicture:
    found = posed()
    return shaft_picture(found, (76.2, 2.1), "At 8 in droop", LINES, "37 in joint to joint")


X_BLOCKS = pose(Rz(0.3) @ Rx(0.2), [900.0, 20.0, 150.0])
"""Where the two blocks stand in C."""


def blocks(gap: float) -> JointPicture:
    """Two blocks along x that stand `gap` mm apart, or overlap by as much as it is negative."""
    left, right = box((-60, -20, -20), (0, 20, 20), "end"), box((0, -15, -15), (60, 15, 15), "end")
    solids = (
        PosedPart("left block", "light steel", left, X_BLOCKS),
        PosedPart("right block", "dark steel", right, X_BLOCKS @ pose(np.eye(3), [gap, 0.0, 0.0])),
    )
    ends = np.array([[0.0, 2.0, 3.0], [gap, 2.0, 3.0]])
    x = X_BLOCKS[:3, 0]
    return JointPicture(
        parts=solids,
        solids=solids,
        centre=X_BLOCKS[:3, 3],
        axes=np.stack([-x, x]),
        bend=0.0,
        points=ends @ X_BLOCKS[:3, :3].T + X_BLOCKS[:3, 3],
        gap_mm=max(gap, 0.0),
        overlap=overlap(*solids) if gap < 0.0 else None,
        bodies=("left block", "right block"),
        surfaces=("end", "end"),
        headline="Two blocks",
    )


def cube(size: float = 10.0) -> Mesh:
    half = 0.5 * size
    return box((-half, -half, -half), (half, half, half), "side")


def grey(colour):
    """Lightness in a black and white print (weights of ITU-R BT.601, from memory)."""
    return float(np.dot(colour, [0.299, 0.587, 0.114]))


def drawn(picture, size=(1600, 1000)):
    stage = RecordingStage(size, unit_of(size))
    picture.draw(stage, stage.region)
    return stage
