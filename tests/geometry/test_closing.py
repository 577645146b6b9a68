"""What a gap rules out, and what it does not: pins that meet in one pose, from every side.

Fault by fault, these tests would notice a spin that costs half of what it does, rates taken where
the joint is straighter, a reach that is too short, a column of spins left out or cut in unlike
halves, and a step that is longer than the gap allows.
"""

from math import sqrt, tan

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.contact.closing import ClosingPair, certify, first_touch
from geometry.contact.distance import Nearest
from geometry.joint import driven_in_driving, turn_per_bend, turn_per_spin
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.pins import SIZE, Pose, meeting, pin, way
from tests.geometry.random_bodies import random_yoke
from tests.simple_shapes import ball, box

RADIUS = 50.0
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
        bound = turn_per_bend(far) * abs(end[0] - start[0])
        bound += turn_per_spin(far) * abs(end[1] - start[1])
        assert np.linalg.norm(way(start, end)) <= bound + 1e-9
    for bend in (0.2, 0.7, 1.0):
        step = 1e-5
        spins = np.linspace(0.0, np.pi, 721)
        by_bend = max(np.linalg.norm(way((bend, s), (bend + step, s))) for s in spins) / step
        by_spin = max(np.linalg.norm(way((bend, s), (bend, s + step))) for s in spins) / step
        assert by_bend == pytest.approx(sqrt(1.0 + 0.25 * tan(bend) ** 2), rel=1e-4)
        assert by_spin == pytest.approx(tan(bend), rel=1e-4)


def test_what_meets_is_never_ruled_out() -> None:
    """Two pins that meet at the end of a way: a gap at its start clears no bend as high as theirs
    for spins as far as theirs. A tenth of the ways are used up to the last percent."""
    tight = 0
    for number, (start, end) in enumerate(ways(600, seed=2)):
        pair = meeting(start, end, RADIUS, about=float(number))
        gap = pair.nearest(*start).distance
        half = abs(end[1] - start[1])
        clear = pair.clear_to(gap, start[0], half)
        assert clear == start[0] or clear < end[0] + CORNER / RADIUS
        room = turn_per_bend(end[0]) * (end[0] - start[0]) + turn_per_spin(end[0]) * half
        tight += gap > 0.99 * RADIUS * room - CORNER
    assert tight > 60


@pytest.mark.parametrize("bend", [0.0, 0.3, 0.8])
@pytest.mark.parametrize("half", [0.0, 0.02, 0.2])
@pytest.mark.parametrize("gap", [0.01, 1.0, 12.0])
def test_a_gap_clears_as_much_as_it_can(bend: float, half: float, gap: float) -> None:
    """The bend at which the bound is used up, by a root finder; missed by 1/64 of the step."""
    pair = ClosingPair(pin((0.0, 0.0, RADIUS)), pin((0.0, RADIUS, 0.0)))
    assert pair.reach == pytest.approx(sqrt(SIZE**2 * 2 + (RADIUS + SIZE) ** 2), abs=1e-9)
    turn = gap / pair.reach

    def left(far: float) -> float:
        return turn - sqrt(1 + 0.25 * tan(far) ** 2) * (far - bend) - tan(far) * half

    highest = min(bend + turn, TOL.bend_limit)
    if left(bend) < 0.0:
        true = bend
    elif left(highest) >= 0.0:
        true = highest
    else:
        true = brentq(left, bend, highest)
    clear = pair.clear_to(gap, bend, half)
    assert true - (highest - bend) / 64.0 - 1e-12 <= clear <= true + 1e-12


@pytest.mark.parametrize("seed", range(6))
def test_a_pin_between_the_columns_is_found(seed: int) -> None:
    """Every spin of the turn is asked for in columns; pins meet at one spin that is no column's.

    Below the bend at which they meet the whole turn is clear, above it the touch is found where it
    is, and never anywhere else."""
    rng = np.random.default_rng(seed)
    bend, spin = rng.uniform(0.25, 0.9), rng.uniform(0.0, 2.0 * np.pi)
    pair = meeting((bend, spin + (0.1 if seed % 2 else -0.1)), (bend, spin), RADIUS)
    assert certify(pair, 0.0, 2.0 * np.pi, bend - 1.5 * _spread(pair, bend, spin)) is None
    hit = certify(pair, 0.0, 2.0 * np.pi, bend + 0.02)
    assert hit is not None
    at, touch = hit
    placed = driven_in_driving(touch.touch, at)
    apart = _middle(pair.a) - _middle(pair.b) @ placed.T
    assert np.linalg.norm(apart) <= CORNER + TOL.touch_gap
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
    hit = certify(pair, low, high, bend + 0.01)
    assert hit is not None
    assert hit[1].touch <= bend + 0.01 + TOL.certificate


class Noted(ClosingPair):
    """A pair that notes every rectangle of bend and spin that it rules out."""

    def __init__(self, a: Mesh, b: Mesh) -> None:
        super().__init__(a, b)
        self.at = 0.0
        self.cleared: list[tuple[float, float, float, float]] = []

    def nearest(self, bend: float, spin: float) -> Nearest:
        self.at = spin
        return super().nearest(bend, spin)

    def clear_to(self, gap: float, bend: float, half_width: float = 0.0) -> float:
        far = super().clear_to(gap, bend, half_width)
        self.cleared.append((bend, far, self.at - half_width, self.at + half_width))
        return far


