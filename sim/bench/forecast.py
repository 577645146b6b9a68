"""A forecast of a joint's touch for any shape its yokes may have, learnt from a library.

Where two surfaces meet at one turn goes smoothly with the dimensions, so each pair of surfaces at
each turn has a forecast of its own: a Gaussian process of a plane and a Matern 5/2 function
[RASMUSSEN-WILLIAMS], each dimension scaled by what it does to that pair. The touch is the least of
them, kinks and all. Surfaces that seldom meet are known by the few shapes where they come near;
where they would be foretold to meet before a shape touches at all, they are put beyond its touch.

How far a forecast is off is found by leaving out: each shape of the design is forecast from all
others, which the solution with all tells in closed form [RASMUSSEN-WILLIAMS, 5.12].
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from geometry.contact.first_touch import BELOW
from geometry.contact.surface_touch import PAST, Surfaces
from geometry.contact.touching import Closeness
from geometry.tolerances import TOL
from sim.bench.curves import Known, Library
from sim.frames import FloatArray

LEAST = 8
"""Shapes in which two surfaces have to meet at a turn for a forecast of it."""

NEEDED = 0.002
"""Share of shapes and turns at which nothing but two surfaces touches first, for them to be asked:
less tells nothing."""

SAME = np.radians(0.03)
"""rad. Touches nearer to each other are taken for one, on an edge."""

ROUNDS = 4
"""Times a forecast is mended where it says that surfaces meet before anything touches."""

FARTHER = 0.5 * PAST
"""rad past the first touch where they are put then; how far they really are nobody asked."""

CURVED, LONG = 0.3, 3.0
"""How far touch strays from a plane in all, as a share of what the dimension that moves it most
does in one deviation, and over how many of that."""

PLAIN = 10.0
"""Deviation of a touch from the mean of its turn that nothing is known of, in the same shares."""

NOISE = np.radians(0.05)
"""rad. What facets make a touch jump by: they come in whole numbers."""

CHUNK = 4096
"""Draws done at once, so that memory stays small."""


@dataclass(frozen=True)
class _Meeting:
    """The forecast of where two surfaces meet, at every turn.

    slopes : (d,) rad for one deviation of each dimension, over all turns.
    at : (k, d) draws it was learnt from.
    weights, mean : (k, m) and (m,); the mean is inf at turns of which there is no forecast.
    """

    slopes: FloatArray
    at: FloatArray
    weights: FloatArray
    mean: FloatArray

    def __call__(self, z: FloatArray) -> FloatArray:
        """Where they meet (n, m), rad, of draws (n, d); inf where that is not known."""
        return np.asarray(self.mean + _alike(z, self.at, self.slopes) @ self.weights)


def _alike(one: FloatArray, other: FloatArray, slopes: FloatArray) -> FloatArray:
    """Covariance (n, k), rad2, of touch at draws (n, d) and (k, d)."""
    most = slopes.max()
    a, b = one * slopes, other * slopes
    both = a @ b.T
    square = (a * a).sum(axis=1)[:, None] + (b * b).sum(axis=1) - 2.0 * both
    r = np.sqrt(5.0 * np.maximum(square, 0.0)) / (LONG * most)
    curved = (1.0 + r + r * r / 3.0) * np.exp(-r)
    return np.asarray((PLAIN * most) ** 2 + both + (CURVED * most) ** 2 * curved)


@dataclass(frozen=True, eq=False)
class Forecast:
    """Touch of any shape of a joint.

    Draws are standard normals (n, d) of the dimensions of `library.doubt`.

    Attributes
    ----------
    lines : (m,) rad, turns that speak for a whole turn, by size; `turn` of the joint folds others.
    curve_off : rad. 95 of 100 forecasts of the touch at a turn are no farther off the full curve.
    lowest_off : rad. The same of the lowest touch over a whole turn.
    """

    lines: FloatArray
    curve_off: float
    lowest_off: float
    meetings: tuple[_Meeting, ...]

    def touch(self, z: FloatArray) -> FloatArray:
        """Touch (n, m), rad, at every line, of draws (n, d); inf where none is forecast."""
        parts = [self._touch(np.asarray(z)[i : i + CHUNK]) for i in range(0, len(z), CHUNK)]
        return np.concatenate(parts) if parts else np.zeros((0, len(self.lines)))

    def lowest(self, z: FloatArray) -> FloatArray:
        """Lowest touch (n,), rad, over a whole turn, of draws (n, d); inf where none is."""
        return np.asarray(self.touch(z).min(axis=1))

    def clear(self, z: FloatArray) -> FloatArray:
        """Up to where (n,), rad, nothing touches over a whole turn, as a curve certifies it."""
        lowest = self.lowest(z) - BELOW * Closeness().certificate
        return np.asarray(np.clip(lowest, 0.0, TOL.bend_limit))

    def _touch(self, z: FloatArray) -> FloatArray:
        found = np.full((len(z), len(self.lines)), inf)
        for meeting in self.meetings:
            np.minimum(found, meeting(z), out=found)
        return np.asarray(np.maximum(found, 0.0))


def learnt(library: Library, more: Sequence[Known] = ()) -> Forecast:
    """The forecast that a library gives.

    more : shapes beside the design, as where readings say the yokes are.
    """
    shapes = (*library.steps, *more, *library.design)
    z = np.array([each.z for each in shapes])
    first = np.array([each.first for each in shapes])
    left_out = np.full(first.shape, inf)
    meetings = []
    for touch in _needed(shapes, first):
        meeting, without = _meeting(z, touch, first)
        meetings.append(meeting)
        np.minimum(left_out, without, out=left_out)
    mine = slice(len(shapes) - len(library.design), None)
    lowest = np.array([each.lowest for each in library.design])
    seen = np.where(np.isfinite(first), first, TOL.bend_limit)
    left_out = np.minimum(left_out, TOL.bend_limit)
    return Forecast(
        lines=library.lines,
        curve_off=_sure(left_out[mine] - seen[mine]),
        lowest_off=_sure(left_out[mine].min(axis=1) - lowest),
        meetings=tuple(meetings),
    )


def _sure(off: FloatArray) -> float:
    """Size that 95 of 100 are not over; 0 of none."""
    return float(np.quantile(abs(off), 0.95)) if off.size else 0.0


def _needed(shapes: Sequence[Known], first: FloatArray) -> list[FloatArray]:
    """Touch (k, m) of each pair of surfaces that is needed, nan where they do not meet.

    Metal often meets on the edge of two surfaces, and then one of them says it all. The others
    are left out, the least needed first; what goes on smoothly is mostly needed most.
    """
    none = np.full(first.shape[1], np.nan)
    names = sorted({surfaces for each in shapes for surfaces in each.by})
    met = {name: np.array([each.by.get(name, none) for each in shapes]) for name in names}
    while met:
        alone = {name: _alone(met, name) for name in met}
        least = min(met, key=lambda name: (alone[name], name))
        if alone[least] > NEEDED * first.size:
            break
        del met[least]
    return list(met.values())


def _alone(met: Mapping[Surfaces, FloatArray], name: Surfaces) -> int:
    """Number of shapes and turns at which a pair of surfaces touches before all others."""
    others = [each for other, each in met.items() if other != name]
    before = np.fmin.reduce([np.full_like(met[name], inf), *others])
    return int(np.count_nonzero(met[name] < before - SAME))


def _meeting(z: FloatArray, touch: FloatArray, first: FloatArray) -> tuple[_Meeting, FloatArray]:
    """The forecast of two surfaces, and what it says (k, m) of each shape without it.

    touch : (k, m) rad, nan where they do not meet. first : (k, m) rad, what touches first; nan.
    """
    met = np.isfinite(touch)
    turns = np.flatnonzero(np.count_nonzero(met, axis=0) >= LEAST)
    mean, weights = np.full(touch.shape[1], inf), np.zeros(touch.shape)
    without = np.full(touch.shape, inf)
    slopes = _slopes(z, touch, met, turns)
    alike = _alike(z, z, slopes)
    for turn in turns:
        known, at = met[:, turn].copy(), touch[:, turn].copy()
        mean[turn] = at[known].mean()
        for _ in range(ROUNDS):
            some = np.flatnonzero(known)
            inverse = np.linalg.inv(alike[np.ix_(some, some)] + NOISE**2 * np.eye(len(some)))
            weight = inverse @ (at[some] - mean[turn])
            said = mean[turn] + alike[:, some] @ weight
            wrong = ~known & (said < first[:, turn])
            if not wrong.any():
                break
            known, at = known | wrong, np.where(wrong, first[:, turn] + FARTHER, at)
        weights[some, turn] = weight
        said[some] = at[some] - weight / np.diag(inverse)
        without[:, turn] = said
    return _Meeting(slopes, z, weights, mean), without


def _slopes(
    z: FloatArray, touch: FloatArray, met: NDArray[np.bool_], turns: NDArray[np.intp]
) -> FloatArray:
    """What each dimension does to a touch (d,), rad for one deviation, over all turns.

    Slopes of each turn, drawn toward those of all turns together where it has few shapes.
    """
    count = z.shape[1]
    squares, products, parts = 0.1 * np.eye(count), np.zeros(count), []
    for turn in turns:
        some = met[:, turn]
        x, y = z[some] - z[some].mean(axis=0), touch[some, turn] - touch[some, turn].mean()
        squares, products = squares + x.T @ x, products + x.T @ y
        parts.append((x, y))
    shared = np.linalg.solve(squares, products)
    each = [
        shared + np.linalg.solve(x.T @ x + 5.0 * np.eye(count), x.T @ (y - x @ shared))
        for x, y in parts
    ]
    found = np.sqrt(np.mean(np.square(each), axis=0)) if each else np.zeros(count)
    return np.maximum(found, 1e-6)
