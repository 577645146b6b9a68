"""A trunnion among its needles: balance, symmetry, and what tilt, play and a stiff seat do."""

import numpy as np
import pytest
from scipy.optimize import approx_fprime, minimize

from sim.bearing import BearingError, Needles
from sim.cocked import FAST, BalanceError, Held, Row, balance
from sim.cocked.balance import _energy

NEEDLES = Needles.full(2.4, 11.9, 16.5)
ROW = Row(NEEDLES, 0.02)
FORCE = 6000.0
RANDOM = np.random.default_rng(7)


def loads(count: int) -> np.ndarray:
    """Loads of random size and way, N."""
    angle = RANDOM.uniform(-np.pi, np.pi, count)
    return RANDOM.uniform(50.0, 60e3, count)[:, None] * np.stack(
        [np.cos(angle), np.sin(angle)], axis=1
    )


@pytest.mark.parametrize("held", [FAST, Held(2e7), Held(2e7, (0.0, 2e-3)), Held(1e6, (4e-3, 1e-3))])
def test_force_and_moment_are_in_balance(held):
    """To 1e-9 of the load, summed anew; the moment against what the seat holds by."""
    load, lean = loads(40), RANDOM.uniform(-6e-3, 6e-3, (40, 2))
    found = balance(ROW, load, lean, RANDOM.uniform(-0.3, 0.3, 40), held)
    ways = np.stack([np.cos(found.angle), np.sin(found.angle)], axis=-1)
    size = np.hypot(*load.T)
    total = np.einsum("nzk,nzi->ni", found.force, ways)
    assert np.abs(total - load).max(axis=1) / size == pytest.approx(np.zeros(40), abs=1e-9)
    moment = np.einsum("nzk,k,nzi->ni", found.force, ROW.along, ways)
    assert found.moment == pytest.approx(moment, abs=1e-9)
    if not held.fast:
        past = np.sign(found.back) * np.maximum(np.abs(found.back) - held.loose, 0.0)
        off = np.abs(moment - held.stiffness * past).max(axis=1) / (size * NEEDLES.length)
        assert off == pytest.approx(np.zeros(40), abs=1e-9)
    assert found.leans + found.back == pytest.approx(lean, abs=1e-15)


def test_slices_follow_the_place_of_the_trunnion():
    """Every slice's force from where the trunnion went, worked here one by one."""
    found = balance(ROW, loads(3), [2e-3, -1e-3], [0.0, 0.1, -0.2])
    for n in range(3):
        for z in range(0, NEEDLES.count, 5):
            for k in (0, 11, 29):
                x, angle = ROW.along[k], found.angle[n, z]
                at = found.moved[n] + found.leans[n] * x
                deep = at @ [np.cos(angle), np.sin(angle)] - 0.01 - 2.0 * ROW.relief[k]
                expected = 35948.0 * 11.9 ** (8 / 9) / 30 * max(deep, 0.0) ** (10 / 9)
                assert found.force[n, z, k] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("held", [Held(2e7), Held(2e7, (1e-3, 3e-4))])
def test_the_derivatives_are_those_of_the_energy(held):
    """By finite differences of the energy, and of its slope."""
    load, lean, angle = np.array([[5e3, 2e3]]), np.array([[3e-3, -2e-3]]), ROW.angles[None]
    state = np.array([[0.014, 0.004, 1.4e-3, -9e-4]])
    _, slope, curve = _energy(ROW, load, lean, angle, held, state)
    scale = np.array([1e-2, 1e-2, 1e-3, 1e-3])

    def energy(x):
        return _energy(ROW, load, lean, angle, held, (x * scale)[None])[0][0]

    def slopes(x):
        return _energy(ROW, load, lean, angle, held, (x * scale)[None])[1][0] * scale

    x = state[0] / scale
    assert slope[0] * scale == pytest.approx(approx_fprime(x, energy, 1e-7), rel=1e-4, abs=1e-3)
    numeric = np.array([(slopes(x + h) - slopes(x - h)) / 2e-6 for h in 1e-6 * np.eye(4)])
    assert curve[0] * np.outer(scale, scale) == pytest.approx(numeric, rel=1e-5, abs=1e-3)


