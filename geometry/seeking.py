"""Where something ends that holds here and no longer there: by halving, one way or many at a time.

What is asked may be any test, so there is no slope to follow. Of smooth functions with a sign
`scipy.optimize.elementwise` finds the roots sooner.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

Flags = NDArray[np.bool_]

HALVINGS = 200
"""More than there are between any two numbers that differ: the width asked for ends it before."""

GOLDEN = 0.5 * (5.0**0.5 - 1.0)


def edge(
    holds: Callable[[float], bool],
    inside: float,
    outside: float,
    within: float = 0.0,
    halvings: int = HALVINGS,
) -> tuple[float, float]:
    """The last place known to hold and the first known not to, between one of each.

    within : how near they have to come to each other.
    halvings : after how many it ends at the latest.
    """
    for _ in range(halvings):
        if abs(outside - inside) <= within:
            break
        middle = 0.5 * (inside + outside)
        inside, outside = (middle, outside) if holds(middle) else (inside, middle)
    return inside, outside


def edges(
    holds: Callable[[Floats], Flags],
    inside: Floats,
    outside: Floats,
    within: float = 0.0,
    halvings: int = HALVINGS,
) -> tuple[Floats, Floats]:
    """As `edge` between many such pairs (...) at a time; it ends when all are near enough."""
    for _ in range(halvings if inside.size else 0):
        if float(np.max(np.abs(outside - inside))) <= within:
            break
        middle = 0.5 * (inside + outside)
        held = holds(middle)
        inside, outside = np.where(held, middle, inside), np.where(held, outside, middle)
    return inside, outside


def last_of(holds: Callable[[int], bool], count: int) -> int:
    """The last of 0 to `count` that holds, each one before it too; -1 where 0 does not."""
    low, high = -1, count + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def summits(value: Callable[[Floats], Floats], low: Floats, high: Floats, within: float) -> Floats:
    """Places (...) where each of many values is highest between two others, by golden section."""
    while low.size and float(np.max(np.abs(high - low))) > within:
        one, two = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        rising = value(one) < value(two)
        low, high = np.where(rising, one, low), np.where(rising, high, two)
    middle: Floats = 0.5 * (low + high)
    return middle
