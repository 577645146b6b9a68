"""Which question is expected to settle most."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sim.causes.bands import NOT_RULED_OUT
from sim.causes.codes import CauseCode, SignCode
from sim.causes.graph import Floats, Graph, GraphError
from sim.causes.inference import infer, signs_after
from sim.causes.sets import MOST, Sets

_MOST_SIGNS: Final = 8
"""Signs of one question whose answers are all gone through, 256 of them. Of a longer one those that
tell most by themselves are taken, and it tells at least so much."""


@dataclass(frozen=True)
class Asked:
    """A question and what its answer is worth.

    Attributes
    ----------
    bits : by how much it is expected to lower the entropy of which of the causes that are not
        ruled out were at work. At least that, where it settles more than a few signs.
    """

    name: str
    bits: float


def next_questions(
    graph: Graph,
    evidence: Mapping[SignCode, bool],
    may_ask: Mapping[str, Collection[SignCode]],
    priors: Mapping[CauseCode, float] | None = None,
    most: int = MOST,
    least: float = NOT_RULED_OUT,
) -> tuple[Asked, ...]:
    """Every question that may be asked, the most telling first; ties as they came.

    may_ask : name of a question -> the signs that its answer settles; those that are known already
        count for nothing.
    least : causes less likely than that are let be: a question that is about them alone is worth
        nothing. Raises as `infer` does.
    """
    for sign in (each for settles in may_ask.values() for each in settles):
        if sign not in graph.leaks:
            raise GraphError(f"no sign {sign!r} in this graph")
    posterior = infer(graph, evidence, priors, most)
    # Sets that are all but impossible add under 1e-12 bits each.
    kept = np.flatnonzero(posterior.weights > 1e-15)
    sets = posterior.sets
    matter = [sets.graph.codes.index(cause) for cause in posterior.not_ruled_out(least)]
    within = _Within.of(posterior.weights[kept], sets.members[kept][:, matter])
    there = signs_after(sets, evidence)[kept]
    on = sets.states_after(evidence)[kept]
    alone = within.told(np.stack([1.0 - there, there], axis=-1))
    found = []
    for name, settles in may_ask.items():
        places = [graph.place[sign] for sign in dict.fromkeys(settles) if sign not in evidence]
        places = sorted(places, key=lambda at: -alone[at])[:_MOST_SIGNS]
        bits = float(within.told(_answers(sets, kept, on, places))) if places else 0.0
        found.append(Asked(name, max(0.0, bits)))
    return tuple(sorted(found, key=lambda asked: -asked.bits))


@dataclass(frozen=True, eq=False)
class _Within:
    """Sets that are alike in the causes that matter, taken together.

    Attributes
    ----------
    weights : (groups,) chance of each.
    order : (sets,) sets, group after group. starts : (groups,) where in it each group begins.
    shares : (sets,) share of each set in its group, in that order.
    """

    weights: Floats
    order: NDArray[np.intp]
    starts: NDArray[np.intp]
    shares: Floats

    @classmethod
    def of(cls, weights: Floats, members: Floats) -> "_Within":
        """Group sets by their members among the causes that matter; members : (sets, those)."""
        name = members @ 2.0 ** np.arange(members.shape[1])
        order = np.argsort(name, kind="stable")
        _, starts, count = np.unique(name[order], return_index=True, return_counts=True)
        whole = np.add.reduceat(weights[order], starts)
        return cls(whole, order, starts, weights[order] / np.repeat(whole, count))

    def told(self, answers: Floats) -> Floats:
        """Bits that an answer tells of the groups; answers : (sets, ..., answers) chances."""
        shared = answers[self.order] * self.shares.reshape(-1, *(1,) * (answers.ndim - 1))
        under = np.add.reduceat(shared, self.starts)
        before = _entropy(np.tensordot(self.weights, under, axes=1))
        return np.asarray(before - np.tensordot(self.weights, _entropy(under), axes=1))


def _entropy(chances: Floats) -> Floats:
    """Bits, over the last axis."""
    return np.asarray(-(chances * np.log2(np.maximum(chances, 1e-300))).sum(axis=-1))


def _answers(sets: Sets, kept: NDArray[np.intp], on: Floats, places: list[int]) -> Floats:
    """(sets, 2 to the number of signs) chance of every answer under each set.

    Signs of one state hang together; those of different states do not, once the set is known.
    """
    whole = np.ones((len(kept), 1))
    shown_by = sets.graph.shown_by
    groups: dict[int, list[int]] = {}
    for at in places:
        groups.setdefault(int(shown_by[at]), []).append(at)
    for state, signs in groups.items():
        off, there = (np.exp(each[:, kept[:, None], signs]) for each in sets.signs.swapaxes(0, 1))
        part = _product(off)
        if state >= 0:
            share = on[:, state, None]
            part = (1.0 - share) * part + share * _product(there)
        whole = (whole[:, :, None] * part[:, None, :]).reshape(len(whole), -1)
    return whole


def _product(chances: Floats) -> Floats:
    """(sets, answers) of signs that are independent; chances : (no or yes, sets, signs)."""
    whole = np.ones((chances.shape[1], 1))
    for both in chances.T:
        whole = (whole[:, :, None] * both[:, None, :]).reshape(len(whole), -1)
    return whole
