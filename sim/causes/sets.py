"""Sets of causes that are at work together, and how likely each makes every sign."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np

from sim.causes.codes import SignCode
from sim.causes.graph import Floats, Graph, GraphError

MOST = 3
"""Causes at once that are thought of. What a fourth would add is told by `Posterior.left_out`."""


@dataclass(frozen=True, eq=False)
class Sets:
    """All sets of a few causes; nothing in it depends on what was seen or on the priors.

    Attributes
    ----------
    members : (sets, causes) 1 where a cause is in a set, the empty set first.
    signs : (no or yes, state off or on, sets, signs) log of the chance of that sign.
    states : (off or on, sets, states) log of the chance of that state.
    """

    graph: Graph
    members: Floats
    signs: Floats
    states: Floats

    @classmethod
    def of(cls, graph: Graph, members: Floats) -> "Sets":
        """Some sets of causes of a graph."""
        state_names = [state.code for state in graph.states]
        state_leaks = np.array([state.leak for state in graph.states])
        states = _chances(graph, members, state_names, np.log1p(-state_leaks))
        leaks = np.log1p(-np.array([*graph.leaks.values()]))
        signs = [
            _chances(graph, members, graph.signs, leaks + on * np.log1p(-graph.shows))
            for on in (0, 1)
        ]
        return cls(graph, members, np.stack(signs, axis=1), states)

    def likelihood(self, evidence: Mapping[SignCode, bool]) -> Floats:
        """(sets,) log of the chance of all that was seen, under each set."""
        straight, by_state = self._gathered(evidence)
        return np.asarray(straight + np.logaddexp(*by_state).sum(axis=-1))

    def states_after(self, evidence: Mapping[SignCode, bool]) -> Floats:
        """(sets, states) chance of each state under each set, once the evidence is known."""
        _, (off, on) = self._gathered(evidence)
        with np.errstate(invalid="ignore"):
            return np.asarray(np.nan_to_num(np.exp(on - np.logaddexp(off, on))))

    def _gathered(self, evidence: Mapping[SignCode, bool]) -> tuple[Floats, Floats]:
        """(sets,) of the signs that no state shows; (2, sets, states) of each state's."""
        graph = self.graph
        straight = np.zeros(len(self.members))
        by_state = self.states.copy()
        for sign, seen in evidence.items():
            if sign not in graph.leaks:
                raise GraphError(f"no sign {sign!r} in this graph")
            at = graph.place[sign]
            state = graph.shown_by[at]
            if state < 0:
                straight += self.signs[int(seen), 0, :, at]
            else:
                by_state[:, :, state] += self.signs[int(seen), :, :, at]
        return straight, by_state


@lru_cache(maxsize=8)
def sets_of(graph: Graph, most: int = MOST) -> Sets:
    """Every set of at most `most` causes of a graph; all of them from as many as it has."""
    n = len(graph.codes)
    chosen = [each for size in range(min(most, n) + 1) for each in combinations(range(n), size)]
    members = np.zeros((len(chosen), n))
    for at, each in enumerate(chosen):
        members[at, list(each)] = 1.0
    return Sets.of(graph, members)


def _chances(
    graph: Graph, members: Floats, targets: tuple[SignCode, ...] | list[str], quiet: Floats
) -> Floats:
    """(not there or there, sets, targets) logs of the chances, by noisy-or.

    quiet : (targets,) log of the chance that neither leak nor state brings it.
    """
    off = quiet + members @ np.log1p(-graph.matrix(targets))
    let = members @ np.log1p(-graph.matrix(targets, prevents=True))
    with np.errstate(divide="ignore"):  # what nothing brings is there with chance 0
        there = np.log(-np.expm1(off)) + let
        return np.stack([np.log1p(-np.exp(there)), there])
