"""How well marks that were seen lie where the rig says that metal meets.

A place is a surface and a clock position on a yoke; the clock is read to about an hour. The share
of a seen mark is the chance that, within that reading, its place is one that is met. The share by
chance is the same of a mark put anywhere on the rims of the yokes, every square inch alike. Were
the marks made by this metal meeting they would lie on places that are met, but for one in ten that
something else made (a hammer, a jack); else they would lie anywhere. So each mark speaks by

    (1 - STRAY) share / chance + STRAY

for metal met where it is computed, and marks apart by their product. Own derivation; how well a
clock is read and how many marks stray are common practice, no source.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isnan, nan, pi, prod
from typing import Literal

import numpy as np

from geometry.clock import HOUR, clock
from geometry.contact.skin import Skin
from geometry.mesh import Floats
from sim.marks.marks import Mark, Marks

READ = HOUR / 3.0
"""Standard deviation, rad, of a clock that is read to about an hour: seven in eight readings are
less than half an hour off."""

STRAY = 0.1
"""Share of marks that something else made (common practice, no source)."""

BINS = 144
"""Pieces that the clock is cut into."""

SAID = {
    "ear tip": ("ear tip",),
    "throat": ("throat", "ear root", "ear inside face"),
    "ear": ("ear tip", "ear flank", "ear root", "ear inside face", "ear outside face"),
    "ear flank": ("ear flank", "ear root"),
    "shoulder": ("weld shoulder", "tube end", "tube"),
    "weld": ("weld shoulder", "tube end", "tube"),
    "tube": ("tube", "tube end", "weld shoulder"),
}
"""What a shop means by a name, in the names of the yokes' surfaces: nobody sees where the floor of
a throat ends and the root of an ear begins (common practice, no source). Another name means the
surfaces whose names hold it."""


@dataclass(frozen=True)
class SeenMark:
    """A mark with its place, as somebody saw it.

    Attributes
    ----------
    yoke : "shaft" or "end".
    surface : its name; None where nobody said.
    clock : rad, as `geometry.clock` has it; None where nobody said.
    depth : mm; None where nobody measured.
    pair : whether there is another one straight across; None where nobody looked.
    """

    yoke: Literal["shaft", "end"]
    surface: str | None = None
    clock: float | None = None
    depth: float | None = None
    pair: bool | None = None


@dataclass(frozen=True)
class Placed:
    """How a seen mark lies to the computed ones.

    Attributes
    ----------
    mark : which.
    share : chance, 0 to 1, that its place is one that is met, within how well it was read; nan
        where the yoke has no such surface.
    ratio : how many times likelier it is for metal met where it is computed than anywhere; 1 where
        it has no place.
    nearest : the computed mark that it is likeliest to be; None where it is none of them.
    """

    mark: SeenMark
    share: float
    ratio: float
    nearest: Mark | None


@dataclass(frozen=True)
class Overlap:
    """How well seen marks lie where metal meets.

    Attributes
    ----------
    marks : each of them.
    chance : the share that a mark put anywhere on the rims would have.
    """

    marks: tuple[Placed, ...]
    chance: float

    @property
    def share(self) -> float:
        """Share of the seen marks that lie where metal meets, 0 to 1; nan if none has a place."""
        placed = [each.share for each in self.marks if not isnan(each.share)]
        return float(np.mean(placed)) if placed else nan

    @property
    def ratio(self) -> float:
        """How many times likelier the marks are for metal met where it is computed.

        Under 1 where they speak against it. 1 where no mark has a place.
        """
        return prod(each.ratio for each in self.marks)


def overlap(seen: Iterable[SeenMark], marks: Marks) -> Overlap:
    """Hold marks that were seen against those that are computed for the whole travel."""
    cells = Cells(marks)
    return Overlap(tuple(_placed(mark, marks, cells) for mark in seen), cells.chance)


def _placed(mark: SeenMark, marks: Marks, cells: "Cells") -> Placed:
    share = cells.share(mark)
    if isnan(share):
        return Placed(mark, share, 1.0, None)
    ratio = STRAY + (1.0 - STRAY) * (share / cells.chance if cells.chance > 0.0 else 0.0)
    return Placed(mark, share, ratio, _nearest(mark, marks))


def _nearest(mark: SeenMark, marks: Marks) -> Mark | None:
    """The computed mark on that surface nearest by the clock, within an hour; else none."""
    near = [
        (away, number, each)
        for number, each in enumerate(marks.forced)
        if each.on == mark.yoke
        and (mark.surface is None or set(each.patch.surfaces) & set(meant(mark.surface)))
        and (away := _away(mark, each)) <= HOUR
    ]
    return min(near, key=lambda each: each[:2])[2] if near else None


def _away(mark: SeenMark, each: Mark) -> float:
    """How far the clock position of a mark is from the nearest place of a computed one, rad."""
    if mark.clock is None:
        return 0.0
    turn = (clock(each.patch.points) - mark.clock + pi) % (2.0 * pi) - pi
    return float(np.abs(turn).min())


def meant(surface: str) -> tuple[str, ...]:
    """The surfaces that a name stands for; itself where the trade has no other."""
    return SAID.get(surface, (surface,))


class Cells:
    """The rims of the yokes cut into cells by surface and clock, and which of them are met.

    Of a head both crosses' outer yokes count, its center yoke does not: no mark is said of that.
    """

    def __init__(self, marks: Marks) -> None:
        self._area: dict[tuple[str, str], Floats] = {}
        for (number, body), rim in marks.rims.items():
            side = marks.crosses[number].side(body)
            if side in {"shaft", "end"}:
                self._lay_out(side, rim)
        self._met = {key: np.zeros(BINS, dtype=bool) for key in self._area}
        for each in marks.forced:
            points = each.patch.pressed.skin
            for number, name in enumerate(points.names):
                if (each.on, name) in self._met:
                    at = _bins(points.points[points.labels == number])
                    self._met[each.on, name][at] = True

    def _lay_out(self, side: str, rim: Skin) -> None:
        at = _bins(rim.points)
        for number, name in enumerate(rim.names):
            on = rim.labels == number
            if on.any():
                area: Floats = np.bincount(at[on], rim.areas[on], BINS).astype(np.float64)
                self._area[side, name] = self._area.get((side, name), np.zeros(BINS)) + area

    @cached_property
    def _likely(self) -> Mapping[tuple[str, str], Floats]:
        """Chance (BINS,) that a place read as in each cell is met, by yoke and surface."""
        found = {}
        for side, name in self._area:
            met = np.any([self._met[key] for key in self._said(side, name)], axis=0)
            found[side, name] = _blurred(met.astype(np.float64))
        return found

    def _said(self, side: str, surface: str) -> Sequence[tuple[str, str]]:
        """The surfaces, by their yoke, that what is said of a surface may mean; none is unknown."""
        names = meant(surface)
        alike = [key for key in self._area if key[0] == side and key[1] in names]
        return alike or [key for key in self._area if key[0] == side and surface in key[1]]

    @cached_property
    def chance(self) -> float:
        """The share that a mark put anywhere on the rims would have."""
        met = sum(float(self._likely[key] @ area) for key, area in self._area.items())
        whole = sum(float(area.sum()) for area in self._area.values())
        return met / whole if whole > 0.0 else 0.0

    def share(self, mark: SeenMark) -> float:
        """Chance that the place of a mark is one that is met; nan for a place there is not.

        Over what nobody said of its place the mean of the rim.
        """
        own = [key for key in self._area if key[0] == mark.yoke]
        keys = own if mark.surface is None else self._said(mark.yoke, mark.surface)
        if not keys:
            return nan
        if mark.clock is not None and mark.surface is not None:
            met = np.any([self._met[key] for key in keys], axis=0)
            return _read_at(_blurred(met.astype(np.float64)), mark.clock)
        weight = np.sum([self._area[key] for key in keys], axis=0)
        likely = np.sum([self._area[key] * self._likely[key] for key in keys], axis=0)
        if mark.clock is None:
            return float(likely.sum() / weight.sum())
        return _read_at(likely, mark.clock) / _read_at(weight, mark.clock)


def _bins(points: Floats) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """The piece of the clock, (n,), that each point, (n, 3), lies in; the first about 12."""
    return np.asarray(np.round(clock(points) * (BINS / (2.0 * pi))).astype(np.intp) % BINS)


def _blurred(values: Floats) -> Floats:
    """Mean (BINS,) of values about each piece of the clock, as well as it is read."""
    at = np.arange(BINS) * (2.0 * pi / BINS)
    away = np.minimum(at, 2.0 * pi - at)
    kernel = np.exp(-0.5 * (away / READ) ** 2)
    kernel /= kernel.sum()
    turned: Floats = np.fft.irfft(np.fft.rfft(values) * np.fft.rfft(kernel), BINS)
    return np.clip(turned, 0.0, None)


def _read_at(values: Floats, turn: float) -> float:
    """Value at a clock position, on a straight line between the pieces."""
    at = np.arange(BINS) * (2.0 * pi / BINS)
    return float(np.interp(turn, at, values, period=2.0 * pi))
