"""What is known of the drawn yokes: where they lie, their unit and their dimensions.

All are invented. Each was drawn by `draw.py` in the yoke frame (origin at the cross centre, x along
the shaft, y along the bores), cut into triangles by the CAD kernel, put down at a pose of its own
and written as STL, whose numbers are of single precision. A shape of this kind owes nothing to the
shapes that the program draws itself.
"""

from __future__ import annotations

import lzma
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import numpy as np
import trimesh
from scipy.spatial.transform import Rotation

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class DrawnYoke:
    """One drawn yoke, lengths in mm.

    name : of its file; make : what is particular about its shape
    bore : diameter; inside : between the ears' inside faces, on curved ears between the places of
        the bores' rims that are nearest to each other; outside : over the ears' outside faces, on
        curved ears between the places of the rims that are farthest apart
    pose : seed of where it lies; mm : millimetres in its unit
    chord, turn : how far the triangles may be off the drawn surface, mm, and how far they may turn
        from one to the next, rad
    half : whether its bores are half-round saddles
    """

    name: str
    make: str
    bore: float
    inside: float
    outside: float
    pose: int
    mm: float = 1.0
    chord: float = 0.05
    turn: float = 0.2
    half: bool = False

    @property
    def place(self) -> Path:
        """Where its triangles are kept."""
        return FOLDER / f"{self.name}.stl.xz"

    @property
    def X(self) -> tuple[np.ndarray, np.ndarray]:
        """Rotation (3, 3) and shift (3,) mm of the yoke frame in the frame of the file."""
        random = np.random.default_rng(self.pose)
        return Rotation.random(random_state=random).as_matrix(), random.uniform(-200.0, 200.0, 3)

    def write(self, folder: Path) -> Path:
        """Unpack its STL file into a folder."""
        place = folder / f"{self.name}.stl"
        place.write_bytes(lzma.decompress(self.place.read_bytes()))
        return place

    def true(self) -> trimesh.Trimesh:
        """The triangles of the file, placed as it was drawn: in the yoke frame, mm."""
        data = BytesIO(lzma.decompress(self.place.read_bytes()))
        body = trimesh.load_mesh(data, file_type="stl", process=False)
        R, p = self.X
        body.vertices = (np.asarray(body.vertices, dtype=np.float64) * self.mm - p) @ R
        return body


DRAWN = (
    DrawnYoke(
        "curved-coarse", "inside and outside curved, few facets", 28, 57.550, 88, 1, turn=0.5
    ),
    DrawnYoke("curved-flat-outside", "hollowed by a cylinder, flat outside", 30, 65.452, 92, 2),
    DrawnYoke(
        "curved-leaning", "ears that lean in over the bores", 32, 60, 104, 3, chord=0.2, turn=0.4
    ),
    DrawnYoke("curved-wide", "wide curved ears, flat outside", 31, 62.163, 107, 18, chord=2.0),
    DrawnYoke("open-straps", "half-round saddles with holes beside", 27, 60, 86, 4, half=True),
    DrawnYoke("bolted-caps", "caps bolted over half-round saddles", 30, 66, 96, 5, turn=0.3),
    DrawnYoke("ring-grooves", "flat ears, grooves for rings, inches", 30.2, 58, 92, 6, mm=25.4),
    DrawnYoke("chamfered", "broad chamfers in the bores, fillets", 34, 60, 96, 7, turn=0.25),
    DrawnYoke("flange", "a flange with eight holes and a pilot", 26, 54, 82, 8),
    DrawnYoke("plugged-tube", "on a length of tube with a plug", 30, 66, 98, 9, turn=0.4),
    DrawnYoke("lightened", "lightening holes in line, inches", 32, 70, 106, 10, mm=25.4),
    DrawnYoke("drafted", "outside faces that lean", 29, 62, 97.037, 11),
    DrawnYoke(
        "sliding", "a long barrel, ball-shaped, fine", 25, 54.544, 96.825, 12, chord=0.02, turn=0.1
    ),
    DrawnYoke("few-sides", "bores of a dozen sides", 28, 56, 86, 13, chord=5.0, turn=0.55),
    DrawnYoke("stepped-bores", "a lip at each bore's inner end", 31, 60, 96, 14, turn=0.3),
    DrawnYoke("stated-angle", "square ears, flat floor", 28, 60, 88, 15, chord=0.5, turn=0.3),
    DrawnYoke(
        "stated-crown", "ears crowned outside", 27, 58, 88, 17, mm=25.4, chord=0.01, turn=0.15
    ),
    DrawnYoke("pinch-bolt", "a slit hub with a bolt on one side", 30, 58, 90, 16, turn=0.3),
)

CONTRADICTING = (
    DrawnYoke("beside", "ears 2.3 mm beside the stub", 30, 60, 92, 21, turn=0.4),
    DrawnYoke("leaning", "a stub that leans by 3 deg", 30, 60, 92, 22, turn=0.4),
)
"""Yokes whose ears and stub do not belong to one shaft."""
