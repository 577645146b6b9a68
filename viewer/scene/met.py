"""Where metal met, drawn on the yokes: patches by depth, what was seen over them.

A patch is told from plain metal by its hatching and its rim as well as by its color, and the deeper
it is the darker and the closer its hatching. What was seen is another shape: a diamond. Each yoke
stands alone, in its own yoke frame, and is looked at straight from the cross, with ear a up, so
that its clock reads as a clock: 12 up, 3 on the right. What faces away is told in the list.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf, pi, radians
from typing import Final

import numpy as np

from geometry.clock import apart, at_clock, clock
from geometry.contact.patches import Patch
from geometry.contact.skin import Skin
from geometry.mesh import Booleans
from geometry.yoke import Yoke
from sim.marks import Mark, Marks, SeenMark
from sim.marks.overlap import meant
from viewer.draw.base import BLACK, WHITE, Colour, Letters, Pen
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.stage import Paper
from viewer.draw.verdict_mark import ring
from viewer.scene.figure import Figure, points_of
from viewer.scene.labels import haloed
from viewer.scene.met_patch import BANDS, put_met
from viewer.scene.page import PAGE, Picture, headed
from viewer.scene.parts import PosedPart, SceneError, body_parts
from viewer.words.met import (
    MET_CAUTION,
    MET_KEY,
    NO_MARKS,
    SEEN_KEY,
    met_headline,
    met_lines,
    met_title,
    met_told,
)

SEEN: Final[Colour] = (0.0, 0.29, 0.60)
"""Color of what was seen: told apart from the reds by the commoner color blindnesses."""


def seen_place(marks: Marks, seen: SeenMark) -> tuple[Floats, Floats] | None:
    """Where a seen mark is, (3,) mm, and which way its surface faces, (3,), in its yoke's frame.

    None where nobody said where, or the yoke has no such surface there. Of all places that it may
    be at, the one nearest to where metal meets; where none does, the one farthest out of those that
    look toward the cross.
    """
    if seen.clock is None:
        return None
    met = [mark.patch.deepest for mark in marks.forced if mark.on == seen.yoke]
    best: tuple[float, Floats, Floats] | None = None
    for (number, body), rim in marks.rims.items():
        own = _said(rim, seen.surface) & (apart(clock(rim.points), seen.clock) < NEAR)
        if marks.crosses[number].side(body) != seen.yoke or not own.any():
            continue
        worth = 0.01 * np.hypot(rim.points[:, 1], rim.points[:, 2]) - rim.normals[:, 0]
        for place in met:
            away = np.linalg.norm(rim.points - place, axis=1)
            worth = np.where(away < MEANT, np.maximum(worth, 10.0 - away), worth)
        at = int(np.argmax(np.where(own, worth, -inf)))
        if best is None or worth[at] > best[0]:
            best = float(worth[at]), np.array(rim.points[at]), np.array(rim.normals[at])
    return None if best is None else (best[1], best[2])


MEANT: Final = 8.0
"""mm from where metal meets that a seen mark is taken to be there."""

NEAR: Final = radians(7.5)
"""A quarter of an hour: how near to its clock position a seen mark is drawn."""


def _said(rim: Skin, surface: str | None) -> Booleans:
    names = rim.names if surface is None else meant(surface)
    wanted = [i for i, name in enumerate(rim.names) if name in names]
    return np.isin(rim.labels, wanted)


STRAIGHT: Final = (-1.0, 0.0, 0.0)
"""Toward the eye that looks straight into an open yoke from the cross, as its clock is read."""


@dataclass(frozen=True, eq=False)
class MetYoke:
    """A yoke with its marks, in its own frame.

    name : what a shop calls it. yoke : built. marks : computed ones. seen : places (3,) and facings
    (3,) of what was seen on it.
    """

    name: str
    yoke: Yoke
    marks: tuple[Mark, ...]
    seen: tuple[tuple[Floats, Floats], ...]
    steel: str

    @cached_property
    def parts(self) -> tuple[PosedPart, ...]:
        """What is drawn of it."""
        return body_parts(self.name, self.yoke, np.eye(4), self.steel)

    @property
    def alike(self) -> list[list[Mark]]:
        """The marks, those that are alike together, the most metal first."""
        groups: list[list[Mark]] = []
        for mark in sorted(self.marks, key=lambda mark: -mark.patch.depth * mark.patch.area):
            own = next((group for group in groups if _alike(group[0].patch, mark.patch)), None)
            if own is None:
                groups.append([mark])
            else:
                own.append(mark)
        return groups


def _alike(one: Patch, other: Patch) -> bool:
    """Whether two patches are of one kind: the same surfaces, as deep and as large."""
    same = (one.surface, one.against) == (other.surface, other.against)
    sizes = (one.depth, other.depth), (one.area, other.area)
    return same and all(abs(a - b) <= ALIKE * max(a, b) for a, b in sizes)


ALIKE: Final = 0.2
"""Share by which patches of one kind may differ: scans are not the same on either side."""


@dataclass(frozen=True, eq=False)
class MetPicture(Picture):
    """Both yokes of a joint side by side with the marks that they must have.

    yokes : the two. most : patches alike that are numbered on each. Raises SceneError for none.
    """

    yokes: tuple[MetYoke, ...]
    most: int = 3

    def __post_init__(self) -> None:
        if not self.yokes:
            raise SceneError("no yokes to draw marks on; expected one or two")

    @property
    def size(self) -> tuple[int, int]:
        """Taller than other pages, for the list under each yoke."""
        return PAGE[0], PAGE[1] + 150

    def draw(self, paper: Paper, page: Region) -> None:
        """Draw each yoke in its half, with numbers, words and a key."""
        free = self.frame(paper, page)
        self._key(paper, Region(free.left, free.bottom, free.width, KEY))
        wide, base = free.width / len(self.yokes), free.bottom + KEY + 8.0
        for i, yoke in enumerate(self.yokes):
            left = free.left + i * wide
            self._yoke(yoke, paper, Region(left, base, wide - 16.0, free.top - base))

    def _yoke(self, yoke: MetYoke, paper: Paper, box: Region) -> None:
        """One yoke under its name, over the list of its marks."""
        base = headed(paper, [(met_title(yoke.name), 30.0, True)], box.left, box.top, box.width)
        low = box.bottom + self.most * ROWS
        region = Region(box.left, low, box.width, base - 6.0 - low)
        figure = Figure(paper, f"met {yoke.name}", region, framed(yoke, region))
        figure.put(yoke.parts)
        for number, mark in enumerate(yoke.marks):
            put_met(figure.pane, f"met {yoke.name} {number}", mark.patch, np.eye(4))
        self._clock(yoke, figure)
        for at, _ in yoke.seen:
            seen_mark(paper, figure.at(at), not _hides(yoke, at, figure))
        if not yoke.marks:
            headed(paper, [(NO_MARKS, 25.0, False)], box.left, low, box.width)
        taken = [figure.at(hours(yoke, hour, 1.16)[0]) for hour in (3, 6, 9, 12)]
        for row, group in enumerate(yoke.alike[: self.most]):
            for mark in group:
                if not _hides(yoke, mark.patch.deepest, figure):
                    taken.append(_beside(mark.patch, figure, taken))
                    number_mark(paper, taken[-1], row + 1)
            first, *rest = met_lines(group)
            left, top = box.left + 2.0 * NUMBER + 12.0, low - row * ROWS
            number_mark(paper, np.array([box.left + NUMBER, top - NUMBER - 4.0]), row + 1)
            lines = [(first, 24.0, True), *((line, 22.0, False) for line in rest)]
            headed(paper, lines, left, top, box.right - left)

    def _clock(self, yoke: MetYoke, figure: Figure) -> None:
        """The hours around the yoke."""
        for hour in range(1, 13):
            ends, broad = hours(yoke, hour, 1.0, 1.06), hour % 3 == 0
            haloed(figure.paper, figure.at(ends)[None], Pen(BLACK, 2.5 if broad else 1.5), 1.5)
            if broad:
                at = figure.at(hours(yoke, hour, 1.16)[0])
                letters = Letters(24.0, bold=True, align="middle")
                figure.paper.write(str(hour), (float(at[0]), float(at[1]) - 8.0), letters)

    def _key(self, paper: Paper, box: Region) -> None:
        """What the looks stand for."""
        x, letters = box.left, Letters(22.0)
        for band in BANDS:
            swatch = Region(x, box.bottom + 4.0, 56.0, 28.0)
            paper.area(swatch.rim[[[0, 1, 2], [0, 2, 3]]], band.colour)
            step = 3.2 * band.pitch
            starts = np.arange(swatch.left, swatch.right - 20.0, step)
            lines = np.stack(
                [np.stack([starts, np.full(len(starts), swatch.bottom)], -1),
                 np.stack([starts + 20.0, np.full(len(starts), swatch.top)], -1)], axis=1,
            )  # fmt: skip
            paper.stroke(lines, Pen(BLACK, 1.3))
            x = swatch.right + 6.0
        paper.write(MET_KEY, (x + 6.0, box.bottom + 10.0), letters)
        x += 6.0 + paper.extent(MET_KEY, letters) + 60.0
        if any(yoke.seen for yoke in self.yokes):
            seen_mark(paper, np.array([x, box.bottom + 18.0]))
            paper.write(SEEN_KEY, (x + 30.0, box.bottom + 10.0), letters)


def hours(yoke: MetYoke, hour: float, *shares: float) -> Floats:
    """Places (n, 3) mm at an hour of the clock around the open end of a yoke, by its radius."""
    ears = yoke.yoke.contact.vertices
    near = ears[ears[:, 0] < 0.6 * ears[:, 0].max()]
    radius = 1.06 * float(np.hypot(near[:, 1], near[:, 2]).max())
    low = np.array([float(near[:, 0].min()), 0.0, 0.0])
    ways = radius * np.outer(shares, at_clock(hour * pi / 6.0))
    return np.asarray(low + ways)


def framed(yoke: MetYoke, region: Region) -> Camera:
    """The camera on a yoke: all about its cross with its hours, and a part of what is behind."""
    points = points_of(yoke.parts)
    far = 1.9 * float(np.abs(yoke.yoke.contact.vertices[:, 1]).max())
    near = points[np.linalg.norm(points, axis=1) < far]
    around = np.concatenate([hours(yoke, hour, 1.22) for hour in range(12)])
    up = np.array([0.0, 1.0, 0.0])
    return framing(np.concatenate([near, around]), np.array(STRAIGHT), up, region, margin=0.02)


def _beside(patch: Patch, figure: Figure, taken: Sequence[Floats]) -> Floats:
    """Where the number of a patch stands, (2,) px: off it, away from the middle of the figure.

    taken : where other numbers stand, which it keeps clear of
    """
    at = figure.at(patch.points)
    middle = 0.5 * (at.min(axis=0) + at.max(axis=0))
    way = middle - figure.at([float(patch.points[:, 0].mean()), 0.0, 0.0])
    size = float(np.linalg.norm(way))
    way = way / size if size > 1.0 else np.array([0.0, 1.0])
    place = middle + (float(((at - middle) @ way).max()) + 1.4 * NUMBER) * way
    while any(float(np.linalg.norm(place - other)) < 2.1 * NUMBER for other in taken):
        place = place + 0.5 * NUMBER * way
    return np.asarray(place)


def _hides(yoke: MetYoke, place: Floats, figure: Figure) -> bool:
    """Whether metal of the yoke hides a place on it."""
    return not bool(figure.sees(yoke.parts, place[None], 1.0)[0])


KEY: Final = 40.0
"""Height of the key, px."""

ROWS: Final = 96.0
"""Height of what is said of a mark, px."""

NUMBER: Final = 17.0
"""Radius of the ring around a number, px."""


def number_mark(paper: Paper, at: Floats, number: int) -> None:
    """A number in a ring at a place (2,) px."""
    rim = at + NUMBER * ring("clear")
    middle = np.broadcast_to(at, rim[:, 0].shape)
    paper.area(np.stack([middle, rim[:, 0], rim[:, 1]], axis=1), WHITE)
    paper.stroke(rim, Pen(BLACK, 2.5))
    letters = Letters(24.0, bold=True, align="middle")
    paper.write(str(number), (float(at[0]), float(at[1]) - 6.0), letters)


def seen_mark(paper: Paper, at: Floats, in_sight: bool = True) -> None:
    """A diamond with a dot at a place (2,) px; open where metal hides it."""
    corners = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
    rim = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    haloed(paper, at + 20.0 * rim, Pen(SEEN, 4.5), 2.5)
    if in_sight:
        paper.area(at + 5.0 * corners[[[0, 1, 2], [0, 2, 3]]], SEEN)


def met_picture(
    rig_name: str, marks: Marks, seen: Sequence[SeenMark] = (), forced: bool = True, cross: int = 0
) -> MetPicture:
    """Picture of the marks of a joint, forced through the travel or just past the first touch."""
    at = marks.crosses[cross]
    found = marks.forced if forced else marks.at_touch
    yokes = []
    for body, steel in (("driving", "light steel"), ("driven", "light steel")):
        own = tuple(mark for mark in found if mark.cross == cross and mark.patch.body == body)
        side = at.side(body)
        places = [seen_place(marks, each) for each in seen if each.yoke == side]
        built = at.hardware.driving if body == "driving" else at.hardware.driven
        yokes.append(
            MetYoke(at.hardware.yoke_name(body), built, own, tuple(filter(None, places)), steel)
        )
    return MetPicture(
        tuple(yokes),
        headline=met_headline(marks.joint, marks, forced),
        lines=(rig_name, *met_told(marks, forced)),
        caution=MET_CAUTION,
        tall=42.0,
    )
