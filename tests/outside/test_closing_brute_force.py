"""What two yokes of no particular shape are cleared of, against another library in random poses.

Source: Coal 3, a general collision library, asked on the whole meshes: the distance after any move
that is claimed clear, and whether anything cuts in any pose that is certified.
"""

from functools import cache

import numpy as np
import pytest

from geometry.contact.first_touch import certify, first_touches
from geometry.contact.pair import ClosingPair
from geometry.joint import driven_in_driving
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
def test_what_is_certified_has_no_contact(seed: int) -> None:
    """From the lowest touch at a few spins down to what is certified: nothing cuts at hundreds of
    poses under it, most of them just below; each touch on the way does."""
    one, other, a, b = yokes(seed)
    pair = ClosingPair(one, other)
    rng = np.random.default_rng(60 + seed)
    seen = first_touches(pair, np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False).tolist())
    low, hits = min([TOL.bend_limit, *(touch.touch - 1e-3 for touch in seen if touch)]), []
    while (found := certify(pair, 0.0, 2.0 * np.pi, low)).hit is not None:
        assert found.finished
        hits.append(found.hit)
        low = found.hit[1].touch - 1e-3
    bends = low * np.concatenate([np.ones(120), rng.uniform(0.97, 1, 120), rng.uniform(0, 1, 120)])
    for bend, spin in zip(bends, rng.uniform(0.0, 2.0 * np.pi, 360), strict=True):
        assert not coal_cuts(a, b, driven_in_driving(float(bend), float(spin)))
    for spin, touch in hits:
        assert coal_distance(a, b, driven_in_driving(touch.clear, spin)) > 0.0
        assert coal_cuts(a, b, driven_in_driving(touch.touch + 1e-4, spin))
        assert touch.touch - touch.clear <= TOL.certificate


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
