"""From where to where odds go with the trade's strengths off by a word."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.causes import infer, load_graph, odds_within
from sim.causes.doubt import A_WORD, a_word_off
from tests.sim.causes.graphs import graph, graphs, looked_at

WHOLE = load_graph()
SEEN = {"came-apart": True, "half-moons": True, "fracture-rippled": False, "at-droop": True}


def test_a_word_is_the_step_between_the_words():
    words = [0.01, 0.03, 0.1, 0.3, 0.6, 0.8, 0.95]
    steps = np.diff([np.log(share / (1.0 - share)) for share in words])
    assert np.mean(steps) == pytest.approx(A_WORD, abs=0.07)
    assert np.all(np.abs(steps - A_WORD) < 0.4)


@settings(deadline=None, max_examples=20)
@given(st.data())
def test_the_chance_lies_within(data):
    which = data.draw(graphs(most_causes=4, none=True))
    found = infer(which, data.draw(looked_at(which)), most=9)
    within = odds_within(found)
    for code, chance in found.odds.items():
        low, high = within[code]
        assert 0.0 <= low <= chance <= high <= 1.0


def test_without_evidence_there_is_no_doubt_but_of_the_priors():
    found = infer(WHOLE, {})
    for code, (low, high) in odds_within(found).items():
        assert low == pytest.approx(found.odds[code], abs=1e-12)
        assert high == pytest.approx(found.odds[code], abs=1e-12)


def test_it_is_the_same_at_every_run_and_in_any_order():
    found = odds_within(infer(WHOLE, SEEN))
    again = odds_within(infer(WHOLE, dict(reversed(SEEN.items()))))
    for code, (low, high) in found.items():
        assert again[code] == (pytest.approx(low, abs=1e-12), pytest.approx(high, abs=1e-12))
    low, high = found["bound"]
    assert 0.02 < high - low < 0.4


def test_it_is_as_wide_as_a_strength_and_a_leak_a_word_off_make_it():
    which = graph({"bound": 0.5}, {"half-moons": 0.1}, {("bound", "half-moons"): 0.6})

    def chance(strength, leak):
        brought = 1.0 - (1.0 - leak) * (1.0 - strength)
        return brought / (brought + leak)

    def off(share, word):
        odds = share / (1.0 - share) * np.exp(word * A_WORD)
        return odds / (1.0 + odds)

    # Nothing beyond both a whole word off, and well past half a word.
    low, high = odds_within(infer(which, {"half-moons": True}))["bound"]
    assert chance(off(0.6, -1.0), off(0.1, 1.0)) <= low < chance(off(0.6, -0.3), off(0.1, 0.5))
    assert chance(off(0.6, 0.3), off(0.1, -0.5)) < high <= chance(off(0.6, 1.0), off(0.1, -1.0))


def numbers_of(which):
    """Every leak and strength of a graph, in its order."""
    yield from which.leaks.values()
    yield from (link.strength for link in which.links)
    for state in which.states:
        yield state.leak
        yield from state.shows.values()


def test_every_number_is_off_by_itself_and_by_no_more_than_a_word():
    other = a_word_off(WHOLE, np.random.default_rng(4))
    before, after = (np.array([*numbers_of(each)]) for each in (WHOLE, other))
    step = np.log(after / (1.0 - after)) - np.log(before / (1.0 - before))
    assert len(before) > 300
    assert np.all(np.abs(step) <= A_WORD + 1e-12)
    assert len(np.unique(np.round(step, 9))) == len(step)
    assert np.min(step) < -0.95 * A_WORD
    assert np.max(step) > 0.95 * A_WORD
    # What is never there for nothing stays so: a word off from never is no word.
    sure = a_word_off(graph({"bound": 0.5}, {"flakes": 0.0}, {}), np.random.default_rng(4))
    assert [*numbers_of(sure)] == [0.0]


def test_causes_that_were_taken_out_and_sets_that_were_asked_for_stay():
    found = infer(WHOLE, SEEN, {"bound": 0.0}, most=2)
    within = odds_within(found)
    assert within["bound"] == (0.0, 0.0)
    assert within["hop"][1] > 0.0
