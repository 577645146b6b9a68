"""Which size of joint a torque and a bend call for: every cross of the catalogue asked."""

from dataclasses import dataclass

from sim.bearing.needles import Needles
from sim.parts.catalogue import CrossSize, cross_shape, cross_sizes, yoke_shape
from sim.parts.materials import material
from sim.quantities import require_bend, require_positive
from sim.sizing.torque import SizingError
from sim.strength import (
    Ear,
    JointEnd,
    Strength,
    Trunnion,
    YokeEnd,
    joint_load,
    joint_members,
)

NEEDLE = 2.4
"""Diameter of the needles in crosses of trucks, mm (from memory)."""

NEEDLES_CARRY = 0.7
"""Share of a cap's length over which its needles carry (from memory)."""

WANTED = 1.5
"""Safety against a lasting bend that the greatest torque is to leave (from memory)."""


@dataclass(frozen=True)
class JointSize:
    """A size of cross at a torque and a bend, between two weld yokes of the catalogue."""

    size: CrossSize
    strength: Strength
    wanted: float

    @property
    def fits(self) -> bool:
        """Whether its weakest member leaves the safety wanted; dents do not count."""
        return self.strength.weakest.safety >= self.wanted


def joint_sizes(
    torque: float, bend: float, wanted: float = WANTED, kind: str = "weld yoke"
) -> tuple[JointSize, ...]:
    """Ask every size, small to large, at a torque (N mm) and a bend (rad).

    kind : of both yokes. The sizes are generic, so this tells which is nearer to its limit, not
    what a joint in the hand holds: go by its maker's rating where there is one.
    Raises SizingError for numbers that make no sense, CatalogueError for no such yoke.
    """
    require_positive(SizingError, torque=torque, wanted_safety=wanted)
    require_bend(SizingError, bend=bend)
    return tuple(
        JointSize(size, _strength(size.name, torque, bend, kind), wanted) for size in cross_sizes()
    )


def smallest_joint(
    torque: float, bend: float, wanted: float = WANTED, kind: str = "weld yoke"
) -> JointSize | None:
    """Give the smallest size that fits; None where none of the catalogue does."""
    return next((found for found in joint_sizes(torque, bend, wanted, kind) if found.fits), None)


def generic_joint(name: str, size: str, bend: float, kinds: tuple[str, ...]) -> JointEnd:
    """Return a joint of the catalogue with generic materials and needles, to ask for its strength.

    name : "output"; size : of the cross; bend : rad; kinds : of its yokes.
    """
    shape = cross_shape(size)
    carry = NEEDLES_CARRY * shape.cap_length
    forged = material("forged yoke steel")
    return JointEnd(
        name,
        bend,
        Trunnion.of(shape),
        material("case-hardened cross steel"),
        tuple(YokeEnd(kind, Ear.of(yoke_shape(kind, shape)), forged) for kind in kinds),
        Needles.full(NEEDLE, carry, shape.trunnion_diameter),
    )


def _strength(size: str, torque: float, bend: float, kind: str) -> Strength:
    joint = generic_joint("joint", size, bend, (kind,))
    load = joint_load(torque, bend, joint.trunnion.arm)
    return Strength(torque, tuple(joint_members(joint, load)))
