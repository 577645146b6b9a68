"""What belongs to a yoke and is not in its scan: caps in the bores, the tube behind it."""

from __future__ import annotations

from dataclasses import dataclass, fields

from geometry.errors import MeshError
from geometry.imported.bores import Bores
from geometry.mesh import Mesh
from geometry.solids import cylinder
from geometry.yoke.base import HELD
from geometry.yoke.weld import TUBE_REACH


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
            raise MeshError("a tube_diameter needs a weld_land, from cross centre to shoulder")
        if self.cap_length is not None and self.cap_span is None:
            raise MeshError("a cap_length needs a cap_span, over the ends of two caps")

    def parts(self, bores: Bores | None) -> dict[str, Mesh]:
        """Return the meshes to add, in the yoke frame, by name.

        bores : of the scan, in mm; without them caps need all their lengths
        """
        found = {}
        if self.caps:
            ends = self._cap_ends(bores)
            radius = self.cap_diameter or (2.0 * bores.radius if bores else None)
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
                f"caps would reach from {inner:g} to {outer:g} mm from the cross centre; check "
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
