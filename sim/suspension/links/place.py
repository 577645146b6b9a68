"""Where the housing is in many poses, and vectors that turn with it."""

from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

import numpy as np

from sim.frames import FloatArray

LEVER: Final = 500.0
"""mm by which the angles are multiplied as unknowns: about the reach of the links of an axle."""


class Vector(NamedTuple):
    """Vectors by component, (rows, 1) or (rows, poses) each, mm or of length one."""

    x: FloatArray
    y: FloatArray
    z: FloatArray

    def dot(self, other: "Vector") -> FloatArray:
        """Scalar product."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    def across(self, other: "Vector") -> FloatArray:
        """Upward part of the vector product."""
        return self.x * other.y - self.y * other.x


@dataclass(frozen=True, eq=False)
class Place:
    """Shift (mm) and the sines and cosines that all rows share; each (poses,)."""

    x: FloatArray
    y: FloatArray
    z: FloatArray
    pitch: tuple[FloatArray, FloatArray]
    roll: tuple[FloatArray, FloatArray]
    yaw: tuple[FloatArray, FloatArray]

    @classmethod
    def of(cls, q: FloatArray, travel: FloatArray, roll: FloatArray) -> "Place":
        """Place of unknowns (4, poses), travel (mm) and roll (rad)."""
        angles = q[2] / LEVER, roll, q[3] / LEVER
        pitch, turn, yaw = ((np.sin(angle), np.cos(angle)) for angle in angles)
        return cls(q[0], q[1], travel, pitch, turn, yaw)

    @classmethod
    def ride(cls) -> "Place":
        """Ride height, level, as one pose."""
        return cls.of(np.zeros((4, 1)), np.zeros(1), np.zeros(1))

    def turned(self, vectors: Vector) -> tuple[Vector, Vector]:
        """Vectors fixed to the housing, in C, and their derivatives by the pitch (rad)."""
        x, y, z = vectors
        s, c = self.pitch
        level_x, level_z = c * x + s * z, c * z - s * x
        s, c = self.roll
        across, up = c * y - s * level_z, c * level_z + s * y
        across_by, up_by = s * level_x, -c * level_x
        s, c = self.yaw
        return (
            Vector(c * level_x - s * across, c * across + s * level_x, up),
            Vector(c * level_z - s * across_by, c * across_by + s * level_z, up_by),
        )

    def unpitched(self, pitched: Vector) -> Vector:
        """Second derivative by the pitch of the vectors whose first is `pitched`.

        Another quarter turn about the housing's own y axis: y_A x (pitched).
        """
        y_A = self._axis
        return Vector(
            y_A.y * pitched.z - y_A.z * pitched.y,
            y_A.z * pitched.x - y_A.x * pitched.z,
            y_A.across(pitched),
        )

    @cached_property
    def _axis(self) -> Vector:
        """The housing's y axis in C."""
        s, c = self.roll
        s_yaw, c_yaw = self.yaw
        return Vector(-s_yaw * c, c_yaw * c, s)
