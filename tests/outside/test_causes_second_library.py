"""How likely causes are, against exact inference by a general library of Bayesian networks."""

import warnings
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.causes import Graph, infer, load_graph
from sim.causes.dense import every_set
from sim.causes.priors import prior_of
from tests.sim.causes.graphs import graphs, looked_at, marginals

with warnings.catch_warnings():
    # Its wrapper warns from within C while it loads, where a warning made an error ends Python.
    warnings.simplefilter("ignore", DeprecationWarning)
    import pyagrum


def parents_of(which: Graph, code):
    """Causes that a sign or a state is linked to."""
    return list(dict.fromkeys(link.cause for link in which.links if link.to == code))


def node(net, name, parents, chance):
    """Add a node of yes and no with its table: `chance` of yes, by how its parents are."""
    net.add(pyagrum.LabelizedVariable(name, "", 2))
    for parent in parents:
        net.addArc(parent, name)
    for values in product([0, 1], repeat=len(parents)):
        at = dict(zip(parents, values, strict=True))
        there = chance(at)
        if parents:
            net.cpt(name)[at] = [1.0 - there, there]
        else:
            net.cpt(name).fillWith([1.0 - there, there])


def noisy_or(which: Graph, code, leak, shows):
    """How likely a sign or a state is, by its causes and by the states that show it."""

    def chance(at):
        off, let = 1.0 - leak, 1.0
        for state, strength in shows.items():
            off *= 1.0 - strength * at[state]
        for link in which.links:
            if link.to == code and at[link.cause]:
                if link.prevents:
                    let *= 1.0 - link.strength
                else:
                    off *= 1.0 - link.strength
        return (1.0 - off) * let

    return chance


def network(which: Graph, evidence) -> pyagrum.LazyPropagation:
    """The same graph with every table written out, only of the signs that were looked at.

    That a joint has a cause is one more node: it failed, surely with a cause, and without one so
    much more seldom that the share of those comes out as it is said.
    """
    net = pyagrum.BayesNet()
    prior = prior_of(which)
    for cause, share in zip(which.codes, prior.shares, strict=True):
        node(net, cause, [], lambda _, share=share: float(share))
    scale = max(1.0, prior.none)
    failed = {}
    if which.none is not None:
        node(
            net,
            "failed",
            list(which.codes),
            lambda at: (1.0 if any(at.values()) else prior.none) / scale,
        )
        failed = {"failed": 1}

    for state in which.states:
        if not evidence.keys().isdisjoint(state.shows):
            parents = parents_of(which, state.code)
            node(net, state.code, parents, noisy_or(which, state.code, state.leak, {}))
    for sign in evidence:
        shows = {s.code: s.shows[sign] for s in which.states if sign in s.shows}
        parents = [*parents_of(which, sign), *shows]
        node(net, sign, parents, noisy_or(which, sign, which.leaks[sign], shows))
    engine = pyagrum.LazyPropagation(net)
    engine.setEvidence({**failed, **{sign: int(seen) for sign, seen in evidence.items()}})
    engine.makeInference()
    return engine


@settings(deadline=None, max_examples=80)
@given(st.data())
def test_random_graphs(data):
    which = data.draw(graphs(most_causes=6, most_signs=6, none=True))
    evidence = data.draw(looked_at(which))
    engine = network(which, evidence)
    found = infer(which, evidence, most=9)
    for cause, chance in found.odds.items():
        assert chance == pytest.approx(float(engine.posterior(cause)[1]), abs=1e-9)


def restricted(causes, signs) -> Graph:
    """The shipped graph with only some of its causes and signs, so that every set is thought of."""
    whole = load_graph()
    kept = {*signs, *(state.code for state in whole.states)}
    return Graph(
        tuple(cause for cause in whole.causes if cause.code in causes),
        {sign: leak for sign, leak in whole.leaks.items() if sign in signs},
        tuple(link for link in whole.links if link.cause in causes and link.to in kept),
        tuple(
            type(state)(
                state.code,
                state.leak,
                {sign: share for sign, share in state.shows.items() if sign in signs},
            )
            for state in whole.states
        ),
    )


@settings(deadline=None, max_examples=25)
@given(st.data())
def test_the_shipped_graph_a_part_at_a_time(data):
    whole = load_graph()
    causes = data.draw(st.sets(st.sampled_from(whole.codes), min_size=2, max_size=8))
    signs = data.draw(st.sets(st.sampled_from(whole.signs), min_size=3, max_size=14))
    which = restricted(causes, signs)
    evidence = {sign: data.draw(st.booleans()) for sign in which.signs}
    engine = network(which, evidence)
    found = infer(which, evidence, most=9)
    for cause, chance in found.odds.items():
        assert chance == pytest.approx(float(engine.posterior(cause)[1]), abs=1e-9)


WHOLE = replace(load_graph(), none=None)
"""All that is shipped, but for the node that every cause leads to, whose table would be too large;
that node is in the tests above."""
SMALL = [
    sign
    for sign in WHOLE.signs
    if len(parents_of(WHOLE, sign)) <= 6
    and all(len(parents_of(WHOLE, s.code)) <= 6 for s in WHOLE.states if sign in s.shows)
]
"""Signs whose tables are small enough to be written out."""


@settings(deadline=None, max_examples=15)
@given(st.data())
def test_the_whole_shipped_graph(data):
    """All 20 causes: every set at once against the library, and a few at once against every set."""
    assert len(SMALL) > 40
    signs = data.draw(st.lists(st.sampled_from(SMALL), min_size=4, max_size=10, unique=True))
    evidence = {sign: data.draw(st.booleans()) for sign in signs}
    engine = network(WHOLE, evidence)
    whole = every_set(WHOLE, evidence, prior_of(WHOLE))
    for cause, chance in zip(WHOLE.codes, marginals(whole), strict=True):
        assert chance == pytest.approx(float(engine.posterior(cause)[1]), abs=1e-9)
    found = infer(WHOLE, evidence)
    at = tuple(found.sets.members.astype(int).T)
    few = whole[at]
    np.testing.assert_allclose(found.weights, few / few.sum(), atol=1e-12, rtol=1e-9)
    assert found.left_out == pytest.approx(1.0 - few.sum() / whole.sum(), abs=1e-12)
