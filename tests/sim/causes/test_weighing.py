"""What speaks for and against, what was not looked at and what nothing explains, by enumeration."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sim.causes import NOT_RULED_OUT, State, band, infer, load_graph
from tests.sim.causes.graphs import by_hand, every_set_of, graph, graphs, in_words, looked_at


def log_odds(chance):
    return np.log(chance / (1.0 - chance))


@settings(deadline=None, max_examples=30)
@given(st.data())
def test_a_push_is_what_leaving_the_sign_out_changes(data):
    which = data.draw(graphs(most_causes=4))
    evidence = data.draw(looked_at(which))
    cause = data.draw(st.sampled_from(which.codes))
    found = infer(which, evidence, most=9).weigh(cause)
    assert {push.sign: push.there for push in found} == evidence
    with_all = log_odds(by_hand(which, evidence)[cause])
    for push in found:
        rest = {sign: there for sign, there in evidence.items() if sign != push.sign}
        expected = with_all - log_odds(by_hand(which, rest)[cause])
        assert push.log_odds == pytest.approx(expected, abs=1e-7)
    sizes = [abs(push.log_odds) for push in found]
    assert sizes == sorted(sizes, reverse=True)


def test_pushes_are_of_the_priors_and_the_sets_that_were_asked_for():
    which = load_graph()
    evidence = {"half-moons": True, "at-droop": True}
    found = infer(which, evidence, {"bound": 0.4, "hop": 0.0}, most=2)
    left = infer(which, {"at-droop": True}, {"bound": 0.4, "hop": 0.0}, most=2)
    (push,) = [push for push in found.weigh("bound") if push.sign == "half-moons"]
    expected = log_odds(found.odds["bound"]) - log_odds(left.odds["bound"])
    assert push.log_odds == pytest.approx(expected, abs=1e-12)


def bits(*chances):
    return -sum(p * np.log2(p) for p in chances if p > 0.0)


@settings(deadline=None, max_examples=30)
@given(st.data())
def test_what_was_not_looked_at_is_told_by_what_it_would_tell_of_the_cause(data):
    which = data.draw(graphs(most_causes=4))
    evidence = data.draw(looked_at(which))
    cause = data.draw(st.sampled_from(which.codes))
    posterior = infer(which, evidence, most=9)
    found = dict(posterior.not_looked_at(cause))
    assert set(found) == set(which.signs) - set(evidence)
    assert list(found.values()) == sorted(found.values(), reverse=True)
    before = by_hand(which, evidence)[cause]
    for sign, told in found.items():
        there = posterior.foretold[sign]
        expected = bits(before, 1.0 - before)
        for seen, share in ((True, there), (False, 1.0 - there)):
            after = by_hand(which, {**evidence, sign: seen})[cause]
            expected -= share * bits(after, 1.0 - after)
        assert told == pytest.approx(expected, abs=1e-9)


@settings(deadline=None, max_examples=30)
@given(st.data())
def test_what_is_foretold_is_how_often_it_is_there(data):
    which = data.draw(graphs(most_causes=4))
    evidence = data.draw(looked_at(which))
    priors = {cause.code: cause.prior.mean for cause in which.causes}

    def chance(seen):
        return sum(
            in_words(which, seen, each)
            * np.prod([p if code in each else 1.0 - p for code, p in priors.items()])
            for each in every_set_of(which)
        )

    for sign, there in infer(which, evidence, most=9).foretold.items():
        expected = chance({**evidence, sign: True}) / chance(evidence)
        assert there == pytest.approx(expected, abs=1e-9)


def by_no_cause(which, evidence, sign):
    """Chance that no cause brought a sign, going through every way in which all can have come.

    For each set of causes: what brought each state, a cause or its leak, and what brought the sign,
    a cause, its state or its leak.
    """

    def fails(code, causes):
        return np.prod([1.0 - e.strength for e in which.links
                        if e.to == code and e.cause in causes and not e.prevents])  # fmt: skip

    def let(code, causes):
        return np.prod([1.0 - e.strength for e in which.links
                        if e.to == code and e.cause in causes and e.prevents])  # fmt: skip

    priors = {cause.code: cause.prior.mean for cause in which.causes}
    own = next((state for state in which.states if sign in state.shows), None)
    rest = {each: seen for each, seen in evidence.items() if each != sign}
    total = alone = 0.0
    for causes in every_set_of(which):
        prior = np.prod([p if code in causes else 1.0 - p for code, p in priors.items()])
        others = {each: seen for each, seen in rest.items() if own is None or each not in own.shows}
        prior *= in_words(which, others, causes)
        ways = product([False, True], repeat=2) if own else [(False, False)]
        for caused, leaked in ways:
            weight, on = prior, False
            if own:
                weight *= (1.0 - fails(own.code, causes)) if caused else fails(own.code, causes)
                weight *= own.leak if leaked else 1.0 - own.leak
                stays = let(own.code, causes) if caused or leaked else 0.0
            for on, kept in ((True, stays), (False, 1.0 - stays)) if own else ((False, 1.0),):
                here = weight * kept
                for each, seen in rest.items():
                    if own and each in own.shows:
                        off = (1.0 - which.leaks[each]) * fails(each, causes)
                        off *= 1.0 - own.shows[each] if on else 1.0
                        there = (1.0 - off) * let(each, causes)
                        here *= there if seen else 1.0 - there
                shown = own.shows[sign] if own and on else 0.0
                for by_cause, by_state, by_leak in product([False, True], repeat=3):
                    if not (by_cause or by_state or by_leak):
                        continue
                    share = (1.0 - fails(sign, causes)) if by_cause else fails(sign, causes)
                    share *= shown if by_state else 1.0 - shown
                    share *= which.leaks[sign] if by_leak else 1.0 - which.leaks[sign]
                    share *= let(sign, causes) * here
                    total += share
                    if not by_cause and not (by_state and caused):
                        alone += share
    return alone / total


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_a_sign_is_unexplained_as_often_as_no_cause_brought_it(data):
    which = data.draw(graphs(most_causes=3, most_signs=4))
    evidence = data.draw(looked_at(which))
    there = [sign for sign, seen in evidence.items() if seen]
    assume(there)
    posterior = infer(which, evidence, most=9)
    told = dict(posterior.unexplained)
    for sign in there:
        expected = by_no_cause(which, evidence, sign)
        assert posterior.by_itself(sign) == pytest.approx(expected, abs=1e-9)
        assume(abs(expected - 0.5) > 1e-6)
        common = in_words(which, {sign: True}, set())
        assert which.background(sign) == pytest.approx(common, abs=1e-12)
        assume(abs(common - 0.2) > 1e-9)
        if common <= 0.2 and expected > 0.5:
            assert told[sign] == pytest.approx(expected, abs=1e-9)
        else:
            assert sign not in told


def test_what_is_common_needs_no_explaining():
    which = graph({"bound": 0.3}, {"lifted": 0.6, "flakes": 0.05}, {("bound", "flakes"): 0.1})
    found = infer(which, {"lifted": True, "flakes": True})
    assert [sign for sign, _ in found.unexplained] == ["flakes"]


def test_what_is_never_there_for_nothing_is_explained():
    state = State("crooked", 0.0, {"corners-worn": 0.9})
    which = graph(
        {"bad-yoke": 0.3, "bound": 0.2},
        {"corners-worn": 0.0, "half-moons": 0.0},
        {("bad-yoke", "crooked"): 0.9, ("bound", "half-moons"): 0.8},
        {},
        [state],
    )
    found = infer(which, {"corners-worn": True, "half-moons": True})
    assert found.by_itself("corners-worn") == found.by_itself("half-moons") == 0.0
    assert found.odds == {"bad-yoke": 1.0, "bound": 1.0}


def test_what_is_common_by_its_state_needs_none_either():
    """Many a lifted truck runs past the usual bend, and lives."""
    found = infer(load_graph(), {"bend-past-limit": True, "one-cap-dry": True, "burned": True})
    assert found.odds["too-much-bend"] < 0.3
    assert not found.unexplained


def test_a_state_that_is_there_by_itself_explains_nothing():
    state = State("crooked", 0.1, {"corners-worn": 0.9})
    signs, brings = {"corners-worn": 0.02}, {("bad-yoke", "crooked"): 0.9}
    rare = graph({"bad-yoke": 0.001}, signs, brings, {}, [state])
    ((sign, chance),) = infer(rare, {"corners-worn": True}).unexplained
    assert sign == "corners-worn"
    assert chance > 0.95
    usual = graph({"bad-yoke": 0.5}, signs, brings, {}, [state])
    assert not infer(usual, {"corners-worn": True}).unexplained


def test_bands_and_what_is_not_ruled_out():
    chances = (0.0, 0.049, 0.05, 0.19, 0.2, 0.54, 0.55, 0.84, 0.85, 1.0)
    assert [band(chance) for chance in chances] == [
        *["hardly"] * 2,
        *["unlikely"] * 2,
        *["possible"] * 2,
        *["likely"] * 2,
        *["very-likely"] * 2,
    ]
    found = infer(load_graph(), {"came-apart": True, "half-moons": True})
    kept = found.not_ruled_out()
    assert kept == tuple(code for code, chance in found.odds.items() if chance >= NOT_RULED_OUT)
    assert 0 < len(kept) < 20
    assert found.not_ruled_out(0.0) == tuple(found.odds)
    assert list(found.odds.values()) == sorted(found.odds.values(), reverse=True)


def test_pairs_are_told_once_and_add_up():
    which = load_graph()
    found = infer(which, {"half-moons": True, "one-cap-dry": True}, most=2)
    assert len(found.together) == 190
    assert all(first != second for first, second, _ in found.together)
    by_size = found.sets.members.sum(axis=1)
    pairs = sum(chance for _, _, chance in found.together)
    assert pairs == pytest.approx(found.weights[by_size == 2].sum(), abs=1e-12)
    whole = dict(found.likeliest(2000))
    assert sum(whole.values()) == pytest.approx(1.0, abs=1e-12)
    assert whole[frozenset()] == pytest.approx(found.none_of_them, abs=1e-15)


def test_the_story_is_made_of_the_causes_at_work():
    which = graph(
        {"bound": 0.5, "no-grease": 0.5},
        {"came-apart": 0.5, "half-moons": 0.1},
        {("bound", "half-moons"): 0.8},
    )
    # Sets: none, either, both, a quarter each; all break with one half here [derivation].
    assert infer(which, {}).story["broke"] == pytest.approx(0.25, abs=1e-12)
    assert infer(which, {"came-apart": True}).story["broke"] == pytest.approx(0.5, abs=1e-12)
    assert infer(which, {"came-apart": False}).story["broke"] == 0.0
    bound, dry = which.causes
    causes = (replace(bound, broke=0.9), replace(dry, broke=0.1))
    other = replace(which, causes=causes)
    # 0.25 (0.5 + 0.9 + 0.1 + 0.5) [derivation].
    assert infer(other, {"came-apart": True}).story["broke"] == pytest.approx(0.5, abs=1e-12)
    seen = infer(other, {"came-apart": True, "half-moons": True})
    # Weights 0.1, 0.82, 0.1, 0.82 of none, bound, dry and both [derivation].
    broke = (0.1 * 0.5 + 0.82 * 0.9 + 0.1 * 0.1 + 0.82 * 0.5) / 1.84
    assert seen.story["broke"] == pytest.approx(broke, abs=1e-12)
    assert seen.told == "broke"
    assert sum(seen.story.values()) == pytest.approx(1.0, abs=1e-15)