@pytest.mark.parametrize("seed", range(4))
def test_the_rectangles_of_a_certificate_leave_no_pose_out(seed: int) -> None:
    """What each gap rules out is a rectangle; together they must cover every bend up to the
    target at every spin, edges and all. A column that is told narrower than it is, off its middle,
    or that goes on higher than it was cleared, leaves poses that nothing has ruled out."""
    rng = np.random.default_rng(seed)
    while True:
        pair = Noted(random_yoke(rng), random_yoke(rng))
        target, low = rng.uniform(0.1, 0.5), rng.uniform(0.0, 3.0)
        high = low + rng.uniform(0.5, 3.0)
        if not pair.cut(0.0, 0.0) and certify(pair, low, high, target) is None:
            break
    near, far, left, right = np.array(pair.cleared).T
    for bend, spin in zip(
        [*rng.uniform(0.0, target, 3000), *np.linspace(0.0, target, 500)[:-1]] * 2,
        [*rng.uniform(low, high, 3499), *([low] * 1750), *([high] * 1749)],
        strict=True,
    ):
        inside = (near <= bend) & (bend < far) & (left - 1e-9 <= spin) & (spin <= right + 1e-9)
        assert inside.any()


@pytest.mark.parametrize("seed", range(6))
def test_only_the_spins_asked_for_are_looked_at(seed: int) -> None:
    """Pins that meet just outside of a range of spins leave it clear, just inside they do not, at
    either end of it."""
    rng = np.random.default_rng(100 + seed)
    bend, spin = rng.uniform(0.25, 0.9), rng.uniform(0.0, 2.0 * np.pi)
    pair = meeting((bend, spin + 0.1), (bend, spin), RADIUS)
    near, wide = 10.0 * CORNER / RADIUS / tan(bend), rng.uniform(0.3, 1.0)
    assert certify(pair, spin + near, spin + wide, bend + 0.001) is None
    assert certify(pair, spin - wide, spin - near, bend + 0.001) is None
    assert certify(pair, spin - 1e-3, spin + wide, bend + 0.02) is not None
    assert certify(pair, spin - wide, spin + 1e-3, bend + 0.02) is not None


def test_a_curved_way_ends_at_the_pins() -> None:
    """Along one spin, from straight on: pins met on the way stop it, from either side of the
    tolerance, and those of another spin do not."""
    rng = np.random.default_rng(8)
    for _ in range(40):
        bend, spin = rng.uniform(0.05, 0.95), rng.uniform(0.0, 2.0 * np.pi)
        pair = meeting((0.5 * bend, spin), (bend, spin), RADIUS, about=rng.uniform(0.0, 6.0))
        touch = first_touch(pair, spin, 0.0, TOL.bend_limit)
        assert touch is not None
        assert bend - 1.1 * CORNER / RADIUS - TOL.touch_gap / RADIUS <= touch.clear <= bend
        assert touch.clear <= touch.touch <= touch.clear + 0.5 * TOL.certificate
        assert not pair.cut(touch.clear, spin)
        assert first_touch(pair, spin, 0.0, touch.clear) is None
        assert first_touch(pair, spin, touch.clear, TOL.bend_limit) is not None


@pytest.mark.parametrize(("lever", "radius", "face"), [(40.0, 4.0, 30.0), (5.0, 2.0, 4.0)])
def test_a_contact_is_seen_as_near_as_is_said(lever: float, radius: float, face: float) -> None:
    """A ball that comes down on a plate square on: contact is told to a fiftieth of the
    certificate, no more than half of one past the bend up to which it is ruled out; also where a
    short lever closes the last of the gap slowly."""
    plate = box((face, -60, -60), (face + 5.0, 60, 60), "plate")
    pair = ClosingPair(ball((0.0, lever, 0.0), radius, "ball"), plate)
    touch = first_touch(pair, 0.0, 0.0, TOL.bend_limit)
    assert touch is not None
    assert pair.cut(touch.touch, 0.0)
    assert touch.clear < touch.touch <= touch.clear + 0.5 * TOL.certificate
    before = touch.touch - 0.021 * TOL.certificate
    assert before <= touch.clear or not pair.cut(before, 0.0)
    assert touch.nearest.distance <= TOL.touch_gap
    assert pair.nearest(touch.clear, 0.0).distance == pytest.approx(
        touch.nearest.distance, abs=1e-12
    )


def test_what_grazes_longer_counts_as_touching_sooner() -> None:
    """The gap that counts as touching stays what the tolerance says for as many queries as real
    yokes need, three times over, and doubles after that, so that a search comes to an end."""
    pair = ClosingPair(pin((0.0, 0.0, RADIUS)), pin((0.0, RADIUS, 0.0)))
    assert pair.graze == TOL.graze
    for _ in range(4999):
        pair.nearest(0.1, 0.2)
    assert pair.graze == TOL.graze
    pair.nearest(0.1, 0.2)
    assert pair.graze == 2.0 * TOL.graze
    for _ in range(5000):
        pair.nearest(0.1, 0.2)
    assert pair.graze == 4.0 * TOL.graze


@pytest.mark.parametrize(("room", "touches"), [(0.0005, True), (0.002, False)])
def test_what_stays_nearer_than_a_graze_touches(room: float, touches: bool) -> None:
    """A ball about the cross centre keeps its room beside a plate square to it at every bend:
    half a graze is a touch at once, two grazes are none at any bend up to a degree."""
    middle, plate = ball((0, 0, 0), 20.0, "ball"), box((20.0 + room, -5, -5), (30, 5, 5), "plate")
    pair = ClosingPair(middle, plate)
    touch = first_touch(pair, 0.0, 0.0, np.radians(1.0))
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
