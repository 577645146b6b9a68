"""Placing a mesh in the yoke frame: by its two bores, or by three picks.

Yoke frame Y: origin at the cross centre, x along the yoke's own shaft away from the cross, y
along its bores. Mesh frame M: as the file has it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError
from geometry.imported.bores import Bores, Middle, coarse_of, find_bores
from geometry.imported.mirror import mirror_turn
from geometry.mesh import Floats, Mesh


@dataclass(frozen=True, eq=False)
class Placement:
    """Pose of the mesh frame M in the yoke frame Y, lengths in the unit of the mesh.

    R_YM : (3, 3) rotation; a point of the mesh is R_YM @ p + p_YM_Y in the yoke frame
    p_YM_Y : (3,) origin of the mesh frame in the yoke frame
    how : "bores", "picks" or "given"
    bores : the bores it was placed by, in the mesh frame; None without
    mirror_error : rms distance of the surface from its mirror image in the plane of shaft and
        bores, which the direction of the shaft was found by; nan when it was not
    skew : rad, how far the pick on the shaft is from square to the bores; nan without picks

    Raises MeshError unless R_YM is a rotation.
    """

    R_YM: Floats
    p_YM_Y: Floats
    how: str = "given"
    bores: Bores | None = None
    mirror_error: float = float("nan")
    skew: float = float("nan")

    def __post_init__(self) -> None:
        R = np.array(self.R_YM, dtype=np.float64)
        p = np.array(self.p_YM_Y, dtype=np.float64)
        if R.shape != (3, 3) or p.shape != (3,) or not np.isfinite(R).all():
            raise MeshError("a placement is a rotation, (3, 3), and a shift, (3,)")
        if not np.allclose(R @ R.T, np.eye(3), rtol=0.0, atol=1e-9) or np.linalg.det(R) < 0.0:
            raise MeshError("R_YM is not a rotation; expected a 3 x 3 orthonormal matrix")
        for name, array in (("R_YM", R), ("p_YM_Y", p)):
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    @property
    def centre(self) -> Floats:
        """The cross centre in the mesh frame, (3,)."""
        return np.asarray(-self.R_YM.T @ self.p_YM_Y)

    def scaled(self, factor: float) -> Placement:
        """Return the placement of a mesh whose numbers are `factor` times as large."""
        return Placement(
            self.R_YM,
            self.p_YM_Y * factor,
            self.how,
            None if self.bores is None else self.bores.scaled(factor),
            self.mirror_error * factor,
            self.skew,
        )


def placed_by_bores(
    mesh: Mesh, middle: Middle = "inside faces", coarse: Mesh | None = None
) -> Placement:
    """Find a mesh's two bores and place it by them, in the unit of the mesh.

    y runs along the bores; x runs toward the bulk of the metal, turned until the two halves
    beside the plane of shaft and bores are mirror images as nearly as they can be. Which of the
    two bores is on the +y side makes no difference to a yoke; it is chosen by the mesh frame.

    middle : what the cross centre is put halfway between
    coarse : a mesh of fewer triangles near it to search on, if there is one at hand
    Raises MeshError without two bores in line, and when the metal lies on no side of them.
    """
    coarse = coarse or coarse_of(mesh)
    bores = find_bores(mesh, middle, coarse)
    y = bores.axis * np.sign(bores.axis[np.argmax(np.abs(bores.axis))])
    weight = np.linalg.norm(mesh.area_vectors, axis=1)
    bulk = weight @ mesh.triangles.mean(axis=1) / weight.sum() - bores.centre
    toward = bulk - (bulk @ y) * y
    low, high = mesh.bounds
    if np.linalg.norm(toward) < _LEAST_BULK * np.linalg.norm(high - low):
        raise MeshError(
            "the metal lies evenly round the bores, so the shaft's side cannot be told; pick "
            "three points: the middle of each bore and a point on the shaft's axis"
        )
    x = toward / np.linalg.norm(toward)
    x, error = mirror_turn(coarse, bores.centre, x, y)
    R_YM = np.stack([x, y, np.cross(x, y)])
    return Placement(R_YM, -R_YM @ bores.centre, "bores", bores, error)


_LEAST_BULK = 0.02
"""How far off the bores the middle of the surface must be, as a share of the diagonal."""


def three_picks(
    bore: npt.ArrayLike, other_bore: npt.ArrayLike, on_shaft: npt.ArrayLike
) -> Placement:
    """Place a mesh by three points, each (3,), in its own frame and unit.

    bore, other_bore : the middle of each bore, both at the same depth (say its outer edge); the
        cross centre is halfway between
    on_shaft : a point on the shaft's axis on the metal's side, the farther the better

    Raises MeshError when the points are one, or in one line.
    """
    points = np.array([bore, other_bore, on_shaft], dtype=np.float64)
    if points.shape != (3, 3) or not np.isfinite(points).all():
        raise MeshError("three picks are three points of three finite numbers each")
    centre = 0.5 * (points[0] + points[1])
    along, out = points[1] - points[0], points[2] - centre
    span, reach = float(np.linalg.norm(along)), float(np.linalg.norm(out))
    if span == 0.0 or reach == 0.0:
        raise MeshError("two of the three picks are one point, or the third is in the middle")
    y = along / span
    y = y * np.sign(y[np.argmax(np.abs(y))])
    x = out - (out @ y) * y
    if np.linalg.norm(x) < _IN_LINE * max(span, reach):
        raise MeshError(
            "the three picks lie in one line; the third is a point on the shaft's axis, well away "
            "from the line through the two bores"
        )
    x = x / np.linalg.norm(x)
    R_YM = np.stack([x, y, np.cross(x, y)])
    skew = float(np.arcsin(np.clip(abs(out @ y) / reach, 0.0, 1.0)))
    return Placement(R_YM, -R_YM @ centre, "picks", skew=skew)


_IN_LINE = 0.05
"""Distance of the third pick from the line through the others, as a share of their distances,
below which it gives no direction."""
