"""A yoke's ear: the metal round the bore, and the ear's root where it runs into the yoke."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from geometry.yoke import YokeShape
from geometry.yoke.base import ROOT_AT
from sim.parts.materials import Material
from sim.quantities import require_fields
from sim.remark import Remark
from sim.strength.couples import JointLoad
from sim.strength.member import Member, StrengthError, member

THIN_RING = 3.0
"""Less metal than this round a bore, mm, is flagged: grinding leaves no less (from memory)."""


@dataclass(frozen=True)
class Ear:
    """One ear of a yoke, mm."""

    bore: float
    """Of the cap."""
    thickness: float
    """Along the bore."""
    root_width: float
    """Across the shaft, where the ear's sides end and it spreads into the neck."""
    root_at: float
    """From the cross centre along the shaft to there."""
    ring_radius: float | None
    """From the middle of the bore to the outside of the ear's round end, after grinding; None
    for an ear that is open, its cap held by straps or bolts."""

    def __post_init__(self) -> None:
        require_fields(StrengthError, self, "bore thickness root_width root_at ring_radius")

    @classmethod
    def of(cls, shape: YokeShape, ground: float = 0.0) -> Ear:
        """Ear of a yoke of the catalogue, with so much (mm) ground off its tip."""
        width, ring = shape.ear_root
        ring = None if ring is None else ring - ground
        return cls(shape.bore, shape.ear_thickness, width, ROOT_AT * shape.throat_depth, ring)

    @property
    def ring(self) -> float:
        """Metal between the bore and the outside, mm; 0 where there is none."""
        if self.ring_radius is None:
            return 0.0
        return max(self.ring_radius - 0.5 * self.bore, 0.0)


def ear_members(load: JointLoad, ear: Ear, made_of: Material) -> tuple[Member, ...]:
    """Shear-out of the ring round the bore, if it is closed, and the ear's root.

    The ring is taken to tear along two planes, 2 t (r - d/2), under the whole cap force,
    whichever way it points: the thinnest metal there is. The root takes T / (2 R) across on the
    lever of its distance and, at a bend, T tan b / (2 R) along the shaft, at one time. The cap
    is taken to lie in the middle of the ear, so that neither twists it. [derivation]
    """
    section = ear.thickness * ear.root_width
    bending = load.across * ear.root_at / (section * ear.root_width / 6.0)
    pulled = load.along / section
    root = (
        member(
            "ear at its root, bending and pull",
            "combined",
            bending + pulled,
            made_of,
            "T/(2R) 6 h / (t w^2) + T tan(b)/(2R) / (t w)",
        ),
        member(
            "ear at its root, shear",
            "shear",
            1.5 * load.across / section,
            made_of,
            "1.5 T/(2R) / (t w)",
        ),
    )
    if ear.ring_radius is None:
        return root
    area = 2.0 * ear.thickness * ear.ring
    force = load.cap_force
    ring = member(
        "ear at the bore, shear-out",
        "shear",
        0.0 if force == 0.0 else force / area if area > 0.0 else inf,
        made_of,
        "P / (2 t (r - d/2))",
        flags=_ring_flags(ear, ear.ring_radius),
    )
    return (ring, *root)


def _ring_flags(ear: Ear, radius: float) -> tuple[Remark, ...]:
    if ear.ring == 0.0:
        return (Remark("bore-breaks-out", bore=ear.bore, radius=radius),)
    if ear.ring < THIN_RING:
        return (Remark("thin-ring", ring=ear.ring, wanted=THIN_RING),)
    return ()
