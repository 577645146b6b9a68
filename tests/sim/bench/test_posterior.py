"""Draws that agree with readings, against the closed form of linear readings with normal errors.

Of y = A z + e with z ~ N(0, 1) and e ~ N(0, S) the posterior is normal, of precision
1 + A^T S^-1 A and mean (1 + A^T S^-1 A)^-1 A^T S^-1 y [derivation: completing the square].
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2, norm

from sim.bench.contradicting import contradictions
from sim.bench.evidence import Evidence, Predict, some
from sim.bench.fitted import Contradiction
from sim.bench.nearest import nearest
from sim.bench.next import expected_width
from sim.bench.posterior import agreeing, band, kind_draws
from sim.frames import FloatArray

COUNT, READINGS = 15, 4


class Linear:
    """Readings that go straight with the dimensions."""

    def __init__(self, seed: int = 1) -> None:
        random = np.random.default_rng(seed)
        self.slopes = random.standard_normal((READINGS, COUNT))
        self.deviation = np.array([0.1, 0.2, 0.1, 0.4])
        truth = random.standard_normal(COUNT)
        self.read = self.slopes @ truth + self.deviation * random.standard_normal(READINGS)

    @property
    def predict(self) -> Predict:
        return lambda z: z @ self.slopes.T

    @property
    def evidence(self) -> Evidence:
        return Evidence(self.read, self.deviation, np.zeros(READINGS, bool))

    @property
    def posterior(self) -> tuple[FloatArray, FloatArray]:
        """Mean and covariance."""
        weighed = self.slopes.T / self.deviation**2
        covariance = np.linalg.inv(np.eye(COUNT) + weighed @ self.slopes)
        return covariance @ weighed @ self.read, covariance


def test_draws_have_the_mean_and_the_spread_of_the_closed_form() -> None:
    linear = Linear()
    mean, covariance = linear.posterior
    draws = agreeing(linear.predict, linear.evidence, COUNT, seed=3)
    random = np.random.default_rng(5)
    for _ in range(10):
        way = random.standard_normal(COUNT)
        way /= np.linalg.norm(way)
        told = draws @ way
        deviation = float(np.sqrt(way @ covariance @ way))
        assert told.mean() == pytest.approx(way @ mean, abs=0.12 * deviation)
        assert told.std() == pytest.approx(deviation, rel=0.1)
        low, high = band(told)
        assert high - low == pytest.approx(2.0 * 1.96 * deviation, rel=0.12)


def test_what_was_read_comes_out_as_sharp_as_it_was_read() -> None:
    linear = Linear()
    mean, covariance = linear.posterior
    shown = linear.predict(agreeing(linear.predict, linear.evidence, COUNT, seed=4))
    wanted = np.sqrt(np.diag(linear.slopes @ covariance @ linear.slopes.T))
    assert shown.std(axis=0) == pytest.approx(wanted, rel=0.1)
    assert (shown.mean(axis=0) - linear.slopes @ mean) / wanted == pytest.approx(0.0, abs=0.2)


def test_without_a_reading_draws_are_those_of_the_kind() -> None:
    nothing = Evidence(np.zeros(0), np.zeros(0), np.zeros(0, bool))
    draws = agreeing(lambda z: np.zeros((len(z), 0)), nothing, COUNT, seed=1)
    assert np.array_equal(draws, kind_draws(COUNT, 1))
    assert draws.mean(axis=0) == pytest.approx(0.0, abs=0.01)
    assert draws.std(axis=0) == pytest.approx(1.0, abs=0.01)


def test_the_same_seed_gives_the_same_draws() -> None:
    linear = Linear()
    one, other = (agreeing(linear.predict, linear.evidence, COUNT, 7, 512) for _ in range(2))
    assert one.tobytes() == other.tobytes()


def test_what_did_not_touch_cuts_off_what_is_below() -> None:
    """Of z ~ N(0, 1) known to lie above 0 the mean is sqrt(2 / pi) [derivation: half normal]."""
    clear = Evidence(np.zeros(1), np.array([1e-3]), np.ones(1, bool))
    draws = agreeing(lambda z: z[:, :1], clear, 3, seed=2)
    assert draws[:, 0].min() > -0.01
    assert draws[:, 0].mean() == pytest.approx(np.sqrt(2.0 / np.pi), abs=0.05)
    assert draws[:, 1].std() == pytest.approx(1.0, abs=0.06)


def test_the_nearest_joint_has_the_misfit_of_the_closed_form() -> None:
    """y^T (A A^T + S)^-1 y, chi-squared with as many degrees as readings [derivation]."""
    linear = Linear()
    whole = linear.slopes @ linear.slopes.T + np.diag(linear.deviation**2)
    found = nearest(linear.predict, linear.evidence, np.zeros((1, COUNT)))
    assert found.misfit == pytest.approx(linear.read @ np.linalg.solve(whole, linear.read))
    assert found.z == pytest.approx(linear.posterior[0], abs=1e-4)
    assert found.odds == pytest.approx(chi2.sf(found.misfit, READINGS), rel=1e-9)


def fights_of(linear: Linear) -> tuple[tuple[Contradiction, ...], tuple[int, ...]]:
    kind = np.random.default_rng(5).standard_normal((4096, COUNT))
    start = np.zeros((1, COUNT))
    return contradictions(linear.predict, linear.evidence, start, linear.predict(kind))


def test_honest_readings_seldom_fight() -> None:
    """As often as is said, 1 in 200 of the kind, within four deviations of a binomial."""
    fights = 0
    for seed in range(400):
        linear = Linear(seed)
        fights += bool(fights_of(linear)[0])
    # Singles, pairs and the whole are asked, each at that rate: ten questions of four readings.
    assert fights <= 400 * 0.005 * 10 + 4.0 * np.sqrt(400 * 0.005 * 10)


def test_two_readings_of_the_same_thing_that_differ_fight() -> None:
    linear = Linear()
    linear.slopes[1] = linear.slopes[0]
    linear.read[:2] = linear.read[0], linear.read[0] + 3.0
    found, counted = fights_of(linear)
    assert [(each.kind, sorted(each.numbers)) for each in found] == [("readings", [1, 2])]
    assert counted == (2, 3)


def test_of_two_that_fight_a_third_keeps_its_friend() -> None:
    linear = Linear()
    linear.slopes[1:3] = linear.slopes[0]
    linear.deviation[:] = 0.1
    linear.read[:3] = linear.read[0], linear.read[0] + 1.0, linear.read[0] + 0.05
    found, counted = fights_of(linear)
    assert [(each.kind, each.numbers[0]) for each in found] == [("readings", 2)]
    assert counted == (0, 2, 3)


def test_what_no_joint_of_the_kind_does_is_told_with_how_near_it_comes() -> None:
    linear = Linear()
    linear.read[2] += 40.0
    found, counted = fights_of(linear)
    assert [(each.kind, each.numbers) for each in found] == [("yoke", (3,))]
    # The kind comes no farther than 999 in 1000 of it do: 3.09 deviations [normal distribution].
    deviation = float(np.linalg.norm(linear.slopes[2]))
    middle = float(linear.predict(np.zeros((1, COUNT)))[0, 2])
    assert found[0].nearest[0] == pytest.approx(middle + 3.09 * deviation, rel=0.1)
    assert counted == (0, 1, 3)


def test_the_width_after_one_reading_more_is_that_of_the_closed_form() -> None:
    """Var(w | s) = Var w - Cov(w, s)^2 / (Var s + error^2) of joint normals [derivation]."""
    random = np.random.default_rng(2)
    z = kind_draws(COUNT, 9)
    for _ in range(5):
        w, s = random.standard_normal((2, COUNT))
        s = s + w
        after = np.sqrt(w @ w - (w @ s) ** 2 / (s @ s + 0.25))
        found = expected_width(z @ w, z @ s, 0.5)
        assert found == pytest.approx(2.0 * 1.96 * after, rel=0.08)


def test_the_width_after_a_reading_counts_its_own_error() -> None:
    """Of joints at -1 and at 1 one is known where 2 y / s^2 > ln 39 of a reading y [derivation].

    97.5 to 2.5 are odds of 39; y is 1 with an error of s, and there is no width left where so.
    """
    s = 0.7
    edge = 0.5 * s**2 * np.log(39.0)
    known = norm.sf(edge, 1.0, s) + norm.cdf(-edge, 1.0, s)
    two = np.repeat([-1.0, 1.0], 500)
    assert expected_width(two, two, s, outcomes=200) == pytest.approx(2.0 * (1 - known), abs=0.12)


def test_some_readings_are_foretold_alone() -> None:
    linear = Linear()
    z = kind_draws(COUNT, 1, 8)
    assert np.array_equal(some(linear.predict, [2, 0])(z), linear.predict(z)[:, [2, 0]])
