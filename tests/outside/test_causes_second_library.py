"""How likely causes are, against exact inference by a general library of Bayesian networks."""

import warnings
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.causes import Graph, infer, load_graph
from sim.causes.priors import prior_of
from tests.sim.causes.graphs import graphs, looked_at

with warnings.catch_warnings():
    # Its wrapper warns from within C while it loads, where a warning made an error ends Python.
    warnings.simplefilter("ignore", DeprecationWarning)
    import pyagrum


def network(which: Graph, evidence) -> pyagrum.LazyPropagation:
    """The same graph with every table written out, only of the signs that were looked at.

    That a joint has a cause is one more node: it failed, surely with a cause, and without one so
    much more seldom that the share of those comes out as it is said.
    """
    net = pyagrum.BayesNet()

    def node(name, parents, chance):
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

    prior = prior_of(which)
    for cause, share in zip(which.codes, prior.shares, strict=True):
        node(cause, [], lambda _, share=share: float(share))
    scale = max(1.0, prior.none)
    node(
        "failed",
        list(which.codes),
        lambda at: (1.0 if any(at.values()) else prior.none) / scale,
    )

    def there(code, leak, shows):
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

    def parents_of(code):
        return list(dict.fromkeys(link.cause for link in which.links if link.to == code))

    for state in which.states:
        node(state.code, parents_of(state.code), there(state.code, state.leak, {}))
    for sign in evidence:
        shows = {s.code: s.shows[sign] for s in which.states if sign in s.shows}
        node(sign, [*parents_of(sign), *shows], there(sign, which.leaks[sign], shows))
    engine = pyagrum.LazyPropagation(net)
    engine.setEvidence({"failed": 1, **{sign: int(seen) for sign, seen in evidence.items()}})
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
