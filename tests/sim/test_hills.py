"""Hills of a grid, one for each plateau, against scipy's filter and labels of connected parts."""

import numpy as np
from scipy.ndimage import label, maximum_filter

from sim.search.worst import STARTS, _hills


def test_hills_are_the_plateaus_that_no_neighbour_exceeds_highest_first() -> None:
    rng = np.random.default_rng(20)
    several = 0
    for _ in range(200):
        shape = tuple(rng.integers(1, 10, 3))
        values = rng.integers(0, rng.integers(1, 6), shape).astype(float)
        values[rng.random(shape) < 0.1] = -np.inf
        tops = (values == maximum_filter(values, size=3, mode="nearest")) & np.isfinite(values)
        plateaus, count = label(tops, structure=np.ones((3, 3, 3)))
        found = _hills(values)
        several += count > 1
        assert len(found) == min(count, STARTS)
        assert len({int(plateaus[node]) for node in found}) == len(found)
        assert all(tops[node] for node in found)
        heights = [values[node] for node in found]
        assert heights == sorted(heights, reverse=True)
        left = set(range(1, count + 1)) - {int(plateaus[node]) for node in found}
        least = min(heights, default=np.inf)
        assert all(values[plateaus == number].max() <= least for number in left)
    assert several > 100
