"""Invented graphs of causes and signs for tests, and the plainest way to weigh them."""

from itertools import combinations, product

import numpy as np
from hypothesis import strategies as st

from sim.causes import Beta, Cause, Graph, Link, State, load_graph

CAUSES = load_graph().codes
SIGNS = load_graph().signs


def graph(priors, leaks, brings, prevents=(), states=(), none=None):
    """A graph of priors by cause, leaks by sign, and links (cause, to) -> strength."""
    causes = tuple(Cause(code, Beta(10.0 * p, 10.0 * (1.0 - p)), 0.5) for code, p in priors.items())
    links = [Link(*ends, strength, "invented") for ends, strength in dict(brings).items()]
    links += [Link(*ends, strength, "invented", True) for ends, strength in dict(prevents).items()]
    return Graph(causes, dict(leaks), tuple(links), tuple(states), none)


shares = st.floats(0.01, 0.97).map(lambda share: round(share, 3))


@st.composite
def graphs(draw, most_causes=5, most_signs=5, none=False):
    """A graph with links of both kinds, with and without states."""
    causes = CAUSES[: draw(st.integers(1, most_causes))]
    signs = SIGNS[: draw(st.integers(1, most_signs))]
    states = []
    free = list(signs)
    for code in ("one-state", "other-state")[: draw(st.integers(0, 2))]:
        shown = [sign for sign in free if draw(st.booleans())]
        free = [sign for sign in free if sign not in shown]
        states.append(State(code, draw(shares), {sign: draw(shares) for sign in shown}))
    targets = [*signs, *(state.code for state in states)]
    brings, prevents = (
        {ends: draw(shares) for ends in product(causes, targets) if draw(st.integers(0, 9)) < often}
        for often in (6, 2)
    )
    priors = {cause: draw(st.floats(0.02, 0.6)) for cause in causes}
    rest = None
    if none and sum(priors.values()) > 1.0:
        rest = draw(st.floats(0.01, 0.2))
    return graph(priors, {sign: draw(shares) for sign in signs}, brings, prevents, states, rest)


@st.composite
def looked_at(draw, which):
    """What was seen of the signs of a graph."""
    answers = st.sampled_from([None, True, False])
    found = {sign: draw(answers) for sign in which.signs}
    return {sign: there for sign, there in found.items() if there is not None}


def in_words(which, evidence, causes):
    """Chance of the evidence under a set of causes, from the definition and nothing else."""

    def there(code, leak, more=1.0):
        off, let = (1.0 - leak) * more, 1.0
        for link in which.links:
            if link.to == code and link.cause in causes:
                if link.prevents:
                    let *= 1.0 - link.strength
                else:
                    off *= 1.0 - link.strength
        return (1.0 - off) * let

    total = 0.0
    for on in product([False, True], repeat=len(which.states)):
        chance = 1.0
        more = dict.fromkeys(which.signs, 1.0)
        for state, is_on in zip(which.states, on, strict=True):
            share = there(state.code, state.leak)
            chance *= share if is_on else 1.0 - share
            for sign, strength in state.shows.items():
                more[sign] = 1.0 - strength if is_on else 1.0
        for sign, seen in evidence.items():
            share = there(sign, which.leaks[sign], more[sign])
            chance *= share if seen else 1.0 - share
        total += chance
    return total


def every_set_of(which):
    """All sets of causes of a graph."""
    codes = which.codes
    return [set(each) for size in range(len(codes) + 1) for each in combinations(codes, size)]


def by_hand(which, evidence):
    """Chance of each cause, summed over all sets one after the other; causes independent."""
    priors = {cause.code: cause.prior.mean for cause in which.causes}
    sets = every_set_of(which)
    weights = np.array(
        [
            in_words(which, evidence, each)
            * np.prod([p if code in each else 1.0 - p for code, p in priors.items()])
            for each in sets
        ]
    )
    total = weights.sum()
    return {
        code: float(sum(w for w, each in zip(weights, sets, strict=True) if code in each) / total)
        for code in which.codes
    }


def marginals(whole):
    """(causes,) chance of each cause, of the chances of every set."""
    total = whole.sum()
    return np.array([whole.take(1, axis).sum() / total for axis in range(whole.ndim)])
