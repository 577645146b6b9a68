"""An endless cylinder, fitted to points: the wall of a bore, the round of a stub."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

from geometry.mesh import Floats


@dataclass(frozen=True, eq=False)
class Cylinder:
    """An endless cylinder.

    axis : (3,) unit vector along it
    point : (3,) on its axis
    radius : in the unit of the points
    """

    axis: Floats
    point: Floats
    radius: float

    def along(self, points: Floats) -> Floats:
        """Place of points, (..., 3), along the axis from `point`, (...)."""
        return np.asarray((points - self.point) @ self.axis)

    def radial(self, points: Floats) -> Floats:
        """Vector from the axis square to it out to points, (..., 3)."""
        away = points - self.point
        return np.asarray(away - (away @ self.axis)[..., None] * self.axis)

    def off(self, points: Floats) -> Floats:
        """How far points, (..., 3), lie outside the cylinder; negative inside it."""
        return np.asarray(np.linalg.norm(self.radial(points), axis=-1) - self.radius)

    def bearing(self, points: Floats) -> Floats:
        """Angle of points round the axis, rad, from an arbitrary start."""
        one, other = square_to(self.axis)
        away = points - self.point
        return np.asarray(np.arctan2(away @ other, away @ one))


def fitted(points: Floats, start: Cylinder, scatter: float) -> Cylinder:
    """Return the cylinder nearest to points, (n, 3), by least squares from a start near it.

    scatter : distance from which a point counts less and less (soft L1 loss)
    """
    one, other = square_to(start.axis)
    middle = start.point + start.axis * float(start.along(points).mean())
    half = max(float(np.ptp(start.along(points))) / 2.0, start.radius)

    def moved(x: Floats) -> Cylinder:
        axis = start.axis + (x[0] * one + x[1] * other) / half
        point = middle + x[2] * one + x[3] * other
        return Cylinder(axis / np.linalg.norm(axis), point, start.radius + float(x[4]))

    found = least_squares(
        lambda x: moved(x).off(points),
        np.zeros(5),
        loss="soft_l1",
        f_scale=scatter,
        x_scale=start.radius,
        xtol=1e-12,
        ftol=1e-12,
        gtol=1e-14,
        max_nfev=50,
    )
    return moved(np.asarray(found.x))


def square_to(axis: Floats) -> tuple[Floats, Floats]:
    """Return two unit vectors that make a right-handed frame (one, other, axis)."""
    one = np.cross(np.eye(3)[np.argmin(np.abs(axis))], axis)
    one /= np.linalg.norm(one)
    return one, np.cross(axis, one)
