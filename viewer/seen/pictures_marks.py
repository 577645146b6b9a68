"""What is painted on a part in the picture of a word: lines, areas, cracks, spots, arrows.

One vocabulary for all words. A mark lies on a *place*: a patch of a surface with coordinates u and
v from 0 to 1, or `PAGE`, the picture itself from its lower left corner. It is told in black lines
and in areas with a black rim, so that it is read in black and white as well.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from viewer.draw.base import BLACK, Colour, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Page
from viewer.scene.labels import haloed
from viewer.scene.marks import joined

PAGE = "page"
"""The place that is the picture itself."""

BRIGHT: Colour = (1.0, 1.0, 0.96)
RED: Colour = (0.84, 0.10, 0.02)
RUST: Colour = (0.80, 0.40, 0.08)
BLUE: Colour = (0.12, 0.16, 0.48)
MUD: Colour = (0.42, 0.30, 0.16)
DARK: Colour = (0.12, 0.12, 0.13)

THIN, PLAIN, BROAD = 2.2, 3.4, 5.5
"""Widths of lines, px of a picture `pictures.TILE` wide."""

Box = tuple[float, float, float, float]
"""Of a place: u and v of its lower corner, u and v of its upper one."""

ALL: Box = (0.0, 0.0, 1.0, 1.0)

Map = Callable[[Floats], Floats]
"""Coordinates (n, 2) of a place to px (n, 2)."""


@dataclass(frozen=True, eq=False)
class Mark:
    """Lines, or areas with their rim, on a place.

    paths : (n, 2) in u and v each; of an area a closed rim whose second half runs back along the
        first, so that a strip between the two fills it
    fill : what an area is filled with; None for lines
    halo : px of white on both sides of a line
    """

    place: str
    paths: tuple[Floats, ...]
    width: float = PLAIN
    colour: Colour = BLACK
    fill: Colour | None = None
    halo: float = 0.0

    def draw(self, page: Page, at: Map) -> None:
        """Draw it on the page."""
        for path in self.paths:
            points = at(path)
            if self.fill is not None:
                page.area(_strip(points), self.fill)
                points = np.concatenate([points, points[:1]])
            if self.width:
                haloed(page, joined(points), Pen(self.colour, self.width), self.halo)


Marks = tuple[Mark, ...]


def lines(
    place: str, count: int, box: Box = ALL, along: str = "u", width: float = PLAIN,
    colour: Colour = BLACK, halo: float = 0.0,
) -> Marks:  # fmt: skip
    """Parallel lines that fill a box, running along u or v."""
    u, v, right, top = box
    shares = (np.arange(count) + 0.5) / count
    ends = np.linspace(0.0, 1.0, 9)
    paths = []
    for share in shares:
        if along == "u":
            paths.append(np.stack([u + ends * (right - u), np.full(9, v + share * (top - v))], 1))
        else:
            paths.append(np.stack([np.full(9, u + share * (right - u)), v + ends * (top - v)], 1))
    return (Mark(place, tuple(paths), width, colour, halo=halo),)


def slanted(
    place: str, count: int, box: Box = ALL, width: float = THIN, colour: Colour = BLACK
) -> Marks:
    """A hatching: lines from the lower left to the upper right, kept within a box."""
    u, v, right, top = box
    paths = []
    for offset in np.linspace(-1.0, 1.0, 2 * count + 1)[1:-1]:
        low, high = max(0.0, offset), min(1.0, 1.0 + offset)
        share = np.linspace(low, high, 9)
        paths.append(np.stack([u + share * (right - u), v + (share - offset) * (top - v)], 1))
    return (Mark(place, tuple(paths), width, colour),)


def patch(place: str, box: Box, fill: Colour, width: float = THIN) -> Marks:
    """A box, filled; in bands, so that it follows a round surface."""
    u, v, right, top = box
    ends, cuts = np.linspace(u, right, 7), np.linspace(v, top, 13)
    bands = [
        np.concatenate(
            [np.stack([ends, np.full(7, low)], 1), np.stack([ends[::-1], np.full(7, high)], 1)]
        )
        for low, high in pairwise(cuts)
    ]
    rim = np.array([[u, v], [right, v], [right, top], [u, top], [u, v]])
    return Mark(place, tuple(bands), 0.0, fill=fill), *path(place, rim, width)


def path(
    place: str, points: ArrayLike, width: float = PLAIN, colour: Colour = BLACK,
    dashed: bool = False, halo: float = 0.0,
) -> Marks:  # fmt: skip
    """A line through points (n, 2); dashed, it stands for where something belongs."""
    through = _even(np.asarray(points, dtype=np.float64), 61)
    pieces = tuple(through[k : k + 4] for k in range(0, 60, 6)) if dashed else (through,)
    return (Mark(place, pieces, width, colour, halo=halo),)


def crack(
    place: str, points: ArrayLike, jag: float = 0.07, width: float = PLAIN, bends: int = 10
) -> Marks:
    """A crack through points: jagged by a share of its length, white-rimmed, thinner at its end."""
    through = _even(np.asarray(points, dtype=np.float64), bends)
    way = np.gradient(through, axis=0)
    size = float(np.linalg.norm(np.diff(through, axis=0), axis=1).sum())
    aside = np.stack([-way[:, 1], way[:, 0]], 1)
    aside /= np.maximum(np.linalg.norm(aside, axis=1, keepdims=True), 1e-9)
    sway = jag * size * np.where(np.arange(bends) % 2, 1.0, -1.0) * _UNEVEN[:bends]
    zigzag = through + sway[:, None] * aside + 0.4 * way * _UNEVEN[5 : 5 + bends, None]
    thin = 2 * bends // 3
    return (
        Mark(place, (zigzag[: thin + 1],), width, halo=1.5),
        Mark(place, (zigzag[thin:],), 0.6 * width),
    )


def spots(
    place: str, count: int, size: float, fill: Colour, box: Box = ALL, width: float = 1.2,
    squeeze: float = 1.0, within: float = 1.0,
) -> Marks:  # fmt: skip
    """Uneven blobs strewn over a box, `size` of u across, `squeeze` times that of v.

    within : how far from the middle of the place at most, for a round one.
    """
    u, v, right, top = box
    dice = np.random.default_rng(count)
    paths = []
    for middle in _strewn(count, dice):
        turn = 2.0 * np.pi * np.arange(12) / 12.0
        radius = 0.5 * size * dice.uniform(0.55, 1.0) * dice.uniform(0.75, 1.2, 12)
        rim = np.stack([radius * np.cos(turn), squeeze * radius * np.sin(turn)], 1)
        at = np.array([u, v]) + middle * [right - u, top - v]
        if np.linalg.norm(at - 0.5) <= within:
            paths.append(at + rim)
    return (Mark(place, tuple(paths), width, fill=fill),)


def ellipse(
    place: str, at: tuple[float, float], size: tuple[float, float], fill: Colour | None = None,
    width: float = PLAIN, dashed: bool = False, arc: tuple[float, float] = (0.0, 1.0),
) -> Marks:  # fmt: skip
    """An ellipse, filled or not, by its middle and its half axes; `arc` in turns from u up."""
    turn = 2.0 * np.pi * np.linspace(*arc, 49)
    rim = np.array(at) + np.stack([np.cos(turn), np.sin(turn)], 1) * size
    if fill is not None:
        return (Mark(place, (rim[:-1],), width, fill=fill),)
    return path(place, rim, width, dashed=dashed)


def moon(
    place: str, at: tuple[float, float], size: tuple[float, float], fill: Colour = BRIGHT
) -> Marks:
    """A half-moon: its straight side through `at` along u, its round one so far above it."""
    turn = np.linspace(0.0, np.pi, 25)
    rim = np.array(at) + np.stack([np.cos(turn), np.sin(turn)], 1) * size
    base = np.array(at) + np.stack([np.cos(turn[::-1]), np.zeros(25)], 1) * size
    inner = [
        np.array(at) + share * np.stack([np.cos(turn), np.sin(turn)], 1) * size
        for share in (0.72, 0.44)
    ]
    return (
        Mark(place, (np.concatenate([rim, base]),), BROAD, fill=fill),
        Mark(place, tuple(inner), 0.7 * THIN),
    )


def dish(place: str, at: tuple[float, float], size: tuple[float, float]) -> Marks:
    """A dent: a dark hollow with a bright far wall."""
    return (
        *ellipse(place, at, size, DARK, THIN),
        *ellipse(
            place, (at[0] + 0.16 * size[0], at[1] - 0.22 * size[1]),
            (0.72 * size[0], 0.62 * size[1]), (0.62, 0.62, 0.62), 0.0,
        ),
        *ellipse(place, at, (1.25 * size[0], 1.25 * size[1]), width=1.2),
    )  # fmt: skip


def lip(
    place: str, ends: tuple[tuple[float, float], tuple[float, float]], height: float, teeth: int = 7
) -> Marks:
    """A burr: a jagged lip that stands up along a line."""
    start, stop = np.array(ends)
    share = np.linspace(0.0, 1.0, 2 * teeth + 1)
    base = start + share[:, None] * (stop - start)
    way = (stop - start) / np.linalg.norm(stop - start)
    aside = np.array([-way[1], way[0]])
    tall = height * np.where(np.arange(2 * teeth + 1) % 2, 1.0, 0.25)
    tall *= np.resize(_UNEVEN, 2 * teeth + 1)
    rim = base + tall[:, None] * aside
    return (Mark(place, (np.concatenate([base, rim[::-1]]),), THIN, fill=BRIGHT),)


def arrow(
    start: tuple[float, float], stop: tuple[float, float], colour: Colour = RED, both: bool = False
) -> Marks:
    """An arrow over the picture; with `both`, a head at either end."""
    a, b = np.array(start), np.array(stop)
    marks = [Mark(PAGE, (np.stack([a, b]),), BROAD, colour, halo=2.0)]
    for tip, tail in ((b, a), (a, b)) if both else ((b, a),):
        way = (tail - tip) * [_WIDE, 1.0]
        way /= np.linalg.norm(way)
        aside = np.array([-way[1], way[0]])
        head = [tip * [_WIDE, 1.0] + 0.13 * way + side * 0.065 * aside for side in (1.0, -1.0)]
        rim = np.array([tip * [_WIDE, 1.0] - 0.02 * way, head[0], head[1], head[1]]) / [_WIDE, 1.0]
        marks.append(Mark(PAGE, (rim,), 1.0, colour, fill=colour))
    return tuple(marks)


def struck(at: tuple[float, float], size: float) -> Marks:
    """Crossed out: not there, or it does not go."""
    half = np.array([size / _WIDE, size])
    ends = [np.array([at - half * way, at + half * way]) for way in ((1.0, 1.0), (1.0, -1.0))]
    return (Mark(PAGE, tuple(ends), BROAD, RED, halo=2.5),)


def burst(place: str, at: tuple[float, float], size: tuple[float, float]) -> Marks:
    """A star where something hits or rubs."""
    turn = np.linspace(0.0, np.pi, 13)
    radius = np.where(np.arange(13) % 2, 0.5, 1.0)
    right = np.stack([radius * np.sin(turn), radius * np.cos(turn)], 1) * size + at
    left = np.stack([-radius * np.sin(turn), radius * np.cos(turn)], 1) * size + at
    return (Mark(place, (np.concatenate([right, left[::-1]]),), 1.2, fill=RED),)


def ripples(place: str, radii: Iterable[float]) -> Marks:
    """Arcs on a round face that spread from its lower edge."""
    rims = []
    for r in radii:
        reach = np.arccos(r)
        turn = np.linspace(-reach, reach, 33)
        rims.append(np.array([0.5, 0.0]) + r * np.stack([np.sin(turn), np.cos(turn)], 1))
    return (Mark(place, tuple(rims), THIN),)


def smooth(place: str, radius: float, fill: Colour) -> Marks:
    """What of a round face lies within such an arc, filled."""
    reach = np.arccos(radius)
    turn = np.linspace(-reach, reach, 33)
    upper = np.array([0.5, 0.0]) + radius * np.stack([np.sin(turn), np.cos(turn)], 1)
    half = np.pi - 2.0 * reach if radius > 1.0 else 2.0 * np.arcsin(radius)
    round_ = np.linspace(-half, half, 33)
    lower = 0.5 + 0.5 * np.stack([np.sin(round_), -np.cos(round_)], 1)
    return (Mark(place, (np.concatenate([upper, lower[::-1]]),), THIN, fill=fill),)


def coil(
    place: str, ends: tuple[tuple[float, float], tuple[float, float]], high: float, turns: int
) -> Marks:
    """A spring from end to end."""
    start, stop = np.array(ends)
    share = np.linspace(0.0, 1.0, 2 * turns + 1)
    up = high * np.where(np.arange(2 * turns + 1) % 2, 1.0, -1.0)
    rim = start + share[:, None] * (stop - start) + np.stack([np.zeros_like(up), up], 1)
    return (Mark(place, (rim,), PLAIN, halo=1.2),)


def drop(at: tuple[float, float], size: float, none: bool = False) -> Marks:
    """A drop of grease; with `none`, crossed out."""
    turn = np.linspace(0.0, np.pi, 17)
    # Two halves of one outline, from the tip down and back up.
    wide = np.sin(turn) * np.sin(0.5 * turn) ** 1.5
    right = np.stack([wide / _WIDE, np.cos(turn) + 0.1], 1) * size + at
    left = np.stack([-wide / _WIDE, np.cos(turn) + 0.1], 1) * size + at
    body = Mark(PAGE, (np.concatenate([right, left[::-1]]),), THIN, fill=(0.95, 0.78, 0.30))
    return (body, *(struck(at, 1.05 * size) if none else ()))


def circling(at: tuple[float, float], size: float) -> Marks:
    """An arrow that goes round: it turns, or it is used again."""
    turn = np.radians(np.linspace(150.0, -120.0, 40))
    rim = np.array(at) + size * np.stack([np.cos(turn) / _WIDE, np.sin(turn)], 1)
    tip = rim[-1] + (rim[-1] - rim[-2]) * 0.5
    return (Mark(PAGE, (rim,), BROAD, RED, halo=2.0), arrow(tuple(rim[-3]), tuple(tip))[1])


_WIDE = 4.0 / 3.0
"""Width of a picture against its height."""

_UNEVEN = np.array(
    [1.0, 0.7, 1.25, 0.85, 1.1, 0.6, 1.3, 0.9, 0.75, 1.2, 0.8, 1.05, 0.65, 1.15, 0.95]
)
"""So that nothing broken looks made."""


def _strip(points: Floats) -> Floats:
    """Triangles (n, 3, 2) of an area whose rim runs there and back."""
    half = len(points) // 2
    there, back = points[:half], points[::-1][:half]
    first = np.stack([there[:-1], there[1:], back[:-1]], 1)
    second = np.stack([there[1:], back[1:], back[:-1]], 1)
    return np.concatenate([first, second])


def _even(points: Floats, count: int) -> Floats:
    """A line through points, as `count` points at even distances."""
    steps = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    at = np.linspace(0.0, steps[-1], count)
    return np.stack([np.interp(at, steps, points[:, k]) for k in range(2)], 1)


def _strewn(count: int, dice: np.random.Generator) -> Sequence[Floats]:
    """Places in the unit square, none near another."""
    tries = dice.uniform(0.08, 0.92, (40 * count, 2))
    kept = [tries[0]]
    for each in tries[1:]:
        if len(kept) == count:
            break
        if min(float(np.linalg.norm(each - other)) for other in kept) > 0.62 / np.sqrt(count):
            kept.append(each)
    return kept
