"""The bodies of one joint, made ready to be asked for distances.

Three bodies make three pairs: the two yokes, and the cross against each of them. Each pair has
its own symmetries, since a grease fitting breaks those of the cross but not those of the yokes.
"""

from dataclasses import dataclass
from math import pi

from geometry.closing import ClosingPair, Rotation
from geometry.containment import nested
from geometry.errors import ShapeError
from geometry.joint import cross_in_driven, cross_in_driving, driven_in_driving
from geometry.mesh import Mesh
from geometry.symmetry import HALF_TURN_X, HALF_TURN_Z, MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.tolerances import TOL

Body = str
DRIVING, DRIVEN, CROSS = "driving", "driven", "cross"


@dataclass(frozen=True)
class JointParts:
    """Closed meshes of one joint, mm.

    Attributes
    ----------
    driving : the yoke nearer the engine, in its yoke frame.
    driven : the other yoke, in its yoke frame.
    cross : what of the cross can touch a yoke, in the cross frame; None leaves it out.
    """

    driving: Mesh
    driven: Mesh
    cross: Mesh | None = None

    @property
    def chord(self) -> float:
        """Largest distance of any of the meshes from the true surface, mm."""
        return max(mesh.chord for mesh in (self.driving, self.driven, self.cross) if mesh)

    def key(self) -> str:
        """Content key: equal keys, equal joints."""
        return "-".join(mesh.key() for mesh in (self.driving, self.driven, self.cross) if mesh)


@dataclass(frozen=True)
class Turn:
    """The symmetries of a pair over one turn.

    half_turn : spin and spin + pi look the same.
    mirror : spin and -spin are mirror images in the plane of the bend.
    """

    half_turn: bool
    mirror: bool

    @property
    def end(self) -> float:
        """End (rad) of the interval [0, end] that speaks for the whole turn."""
        return 2.0 * pi / (1 + self.half_turn) / (1 + self.mirror)

    def fold(self, spin: float) -> tuple[float, bool]:
        """The spin in [0, end] that stands for this one, and whether it is its mirror image."""
        period = pi if self.half_turn else 2.0 * pi
        folded = spin % period
        if self.mirror and folded > 0.5 * period:
            return period - folded, True
        return folded, False


@dataclass(frozen=True)
class JointPair:
    """Two bodies of a joint that may touch: their names, their motion, their symmetries."""

    bodies: tuple[Body, Body]
    closing: ClosingPair
    turn: Turn


class ClosingJoint:
    """A joint ready for distance queries, its parts known to be free of each other at bend 0.

    Raises
    ------
    ShapeError
        When parts overlap already at bend 0; the message names the surfaces.
    """

    def __init__(self, parts: JointParts) -> None:
        self.parts = parts
        self.pairs = [_pair(parts, DRIVING, DRIVEN, driven_in_driving)]
        if parts.cross is not None:
            self.pairs += [
                _pair(parts, DRIVING, CROSS, cross_in_driving),
                _pair(parts, DRIVEN, CROSS, cross_in_driven),
            ]


def _pair(parts: JointParts, first: Body, second: Body, R_AB: Rotation) -> JointPair:
    a, b = getattr(parts, first), getattr(parts, second)
    # A cross has no shaft of its own, so all of it is within reach.
    radius = min(a.radius, b.radius) if second == CROSS else None
    pair = ClosingPair(a, b, R_AB, TOL.bend_limit, radius)
    _demand_free(pair, a, b, (first, second))
    half_turn = all(_half_turned(body, mesh) for body, mesh in ((first, a), (second, b)))
    mirror = all(
        is_symmetric(mesh, MIRROR_Z if body == DRIVING else MIRROR_Y)
        for body, mesh in ((first, a), (second, b))
    )
    return JointPair((first, second), pair, Turn(half_turn, mirror))


def _half_turned(body: Body, mesh: Mesh) -> bool:
    """Whether half a turn of the shaft leaves the body as it was."""
    return is_symmetric(mesh, HALF_TURN_Z if body == CROSS else HALF_TURN_X)


def _demand_free(pair: ClosingPair, a: Mesh, b: Mesh, bodies: tuple[Body, Body]) -> None:
    cut = pair.cut_triangles(0.0, 0.0)
    if cut is not None:
        surfaces = pair.a.label_of(cut[0]), pair.b.label_of(cut[1])
        raise ShapeError(
            f"the parts overlap before the joint bends at all: {surfaces[0]} of the {bodies[0]} "
            f"part cuts {surfaces[1]} of the {bodies[1]} part; expected a gap at 0 deg. "
            f"Check the dimensions of those two surfaces"
        )
    if nested(a, b, pair.rotation(0.0, 0.0)):
        raise ShapeError(
            f"one part lies wholly inside the other ({bodies[0]} and {bodies[1]}); expected "
            "two separate parts around the cross"
        )
