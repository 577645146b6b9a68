"""What a gap rules out, and what it does not: pins that meet in one pose, from every side.

Fault by fault, these tests would notice a spin that costs half of what it does, rates taken where
the joint is straighter, a reach that is too short, a column of spins left out or cut in unlike
halves, and a step that is longer than the gap allows.
"""

from math import sqrt, tan
from typing import Any

import numpy as np
import pytest

from geometry.contact import row_search
from geometry.contact.first_touch import certify, first_touches
from geometry.contact.pair import ClosingPair
from geometry.joint import driven_in_driving, turn_per_spin
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.pins import SIZE, Pose, meeting, pin, way
from tests.geometry.random_bodies import random_yoke
from tests.simple_shapes import TOUCH_GAP, ball, box

RADIUS = 50.0
BOXES = row_search._BoxTable
CORNER = 2.0 * sqrt(3.0) * SIZE
"""How far apart the middles of two pins may be when they touch, at most, mm."""


def ways(count: int, seed: int) -> list[tuple[Pose, Pose]]:
    """Poses and where they go from there: by bend, by spin, by both, a little or far."""
    rng = np.random.default_rng(seed)
    found = []
    for number in range(count):
        bend, spin = rng.uniform(0.0, 0.9), rng.uniform(0.0, 2.0 * np.pi)
        if number % 3 == 0:
            spin = 0.25 * np.pi * rng.integers(8)  # where either rate is at its highest
        size = rng.choice([0.01, 0.1, 0.5])
        more, aside = rng.uniform(0.0, 1.0, 2) * size * rng.choice([1.0, 0.02], 2)
        found.append(
            ((bend, spin), (min(bend + more, TOL.bend_limit), spin + aside * rng.choice([-1, 1])))
        )
    return found


def test_no_way_is_longer_than_its_bound() -> None:
    """The turn between two poses against the sum of both bounds, rates at the farther bend. Each
    is reached: along the bend where its roll is fastest, along the spin with the bores in the
    plane of the bend."""
    for start, end in ways(1500, seed=1):
        far = max(start[0], end[0])
        bound = sqrt(1.0 + 0.25 * tan(far) ** 2) * abs(end[0] - start[0])
        bound += turn_per_spin(far) * abs(end[1] - start[1])
        assert np.linalg.norm(way(start, end)) <= bound + 1e-9
    for bend in (0.2, 0.7, 1.0):
        step = 1e-5
        spins = np.linspace(0.0, np.pi, 721)
        by_bend = max(np.linalg.norm(way((bend, s), (bend + step, s))) for s in spins) / step
        by_spin = max(np.linalg.norm(way((bend, s), (bend, s + step))) for s in spins) / step
        assert by_bend == pytest.approx(sqrt(1.0 + 0.25 * tan(bend) ** 2), rel=1e-4)
        assert by_spin == pytest.approx(tan(bend), rel=1e-4)


@pytest.mark.parametrize("seed", range(6))
def test_a_pin_between_the_columns_is_found(seed: int) -> None:
    """Every spin of the turn is asked for in columns; pins meet at one spin that is no column's.

    Below the bend at which they meet the whole turn is clear, above it the touch is found where it
    is, and never anywhere else."""
    rng = np.random.default_rng(seed)
    bend, spin = rng.uniform(0.25, 0.9), rng.uniform(0.0, 2.0 * np.pi)
    pair = meeting((bend, spin + (0.1 if seed % 2 else -0.1)), (bend, spin), RADIUS)
    assert certify(pair, 0.0, 2.0 * np.pi, bend - 1.5 * _spread(pair, bend, spin)).hit is None
    hit = certify(pair, 0.0, 2.0 * np.pi, bend + 0.02).hit
    assert hit is not None
    at, touch = hit
    placed = driven_in_driving(touch.touch, at)
    apart = _middle(pair.a) - _middle(pair.b) @ placed.T
    assert np.linalg.norm(apart) <= CORNER + TOUCH_GAP
    assert touch.clear <= touch.touch <= touch.clear + TOL.certificate


