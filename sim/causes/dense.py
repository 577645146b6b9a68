"""Every set of causes there is, as one array: slower than a few at a time, and nothing left out."""

from collections.abc import Mapping, Sequence

import numpy as np

from sim.causes.codes import SignCode
from sim.causes.graph import Floats, Graph, GraphError
from sim.causes.priors import Prior

_MOST_CAUSES = 24
"""Two to that power doubles are 128 MB."""


def every_set(graph: Graph, evidence: Mapping[SignCode, bool], prior: Prior) -> Floats:
    """Chance of each set together with the evidence; (2,) times the causes, 1 where it is in.

    Each sign, or state with its signs, is an array over only the causes that it is linked to, and
    spreads over the rest.
    """
    n = len(graph.codes)
    if n > _MOST_CAUSES:
        raise GraphError(f"got {n} causes, expected at most {_MOST_CAUSES} to try every set")
    whole = np.ones((1,) * n)
    for at, share in enumerate(prior.shares):
        whole = whole * _along(n, at, 1.0 - share, share)
    whole[(0,) * n] *= prior.none
    for sign in evidence:
        if graph.shown_by[graph.place[sign]] < 0:
            whole = whole * _sign(graph, sign, evidence[sign], on=False)
    for at, state in enumerate(graph.states):
        seen = [sign for sign in evidence if graph.shown_by[graph.place[sign]] == at]
        if seen:
            there = _noisy_or(graph, state.code, state.leak)
            off, on = 1.0 - there, there
            for sign in seen:
                off = off * _sign(graph, sign, evidence[sign], on=False)
                on = on * _sign(graph, sign, evidence[sign], on=True)
            whole = whole * (off + on)
    return whole


def _sign(graph: Graph, sign: SignCode, seen: bool, on: bool) -> Floats:
    leak, shows = graph.leaks[sign], float(graph.shows[graph.place[sign]])
    there = _noisy_or(graph, sign, 1.0 - (1.0 - leak) * (1.0 - shows) if on else leak)
    return there if seen else 1.0 - there


def _noisy_or(graph: Graph, target: str, leak: float) -> Floats:
    """Chance that a sign or state is there, over the causes that it is linked to."""
    names: Sequence[str] = [target]
    n = len(graph.codes)
    off = np.full((1,) * n, 1.0 - leak)
    let = np.ones((1,) * n)
    for at, (brings, prevents) in enumerate(
        zip(graph.matrix(names)[:, 0], graph.matrix(names, prevents=True)[:, 0], strict=True)
    ):
        if brings > 0.0:
            off = off * _along(n, at, 1.0, 1.0 - brings)
        if prevents > 0.0:
            let = let * _along(n, at, 1.0, 1.0 - prevents)
    return (1.0 - off) * let


def _along(n: int, axis: int, out: float, within: float) -> Floats:
    return np.array([out, within]).reshape([2 if at == axis else 1 for at in range(n)])
