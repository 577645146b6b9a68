"""A yoke's ear: the metal round the bore, and the ear's root where it runs into the yoke."""

from dataclasses import asdict, dataclass

from sim.flags import Flag
from sim.materials import Material
from sim.quantities import require_positive
from sim.strength.couples import JointLoad
from sim.strength.member import Member, StrengthError, member

THIN_RING = 3.0
"""Less metal than this round a bore, mm, is flagged: grinding leaves no less (from memory)."""


@dataclass(frozen=True)
class Ear:
    """One ear of a yoke with round ears, mm."""

    bore: float
    """Of the cap."""
    thickness: float
    """Along the bore."""
    ring_radius: float
    """From the middle of the bore to the outside of the ear's round end, after grinding."""
    root_width: float
    """Across the shaft, where the throat begins."""
    root_at: float
    """From the cross centre along the shaft to the throat's floor."""

    def __post_init__(self) -> None:
        require_positive(StrengthError, **{f"ear {key}": v for key, v in asdict(self).items()})

    @property
    def ring(self) -> float:
        """Metal between the bore and the outside, mm; none is left at 0 or under."""
        return self.ring_radius - 0.5 * self.bore


def ear_members(load: JointLoad, ear: Ear, made_of: Material) -> tuple[Member, ...]:
    """Shear-out of the ring round the bore, and the ear's root.

    The ring is taken to tear along two planes, 2 t (r - d/2), under the whole cap force,
    whichever way it points: the thinnest metal there is. The root takes T / (2 R) across on the
    lever of the throat's depth and, at a bend, T tan b / (2 R) along the shaft, at one time.
    The cap is taken to lie in the middle of the ear, so that neither twists it. [derivation]
    """
    force = load.cap_force
    area = 2.0 * ear.thickness * max(ear.ring, 0.0)
    torn = 0.0 if force == 0.0 else force / area if area > 0.0 else float("inf")
    section = ear.thickness * ear.root_width
    bending = load.across * ear.root_at / (section * ear.root_width / 6.0)
    pulled = load.along / section
    return (
        member(
            "ear at the bore, shear-out",
            "shear",
            torn,
            made_of,
            "P / (2 t (r - d/2))",
            "derivation",
            flags=_ring_flags(ear),
        ),
        member(
            "ear at its root, bending and pull",
            "combined",
            bending + pulled,
            made_of,
            "T/(2R) 6 h / (t w^2) + T tan(b)/(2R) / (t w)",
            "derivation",
        ),
        member(
            "ear at its root, shear",
            "shear",
            1.5 * load.across / section,
            made_of,
            "1.5 T/(2R) / (t w)",
            "derivation",
        ),
    )


def _ring_flags(ear: Ear) -> tuple[Flag, ...]:
    if ear.ring <= 0.0:
        return (
            Flag(
                "bore-breaks-out",
                f"a bore of {ear.bore:g} mm leaves no metal in an ear of radius "
                f"{ear.ring_radius:g} mm",
            ),
        )
    if ear.ring < THIN_RING:
        return (
            Flag(
                "thin-ring", f"only {ear.ring:.1f} mm of metal round the bore, {THIN_RING:g} wanted"
            ),
        )
    return ()
