"""What two yokes of no particular shape are cleared of, against another library in random poses.

Source: Coal 3, a general collision library, asked on the whole meshes: the distance after any move
that is claimed clear, and whether anything cuts in any pose that is certified.
"""

from functools import cache

import numpy as np
import pytest

from geometry.contact.first_touch import certify, first_touches
from geometry.contact.pair import ClosingPair
from geometry.joint import driven_in_driving, turn_per_bend, turn_per_spin
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.random_bodies import random_yoke
from tests.outside.second_library import coal_cuts, coal_distance, coal_mesh

SEEDS = range(8)


@cache
def yokes(seed: int) -> tuple[Mesh, Mesh, object, object]:
    """Two random yokes that are free of each other when straight, and the same for Coal."""
    rng = np.random.default_rng(seed)
    while True:
        one, other = random_yoke(rng), random_yoke(rng)
        a, b = coal_mesh(one), coal_mesh(other)
        if not coal_cuts(a, b, driven_in_driving(0.0, 0.0)):
            return one, other, a, b


@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_gap_clears_is_clear(seed: int) -> None:
    """Wherever a gap is seen, no pose it clears has contact, and none is nearer than the gap less
    what the farthest metal of the smaller body can have come."""
    one, other, a, b = yokes(seed)
    pair = ClosingPair(one, other)
    rng = np.random.default_rng(50 + seed)
    asked = 0
    while asked < 12:
        bend, spin = rng.uniform(0.0, 0.8), rng.uniform(0.0, 7.0)
        gap = pair.nearest(bend, spin).distance
        room = coal_distance(a, b, driven_in_driving(bend, spin))
        if room == 0.0:
            continue
        asked += 1
        assert gap >= room - 1e-7  # the pieces that can touch are no nearer than the whole
        half = rng.choice([0.0, 0.3, 0.9]) * gap / pair.reach / max(np.tan(bend), 0.05)
        far = pair.clear_to(gap, bend, half)
        for share, aside in rng.uniform(-1.0, 1.0, (12, 2)):
            there = bend + abs(share) * (far - bend), spin + aside * half * (far > bend)
            left = coal_distance(a, b, driven_in_driving(*there))
            assert left > 0.0
            moved = turn_per_bend(there[0]) * (there[0] - bend)
            moved += turn_per_spin(there[0]) * abs(there[1] - spin)
            assert left >= room - min(one.radius, other.radius) * moved - 1e-7


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_certified_has_no_contact(seed: int) -> None:
    """The highest target that is certified, by bisection: nothing cuts at hundreds of poses under
    it, most of them just below; the touch that ends it does."""
    one, other, a, b = yokes(seed)
    pair = ClosingPair(one, other)
    rng = np.random.default_rng(60 + seed)
    low, high, hit = 0.0, TOL.bend_limit, None
    while high - low > 1e-3:
        middle = 0.5 * (low + high)
        found = certify(pair, 0.0, 2.0 * np.pi, middle)
        low, high, hit = (middle, high, hit) if found is None else (low, middle, found)
    bends = low * np.concatenate([np.ones(120), rng.uniform(0.97, 1, 120), rng.uniform(0, 1, 120)])
    for bend, spin in zip(bends, rng.uniform(0.0, 2.0 * np.pi, 360), strict=True):
        assert not coal_cuts(a, b, driven_in_driving(float(bend), float(spin)))
    if hit is not None:
        spin, touch = hit
        near = coal_distance(a, b, driven_in_driving(touch.clear, spin))
        assert 0.0 < near <= TOL.touch_gap
        assert coal_cuts(a, b, driven_in_driving(touch.touch + 1e-4, spin))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_first_touch_is_the_first(seed: int) -> None:
    """At random spins: nothing cuts below it in steps of a tenth of a degree, something cuts at
    it; where there is none, nothing cuts up to the highest bend."""
    one, other, a, b = yokes(seed)
    pair = ClosingPair(one, other)
    for spin in np.random.default_rng(70 + seed).uniform(0.0, 2.0 * np.pi, 5).tolist():
        touch = first_touches(pair, [spin])[0]
        end = TOL.bend_limit if touch is None else touch.clear
        for bend in [*np.arange(0.0, end, np.radians(0.2)).tolist(), end]:
            assert not coal_cuts(a, b, driven_in_driving(bend, spin))
        if touch is not None:
            assert coal_cuts(a, b, driven_in_driving(touch.touch + 1e-4, spin))
