"""What holds at one pose, in a few lines: what the pointer tells over the travel map."""

from math import degrees
from typing import get_args

from sim.check import Check
from sim.vehicle import Joint, Pose
from viewer.session.charts.travel_map import Layer
from viewer.session.pose_now import PoseNow, pose_now
from viewer.words.poses import pose_words
from viewer.words.units import format_missing
from viewer.words.verdicts import VERDICT_WORDS, slip_left_words

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
    return now_words(pose_now(check, at, 0.0))


def now_words(now: PoseNow) -> str:
    """The same of a pose that is known."""
    if now.state is None:
        return now.says
    lines = [f"{pose_words(now.at)}: {VERDICT_WORDS[now.verdict]}"]
    for name, joint in now.joints.items():
        lines.append(f"{name} joint bends {degrees(joint.bend):.1f} deg, {joint.room}")
    for room, way in ((now.closes_left, "close"), (now.opens_left, "open")):
        words = slip_left_words(room) if room > 0.0 else f"{format_missing(-room)} too far"
        lines.append(f"slip to {way}: {words}")
    return "\n".join(lines)
