"""The picture of a pose: the whole shaft from the side."""

from sim.bars.give_or_take import PoseOff
from sim.pose import PoseCheck
from sim.rig import Rig
from viewer.scene.build_shaft import nearby, shaft_picture
from viewer.scene.shaft import ShaftPicture
from viewer.scene.shaft_parts import tube_size
from viewer.words.captions import posed_lines
from viewer.words.posed import off_said
from viewer.words.units import format_length


def pose_picture(result: PoseCheck, rig: Rig, off: PoseOff | None = None) -> ShaftPicture:
    """The whole shaft in one pose, with what lives around it and the smallest gap to that.

    off : how far off its numbers may be; None where that is not told.
    """
    sure = () if off is None else (f"How sure: {off_said(off)}.",)
    nearest = min(result.surroundings, key=lambda gap: gap.gap_mm, default=None)
    return shaft_picture(
        result,
        tube_size(rig),
        rig.name,
        (*posed_lines(result), *sure),
        format_length(float(result.state.line.length)),
        near=nearby(rig, result.vehicle, result.at, nearest),
    )
