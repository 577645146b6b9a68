"""What a joint's touch changes by with each dimension, seen from its middle: the first forecast.

Each dimension is put off by one deviation, its yoke built anew, and where the yokes are seen to
touch at each turn is compared with the middle. The touch at a turn is taken to go on in a straight
line, and the lowest is the least over the turns; so a change of what touches first from turn to
turn is in it, and one of what touches first at a turn is not.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property, partial
from math import inf
from typing import Any

import numpy as np

from geometry.contact.pair import ClosingPair
from geometry.contact.surface_touch import cross_touch, lines_of, seen_touch
from geometry.errors import BindpointError
from geometry.mesh import Mesh
from sim.bench.both_cores import AllCores
from sim.bench.free import Doubt
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.kept.answers import TOUCH, cache_folder, entry_name, read_entry, write_entry
from sim.kept.touch_curves import cached_touch
from sim.vehicle import Joint

EVERY = 3
"""Of the lines of a library each how many-th is asked."""

MOST_ENTRIES = 300
"""About 3 MB."""


@dataclass(frozen=True)
class FirstShape:
    """A `Shape` by straight lines from the middle.

    Attributes
    ----------
    doubt : the joint's yokes with all that may be off.
    gap : mm, the gap wanted.
    middle : (m,) rad, touch of the middle at some turns; inf where none is seen.
    slopes : (d, m) rad for one deviation of each dimension.
    cross : rad, lowest bend at which the cross touches a yoke of the middle; inf where it does not.
        It is taken to stay.
    certified : rad, up to where the middle is clear over a whole turn.
    gap_kept : rad, up to where it keeps the gap wanted.
    forecast_off : rad; inf, since nothing is known of it yet.
    later : rad; nothing, since the check has the middle.
    """

    doubt: Doubt
    gap: float
    middle: FloatArray
    slopes: FloatArray
    cross: float
    certified: float
    gap_kept: float
    forecast_off: float = inf
    later: float = 0.0

    @property
    def joint(self) -> Joint:
        """Which joint."""
        return self.doubt.joint

    @property
    def free(self) -> tuple[Free, ...]:
        """All dimensions in doubt."""
        return self.doubt.free

    def dimensions(self, z: FloatArray) -> FloatArray:
        """Dimensions (n, d), mm, of draws (n, d)."""
        return self.doubt.dimensions(z)

    def clear(self, z: FloatArray) -> FloatArray:
        """Forecast of the certified clear bend (n,), rad, of draws (n, d)."""
        return np.asarray(self.certified + self._change(z))

    def keeps(self, z: FloatArray) -> FloatArray:
        """Of the bend up to which the gap wanted is left: it is taken to change as much."""
        return np.asarray(self.gap_kept + self._change(z))

    def _change(self, z: FloatArray) -> FloatArray:
        """By how much (n,) the lowest touch of draws is over that of the middle."""
        if not np.isfinite(self._lowest):
            return np.zeros(len(z))
        touch = (self.middle + np.asarray(z) @ self.slopes).min(axis=1)
        return np.asarray(np.minimum(touch, self.cross) - self._lowest)

    @cached_property
    def _lowest(self) -> float:
        return min(float(self.middle.min()), self.cross)


def first_shape(doubt: Doubt, gap: float, together: AllCores) -> FirstShape:
    """The first forecast of a joint; kept on disk by its yokes and what may be off.

    together : who works at it, where it is not kept.
    """
    return FirstShape(doubt, gap, *_kept_slopes(doubt, together), *middle_of(doubt, gap))


def middle_of(doubt: Doubt, gap: float) -> tuple[float, float]:
    """Up to where (rad) the middle is clear by proof, and keeps a gap (mm); from its curves."""
    clear, keeps = (
        cached_touch(doubt.pair.key, partial(doubt.pair.closing, each), gap=each).certified_clear
        for each in (0.0, gap)
    )
    return clear, keeps


def _kept_slopes(doubt: Doubt, together: AllCores) -> tuple[FloatArray, FloatArray, float]:
    place = cache_folder() / "slopes" / entry_name((*TOUCH, "sim.bench"), doubt=doubt.key)
    try:
        data: Any = read_entry(place)
        return np.array(data["middle"]), np.array(data["slopes"]), float(data["cross"])
    except (KeyError, TypeError, ValueError):
        middle, slopes, cross = _slopes(doubt, together)
        data = {"middle": middle.tolist(), "slopes": slopes.tolist(), "cross": cross}
        with suppress(OSError):
            write_entry(place, data, MOST_ENTRIES)
        return middle, slopes, cross


@dataclass(frozen=True)
class _Step:
    """Puts one dimension off, up or else down, in whatever process.

    middle : (m,) rad, touch of the middle at some lines.
    """

    doubt: Doubt
    lines: tuple[float, ...]
    middle: FloatArray

    def __call__(self, number: int) -> FloatArray:
        """Slopes (m,), rad for one deviation of a dimension; none where no step makes a yoke."""
        row = np.eye(len(self.doubt.free))[number]
        for way in (1.0, -1.0):
            pair, drawn = self.doubt.pair_at(way * row)
            if not drawn[number]:
                continue
            with suppress(BindpointError):
                off = _touch(pair.yokes, self.lines) - self.middle
                return np.where(np.isfinite(off), off / drawn[number], 0.0)
        return np.zeros(len(self.lines))


def _slopes(doubt: Doubt, together: AllCores) -> tuple[FloatArray, FloatArray, float]:
    """Touch of the middle (m,), its slopes (d, m), and where its cross touches.

    Of the others only what can touch of the yokes is built.
    """
    joint = doubt.pair.closing()
    lines = tuple(lines_of(joint.turn)[::EVERY].tolist())
    cross = np.nan_to_num([cross_touch(each, joint.turn, lines) for each in joint.swings], nan=inf)
    middle = _touch(doubt.pair.yokes, lines)
    slopes = np.zeros((len(doubt.free), len(lines)))
    step = _Step(doubt, lines, middle)
    for number, row in together.done(step, range(len(slopes))):
        slopes[number] = row
    return middle, slopes, float(cross.min(initial=inf))


def _touch(yokes: tuple[Mesh, Mesh], lines: Sequence[float]) -> FloatArray:
    """Where the yokes are seen to touch (n,), rad, at some turns; inf where they do not."""
    return np.nan_to_num(seen_touch(ClosingPair(*yokes), lines), nan=inf)
