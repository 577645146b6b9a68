"""Two bodies of a joint that may touch, ready to be asked whether they do and how near they are.

A pose of a pair is two numbers: of the yokes bend and spin, of a cross in its bores how far it is
swung and which way. FCL answers at one pose; for many at once there are the trees and the motion
(`geometry.contact.row_search`).
"""

from abc import ABC, abstractmethod
from functools import cached_property

import numpy as np

from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.moves import Motion, SwingMotion, YokesMotion
from geometry.contact.reach import common_radii, reach, within
from geometry.contact.row_tree import RowTree, row_tree
from geometry.contact.swing import Swing
from geometry.contact.touching import Closeness
from geometry.joint import Array, driven_in_driving
from geometry.mesh import Mesh, once_a_mesh
from geometry.tolerances import TOL

Body = str
DRIVING, DRIVEN, CROSS = "driving", "driven", "cross"


class Pair(ABC):
    """Two bodies that turn about a common point.

    Attributes
    ----------
    a, b : what of both can touch, each in the frame of its body.
    near : how near counts as touching.
    arm : mm, no metal that can touch moves faster by a turn about the point.
    gap, slack, graze : as a search over rows wants them; what is nearer than a graze is not clear.
    bodies : names of both.
    meshes : both ready to be asked.
    """

    graze = TOL.graze
    bodies: tuple[Body, Body] = (DRIVING, DRIVEN)

    def __init__(self, a: Mesh, b: Mesh, radius: float, gap: float) -> None:
        self.near, self.arm = Closeness(gap), radius
        self.gap = self.slack = max(gap, TOL.graze)
        self.a, self.b = within(a, radius), within(b, radius)
        self.meshes = MeshPair(self.a, self.b)
        self._whole = a, b

    @property
    @abstractmethod
    def motion(self) -> Motion:
        """How the second body moves in the frame of the first, over boxes of poses."""

    @abstractmethod
    def at(self, first: float, second: float) -> Array:
        """Rotation of b's frame in a's frame, (3, 3), at a pose of this pair."""

    @abstractmethod
    def rotation(self, bend: float, spin: float) -> Array:
        """Rotation of b's frame in a's frame, (3, 3), at a bend and spin (rad) of the joint."""

    @cached_property
    def whole(self) -> MeshPair:
        """The whole of both bodies: what cannot touch may still be what is nearest."""
        return MeshPair(*self._whole)

    @cached_property
    def trees(self) -> tuple[RowTree, RowTree]:
        """Trees of both meshes."""
        return row_tree(self.a), row_tree(self.b)

    def room(self, first: float, second: float) -> float:
        """What is left to touching at a pose, mm, less than 0 where it is seen; a graze for a yes.

        How near bodies are takes ten times as long to tell as whether they cut.
        """
        if self.near.gap > 0.0:
            return self.nearest_at(first, second).distance - self.near.gap
        return -TOL.graze if self.cut(first, second) else TOL.graze

    def nearest_at(self, first: float, second: float) -> Nearest:
        """Nearest points at a pose of this pair, in the frame of a."""
        return self.meshes.nearest(self.at(first, second))

    def cut(self, first: float, second: float) -> bool:
        """Whether the surfaces cut each other at a pose of this pair."""
        return self.meshes.cut(self.at(first, second))

    def cut_triangles(self, bend: float, spin: float) -> tuple[int, int] | None:
        """Indices of two triangles, of `a` and of `b`, that cut each other here, or None."""
        return self.meshes.cut_triangles(self.rotation(bend, spin))


class ClosingPair(Pair):
    """Two yokes of a joint, closing on each other by bend and spin (rad).

    Parameters
    ----------
    a, b : closed meshes of the driving and the driven yoke in their yoke frames.
    limit : rad, highest bend that will be asked.
    gap : mm, how near counts as touching.
    """

    motion = YokesMotion()

    def __init__(self, a: Mesh, b: Mesh, limit: float = TOL.bend_limit, gap: float = 0.0) -> None:
        super().__init__(a, b, reach(a, b, limit, max(gap, USUAL_GAP)), gap)

    def at(self, first: float, second: float) -> Array:
        """Rotation of the driven yoke in the driving yoke's frame, (3, 3)."""
        return driven_in_driving(first, second)

    def rotation(self, bend: float, spin: float) -> Array:
        """The same: bend and spin are the pose of the yokes."""
        return driven_in_driving(bend, spin)


class SwingingPair(Pair):
    """A yoke and the cross swinging in its bores, by so much (rad) one way, 1, or the other, -1.

    yoke, cross : closed meshes in their own frames.
    swing : which of the two yokes it is.
    gap : mm, how near counts as touching.
    """

    def __init__(self, yoke: Mesh, cross: Mesh, swing: Swing, gap: float = 0.0) -> None:
        metal = _without_caps(yoke)
        super().__init__(metal, cross, common_radii(metal, cross)[1] + max(gap, USUAL_GAP), gap)
        self.swing, self.bodies = swing, (swing.body, CROSS)
        # The cross turns about its own bores: no point is farther from that axis than this.
        self.arm = float(np.linalg.norm(np.cross(cross.vertices, swing.axis), axis=1).max())

    @cached_property
    def motion(self) -> Motion:
        """How the cross turns about the bores."""
        return SwingMotion(self.swing.rotation(0.0), np.array(self.swing.axis))

    def at(self, first: float, second: float) -> Array:
        """Rotation of the cross frame in the yoke frame, (3, 3)."""
        return self.swing.rotation(first * second)

    def rotation(self, bend: float, spin: float) -> Array:
        """Rotation of the cross frame in the yoke frame, (3, 3), at a bend and spin (rad)."""
        return self.swing.rotation(self.swing.angle(bend, spin))


def _without_caps(yoke: Mesh) -> Mesh:
    """The yoke without its caps: they are round about the swing, so the cross never nears them."""
    return yoke if CAP not in yoke.label_names or yoke.on(CAP).all() else _cut_free(yoke)


@once_a_mesh
def _cut_free(yoke: Mesh) -> Mesh:
    kept = ~yoke.on(CAP)
    return Mesh(yoke.vertices, yoke.faces[kept], yoke.labels[kept], yoke.label_names, yoke.chord)


USUAL_GAP = 1.6
"""mm, just over a sixteenth of an inch. Touch and gaps up to it are asked of the same metal, which
is made ready once."""

CAP = "cap"
"""Name of the surface of the bearing caps."""
