"""The tube: torsion with the bending of a bent joint, and torsional buckling of its wall."""

from math import sqrt

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.remark import Remark
from sim.strength.couples import JointLoad
from sim.strength.member import Member, member

IMPERFECT = 0.67
"""Share of the buckling stress of a perfect tube that real ones are held to [SP-8007, from
memory]; a dent takes more than that away."""


def tube_members(load: JointLoad, section: TubeSection, made_of: Material) -> tuple[Member, ...]:
    """Torsion alone, torsion with the couple of the bent joint, and buckling.

    The couple is greatest at the end by the joint, T tan b, and falls to nothing at the other
    joint; it comes together with the torque T; a quarter turn later it is T sin b with T / cos b
    or less. Von Mises: sqrt(sigma^2 + 3 tau^2).
    """
    shear = section.torsion(load.torque)
    bending = section.bending(load.couple)
    limit = buckling_shear(section, made_of)
    return (
        member(
            "tube, torsion",
            "shear",
            section.torsion(load.greatest_torque),
            made_of,
            "16 T D / (pi (D^4 - d^4)), T / cos(b)",
        ),
        member(
            "tube beside the joint, torsion and bending",
            "combined",
            sqrt(bending**2 + 3.0 * shear**2),
            made_of,
            "sqrt(sigma^2 + 3 tau^2), sigma of T tan(b)",
        ),
        member(
            "tube, buckling of its wall under torsion",
            "buckling",
            section.torsion(load.greatest_torque),
            made_of,
            "0.67 E (t/r)^1.5 / (3 sqrt(2) (1-nu^2)^0.75)",
            "[SP-8007, from memory]",
            allowable=limit,
            flags=_buckling_flags(limit, made_of),
        ),
    )


def buckling_shear(section: TubeSection, made_of: Material) -> float:
    """Shear stress (MPa) at which the wall buckles under torsion, elastic, with imperfections.

    0.67 E (t/r)^1.5 / (3 sqrt 2 (1-nu^2)^0.75) with r to the middle of the wall: a tube long
    enough to forget its ends, which hold a short one rounder and are not counted [SP-8007, from
    memory]; the tests find the same from the shell's own equations.
    """
    slim = section.wall / section.mean_radius
    perfect = made_of.modulus * slim**1.5 / (3.0 * sqrt(2.0) * (1.0 - made_of.poisson**2) ** 0.75)
    return float(IMPERFECT * perfect)


def _buckling_flags(limit: float, made_of: Material) -> tuple[Remark, ...]:
    if limit >= made_of.shears:
        return ()
    return (Remark("buckles-before-yield", buckles_at=limit, yields_at=made_of.shears),)
