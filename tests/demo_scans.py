"""The demo scans of models/scans: made from our own yokes, so that the truth is known.

`python -m tests.demo_scans` writes them anew. They are invented: generic yokes of the catalogue,
with a scanner's noise and faults added, put down anywhere.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import trimesh

import models
from geometry.mesh import Floats, Mesh
from tests.geometry.scan_like import dense, own_yoke, somewhere

FOLDER = Path(models.__file__).parent / "scans"
INVENTED = b"invented demo scan"


@dataclass(frozen=True)
class DemoScan:
    """A demo scan and what is known of it.

    pose : seed of where it lies
    mm : millimetres in its unit
    """

    file: str
    kind: str
    cross: str
    pose: int
    mm: float

    @property
    def path(self) -> Path:
        """Where it is kept."""
        return FOLDER / self.file

    @property
    def X(self) -> tuple[Floats, Floats]:
        """Rotation (3, 3) and shift (3,) mm of the yoke frame in the frame of the file."""
        return somewhere(self.pose)


WELD = DemoScan("weld-yoke-inches.stl", "deep-throat weld yoke", "27 x 82", 11, 25.4)
STRAP = DemoScan("strap-yoke-open.ply", "strap yoke", "27 x 82", 12, 1.0)
DEMOS = (WELD, STRAP)


def weld_yoke() -> bytes:
    """A clean scan in inches, as a binary STL, which says no unit."""
    scan = _scan(WELD, 16_000)
    body = trimesh.Trimesh(scan.vertices, scan.faces, process=False)
    data = body.export(file_type="stl")
    return INVENTED.ljust(80) + struct.pack("<I", len(scan.faces)) + data[84:]


def strap_yoke() -> bytes:
    """A scan that was cut off behind the hub, with a patch missing and specks of the scanner."""
    scan = _scan(STRAP, 14_000)
    R, p = STRAP.X
    middle = (scan.triangles.mean(axis=1) - p) @ R
    patch = np.linalg.norm(middle - [20.0, 40.0, 15.0], axis=1) < 4.0
    kept = (middle[:, 0] < 60.0) & ~patch
    specks = []
    for at in np.random.default_rng(3).normal(0.0, 60.0, (9, 3)):
        speck = trimesh.creation.icosphere(0, 0.4).apply_translation(at + p)
        specks.append(Mesh.uniform(speck.vertices, speck.faces, "speck"))
    whole = Mesh.join([Mesh.uniform(scan.vertices, scan.faces[kept], "scan"), *specks])
    used, index = np.unique(whole.faces, return_inverse=True)
    body = trimesh.Trimesh(whole.vertices[used], index.reshape(-1, 3), process=False)
    data = body.export(file_type="ply")
    head, _, rest = data.partition(b"\n")
    return b"\n".join([head, b"comment " + INVENTED + b", millimetres", rest])


def _scan(demo: DemoScan, faces: int) -> Mesh:
    scan = dense(own_yoke(demo.kind, demo.cross), 1.0, 0.03, faces)
    R, p = demo.X
    moved = scan.moved(R, p)
    return Mesh(moved.vertices / demo.mm, moved.faces, moved.labels, moved.label_names)


def main() -> None:
    """Write every demo scan."""
    FOLDER.mkdir(exist_ok=True)
    WELD.path.write_bytes(weld_yoke())
    STRAP.path.write_bytes(strap_yoke())


if __name__ == "__main__":
    main()
