"""Which share of a doubt each number has: Sobol indices, of single numbers and of groups.

Of all that a number spreads by, the share that goes when one column of the draws is known, on the
average, is its first index; the share that stays when all the others are known is its total one
[SALTELLI]. Of a sum both are the same and add up to one; where columns work through each other the
total ones are larger.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.bars.draws import normal_draws
from sim.frames import FloatArray

Columns = Sequence[int]


@dataclass(frozen=True, eq=False)
class Shares:
    """Sobol indices of groups of columns (g,), as they are estimated: noise may pass 0 and 1."""

    first: FloatArray
    total: FloatArray

    def put_right(self, whole: Shares, same: Shares) -> Shares:
        """These of many cheap draws with what few whole ones say beyond the same few cheap ones."""
        return Shares(
            self.first + whole.first - same.first,
            self.total + whole.total - same.total,
        )

    @property
    def held(self) -> Shares:
        """Within 0 and 1, and none alone more than all in all."""
        total = np.clip(self.total, 0.0, 1.0)
        return Shares(np.clip(self.first, 0.0, total), total)


@dataclass(frozen=True, eq=False)
class Crossed:
    """Two sets of draws, and the first with each group of columns from the second.

    Attributes
    ----------
    a, b : (n, k) standard normals, independent of each other; n a power of two.
    groups : columns that are taken over together.
    """

    a: FloatArray
    b: FloatArray
    groups: tuple[tuple[int, ...], ...]

    @classmethod
    def drawn(cls, columns: int, groups: Sequence[Columns], draws: int, seed: int) -> Crossed:
        """Draws of a seed. draws : a power of two."""
        both = normal_draws(2 * columns, draws, seed)
        return cls(both[:, :columns], both[:, columns:], tuple(map(tuple, groups)))

    @property
    def all(self) -> FloatArray:
        """Every draw, ((2 + g) n, k)."""
        return np.concatenate([self.a, self.b, *map(self._crossed, self.groups)])

    def _crossed(self, group: Columns) -> FloatArray:
        crossed = self.a.copy()
        crossed[:, list(group)] = self.b[:, list(group)]
        return crossed

    def shares(self, told: FloatArray) -> Shares:
        """Indices by what every draw comes to ((2 + g) n,), in the order of `all`.

        Draws that come to nothing (nan), themselves or crossed, are left out, and as many more as
        it takes to a power of two. Where all come to the same, nothing has a share.
        """
        rows = told.reshape(len(self.groups) + 2, -1)
        rows = rows[:, np.isfinite(rows).all(axis=0)]
        many = 1 << max(0, rows.shape[1].bit_length() - 1)
        none = np.zeros(len(self.groups))
        if not self.groups or rows.shape[1] < FEWEST or not np.ptp(rows[:2]) > 0.0:
            return Shares(none, none)
        rows = rows[:, :many]
        a, b, *crossed = rows
        # Read late: it takes half a second, and what is kept asks for none.
        from scipy.stats import sobol_indices  # noqa: PLC0415

        # The library knows no single group: all columns together are one more.
        found = sobol_indices(
            func={"f_A": a[None], "f_B": b[None], "f_AB": np.stack([*crossed, b])[:, None]},
            n=many,
        )
        return Shares(found.first_order[:-1], found.total_order[:-1])


FEWEST: Final = 16
"""Draws that indices need."""


def shares(
    told: Callable[[FloatArray], FloatArray],
    columns: int,
    groups: Sequence[Columns],
    draws: int,
    seed: int,
) -> Shares:
    """Indices of a function of draws (n, k) -> (n,)."""
    crossed = Crossed.drawn(columns, groups, draws, seed)
    return crossed.shares(told(crossed.all))