@pytest.mark.parametrize("seed", range(40))
def test_a_pin_in_the_lee_of_others_is_found(seed: int) -> None:
    """Other pins come near on the way, each on a sphere of its own, so that they never touch: they
    set the steps, and one of these, or a column as wide as the step before allowed, would end
    beyond the bend and spin at which the first two meet."""
    rng = np.random.default_rng(300 + seed)
    bend, spin = rng.uniform(0.2, 0.9), rng.uniform(0.0, 2.0 * np.pi)
    first = meeting((0.7 * bend, spin + rng.choice([-0.3, 0.3])), (bend, spin), RADIUS)
    driving, driven = [first.a], [first.b]
    for _ in range(rng.integers(1, 6)):
        at = driven_in_driving(rng.uniform(0.3, 1.0) * bend, spin + rng.uniform(-0.4, 0.4))
        place = rng.normal(size=3)
        place *= rng.uniform(0.2, 0.9) * RADIUS / np.linalg.norm(place)
        lift = 1.0 + rng.uniform(0.2, 3.0) / np.linalg.norm(place)
        driving.append(pin(place))
        driven.append(pin(lift * place @ at))
    pair = ClosingPair(Mesh.join(driving), Mesh.join(driven))
    low, high = spin - rng.uniform(0.0, 0.8), spin + rng.uniform(0.0, 0.8)
    hit = certify(pair, low, high, bend + 0.01).hit
    assert hit is not None
    assert hit[1].touch <= bend + 0.01 + TOL.certificate


