"""The cross against a yoke: a swing about the yoke's own bores, by one angle only.

A cross can only turn about the bores it sits in, so how it sits to that yoke depends on a single
angle, whatever bend and spin make it up. Its touching is therefore found once for swinging either
way, and bend and spin follow in closed form. The swing never exceeds the bend, and reaches it once
each way a turn. Own derivation, compared with the full rotation in the tests.
"""

from abc import ABC, abstractmethod
from math import acos, asin, atan, cos, nan, sin, tan
from typing import ClassVar

import numpy as np

from geometry.contact.distance import MeshPair, Nearest
from geometry.contact.reach import common_radii, within
from geometry.contact.touching import Closeness, Touch, WholePair
from geometry.joint import Array
from geometry.mesh import Mesh
from geometry.tolerances import TOL


class Swing(ABC):
    """How far a cross has swung about one yoke's bores, and the other way round."""

    body: ClassVar[str]

    @abstractmethod
    def angle(self, bend: float, spin: float) -> float:
        """Swing (rad) at a bend and spin (rad)."""

    @abstractmethod
    def bend(self, angle: float, spin: float) -> float:
        """Bend (rad) at which the swing reaches `angle` (rad) at this spin; nan where never."""

    @abstractmethod
    def spin(self, angle: float, bend: float) -> float:
        """A spin (rad) at which the swing is `angle` at this bend; |angle| <= bend, rad."""

    @abstractmethod
    def rotation(self, angle: float) -> Array:
        """Rotation (3, 3) of the cross frame in the yoke frame."""


class DrivingSwing(Swing):
    """Swing in the driving yoke: tan(angle) = tan(bend) sin(spin)."""

    body = "driving"

    def angle(self, bend: float, spin: float) -> float:
        """Swing (rad) at a bend and spin (rad)."""
        return atan(tan(bend) * sin(spin))

    def bend(self, angle: float, spin: float) -> float:
        """Bend (rad) at which the swing reaches `angle` (rad) at this spin; nan where never."""
        return atan(tan(angle) / sin(spin)) if angle * sin(spin) > 0.0 else nan

    def spin(self, angle: float, bend: float) -> float:
        """A spin (rad) at which the swing is `angle` at this bend; |angle| <= bend, rad."""
        return asin(_share(tan(angle), tan(bend)))

    def rotation(self, angle: float) -> Array:
        """Rotation (3, 3) of the cross frame in the yoke frame."""
        c, s = cos(angle), sin(angle)
        return np.array([[0.0, -s, c], [1.0, 0.0, 0.0], [0.0, c, s]])


class DrivenSwing(Swing):
    """Swing in the driven yoke: sin(angle) = sin(bend) cos(spin)."""

    body = "driven"

    def angle(self, bend: float, spin: float) -> float:
        """Swing (rad) at a bend and spin (rad)."""
        return asin(sin(bend) * cos(spin))

    def bend(self, angle: float, spin: float) -> float:
        """Bend (rad) at which the swing reaches `angle` (rad) at this spin; nan where never."""
        if angle * cos(spin) <= 0.0 or abs(sin(angle)) > abs(cos(spin)):
            return nan
        return asin(sin(angle) / cos(spin))

    def spin(self, angle: float, bend: float) -> float:
        """A spin (rad) at which the swing is `angle` at this bend; |angle| <= bend, rad."""
        return acos(_share(sin(angle), sin(bend)))

    def rotation(self, angle: float) -> Array:
        """Rotation (3, 3) of the cross frame in the yoke frame."""
        c, s = cos(angle), sin(angle)
        return np.array([[s, 0.0, -c], [0.0, 1.0, 0.0], [c, 0.0, s]])


def _share(part: float, whole: float) -> float:
    """Ratio held within -1 and 1 against rounding; 0 for a straight joint."""
    return max(-1.0, min(1.0, part / whole)) if whole else 0.0


def _without_caps(yoke: Mesh) -> Mesh:
    """The yoke without its caps: they are round about the swing, so the cross never nears them."""
    if CAP not in yoke.label_names:
        return yoke
    kept = ~yoke.on(CAP)
    if not kept.any():
        return yoke
    return Mesh(yoke.vertices, yoke.faces[kept], yoke.labels[kept], yoke.label_names, yoke.chord)


CAP = "cap"
"""Name of the surface of the bearing caps."""


class SwingingPair:
    """A yoke and the cross swinging in its bores.

    yoke, cross : closed meshes in their own frames.
    swing : which of the two yokes it is.
    gap : mm, how near counts as touching.
    """

    def __init__(self, yoke: Mesh, cross: Mesh, swing: Swing, gap: float = 0.0) -> None:
        self.swing, self.near = swing, Closeness(gap)
        metal = _without_caps(yoke)
        _, common = common_radii(metal, cross)
        self.reach = common + gap
        self.a, self.b = within(metal, self.reach), within(cross, self.reach)
        self._meshes = MeshPair(self.a, self.b)
        self.whole = WholePair(metal, cross)
        # The cross turns about its own bores: no point is farther from that axis than this.
        about = 0 if swing.body == "driving" else 1
        self.arm = float(np.max(np.hypot(*np.delete(cross.vertices, about, axis=1).T)))

    def nearest(self, bend: float, spin: float) -> Nearest:
        """Nearest points at this bend and spin (rad), in the frame of the yoke."""
        return self.nearest_at(self.swing.angle(bend, spin))

    def nearest_at(self, angle: float) -> Nearest:
        """Nearest points at this swing (rad), in the frame of the yoke."""
        return self._meshes.nearest(self.swing.rotation(angle))

    def cut(self, bend: float, spin: float) -> bool:
        """Whether the surfaces cut each other at this bend and spin (rad)."""
        return self._meshes.cut(self.rotation(bend, spin))

    def cut_triangles(self, bend: float, spin: float) -> tuple[int, int] | None:
        """Indices of two triangles, of `a` and of `b`, that cut each other here, or None."""
        return self._meshes.cut_triangles(self.rotation(bend, spin))

    def rotation(self, bend: float, spin: float) -> Array:
        """Rotation of the cross frame in the yoke frame, (3, 3)."""
        return self.swing.rotation(self.swing.angle(bend, spin))

    def first_touch(self, sign: float) -> Touch | None:
        """First touch as the cross swings one way (`sign` +-1); angles in place of bends."""
        angle = 0.0
        while angle < TOL.bend_limit:
            near = self.nearest_at(sign * angle)
            room = self.near.room(near)
            if room <= self.near.ahead:
                past = angle + self.near.look
                if self._touches_at(sign * past):
                    return Touch(sign * angle, sign * past, near)
                if room <= self.near.graze:
                    return Touch(sign * angle, sign * angle, near)
            angle += room / self.arm
        return None

    def _touches_at(self, angle: float) -> bool:
        """Whether the surfaces cut each other, or are nearer than the gap, at this swing (rad)."""
        if self.near.gap > 0.0:
            return self.near.room(self.nearest_at(angle)) < 0.0
        return self._meshes.cut(self.swing.rotation(angle))
