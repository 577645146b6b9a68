"""How likely causes are: hand-worked numbers, the definition itself, and what must always hold."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.causes import GraphError, ImpossibleEvidenceError, State, infer, load_graph
from sim.causes.dense import every_set
from sim.causes.priors import prior_of
from sim.causes.sets import sets_of
from tests.sim.causes.graphs import by_hand, graph, graphs, looked_at, marginals

BOTH = graph(
    {"bound": 0.5, "overload": 0.5},
    {"cross-broken": 0.0, "play": 0.2},
    {("bound", "cross-broken"): 0.8, ("overload", "cross-broken"): 0.5},
)


def chance_of(which, causes, sign):
    """Chance of a sign under a set of causes."""
    sets = sets_of(which, 9)
    wanted = [float(code in causes) for code in which.codes]
    (at,) = np.flatnonzero((sets.members == wanted).all(axis=1))
    return float(np.exp(sets.likelihood({sign: True})[at]))


def test_two_causes_without_a_leak_bring_what_the_textbooks_say():
    # 1 - 0.2 x 0.5 [derivation]
    assert chance_of(BOTH, {"bound", "overload"}, "cross-broken") == pytest.approx(0.9, abs=1e-15)
    assert chance_of(BOTH, {"bound"}, "cross-broken") == pytest.approx(0.8, abs=1e-15)
    assert chance_of(BOTH, set(), "cross-broken") == 0.0


def test_a_hand_worked_pair():
    # P(sign) = 0.25 (0 + 0.8 + 0.5 + 0.9) = 0.55; P(bound, sign) = 0.25 (0.8 + 0.9) [derivation]
    found = infer(BOTH, {"cross-broken": True})
    assert found.odds["bound"] == pytest.approx(0.425 / 0.55, abs=1e-14)
    assert found.odds["overload"] == pytest.approx(0.35 / 0.55, abs=1e-14)
    # Without it: 0.25 (1 + 0.2 + 0.5 + 0.1) = 0.45.
    found = infer(BOTH, {"cross-broken": False})
    assert found.odds["bound"] == pytest.approx(0.075 / 0.45, abs=1e-14)


def test_the_leak_is_counted():
    which = graph({"bound": 0.5}, {"clunk": 0.3}, {("bound", "clunk"): 0.6})
    # With it 1 - 0.7 x 0.4 = 0.72, without it 0.3 [derivation].
    assert infer(which, {"clunk": True}).odds["bound"] == pytest.approx(0.72 / 1.02, abs=1e-14)
    assert infer(which, {"clunk": False}).odds["bound"] == pytest.approx(0.28 / 0.98, abs=1e-14)


def test_what_keeps_a_sign_away_is_counted():
    which = graph(
        {"overload": 0.5}, {"fracture-rippled": 0.4}, {}, {("overload", "fracture-rippled"): 0.75}
    )
    # 0.4 x 0.25 = 0.1 against 0.4 [derivation].
    found = infer(which, {"fracture-rippled": True})
    assert found.odds["overload"] == pytest.approx(0.2, abs=1e-14)


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_it_is_what_the_definition_says(data):
    which = data.draw(graphs())
    evidence = data.draw(looked_at(which))
    found = infer(which, evidence, most=9).odds
    assert {**found} == pytest.approx(by_hand(which, evidence), abs=1e-9)


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_all_sets_at_once_say_the_same(data):
    which = data.draw(graphs(none=True))
    evidence = data.draw(looked_at(which))
    whole = every_set(which, evidence, prior_of(which))
    found = infer(which, evidence, most=9)
    in_order = [found.odds[code] for code in which.codes]
    np.testing.assert_allclose(in_order, marginals(whole), atol=1e-10, rtol=0.0)
    assert found.left_out == pytest.approx(0.0, abs=1e-12)
    few = infer(which, evidence, most=1)
    size = np.indices(whole.shape).sum(axis=0)
    left = whole[size > 1].sum() / whole.sum()
    assert few.left_out == pytest.approx(left, abs=1e-12)


@settings(deadline=None, max_examples=40)
@given(st.data())
def test_nothing_seen_gives_the_priors(data):
    which = data.draw(graphs(none=True))
    found = infer(which, {}, most=9).odds
    for cause in which.causes:
        assert found[cause.code] == pytest.approx(cause.prior.mean, abs=1e-9)


def test_nothing_seen_gives_the_shipped_priors():
    which = load_graph()
    chances = marginals(every_set(which, {}, prior_of(which)))
    means = [cause.prior.mean for cause in which.causes]
    np.testing.assert_allclose(chances, means, atol=1e-12, rtol=0.0)


@settings(deadline=None, max_examples=40)
@given(st.data())
def test_the_order_of_what_was_seen_does_not_matter(data):
    which = data.draw(graphs())
    evidence = data.draw(looked_at(which))
    turned = dict(data.draw(st.permutations(list(evidence.items()))))
    assert {**infer(which, turned).odds} == pytest.approx(
        {**infer(which, evidence).odds}, abs=1e-12
    )


@settings(deadline=None, max_examples=40)
@given(st.data())
def test_a_sign_that_hangs_on_nothing_changes_nothing(data):
    which = data.draw(graphs())
    evidence = data.draw(looked_at(which))
    more = type(which)(
        which.causes, {**which.leaks, "shake-computed": 0.3}, which.links, which.states
    )
    for there in (True, False):
        told = infer(more, {**evidence, "shake-computed": there}).odds
        assert {**told} == pytest.approx({**infer(which, evidence).odds}, abs=1e-12)


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_a_sign_that_only_one_cause_brings_speaks_for_it(data):
    which = data.draw(graphs())
    evidence = data.draw(looked_at(which))
    cause = data.draw(st.sampled_from(which.codes))
    more = graph(
        {each.code: each.prior.mean for each in which.causes},
        {**which.leaks, "shake-computed": 0.2},
        {
            **{(e.cause, e.to): e.strength for e in which.links if not e.prevents},
            (cause, "shake-computed"): 0.7,
        },
        {(e.cause, e.to): e.strength for e in which.links if e.prevents},
        which.states,
    )
    before = infer(more, evidence).odds[cause]
    assert infer(more, {**evidence, "shake-computed": True}).odds[cause] >= before - 1e-12
    assert infer(more, {**evidence, "shake-computed": False}).odds[cause] <= before + 1e-12


def test_causes_alike_are_as_likely():
    which = graph(
        {"bound": 0.2, "overload": 0.1, "hop": 0.2},
        {"came-apart": 0.1, "clunk": 0.2},
        {
            ("bound", "came-apart"): 0.7,
            ("hop", "came-apart"): 0.7,
            ("overload", "clunk"): 0.4,
        },
    )
    found = infer(which, {"came-apart": True, "clunk": False}).odds
    assert found["bound"] == pytest.approx(found["hop"], abs=1e-15)


def test_signs_of_one_state_say_no_more_than_the_state_itself():
    signs = ("rust-dust", "burned", "squeak", "all-caps-dry", "ends-galled", "flakes")
    state = State("dry", 0.1, dict.fromkeys(signs, 0.8))
    which = graph(
        {"no-grease": 0.2}, dict.fromkeys(signs, 0.05), {("no-grease", "dry"): 0.9}, {}, [state]
    )
    loose = graph(
        {"no-grease": 0.2}, dict.fromkeys(signs, 0.15), {("no-grease", s): 0.75 for s in signs}
    )
    pushes = []
    for count in range(1, len(signs) + 1):
        seen = dict.fromkeys(signs[:count], True)
        chance = infer(which, seen).odds["no-grease"]
        pushes.append(np.log(chance / (1.0 - chance)) - np.log(0.2 / 0.8))
    # The state known for certain: 0.91 against 0.1 [derivation].
    whole = np.log((1.0 - 0.9 * 0.1) / 0.1)
    assert np.all(np.diff(pushes) > 0.0)
    assert pushes[-1] < whole
    assert pushes[-1] == pytest.approx(whole, abs=1e-3)
    three = dict.fromkeys(signs[:3], True)
    apart = infer(loose, three).odds["no-grease"]
    assert np.log(apart / (1.0 - apart)) - np.log(0.2 / 0.8) > 2.0 * pushes[2]


def test_a_cause_taken_out_is_not_thought_of():
    which = load_graph()
    evidence = {"ball-broken": True, "rattle": True}
    assert infer(which, evidence).odds["head-past-its-angle"] > 0.4
    without = infer(which, evidence, {"head-past-its-angle": 0.0})
    assert without.odds["head-past-its-angle"] == 0.0
    assert sum(without.odds.values()) > 0.9


def test_a_prior_that_is_said_stands():
    which = load_graph()
    chances = marginals(every_set(which, {}, prior_of(which, {"bound": 0.5})))
    assert chances[which.codes.index("bound")] == pytest.approx(0.5, abs=1e-12)
    assert chances[which.codes.index("hop")] == pytest.approx(0.05, abs=1e-12)


def test_what_cannot_be_is_said():
    with pytest.raises(ImpossibleEvidenceError, match="cross-broken"):
        infer(BOTH, {"cross-broken": True}, {"bound": 0.0, "overload": 0.0})
    with pytest.raises(GraphError, match="no sign 'flakes'"):
        infer(BOTH, {"flakes": True})
    with pytest.raises(GraphError, match="no cause 'hop'"):
        infer(BOTH, {}, {"hop": 0.1})
    with pytest.raises(GraphError, match="from 0 to under 1"):
        infer(BOTH, {}, {"bound": 1.0})
