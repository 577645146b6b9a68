"""A body where it stands, and what it is made of."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.cross import Cross
from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.yoke.base import Yoke
from viewer.draw.base import Paint

Floats = NDArray[np.float64]


class SceneError(BindpointError, ValueError):
    """A picture that cannot be: shapes that do not fit, a material nobody knows."""


def set_array(holder: object, name: str, shape: tuple[int, ...], whose: str = "") -> None:
    """Make a field of a frozen object a locked array; raises SceneError where it does not fit."""
    given = getattr(holder, name)
    array = np.array(given, dtype=np.float64)
    if array.shape != shape or not np.isfinite(array).all():
        called = f"{whose} {name}".strip()
        raise SceneError(f"{called}: got {given!r}; expected finite numbers, shape {shape}")
    array.flags.writeable = False
    object.__setattr__(holder, name, array)


MATERIALS: dict[str, Paint] = {
    "light steel": Paint((0.80, 0.82, 0.85), 0.55),
    "dark steel": Paint((0.33, 0.36, 0.40), 0.60),
    "grey steel": Paint((0.58, 0.59, 0.60), 0.45),
    "bright steel": Paint((0.90, 0.89, 0.85), 0.80),
    "black steel": Paint((0.17, 0.17, 0.19), 0.55),
    "bolt": Paint((0.80, 0.70, 0.36), 0.65, edge=2.2),
    "strap": Paint((0.97, 0.93, 0.72), 0.5, edge=2.2),
    "brass": Paint((0.83, 0.66, 0.30), 0.70),
    "rubber": Paint((0.12, 0.12, 0.13), 0.15),
    "cast iron": Paint((0.47, 0.47, 0.48), 0.15),
    "surrounding": Paint((0.88, 0.82, 0.66), 0.1, 0.5, 0.25),
    "suspension": Paint((0.62, 0.68, 0.74), 0.2, 0.45, 0.15),
    "chips": Paint((0.96, 0.30, 0.18), 0.1, glow=0.75),
    "mark": Paint((0.84, 0.10, 0.02), 0.20, glow=0.45),
}
"""Looks by name. Light and dark steel tell two yokes apart also in grey: their lightness differs
by more than a factor of two. Bolts and straps are plated yellow and edged broadly, so that nobody
takes one for the forging it is bolted to."""


@dataclass(frozen=True, eq=False)
class PosedPart:
    """A body where it stands.

    Attributes
    ----------
    name : what it is called; different parts may share a name and then move together.
    material : a name in `MATERIALS`.
    mesh : in the frame of the part, mm.
    X_CP : (4, 4) pose of that frame in the chassis frame C.
    fitted : whether it is fitted to bench readings, not measured.

    Raises SceneError for a material that does not exist and for a pose that is not one.
    """

    name: str
    material: str
    mesh: Mesh
    X_CP: Floats = field(default_factory=lambda: np.eye(4))
    fitted: bool = False

    def __post_init__(self) -> None:
        if self.material not in MATERIALS:
            raise SceneError(
                f"{self.name}: no material {self.material!r}; there are {', '.join(MATERIALS)}"
            )
        object.__setattr__(self, "X_CP", _pose(self.name, self.X_CP))

    @property
    def paint(self) -> Paint:
        """How it looks."""
        return MATERIALS[self.material]

    @property
    def in_chassis(self) -> Floats:
        """Vertices in C, (n, 3) mm."""
        return np.asarray(self.mesh.vertices @ self.X_CP[:3, :3].T + self.X_CP[:3, 3])


LOOKS = {
    "caps": "bright steel",
    "straps": "strap",
    "bolts": "bolt",
    "nut": "bolt",
    "snap rings": "black steel",
    "seal guard": "grey steel",
    "seal housing": "cast iron",
    "cross": "grey steel",
    "seals": "rubber",
    "grease fitting": "brass",
}
"""Materials of the pieces of yokes and crosses that are not of the forging's steel."""


def body_parts(name: str, part: Yoke | Cross, X_CP: ArrayLike, steel: str) -> tuple[PosedPart, ...]:
    """Pieces of a yoke or cross to show, its forging in `steel` (a material), all named `name`."""
    X = _pose(name, X_CP)
    return tuple(
        PosedPart(name, LOOKS.get(piece, steel), mesh, X) for piece, mesh in part.parts.items()
    )


def _pose(name: str, X: ArrayLike) -> Floats:
    pose = np.array(X, dtype=np.float64)
    R = pose[:3, :3] if pose.shape == (4, 4) else np.zeros((3, 3))
    if not (
        np.allclose(R @ R.T, np.eye(3), rtol=0.0, atol=1e-9)
        and np.linalg.det(R) > 0.0
        and np.isfinite(pose).all()
        and np.array_equal(pose[3], [0.0, 0.0, 0.0, 1.0])
    ):
        raise SceneError(f"{name}: X_CP is not a pose; expected 4 x 4, a rotation and a position")
    pose.flags.writeable = False
    return pose
