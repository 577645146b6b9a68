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

from geometry.joint import Array


class Swing(ABC):
    """How far a cross has swung about one yoke's bores, and the other way round."""

    body: ClassVar[str]
    axis: ClassVar[tuple[float, float, float]]
    """Along those bores in the cross frame, so that a swing is a right-handed turn about it."""

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
    axis = (-1.0, 0.0, 0.0)

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
    axis = (0.0, 1.0, 0.0)

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
