"""Lines on the page as filled triangles, since a driver's own wide lines differ and may be thin."""

import numpy as np

from viewer.draw.camera import Floats

ROUND = 12
"""Triangles of the round end of a line; at a few px nobody sees the corners."""


def ribbon(segments: Floats, width: float) -> Floats:
    """Triangles, (m, 3, 2) px, of segments (n, 2, 2) px drawn `width` wide, with round ends."""
    ends = np.asarray(segments, float)
    along = ends[:, 1] - ends[:, 0]
    length = np.linalg.norm(along, axis=-1, keepdims=True)
    along = along / np.maximum(length, 1e-12)
    aside = 0.5 * width * np.stack([-along[:, 1], along[:, 0]], axis=-1)
    a, b = ends[:, 0], ends[:, 1]
    bands = np.array([[a - aside, b - aside, b + aside], [a - aside, b + aside, a + aside]])
    flat = bands.transpose(2, 0, 1, 3).reshape(-1, 3, 2)
    if width <= 2.0:
        return flat
    places = np.unique(ends.reshape(-1, 2).round(3), axis=0)
    return np.concatenate([flat, discs(places, 0.5 * width)])


def discs(places: Floats, radius: float) -> Floats:
    """Filled discs around places (n, 2) px, as triangles (m, 3, 2) px."""
    angle = np.linspace(0.0, 2.0 * np.pi, ROUND + 1)
    rim = radius * np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    fan = np.stack([np.zeros((ROUND, 2)), rim[:-1], rim[1:]], axis=1)
    return np.asarray((places[:, None, None, :] + fan).reshape(-1, 3, 2))
