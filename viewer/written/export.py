"""Writing a pose for other programs: a mesh file for each part, and where each part is.

Files are binary STL, which every program of a shop reads. STL knows no unit and no name, so its
header says both, the file is called after the part, and `poses.json` says it once more. Each mesh
is in the frame of its own part; the part's 4 x 4 puts it into the chassis frame.
"""

import json
import os
import re
from collections.abc import Mapping, Sequence
from math import degrees
from pathlib import Path
from typing import Any

from geometry.errors import BindpointError
from sim.kept.atomic import replace_file
from sim.vehicle import Pose
from viewer.scene.parts import PosedPart
from viewer.words.bench import FITTED
from viewer.written.files import writable
from viewer.written.outputs import PART, demand_room
from viewer.written.outputs import POSES as KIND_OF_POSES

POSES = "poses.json"

SCHEMA = 1

FRAME = (
    "chassis frame C: origin at the center of the axle housing at ride height, x forward, y left, "
    "z up"
)

HEADER = 80
"""Bytes of text that an STL file starts with."""


class ExportError(BindpointError, OSError):
    """A pose that cannot be written where it is wanted."""


def export_pose(
    directory: str | os.PathLike[str],
    parts: Sequence[PosedPart],
    at: Pose,
    spin: float,
    rig: str = "",
    force: bool = False,
) -> Path:
    """Write parts and poses into a folder, made if it is not there; returns the poses' file.

    Each file is replaced as a whole, the poses last: they never speak of a mesh that is not
    there.

    Parameters
    ----------
    parts : each with a name of its own.
    at : pose of the axle, mm and rad.
    spin : turn of the output yoke, rad.
    rig : name of the rig.
    force : whether files that no export wrote may be replaced.

    Raises
    ------
    ExportError
        When the folder cannot be written, or two parts have one name.
    FileError
        When a file that no export wrote, such as a scan, is in the place of one; nothing is
        written then.
    """
    folder = Path(directory)
    names = file_names([part.name for part in parts])
    for name in () if force else (*names.values(), POSES):
        demand_room(folder / name, KIND_OF_POSES if name == POSES else PART, "--export")
    with writable(folder, "the parts", "cannot be written there", "a folder", ExportError):
        folder.mkdir(parents=True, exist_ok=True)
        for part in parts:
            replace_file(folder / names[part.name], stl(part))
        content = poses(parts, names, at, spin, rig)
        text = json.dumps(content, indent=2, ensure_ascii=False) + "\n"
        replace_file(folder / POSES, text.encode())
    return folder / POSES


def poses(
    parts: Sequence[PosedPart],
    names: Mapping[str, str],
    at: Pose,
    spin: float,
    rig: str,
) -> dict[str, Any]:
    """Everything about the pose, as plain data."""
    return {
        "schema": SCHEMA,
        "rig": rig,
        "units": {"length": "mm", "angle": "deg"},
        "frame": FRAME,
        "X_CP": "4 x 4, row by row: a point of the part becomes a point of the chassis frame",
        "at": {
            "travel_mm": at.travel,
            "roll_deg": degrees(at.roll),
            "wrap_deg": degrees(at.wrap),
            "spin_deg": degrees(spin),
        },
        "parts": {
            part.name: {
                "name": part.name,
                "file": names[part.name],
                "X_CP": part.X_CP.tolist(),
                "chord_mm": part.mesh.chord,
                "fitted": part.fitted,
            }
            for part in parts
        },
        "frames": {},  # kept for those who read it
    }


def file_names(parts: Sequence[str]) -> dict[str, str]:
    """A file name for each part: "output yoke" becomes "output-yoke.stl".

    Raises ExportError where two parts would share one.
    """
    names: dict[str, str] = {}
    for part in parts:
        name = re.sub(r"[^a-z0-9]+", "-", part.lower()).strip("-") or "part"
        if part in names or f"{name}.stl" in names.values():
            raise ExportError(
                f"two parts would be written to {name}.stl; expected a name of its own for each "
                f"of {', '.join(parts)}"
            )
        names[part] = f"{name}.stl"
    return names


def stl(part: PosedPart) -> bytes:
    """A part in its own frame as binary STL; name, unit and whether it is fitted in the header."""
    import trimesh
    from trimesh.exchange.stl import export_stl

    body = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
    content: bytes = export_stl(body)
    # A binary file must not start with "solid", which a text file does.
    behind = f" ({FITTED})" if part.fitted else ""
    header = f"Unit mm. Part: {part.name}"[: HEADER - len(behind)] + behind
    return header.encode("ascii", "replace").ljust(HEADER) + content[HEADER:]
