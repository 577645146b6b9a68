"""The parts of a pose as mesh files for other programs."""

from pathlib import Path

from sim.pose import PoseCheck
from sim.rig import Rig
from viewer.scene.build_shaft import export_parts, nearby
from viewer.scene.shaft_parts import tube_size
from viewer.written.export import export_pose as write_parts


def export_pose(result: PoseCheck, rig: Rig, folder: Path, force: bool = False) -> None:
    """Write one mesh a part and `poses.json` into a folder; `force` replaces files of any kind."""
    around = nearby(rig, result.vehicle, result.at).for_export
    parts = (*export_parts(result, tube_size(rig)), *around)
    write_parts(folder, parts, result.at, result.spin, rig.name, force=force)
