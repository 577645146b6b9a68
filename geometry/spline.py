"""Splines to show: straight-sided teeth round a shaft or a hole. Nothing ever touches them here."""

from __future__ import annotations

from math import pi

import numpy as np

from geometry.mesh import Floats
from geometry.solids import Solid, prism

DEPTH = 0.9
"""Depth of a tooth as a part of the pitch along the circle; about that of a 30 degree spline,
from memory."""


def tooth_outline(diameter: float, teeth: int) -> Floats:
    """Return the outline, (4 * teeth, 2) mm, of a spline whose teeth reach out to `diameter`."""
    pitch = 2.0 * pi / teeth
    outer = 0.5 * diameter
    inner = outer - DEPTH * pitch * outer * 0.5
    at = np.array([-0.36, -0.16, 0.16, 0.36]) * pitch
    size = np.array([inner, outer, outer, inner])
    angle = (pitch * np.arange(teeth))[:, None] + at
    radius = np.broadcast_to(size, angle.shape)
    return np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=-1).reshape(-1, 2)


def spline_shaft(diameter: float, teeth: int, start: float, stop: float) -> Solid:
    """Return a splined shaft along x, mm."""
    return prism(tooth_outline(diameter, teeth), "x", start, stop, "spline")


def spline_hole(diameter: float, teeth: int, start: float, stop: float) -> Solid:
    """Return the tool that cuts a splined hole along x whose grooves reach out to `diameter`."""
    return prism(tooth_outline(diameter, teeth), "x", start, stop, "spline")
