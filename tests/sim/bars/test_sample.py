"""Chances and bands of weighted draws, against scipy, numpy and what a shift has to do."""

import numpy as np
import pytest
from scipy.stats import binomtest, norm

from sim.bars.drawn import Drawn
from sim.bars.draws import normal_draws
from sim.bars.sample import Sample

KEY = ("joint-bend", "pinion")


def drawn(left, possible=None) -> Drawn:
    left = np.asarray(left, dtype=np.float64)
    nothing = {KEY: np.full((len(left), 3), np.nan)}
    flat = {KEY: np.full(len(left), np.nan)}
    is_possible = np.ones(len(left), dtype=bool) if possible is None else np.asarray(possible)
    return Drawn({KEY: left}, {KEY: -left}, nothing, flat, flat, is_possible)


@pytest.mark.parametrize(("hits", "count"), [(0, 64), (1, 64), (20, 64), (64, 64), (500, 1000)])
def test_how_far_off_a_chance_is_said_to_be_is_the_interval_of_another_library(hits, count) -> None:
    left = np.where(np.arange(count) < hits, -1.0, 1.0)
    chance, off = Sample(drawn(left)).chance((KEY,))
    told = binomtest(hits, count).proportion_ci(0.95, "wilson")
    assert chance == hits / count
    assert off == pytest.approx(0.5 * (told.high - told.low), rel=1e-9)


def test_a_stated_error_is_kept_at_least_as_often_as_stated() -> None:
    """Chances that are known [derivation: the normal law], of sums of eight, 200 times."""
    random, kept = np.random.default_rng(1), 0
    for seed in range(200):
        margin = random.uniform(-2.0, 2.0)
        total = normal_draws(8, 128, seed).sum(axis=1) / np.sqrt(8.0)
        chance, off = Sample(drawn(margin + total)).chance((KEY,))
        kept += abs(chance - norm.cdf(-margin)) <= off
    assert kept >= 190


def test_bands_of_draws_that_weigh_the_same_are_those_of_numpy() -> None:
    values = np.random.default_rng(2).standard_normal(4000)
    low, high = Sample(drawn(values)).quantiles(values, (0.025, 0.975))
    assert (low, high) == pytest.approx(tuple(np.quantile(values, (0.025, 0.975))), abs=0.02)


def test_few_whole_draws_put_slopes_right_that_are_all_off_alike() -> None:
    """Slopes that are off by as much everywhere: chance and band are those of whole draws."""
    many, few = normal_draws(3, 16384, 0)[:, 0], normal_draws(3, 512, 1)[:, 0]
    shift = 0.7
    sample = Sample(drawn(1.0 + many), drawn(1.0 + shift + few), drawn(1.0 + few))
    chance, off = sample.chance((KEY,))
    assert chance == pytest.approx(norm.cdf(-1.0 - shift), abs=off)
    assert abs(norm.cdf(-1.0) - norm.cdf(-1.0 - shift)) > 2.0 * off
    low, high = sample.quantiles(sample.left(KEY), (0.025, 0.975))
    assert low == pytest.approx(1.0 + shift - 1.96, abs=0.25)
    assert high == pytest.approx(1.0 + shift + 1.96, abs=0.25)


def test_whole_draws_that_slopes_foretell_change_nothing() -> None:
    many, few = normal_draws(2, 1024, 0)[:, 0], normal_draws(2, 64, 1)[:, 0]
    alone, put_right = Sample(drawn(many)), Sample(drawn(many), drawn(few), drawn(few))
    assert put_right.chance((KEY,))[0] == pytest.approx(alone.chance((KEY,))[0], abs=1e-12)
    for sample in (alone, put_right):
        ends = sample.quantiles(sample.left(KEY), (0.025, 0.975))
        assert ends == pytest.approx([-1.96, 1.96], abs=0.08)


def test_what_cannot_be_is_in_no_chance() -> None:
    """Every rig that touches cannot be: none of those that can be does."""
    many, few = normal_draws(2, 4096, 0)[:, 0], normal_draws(2, 256, 1)[:, 0]
    sample = Sample(drawn(many), drawn(few, few > 0.0), drawn(few))
    assert sample.chance((KEY,))[0] == pytest.approx(0.0, abs=0.02)
    assert sample.weights.sum() == pytest.approx(1.0)


def test_a_forecast_that_may_be_off_widens_what_is_stated_and_not_the_chance() -> None:
    values = normal_draws(1, 4096, 0)[:, 0] + 1.0
    sure, unsure = Sample(drawn(values)), Sample(drawn(values), forecast_off={KEY: 0.2})
    assert sure.chance((KEY,))[0] == unsure.chance((KEY,))[0]
    between = norm.cdf(-0.8) - norm.cdf(-1.2)
    wider = unsure.chance((KEY,))[1] - sure.chance((KEY,))[1]
    assert wider == pytest.approx(0.5 * between, abs=0.005)


def test_draws_are_normal_independent_and_the_same_for_a_seed() -> None:
    z = normal_draws(6, 1024, 7)
    assert np.array_equal(z, normal_draws(6, 1024, 7))
    assert not np.array_equal(z, normal_draws(6, 1024, 8))
    assert np.isfinite(z).all()
    assert np.abs(z.mean(axis=0)).max() < 0.01
    assert np.abs(np.cov(z.T) - np.eye(6)).max() < 0.03
    assert normal_draws(0, 16, 0).shape == (16, 0)
