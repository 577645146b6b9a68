"""The picture of a pose: the whole shaft from the side."""

from sim.pose import PoseCheck
from sim.rig import Rig
from viewer.scene.build_shaft import nearby, shaft_picture
from viewer.scene.shaft import ShaftPicture
from viewer.scene.shaft_parts import tube_size
from viewer.words.captions import posed_lines
from viewer.words.units import format_length


def pose_picture(result: PoseCheck, rig: Rig) -> ShaftPicture:
    """The whole shaft in one pose, with what lives around it and the smallest gap to that."""
    nearest = min(result.surroundings, key=lambda gap: gap.gap_mm, default=None)
    return shaft_picture(
        result,
        tube_size(rig),
        rig.name,
        posed_lines(result),
        format_length(float(result.state.line.length)),
        near=nearby(rig, result.vehicle, result.at, nearest),
    )
