"""How far the odds go where the words for the strengths are off."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from sim.causes.codes import CauseCode, SignCode
from sim.causes.graph import Graph
from sim.causes.inference import Posterior, posterior_of
from sim.causes.sets import Sets

A_WORD: Final = 1.2
"""Step from one word to the next, as a change of log odds: from 0.01 to 0.95 in six steps there are
4.6 + 2.9 of it [derivation]."""

_TIMES: Final = 24
"""Graphs that are tried; of them the middle nine tenths are told."""


def odds_within(posterior: Posterior) -> Mapping[CauseCode, tuple[float, float]]:
    """Cause -> from where to where its chance goes, with every strength and leak up to a word off.

    In nine of ten such graphs, each strength off by itself; the chance itself counts as one, so
    that it lies within. The same at every run. Nobody knows a strength better than to a word, so
    nobody knows the odds better than this.
    """
    rng = np.random.default_rng(1)
    graph = _seen_only(posterior.graph, posterior.evidence)
    members = posterior.sets.members
    tried = [
        posterior_of(Sets.of(a_word_off(graph, rng), members), posterior.evidence, posterior.prior)
        for _ in range(_TIMES)
    ]
    low, high = np.quantile([each.chances for each in tried], (0.05, 0.95), axis=0)
    own = posterior.chances
    return {
        code: (float(min(own[at], low[at])), float(max(own[at], high[at])))
        for at, code in enumerate(graph.codes)
    }


def _seen_only(graph: Graph, evidence: Mapping[SignCode, bool]) -> Graph:
    """What bears on the evidence: its signs, their states, and the links to both."""
    states = tuple(
        replace(state, shows={s: share for s, share in state.shows.items() if s in evidence})
        for state in graph.states
        if not evidence.keys().isdisjoint(state.shows)
    )
    kept = {*evidence, *(state.code for state in states)}
    return replace(
        graph,
        leaks={sign: leak for sign, leak in graph.leaks.items() if sign in evidence},
        links=tuple(link for link in graph.links if link.to in kept),
        states=states,
    )


def a_word_off(graph: Graph, rng: np.random.Generator) -> Graph:
    """The same with every strength and leak up to a word off; what is 0 stays so."""

    def off(share: float) -> float:
        if share == 0.0:
            return 0.0
        odds = share / (1.0 - share) * np.exp(A_WORD * rng.uniform(-1.0, 1.0))
        return float(odds / (1.0 + odds))

    return replace(
        graph,
        leaks={sign: off(leak) for sign, leak in graph.leaks.items()},
        links=tuple(replace(link, strength=off(link.strength)) for link in graph.links),
        states=tuple(
            replace(
                state,
                leak=off(state.leak),
                shows={sign: off(share) for sign, share in state.shows.items()},
            )
            for state in graph.states
        ),
    )
