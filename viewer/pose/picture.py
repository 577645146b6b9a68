"""The picture of a pose: the whole shaft from the side."""

from pathlib import Path

from sim.pose import PoseCheck
from sim.rig import Rig
from viewer.scene.build_shaft import nearby, shaft_picture
from viewer.scene.shaft_parts import tube_size
from viewer.words.poses import pose_words
from viewer.words.reach import out_of_reach_words
from viewer.words.units import format_angle, format_length
from viewer.written.picture import save_picture


def draw_pose(result: PoseCheck, rig: Rig, path: Path) -> None:
    """Draw the whole shaft in one pose, with what lives around it and the smallest gap to that.

    Raises PictureError when there can be no picture here.
    """
    length = format_length(float(result.state.line.length))
    bends = ", ".join(
        f"{joint} joint bent {format_angle(found.bend)}" for joint, found in result.joints.items()
    )
    nearest = sorted(result.surroundings, key=lambda gap: gap.gap_mm)[:1]
    reach = [f"Out of reach: {out_of_reach_words(result.beyond)}."] if result.beyond else []
    picture = shaft_picture(
        result,
        tube_size(rig),
        rig.name,
        (f"At {pose_words(result.at)}.", *reach, f"{bends[0].upper()}{bends[1:]}."),
        length,
        near=nearby(rig, result.vehicle, result.at, nearest),
    )
    save_picture(picture, path)
