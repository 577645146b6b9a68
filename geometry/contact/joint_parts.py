"""The bodies of one joint, made ready to be asked for distances.

Three bodies make three pairs: the two yokes, which close on each other by bend and spin, and the
cross in each of them, which swings.
"""

from dataclasses import dataclass
from functools import cached_property
from math import pi

import numpy as np
from numpy.typing import NDArray

from geometry.contact.containment import nested
from geometry.contact.pair import ClosingPair, Pair, SwingingPair
from geometry.contact.swing import DrivenSwing, DrivingSwing
from geometry.contact.symmetry import HALF_TURN_X, MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.errors import ShapeError
from geometry.mesh import Mesh

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Turn:
    """The symmetries of two yokes over one turn.

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

    def flips(self, driving: bool) -> Array:
        """What takes a yoke to where it meets the same, (k, 3) of +-1, doing nothing first.

        driving : whether it is the driving yoke
        """
        flips = [np.ones(3)]
        if self.half_turn:
            flips.append(HALF_TURN_X)
        if self.mirror:
            mirror = MIRROR_Z if driving else MIRROR_Y
            flips += [flip * mirror for flip in flips]
        return np.array(flips)


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

    @cached_property
    def turn(self) -> Turn:
        """The symmetries of the two yokes together."""
        driving, driven = self.driving, self.driven
        return Turn(
            half_turn=is_symmetric(driving, HALF_TURN_X) and is_symmetric(driven, HALF_TURN_X),
            mirror=is_symmetric(driving, MIRROR_Z) and is_symmetric(driven, MIRROR_Y),
        )


class ClosingJoint:
    """A joint ready for distance queries, its parts known to be free of each other at bend 0.

    gap : mm, how near counts as touching.

    Raises
    ------
    ShapeError
        When parts overlap already at bend 0; the message names the surfaces.
    """

    def __init__(self, parts: JointParts, gap: float = 0.0) -> None:
        self.parts, self.gap = parts, gap
        self.yokes = ClosingPair(parts.driving, parts.driven, gap=gap)
        self.turn = parts.turn
        self.swings: tuple[SwingingPair, ...] = ()
        if parts.cross is not None:
            self.swings = (
                SwingingPair(parts.driving, parts.cross, DrivingSwing(), gap),
                SwingingPair(parts.driven, parts.cross, DrivenSwing(), gap),
            )
        for pair in self.pairs:
            self._demand_free(pair)

    @property
    def pairs(self) -> tuple[ClosingPair | SwingingPair, ...]:
        """All pairs of bodies that may touch; the yokes first."""
        return self.yokes, *self.swings

    def nested(self, pair: Pair, bend: float, spin: float) -> bool:
        """Whether one body of a pair sits inside the other at this bend and spin (rad)."""
        a, b = (getattr(self.parts, body) for body in pair.bodies)
        return nested(a, b, pair.rotation(bend, spin))

    def _demand_free(self, pair: Pair) -> None:
        first, second = pair.bodies
        cut = pair.cut_triangles(0.0, 0.0)
        if cut is not None:
            one, other = pair.a.label_of(cut[0]), pair.b.label_of(cut[1])
            raise ShapeError(
                f"the parts overlap before the joint bends at all: {one} of the {first} part "
                f"cuts {other} of the {second} part; expected a gap at 0 deg. "
                f"Check the dimensions of those two surfaces"
            )
        if self.nested(pair, 0.0, 0.0):
            raise ShapeError(
                f"one part lies wholly inside the other ({first} and {second}); expected "
                "two separate parts around the cross"
            )
