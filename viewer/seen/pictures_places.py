"""Where the pictures of an inspection's words look from, and the places on parts to paint on."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from geometry.mesh import Floats
from viewer.draw.camera import Camera
from viewer.scene.parts import PosedPart

Place = Callable[[Floats], Floats]
"""Coordinates (n, 2), 0 to 1, of a patch of a surface to points (n, 3) mm."""


@dataclass(frozen=True, eq=False)
class View:
    """Parts, an eye, and the places on them that can be painted on."""

    parts: tuple[PosedPart, ...]
    camera: Camera
    places: Mapping[str, Place]


def eye(focus: ArrayLike, toward: ArrayLike, up: ArrayLike, span: float) -> Camera:
    """A camera by its focus, the way to the eye, what points up, and the mm it shows in height."""
    at, way, top = (np.asarray(each, dtype=np.float64) for each in (focus, toward, up))
    return Camera(at, way, top, span)


def flat(middle: ArrayLike, u: ArrayLike, v: ArrayLike) -> Place:
    """A flat patch by its middle and its two half sides, mm."""
    o, a, b = (np.asarray(each, dtype=np.float64) for each in (middle, u, v))
    return lambda uv: np.asarray(o + (2.0 * uv - 1.0) @ np.stack([a, b]))


def about(
    axis: Literal["x", "y"], along: tuple[float, float], radius: float, turn: tuple[float, float]
) -> Place:
    """A patch of a cylinder: u along its axis, v round it from z on, toward y or toward -x.

    along, radius : mm. turn : deg.
    """

    def at(uv: Floats) -> Floats:
        angle = np.radians(turn[0] + uv[:, 1] * (turn[1] - turn[0]))
        far = along[0] + uv[:, 0] * (along[1] - along[0])
        aside, up = radius * np.sin(angle), radius * np.cos(angle)
        return np.stack([far, aside, up] if axis == "x" else [-aside, far, up], 1)

    return at
