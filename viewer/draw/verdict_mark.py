"""The mark of a verdict: its shapes and its colours, said once for whoever draws it.

A verdict is told by shape as well as by colour. As an icon, in a window or under a picture, it is
a dot, a triangle or a crossed square; around a place on metal it is a ring: plain, dashed, or with
four ticks. Which library draws it is no concern of these numbers.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sim.findings import Verdict
from viewer.draw.base import Colour
from viewer.draw.camera import Floats

ON_LIGHT: Mapping[Verdict, str] = MappingProxyType(
    {"clear": "#00575a", "close": "#8f5f00", "touches": "#6e0b14"}
)
"""On light paper, hex: blue-green, amber, dark red; each can be read as text."""

ON_DARK: Mapping[Verdict, str] = MappingProxyType(
    {"clear": "#5ecfc5", "close": "#ffdb8a", "touches": "#f0705f"}
)
"""On dark paper."""

RED: Colour = (0.76, 0.06, 0.0)
"""On a sheet, the colour of a touch; dark enough to stay plain in black and white."""

BLUE: Colour = (0.0, 0.29, 0.60)
"""On a sheet, the colour of room that is left; told apart from the red by the commoner colour
blindnesses."""

ROUND = 96
"""Pieces of a ring or a dot."""


@dataclass(frozen=True, eq=False)
class VerdictMark:
    """The icon of a verdict in a square of side 1, y down.

    body : (n, 2) corners of what is filled with the verdict's colour.
    cuts : (m, 2, 2) strokes in it that are left of the ground. width, round_ends : of those.
    """

    body: Floats
    cuts: Floats
    width: float
    round_ends: bool = False


def _marks() -> dict[Verdict, VerdictMark]:
    turn = np.linspace(0.0, 2.0 * np.pi, ROUND, endpoint=False)
    dot = 0.5 + 0.46 * np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    square = np.array([[0.06, 0.06], [0.94, 0.06], [0.94, 0.94], [0.06, 0.94]])
    low, high = 0.06 + 0.22 * 0.88, 0.94 - 0.22 * 0.88
    cross = np.array([[[low, low], [high, high]], [[high, low], [low, high]]])
    triangle = np.array([[0.5, 0.05], [0.99, 0.93], [0.01, 0.93]])
    gap = np.array([[[0.5, 0.78], [0.5, 0.42]]])  # stands for a narrow gap
    return {
        "clear": VerdictMark(dot, np.empty((0, 2, 2)), 0.0),
        "close": VerdictMark(triangle, gap, 0.10, round_ends=True),
        "touches": VerdictMark(square, cross, 0.12),
    }


MARKS: Mapping[Verdict, VerdictMark] = MappingProxyType(_marks())


def rgb(colour: str) -> Colour:
    """A colour from its hex digits."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    return red, green, blue


def ring(verdict: Verdict, hidden: bool = False) -> Floats:
    """The ring of radius 1 that stands for a verdict, (n, 2, 2); `hidden` where metal hides it."""
    turn = np.linspace(0.0, 2.0 * np.pi, ROUND + 1)
    rim = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    segments = np.stack([rim[:-1], rim[1:]], axis=1)
    number = np.arange(ROUND)
    if verdict == "close":
        segments, number = segments[number % 12 < 8], number[number % 12 < 8]
    if hidden:
        segments = segments[number % 8 < 5]
    if verdict != "touches":
        return segments
    angle = np.radians([45.0, 135.0, 225.0, 315.0])
    rays = np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    return np.concatenate([segments, rays[:, None] * np.array([[0.78], [1.42]])])
