"""How far off a pose of the check may be."""

from sim.bars.doubts import Doubts
from sim.bars.give_or_take import PoseOff, pose_off
from sim.pose import PoseCheck


def posed_off(result: PoseCheck, doubts: Doubts) -> PoseOff | None:
    """How far off it may be; None where nothing may be, and out of reach."""
    if not (doubts.sources or doubts.shapes) or not result.reached:
        return None
    left = {joint: found.left for joint, found in result.joints.items()}
    slip_left = (result.closes_left, result.opens_left)
    return pose_off(result.rig, result.at, doubts, left, slip_left)
