"""The parts of a pose as mesh files for other programs."""

from pathlib import Path

from sim.pose import PoseCheck
from sim.rig import Rig
from viewer.export import export_pose as write_parts
from viewer.scene.build import export_parts


def export_pose(result: PoseCheck, rig: Rig, folder: Path) -> None:
    """Write one mesh a part and `poses.json` into a folder."""
    write_parts(folder, export_parts(result), result.at, result.spin, rig.name)