def test_no_other_place_stores_less():
    """SciPy's own search downhill ends where Newton does."""
    load, lean, held = np.array([[4e3, -1e3]]), np.array([[2e-3, 1e-3]]), Held(2e7, (2e-4, 5e-4))
    found = balance(ROW, load, lean, 0.0, held)
    scale = np.array([1e-2, 1e-2, 1e-3, 1e-3])

    def energy(x):
        return _energy(ROW, load, lean, ROW.angles[None], held, (x * scale)[None])[0][0]

    fine = {"xatol": 1e-7, "fatol": 1e-9, "maxiter": 8000, "maxfev": 8000}
    best = minimize(energy, np.array([1.0, 0, 0, 0]), method="Nelder-Mead", options=fine)
    ours = np.concatenate([found.moved[0], found.back[0]]) / scale
    assert energy(ours) <= best.fun + 1e-9
    assert ours == pytest.approx(best.x, abs=1e-4)


def test_without_tilt_the_load_is_even_along_a_straight_needle():
    row = Row(NEEDLES, 0.02, "straight")
    found = balance(row, [[FORCE, 0.0]], [0.0, 0.0])
    along = (
        found.force[0]
        / np.where(found.force[0].max(axis=1) > 0, found.force[0].max(axis=1), 1)[:, None]
    )
    assert found.moment == pytest.approx(np.zeros((1, 2)), abs=1e-9)
    assert np.ptp(along, axis=1).max() == pytest.approx(0.0, abs=1e-12)


def test_a_tilt_the_other_way_swaps_the_ends():
    one, other = (balance(ROW, [[FORCE, 0.0]], [lean, 0.0]) for lean in (2e-3, -2e-3))
    assert one.force == pytest.approx(other.force[:, :, ::-1], rel=1e-9, abs=1e-9)


def test_a_tilt_across_is_alike_on_both_flanks():
    """Needles on one side of the load carry at one end, those opposite at the other."""
    found = balance(ROW, [[FORCE, 0.0]], [0.0, 2e-3]).force[0]
    mirrored = found[(-np.arange(NEEDLES.count)) % NEEDLES.count, ::-1]
    assert found == pytest.approx(mirrored, rel=1e-9, abs=1e-9)
    flank = found[3]
    assert flank[ROW.along > 0].sum() > 1.5 * flank[ROW.along < 0].sum()


def test_load_and_tilt_turned_by_a_needle_turn_the_answer():
    pitch = 2.0 * np.pi / NEEDLES.count
    turn = np.array([[np.cos(pitch), -np.sin(pitch)], [np.sin(pitch), np.cos(pitch)]])
    load, lean = np.array([FORCE, 700.0]), np.array([1e-3, -2e-3])
    one = balance(ROW, [load], lean).force[0]
    other = balance(ROW, [turn @ load], turn @ lean).force[0]
    assert other == pytest.approx(np.roll(one, 1, axis=0), rel=1e-8, abs=1e-8)


def test_a_stiffer_seat_gives_less_and_ends_at_one_that_is_fast():
    leans = [
        balance(ROW, [[FORCE, 0.0]], [3e-3, 0.0], 0.0, Held(k)).leans[0, 0]
        for k in (1e6, 1e7, 1e8, 1e9, 1e12)
    ]
    assert leans == sorted(leans)
    assert 0.0 < leans[0] < leans[1]
    fast = balance(ROW, [[FORCE, 0.0]], [3e-3, 0.0])
    assert leans[-1] == pytest.approx(3e-3, rel=1e-4)
    assert fast.leans[0, 0] == 3e-3
    assert fast.back[0, 0] == 0.0


