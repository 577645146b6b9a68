"""The ring weld between a yoke and the tube."""

from dataclasses import dataclass
from math import pi, sqrt

from sim.parts.materials import Material
from sim.quantities import require_fields
from sim.remark import Remark
from sim.strength.couples import JointLoad
from sim.strength.member import Member, StrengthError, member


@dataclass(frozen=True)
class WeldRing:
    """A weld all the way round a tube, mm."""

    diameter: float
    """Outside of the tube."""
    throat: float
    """Least thickness through the weld."""
    wall: float
    """Of the tube that it joins."""
    sound: float = 1.0
    """Share of the ring that is sound."""

    def __post_init__(self) -> None:
        require_fields(StrengthError, self, "diameter throat wall", shares="sound")

    @property
    def carries(self) -> float:
        """Throat that carries, mm: never more than the wall beside it."""
        return min(self.throat, self.wall)


def weld_members(load: JointLoad, weld: WeldRing, made_of: Material) -> tuple[Member, ...]:
    """Torsion and bending of the joint in a thin ring: 2 T / (pi D^2 a), 4 M / (pi D^2 a).

    The ring is thin; torque and couple act at one time as in the tube. [derivation]
    """
    ring = pi * weld.diameter**2 * weld.carries * weld.sound
    shear, bending = 2.0 * load.torque / ring, 4.0 * load.couple / ring
    flags = []
    if weld.throat > weld.wall:
        flags.append(Remark("weld-thicker-than-wall", throat=weld.throat, wall=weld.wall))
    return (
        member(
            "weld, torsion and bending",
            "combined",
            sqrt(bending**2 + 3.0 * shear**2),
            made_of,
            "sqrt(sigma^2 + 3 tau^2), tau = 2T/(pi D^2 a), sigma = 4M/(pi D^2 a)",
            flags=tuple(flags),
        ),
    )
