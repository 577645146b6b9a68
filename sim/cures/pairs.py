"""Pairs of remedies: of each pair the two doses that cost least together.

For each dose of the first the smallest dose of the second that a glance leaves hope for makes a
frontier, which is walked like a staircase; its cells are then swept, the cheapest first, each
that fails making room for the next dose up, until one works.
"""

from collections.abc import Collection, Iterator, Mapping
from functools import partial
from heapq import heapify, heappop, heappush
from itertools import combinations, product
from math import inf

from sim.assessment.limits import Limits
from sim.cures.ranking import Weights
from sim.cures.remedy import Trial
from sim.cures.search import strided
from sim.cures.together import Grid
from sim.cures.trial import Bench, Goal

MOST_OFFERED = 5
"""Pairs that are offered; more of them would hide the others."""

Grids = dict[tuple[str, str], list[Grid]]
"""Grids of doses by the codes of their two remedies, with all that is known of them."""

Cell = tuple[float, float, int, int, int]
"""Price, share of the largest doses, number of the grid, row, column."""


def cheapest_pairs(
    benches: Mapping[str, Bench],
    goal: Goal,
    by: Weights,
    under: float,
    grids: Grids | None = None,
    most_offered: int = MOST_OFFERED,
    hopeless: Collection[str] = (),
) -> list[tuple[Trial, Trial]]:
    """The cheapest pairs that work, one of each two remedies, all cheaper than `under`.

    grids : those that were looked at before, for other goals; more is put into them.
    hopeless : codes of remedies no two of which can work together.
    """
    known = {} if grids is None else grids
    found: list[tuple[float, tuple[Trial, Trial]]] = []
    couples = [
        (a, b)
        for a, b in combinations(benches.values(), 2)
        if _together(a, b) and not {a.remedy.code, b.remedy.code} <= set(hopeless)
    ]
    for price, first, second in sorted(
        ((a.least_cost(by) + b.least_cost(by), *_in_order(a, b)) for a, b in couples),
        key=lambda couple: couple[0],
    ):
        most = min(under, found[-1][0] if len(found) >= most_offered else inf)
        if price >= most:
            break
        pair = cheapest(first, second, goal, by, most, known)
        if pair is not None:
            found.append((by.price(pair), pair))
            found = sorted(found, key=lambda each: each[0])[:most_offered]
    return [pair for _, pair in found]


def cheapest(
    first: Bench,
    second: Bench,
    goal: Goal,
    by: Weights,
    under: float = inf,
    known: Grids | None = None,
) -> tuple[Trial, Trial] | None:
    """The two doses that work and cost least, of those as dear the mildest; None if none do.

    A smaller dose of either does not work with the other.
    """
    grids = _grids(first, second, {} if known is None else known)
    cells = [
        (grid.price(*cell, by), grid.share(*cell), number, *cell)
        for number, grid in enumerate(grids)
        for cell in _frontier(grid, goal, by, under)
    ]
    heapify(cells)
    while cells:
        price, _, number, row, column = heappop(cells)
        grid = grids[number]
        if price < under:
            pair = grid.trials(row, column, goal) if grid.may(row, column, goal) else None
            if pair is not None:
                return pair
            if column + 1 < len(grid.columns):
                after = row, column + 1
                heappush(cells, (grid.price(*after, by), grid.share(*after), number, *after))
    return None


def furthest(first: Bench, second: Bench, known: Grids) -> tuple[Trial, Trial] | None:
    """The two doses that leave most to the tightest limit, whatever they cost; None if none can be.

    Those that promise most by a glance are swept first, until no other can be better.
    """
    best: tuple[Trial, Trial] | None = None
    most = -inf
    promised: list[tuple[float, Grid, int, int]] = []
    for grid in _grids(first, second, known):
        for row, column in product(range(len(grid.rows)), range(len(grid.columns))):
            limits = grid.at_best((row, column), _never)
            if limits is not None:
                promised.append((limits.least, grid, row, column))
    for bound, grid, row, column in sorted(promised, key=lambda each: -each[0]):
        if bound <= most:
            break
        limits = grid.at_best((row, column), partial(_more, most))
        pair = None
        if limits is not None and limits.least > most:
            pair = grid.trials(row, column, Goal("touches"))
        if pair is not None and pair[1].case.after.least > most:
            best, most = pair, pair[1].case.after.least
    return best


def _never(_found: Limits) -> bool:
    """Nothing is worth building a joint for."""
    return False


def _more(most: float, found: Limits) -> bool:
    return found.least > most


def _grids(first: Bench, second: Bench, known: Grids) -> list[Grid]:
    """The grids of two remedies, one of each of their series."""
    couple = first.remedy.code, second.remedy.code
    if couple not in known:
        known[couple] = [
            Grid(first, second, *ways) for ways in product(first.series, second.series)
        ]
    return known[couple]


def _together(a: Bench, b: Bench) -> bool:
    one, other = a.remedy, b.remedy
    return one.code not in other.never_with and other.code not in one.never_with


def _in_order(a: Bench, b: Bench) -> tuple[Bench, Bench]:
    """That second which is the quicker to add to the other."""
    return (a, b) if b.remedy.effect.effort <= a.remedy.effect.effort else (b, a)


def _frontier(grid: Grid, goal: Goal, by: Weights, under: float) -> Iterator[tuple[int, int]]:
    """For each row the lowest column that may work."""
    start = None
    for row in range(len(grid.rows)):
        count = sum(grid.price(row, column, by) < under for column in range(len(grid.columns)))
        column = _lowest(grid, row, count, start, goal)
        if column is not None:
            start = column
            yield row, column


def _lowest(grid: Grid, row: int, count: int, start: int | None, goal: Goal) -> int | None:
    """The lowest of the first `count` columns that may work: from `start` down, if that may."""
    if count == 0:
        return None
    column = count - 1 if start is None else min(start, count - 1)
    if not grid.may(row, column, goal):
        hopeful = (place for place in strided(count) if grid.may(row, place, goal))
        column = next(hopeful, -1)
    while column > 0 and grid.may(row, column - 1, goal):
        column -= 1
    return None if column < 0 else column