def test_play_lets_the_needles_bring_the_cap_straight():
    """As far as the play goes: within it nothing holds, so no moment is left."""
    free = balance(ROW, [[FORCE, 0.0]], [1e-3, 0.0], 0.0, Held(2e7, (5e-3, 5e-3)))
    assert free.leans == pytest.approx(np.zeros((1, 2)), abs=1e-8)
    some = balance(ROW, [[FORCE, 0.0]], [6e-3, 0.0], 0.0, Held(1e12, (5e-3, 5e-3)))
    assert some.leans[0, 0] == pytest.approx(1e-3, rel=1e-3)


@pytest.mark.parametrize(("quantity", "order"), [("deep", 1.8), ("moment", 1.8)])
def test_finer_slices_settle(quantity, order):
    """Twice the slices, a quarter of the error: the middles of slices are a second-order rule,
    but for the corner where a needle lifts off, which costs some of it."""

    def asked(slices: int) -> float:
        row = Row(NEEDLES, 0.02, "straight", slices)
        found = balance(row, [[FORCE, 0.0]], [4e-4, 0.0])
        return float(found.moved[0, 0] if quantity == "deep" else found.moment[0, 0])

    fine = asked(7680)
    errors = [abs(asked(n) - fine) for n in (30, 60, 120, 240)]
    orders = np.log2(np.divide(errors[:-1], errors[1:]))
    assert orders.mean() == pytest.approx(2.0, abs=2.0 - order)


def test_thirty_slices_are_enough():
    """Against 960: the peak of a relieved needle under tilt to 3 %, the place to 0.5 %."""
    coarse, fine = (
        balance(Row(NEEDLES, 0.02, count=n), [[FORCE, 0.0]], [2e-3, 5e-4]) for n in (30, 960)
    )
    assert coarse.moved == pytest.approx(fine.moved, rel=5e-3)
    peaks = [found.force.max() * n for found, n in ((coarse, 30), (fine, 960))]
    assert peaks[0] == pytest.approx(peaks[1], rel=0.03)


def test_a_missing_needle_crowds_its_neighbours():
    lacking, whole = (
        balance(Row(NEEDLES, 0.02, lost=lost), [[FORCE, 0.0]], [0.0, 0.0]) for lost in ((0,), ())
    )
    assert lacking.force.shape[1] == NEEDLES.count - 1
    assert lacking.force.sum(axis=2).max() > 1.05 * whole.force.sum(axis=2).max()
    away = balance(Row(NEEDLES, 0.02, lost=(12,)), [[FORCE, 0.0]], [0.0, 0.0])
    assert away.force.max() == pytest.approx(whole.force.max(), rel=1e-9)


def test_a_cap_that_is_not_home_loads_the_rest():
    """A bare end carries nothing; the moment that is left leans on the other end."""
    row = Row(NEEDLES, 0.02, bare=3.0)
    found = balance(row, [[FORCE, 0.0]], [0.0, 0.0])
    off = row.along - 0.5 * row.width > 0.5 * NEEDLES.length - 3.0
    assert not found.force[:, :, off].any()
    assert row.bears.sum() * row.width == pytest.approx(NEEDLES.length - 3.0, rel=1e-12)
    assert found.moment[0, 0] < 0.0


def test_nothing_pulls_and_nothing_carries():
    found = balance(ROW, [[0.0, 0.0], [FORCE, 0.0]], [1e-3, 0.0], 0.0, Held(2e7))
    assert not found.force[0].any()
    assert found.force[1].sum() > FORCE


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Row(NEEDLES, -0.01), "clearance"),
        (lambda: Row(NEEDLES, bare=12.0), "beyond the end"),
        (lambda: Row(NEEDLES, lost=(40,)), "0 to"),
        (lambda: Row(NEEDLES, lost=(1, 1)), "different"),
        (lambda: Row(NEEDLES, lost=tuple(range(22))), "three left"),
    ],
)
def test_rows_that_cannot_be(make, says):
    with pytest.raises(BearingError, match=says):
        make()


def test_seats_that_hold_nothing():
    with pytest.raises(BalanceError, match="above zero"):
        Held(0.0)
    with pytest.raises(BalanceError, match="zero or more"):
        Held(1e7, (-1e-3, 0.0))
