"""Which size of joint a torque and a bend call for: every cross of the catalogue asked."""

from geometry.cross import CrossShape
from sim.bearing.needles import Needles
from sim.parts.catalogue import CrossSize, cross_shape, cross_sizes, yoke_shape
from sim.parts.materials import material
from sim.quantities import require_bend, require_positive
from sim.sizing.torque import SizingError
from sim.strength import Ear, JointEnd, Strength, Trunnion, YokeEnd, joint_load, joint_members

NEEDLE = 2.4
"""Diameter of the needles in crosses of trucks, mm (from memory)."""

NEEDLES_CARRY = 0.7
"""Share of a cap's length over which its needles carry (from memory)."""

WANTED = 1.5
"""Safety against a lasting bend that the greatest torque is to leave (from memory)."""


def joint_strength(size: str, torque: float, bend: float) -> Strength:
    """Strength of a size of cross between weld yokes at a torque (N mm) and a bend (rad).

    Sizes, materials and needles are generic, so this tells which is nearer to its limit, not what a
    joint in the hand holds: go by its maker's rating where there is one.
    Raises SizingError for numbers that make no sense.
    """
    require_positive(SizingError, torque=torque)
    require_bend(SizingError, bend=bend)
    shape, kind = cross_shape(size), "weld yoke"
    yoke = YokeEnd(kind, Ear.of(yoke_shape(kind, shape)), material("forged yoke steel"))
    steel, needles = material("case-hardened cross steel"), needles_of(shape)
    joint = JointEnd("joint", bend, Trunnion.of(shape), steel, (yoke,), needles)
    load = joint_load(torque, bend, joint.trunnion.arm)
    return Strength(torque, tuple(joint_members(joint, load)))


def smallest_joint(torque: float, bend: float) -> CrossSize | None:
    """The smallest size whose weakest member leaves the safety wanted; dents do not count.

    None where none of the catalogue does.
    """
    return next(
        (
            size
            for size in cross_sizes()
            if joint_strength(size.name, torque, bend).weakest.safety >= WANTED
        ),
        None,
    )


def needles_of(shape: CrossShape) -> Needles:
    """Generic needles of a cross."""
    return Needles.full(NEEDLE, NEEDLES_CARRY * shape.cap_length, shape.trunnion_diameter)
