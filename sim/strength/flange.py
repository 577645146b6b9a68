"""The bolts of a flange: held by friction, and sheared once it slips; prised by the couple."""

from dataclasses import dataclass

from sim.parts.materials import Material
from sim.quantities import require_fields
from sim.remark import Remark
from sim.strength.clamp import BoltedCap
from sim.strength.couples import JointLoad
from sim.strength.member import Member, StrengthError, member

FRICTION = 0.15
"""Between clean, dry steel faces 0.15 or more, painted or oily ones less (from memory)."""


@dataclass(frozen=True)
class FlangeBolts:
    """Bolts on a circle, mm; `bolt.bolts` of them."""

    bolt: BoltedCap
    circle: float
    """Diameter that the bolts sit on."""
    friction: float = FRICTION

    def __post_init__(self) -> None:
        require_fields(StrengthError, self, "circle friction")
        if self.bolt.bolts < 3:
            raise StrengthError(f"flange: got {self.bolt.bolts} bolts, expected at least 3")


def flange_members(load: JointLoad, flange: FlangeBolts, made_of: Material) -> tuple[Member, ...]:
    """Slip of the faces, shear of the bolts once they slip, tension of the bolt prised most.

    Slip: 2 T / (d cos b) at the bolts' circle against n mu F of their preload. Shear: the same,
    all bolts alike, none helped by friction or a pilot. Tension: the couple T tan b over a circle
    of n bolts takes 4 M / (n d) to the outermost; tight bolts feel little of it until it passes
    their preload. [derivation]
    """
    across = 2.0 * load.greatest_torque / flange.circle
    bolts = flange.bolt.bolts
    return (
        member(
            "flange, held by friction of its faces",
            "slip",
            across,
            made_of,
            "2 T / (d cos b) against n mu M / (K d_bolt)",
            allowable=bolts * flange.friction * flange.bolt.preload,
            flags=_flags(flange),
        ),
        member(
            "bolts of the flange, shear once it slips",
            "shear",
            across / (bolts * flange.bolt.stress_area),
            made_of,
            "2 T / (d cos b n A)",
        ),
        member(
            "bolts of the flange, prised by the bend",
            "tension",
            4.0 * load.couple / (bolts * flange.circle * flange.bolt.stress_area),
            made_of,
            "4 T tan(b) / (n d A)",
        ),
    )


def _flags(flange: FlangeBolts) -> tuple[Remark, ...]:
    if flange.bolt.preload == 0.0:
        return (Remark("flange-loose"),)
    return ()