@pytest.mark.parametrize("seed", range(4))
def test_the_rows_of_a_certificate_leave_no_metal_out(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every two triangles at every pose up to the target, edges and all, are in a row that came
    clear, or have no metal at the same distance from the centre. A half that is left out, cut in
    unlike parts, or told narrower than it is, leaves some that nothing has ruled out."""
    rng = np.random.default_rng(seed)
    cleared: list[tuple[np.ndarray, ...]] = []
    ask, tables = row_search.bounds, []
    monkeypatch.setattr(
        row_search, "_BoxTable", lambda *told: tables.append(BOXES(*told)) or tables[-1]
    )

    def noted(*told: Any) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        least, radius, seen = ask(*told)
        cleared.append(tuple(each[least > 0.0] for each in told[2]))
        return least, radius, seen

    monkeypatch.setattr(row_search, "bounds", noted)
    while True:
        pair = ClosingPair(random_yoke(rng), random_yoke(rng))
        target, low = rng.uniform(0.1, 0.5), rng.uniform(0.0, 3.0)
        high = low + rng.uniform(0.5, 3.0)
        cleared.clear()
        if not pair.cut(0.0, 0.0) and certify(pair, low, high, target).hit is None:
            break
    (a, b), boxes = pair.trees, tables[-1].boxes
    one, other, box = (np.concatenate(each) for each in zip(*cleared, strict=True))
    leaves = [np.flatnonzero(tree.far[tree.first :] > 0.0) + tree.first for tree in (a, b)]
    first, second = boxes.low[box], boxes.high[box]
    for number in range(300):
        pose = rng.uniform(0.0, target), rng.uniform(low, high)
        pose = (pose[0], (low, high)[number % 2]) if number % 5 == 0 else pose
        pose = ((0.0, target)[number % 2], pose[1]) if number % 7 == 0 else pose
        held = (first - 1e-12 <= pose).all(axis=1) & (pose <= second + 1e-12).all(axis=1)
        for i, j in zip(*(rng.choice(each, 20) for each in leaves), strict=True):
            if a.near[i] > b.far[j] or b.near[j] > a.far[i]:
                continue
            over = [np.array([leaf >> up for up in range(20)]) for leaf in (i, j)]
            assert (held & np.isin(one, over[0]) & np.isin(other, over[1])).any()


@pytest.mark.parametrize("seed", range(6))
def test_only_the_spins_asked_for_are_looked_at(seed: int) -> None:
    """Pins that meet just outside of a range of spins leave it clear, just inside they do not, at
    either end of it."""
    rng = np.random.default_rng(100 + seed)
    bend, spin = rng.uniform(0.25, 0.9), rng.uniform(0.0, 2.0 * np.pi)
    pair = meeting((bend, spin + 0.1), (bend, spin), RADIUS)
    near, wide = 10.0 * CORNER / RADIUS / tan(bend), rng.uniform(0.3, 1.0)
    assert certify(pair, spin + near, spin + wide, bend + 0.001).hit is None
    assert certify(pair, spin - wide, spin - near, bend + 0.001).hit is None
    assert certify(pair, spin - 1e-3, spin + wide, bend + 0.02).hit is not None
    assert certify(pair, spin - wide, spin + 1e-3, bend + 0.02).hit is not None


@pytest.mark.slow
def test_a_curved_way_ends_at_the_pins() -> None:
    """Along one spin, from straight on: pins met on the way stop it, from either side of the
    tolerance, and those of another spin do not."""
    rng = np.random.default_rng(8)
    for _ in range(40):
        bend, spin = rng.uniform(0.05, 0.95), rng.uniform(0.0, 2.0 * np.pi)
        pair = meeting((0.5 * bend, spin), (bend, spin), RADIUS, about=rng.uniform(0.0, 6.0))
        touch = first_touches(pair, [spin])[0]
        assert touch is not None
        assert bend - 1.1 * CORNER / RADIUS - TOUCH_GAP / RADIUS <= touch.clear <= bend
        assert touch.clear <= touch.touch <= touch.clear + 0.5 * TOL.certificate
        assert not pair.cut(touch.clear, spin)
        assert first_touches(pair, [spin], touch.clear - 1e-4)[0] is None
        assert first_touches(pair, [spin], touch.touch + 1e-4)[0] is not None


@pytest.mark.parametrize(("lever", "radius", "face"), [(40.0, 4.0, 30.0), (5.0, 2.0, 4.0)])
def test_a_contact_is_seen_as_near_as_is_said(lever: float, radius: float, face: float) -> None:
    """A ball that comes down on a plate square on: contact is told to a fiftieth of the
    certificate, no more than half of one past the bend up to which it is ruled out; also where a
    short lever closes the last of the gap slowly."""
    plate = box((face, -60, -60), (face + 5.0, 60, 60), "plate")
    pair = ClosingPair(ball((0.0, lever, 0.0), radius, "ball"), plate)
    touch = first_touches(pair, [0.0])[0]
    assert touch is not None
    assert pair.cut(touch.touch, 0.0)
    assert touch.clear < touch.touch <= touch.clear + 0.5 * TOL.certificate
    before = touch.touch - 0.021 * TOL.certificate
    assert before <= touch.clear or not pair.cut(before, 0.0)
    assert touch.nearest.distance <= TOUCH_GAP
    assert pair.nearest_at(touch.clear, 0.0).distance == pytest.approx(
        touch.nearest.distance, abs=1e-12
    )


@pytest.mark.parametrize(("room", "touches"), [(0.0005, True), (0.002, False)])
def test_what_stays_nearer_than_a_graze_touches(room: float, touches: bool) -> None:
    """A ball about the cross centre keeps its room beside a plate square to it at every bend:
    half a graze is a touch at once, two grazes are none at any bend up to a degree."""
    middle, plate = ball((0, 0, 0), 20.0, "ball"), box((20.0 + room, -5, -5), (30, 5, 5), "plate")
    pair = ClosingPair(middle, plate)
    touch = first_touches(pair, [0.0], np.radians(1.0))[0]
    assert (touch is not None) is touches
    if touch is not None:
        assert touch.clear == touch.touch == 0.0


def _spread(pair: ClosingPair, bend: float, spin: float) -> float:
    """How far (rad of bend) from where the pins meet they may touch yet, whatever the spin."""
    step, driven = 1e-6, _middle(pair.b)
    by_bend, by_spin = (
        (driven_in_driving(*there) - driven_in_driving(bend, spin)) @ driven / step
        for there in ((bend + step, spin), (bend, spin + step))
    )
    return float(np.linalg.norm(np.linalg.pinv(np.stack([by_bend, by_spin], axis=1))[0])) * CORNER


def _middle(mesh: Mesh) -> np.ndarray:
    return np.asarray(mesh.bounds.mean(axis=0))
