"""What a placed scan is given: names for its surfaces, caps in its bores, a tube."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from geometry.contact.triangles import dot
from geometry.errors import MeshError
from geometry.imported.bores import Bores
from geometry.imported.repair import FILLED, SURFACE
from geometry.mesh import Booleans, Mesh
from geometry.solids import cylinder
from geometry.yoke.base import HELD
from geometry.yoke.weld import TUBE_REACH


def labelled(mesh: Mesh, bores: Bores | None) -> Mesh:
    """Return a placed mesh, in the yoke frame and mm, with its surfaces named.

    bores : its bores in mm, in any frame: only their sizes are used. Without them only what lies
    beyond the bores' line is told apart, as ear tip.
    What nothing can be said of stays "surface"; "filled hole" stays as it is.
    """
    filled = {FILLED: mesh.on(FILLED)} if FILLED in mesh.label_names else {}
    plain = mesh.named({SURFACE: np.ones(len(mesh.faces), dtype=bool)})
    return plain.named(_by_place(mesh, bores) | filled)


def _by_place(mesh: Mesh, bores: Bores | None) -> dict[str, Booleans]:
    middle, facing = mesh.triangles.mean(axis=1), mesh.normals
    x, y, _ = middle.T
    if bores is None:
        return {"ear tip": x < 0.0}
    radius, half_gap = bores.radius, 0.5 * bores.inside_span
    slack = 0.1 * radius
    ear, between = np.abs(y) > half_gap - slack, np.abs(y) < half_gap + slack
    outward = facing[:, 1] * np.sign(y)
    away = np.linalg.norm(middle[:, [0, 2]], axis=1)
    toward_axis = -np.einsum("ij,ij->i", middle[:, [0, 2]], facing[:, [0, 2]])
    sees_cross = -dot(middle, facing) > 0.25 * np.linalg.norm(middle, axis=1)
    floor = _floor(mesh)
    throat = between & (x > 0.0) & sees_cross
    tip = ear & ((x < 0.0) | ((x < radius) & (facing[:, 0] < -0.9)))
    wall = (np.abs(away - radius) < slack) & (toward_axis > 0.9 * away)
    return {
        "throat": throat,
        "ear tip": tip,
        "ear flank": ear & ~throat & ~tip & (x < floor) & (np.abs(facing[:, 2]) > 0.7),
        "ear outside face": ear & (outward > 0.9) & (x < floor),
        "ear inside face": ear & (outward < -0.95) & between & (away < 2.0 * radius),
        "ear bore": ear & wall,
    }


def _floor(mesh: Mesh) -> float:
    depth = depth_on_axis(mesh)
    return float(mesh.bounds[1, 0]) if np.isnan(depth) else depth


def depth_on_axis(mesh: Mesh) -> float:
    """Return where the shaft's axis first meets the metal of a placed mesh, mm; nan if nowhere."""
    a, b, c = (mesh.triangles[:, k] for k in range(3))
    # Seen along x, the axis is the origin: it runs through the triangles whose corners go round it.
    sides = [p[:, 1] * q[:, 2] - p[:, 2] * q[:, 1] for p, q in ((a, b), (b, c), (c, a))]
    total = sides[0] + sides[1] + sides[2]
    same = np.all([s >= 0.0 for s in sides], axis=0) | np.all([s <= 0.0 for s in sides], axis=0)
    through = same & (np.abs(total) > 0.0)
    if not through.any():
        return float("nan")
    weight = np.stack([sides[1], sides[2], sides[0]], axis=1)[through] / total[through, None]
    x = np.einsum("ni,ni->n", weight, mesh.triangles[through, :, 0])
    return float(x[x > 0.0].min()) if (x > 0.0).any() else float("nan")


@dataclass(frozen=True)
class Fittings:
    """Caps and tube to add to a scanned yoke, mm; what is left out is taken from the scan.

    caps : whether to put caps into the bores; not if they were scanned in place
    cap_diameter, cap_span, cap_length : of the caps, as of a cross; by the bores and the ears'
        faces where left out
    tube_diameter : outside of the tube welded to it; none where left out
    weld_land : from the cross centre to the shoulder that the tube butts against

    Raises MeshError for lengths that are not positive, and a tube without its weld land.
    """

    caps: bool = True
    cap_diameter: float | None = None
    cap_span: float | None = None
    cap_length: float | None = None
    tube_diameter: float | None = None
    weld_land: float | None = None

    def __post_init__(self) -> None:
        for item in fields(self):
            value = getattr(self, item.name)
            if item.name != "caps" and value is not None and not 0.0 < value < 1e4:
                raise MeshError(f"{item.name} is {value:g} mm; expected more than 0")
        if self.tube_diameter is not None and self.weld_land is None:
            raise MeshError("a tube_diameter needs a weld_land, from cross center to shoulder")
        if self.cap_length is not None and self.cap_span is None:
            raise MeshError("a cap_length needs a cap_span, over the ends of two caps")

    def parts(self, bores: Bores | None) -> dict[str, Mesh]:
        """Return the meshes to add, in the yoke frame, by name.

        bores : of the scan, in mm; without them caps need all their lengths
        """
        found = {}
        if self.caps:
            ends = self._cap_ends(bores)
            radius = self.cap_diameter or (bores.diameter if bores else None)
            if ends and radius:
                inner, outer = ends
                found["caps"] = Mesh.join(
                    cylinder("y", 0.5 * radius, start, stop, "cap").mesh()
                    for start, stop in ((inner, outer), (-outer, -inner))
                )
        if self.tube_diameter is not None and self.weld_land is not None:
            far = self.weld_land + TUBE_REACH
            tube = cylinder("x", 0.5 * self.tube_diameter, self.weld_land, far, "tube end")
            found["tube"] = tube.mesh()
        return found

    def _cap_ends(self, bores: Bores | None) -> tuple[float, float] | None:
        """Return inner and outer end of a cap from the cross centre, mm, if they are known."""
        half_span = 0.5 * self.cap_span if self.cap_span else 0.0
        inner = half_span - self.cap_length if self.cap_length else None
        outer = half_span or None
        if bores is not None:
            inner = 0.5 * bores.inside_span if inner is None else inner
            outer = max(half_span, 0.5 * bores.outside_span)
        if inner is None or outer is None:
            return None
        if not 0.0 < inner < outer:
            raise MeshError(
                f"caps would reach from {inner:g} to {outer:g} mm from the cross center; check "
                "cap_span and cap_length"
            )
        if bores is not None and self.cap_span and self.cap_length:
            self._demand_held(bores.inside_span, self.cap_span, self.cap_length)
        return inner, outer

    @staticmethod
    def _demand_held(inside: float, span: float, length: float) -> None:
        """Raise MeshError where the ears are too far apart for the cross."""
        held = max(0.0, 0.5 * (span - inside))
        if held < HELD * length:
            raise MeshError(
                f"its ears are {inside:.2f} mm apart inside and the cross is {span:.2f} mm over "
                f"its caps, so only {held:.2f} mm of a cap of {length:.2f} mm would sit in its "
                "ear; check the cross and the unit"
            )
