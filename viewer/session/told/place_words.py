"""What holds at one pose, in a few lines: what the pointer tells over the travel map."""

from typing import get_args

from sim.check import Check
from sim.pose import pose_of
from sim.vehicle import Joint, Pose
from viewer.session.charts.travel_map import Layer
from viewer.words.now import now_lines
from viewer.words.poses import pose_words

LAYER_TITLES: dict[Layer, str] = {
    "worst": "worst of all",
    "slip": "slip",
    **{joint: f"{joint} joint" for joint in get_args(Joint)},
}

LAYER_SAYS: dict[Layer, str] = {
    "worst": "Room left in whatever has least of it, against what is wanted.",
    "slip": "Slip left, to close or to open, whichever is less.",
    **{
        joint: f"Degrees left at the {joint} joint before it may touch at some turn."
        for joint in get_args(Joint)
    },
}


def roll_words(roll: float) -> str:
    """The roll a map is for: "level", "crossed up 3.0 deg (left wheel up)"."""
    if abs(roll) < _LEVEL:
        return "level"
    return pose_words(Pose(roll=roll)).removeprefix("ride height, ")


_LEVEL = 1e-3
"""rad, less than the tenth of a degree that is shown."""


def place_words(check: Check, at: Pose) -> str:
    """Lines about one pose (mm, rad): verdict, each joint, slip."""
    return now_lines(pose_of(check, at, 0.0))
