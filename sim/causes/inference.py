"""From what was seen to how likely each cause is, and what speaks for and against it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

import numpy as np

from geometry.errors import BindpointError
from sim.causes.bands import NOT_RULED_OUT
from sim.causes.codes import CauseCode, SignCode
from sim.causes.dense import every_set
from sim.causes.graph import Floats, Graph
from sim.causes.priors import Prior, prior_of
from sim.causes.sets import MOST, Sets, sets_of

Story = Literal["broke", "wore", "open"]

_OPEN: Final = 0.6
"""Under this chance neither story is told as the one: three to two is the least to say it on
(judgement)."""

_REMARKABLE: Final = 0.2
"""A sign that at most one joint in five has for no cause at all asks for one; what is common does
not (judgement)."""


class ImpossibleEvidenceError(BindpointError, ValueError):
    """Signs that the graph cannot bring together, whatever the cause."""


@dataclass(frozen=True)
class Push:
    """What one sign does to one cause.

    Attributes
    ----------
    there : whether the sign was there.
    log_odds : natural logarithm of how many times likelier the cause is with it than without it,
        all else that was seen being as it is; above 0 it speaks for the cause.
    """

    sign: SignCode
    there: bool
    log_odds: float


@dataclass(frozen=True, eq=False)
class Posterior:
    """How likely the causes are, once the evidence is known.

    Attributes
    ----------
    evidence : sign -> whether it was there; what is not in it was not looked at.
    prior : how likely sets were before.
    weights : (sets,) chance of each set of causes.
    """

    sets: Sets
    evidence: Mapping[SignCode, bool]
    prior: Prior
    weights: Floats

    @property
    def graph(self) -> Graph:
        """What it was worked out from."""
        return self.sets.graph

    @cached_property
    def odds(self) -> Mapping[CauseCode, float]:
        """Cause -> chance, 0 to 1, that it was at work, alone or with others; likeliest first."""
        order = np.argsort(-self.chances, kind="stable")
        return {self.graph.codes[at]: float(self.chances[at]) for at in order}

    @cached_property
    def chances(self) -> Floats:
        """(causes,) the same in the graph's order."""
        return np.asarray(self.weights @ self.sets.members)

    @property
    def none_of_them(self) -> float:
        """Chance that no cause of the graph was at work."""
        return float(self.weights[0])

    @cached_property
    def story(self) -> Mapping[Literal["broke", "wore"], float]:
        """Chance that it broke, and that it wore, first or only.

        What did not come apart did not break. What did is told by the causes, each as much as the
        others where several were at work, since what weakens a joint and what ends it both have
        their part; where none of them was, either story is as likely. Where nobody said whether it
        came apart, the causes say that too.
        """
        members = self.sets.members
        broke = members @ np.array([cause.broke for cause in self.graph.causes])
        broke = np.where(members.any(axis=1), broke / np.maximum(members.sum(axis=1), 1.0), 0.5)
        apart = self.evidence.get("came-apart")
        if apart is not None:
            broke = broke * apart
        elif "came-apart" in self.graph.place:
            after = signs_after(self.sets, self.evidence)
            broke = broke * after[:, self.graph.place["came-apart"]]
        chance = float(self.weights @ broke)
        return {"broke": chance, "wore": 1.0 - chance}

    @property
    def told(self) -> Story:
        """Which of the two it is to be called."""
        return next((name for name, chance in self.story.items() if chance >= _OPEN), "open")

    @cached_property
    def together(self) -> tuple[tuple[CauseCode, CauseCode, float], ...]:
        """Every two causes and the chance that both were at work, likeliest first."""
        members = self.sets.members
        both = (members * self.weights[:, None]).T @ members
        first, second = np.triu_indices(len(both), 1)
        order = np.argsort(-both[first, second], kind="stable")
        codes = self.graph.codes
        return tuple(
            (codes[first[at]], codes[second[at]], float(both[first[at], second[at]]))
            for at in order
        )

    def likeliest(self, count: int = 5) -> tuple[tuple[frozenset[CauseCode], float], ...]:
        """The likeliest whole answers: a set of causes and the chance that it was just those."""
        order = np.argsort(-self.weights, kind="stable")[:count]
        codes = np.array(self.graph.codes, dtype=object)
        return tuple(
            (frozenset(codes[self.sets.members[at] > 0.0]), float(self.weights[at])) for at in order
        )

    def weigh(self, cause: CauseCode) -> tuple[Push, ...]:
        """What each sign that was looked at does to a cause, the strongest first."""
        with_all = log_odds(self.odds[cause])
        pushes = [
            Push(sign, there, with_all - log_odds(self._without[sign][cause]))
            for sign, there in self.evidence.items()
        ]
        return tuple(sorted(pushes, key=lambda push: -abs(push.log_odds)))

    @cached_property
    def _without(self) -> Mapping[SignCode, Mapping[CauseCode, float]]:
        """Odds once more, with one sign left out each time."""
        return {
            left: posterior_of(
                self.sets,
                {sign: there for sign, there in self.evidence.items() if sign != left},
                self.prior,
            ).odds
            for left in self.evidence
        }

    @cached_property
    def foretold(self) -> Mapping[SignCode, float]:
        """Sign that was not looked at -> chance that it is there."""
        chances = self.weights @ signs_after(self.sets, self.evidence)
        return {
            sign: float(chance)
            for sign, chance in zip(self.graph.signs, chances, strict=True)
            if sign not in self.evidence
        }

    def not_looked_at(self, cause: CauseCode) -> tuple[tuple[SignCode, float], ...]:
        """Signs still to be looked at, and the bits each is expected to tell of one cause."""
        member = self.sets.members[:, self.graph.codes.index(cause)]
        there = signs_after(self.sets, self.evidence)
        chance = float(self.weights @ member)
        whole = self.weights @ there
        with np.errstate(divide="ignore", invalid="ignore"):
            with_it = np.nan_to_num((self.weights * member) @ there / chance)
            without = np.nan_to_num((self.weights * (1.0 - member)) @ there / (1.0 - chance))
        bits = bits_of(whole) - chance * bits_of(with_it) - (1.0 - chance) * bits_of(without)
        open_signs = [at for at, sign in enumerate(self.graph.signs) if sign not in self.evidence]
        order = sorted(open_signs, key=lambda at: -bits[at])
        return tuple((self.graph.signs[at], max(0.0, float(bits[at]))) for at in order)

    @cached_property
    def unexplained(self) -> tuple[tuple[SignCode, float], ...]:
        """Signs that are there, yet no cause brought them: with the chance of that, over a half."""
        found = []
        for sign, there in self.evidence.items():
            if there and self.graph.background(sign) <= _REMARKABLE:
                chance = self.by_itself(sign)
                if chance > 0.5:
                    found.append((sign, chance))
        return tuple(sorted(found, key=lambda each: -each[1]))

    def by_itself(self, sign: SignCode) -> float:
        """Chance that a sign that is there was brought neither by a cause nor by a caused state."""
        graph, members = self.graph, self.sets.members
        at, leak = graph.place[sign], graph.leaks[sign]
        quiet = members @ np.log1p(-graph.matrix([sign]))[:, 0]
        alone = _by_leak(leak, quiet)
        if (state := graph.shown_by[at]) >= 0:
            # The state may be there by itself too, and then shows the sign for no cause.
            own, shows = graph.states[state], graph.shows[at]
            caused = members @ np.log1p(-graph.matrix([own.code]))[:, 0]
            uncaused = _by_leak(own.leak, caused)
            on_alone = uncaused * _by_leak(1.0 - (1.0 - leak) * (1.0 - shows), quiet)
            on_alone += (1.0 - uncaused) * _by_leak(leak, quiet + np.log1p(-shows))
            on = self.sets.states_after(self.evidence)[:, state]
            alone = (1.0 - on) * alone + on * on_alone
        return float(self.weights @ alone)

    def not_ruled_out(self, least: float = NOT_RULED_OUT) -> tuple[CauseCode, ...]:
        """Every cause that is at least so likely, likeliest first."""
        return tuple(cause for cause, chance in self.odds.items() if chance >= least)

    @cached_property
    def left_out(self) -> float:
        """Chance of the sets that have more causes than were thought of, exactly."""
        whole = every_set(self.graph, self.evidence, self.prior)
        size = np.zeros((), dtype=np.int64)
        for _ in self.graph.codes:
            size = np.stack([size, size + 1], axis=-1)
        most = self.sets.members.sum(axis=1).max()
        return float(whole[size > most].sum() / whole.sum())


def infer(
    graph: Graph,
    evidence: Mapping[SignCode, bool],
    priors: Mapping[CauseCode, float] | None = None,
    most: int = MOST,
) -> Posterior:
    """How likely the causes are once the evidence is known, over all sets of at most `most`.

    `priors` says other chances than the graph's for the causes it names: 0 takes one out. Raises
    GraphError for a sign or cause that the graph does not have and for what is no chance,
    ImpossibleEvidenceError where no set brings the evidence.
    """
    return posterior_of(sets_of(graph, most), evidence, prior_of(graph, priors))


def posterior_of(sets: Sets, evidence: Mapping[SignCode, bool], prior: Prior) -> Posterior:
    """The same of sets and a prior that are there already."""
    weights = prior.weights(sets.members) + sets.likelihood(evidence)
    top = weights.max()
    if not top > -1e299:
        raise ImpossibleEvidenceError(
            "no set of causes brings these signs together: " + ", ".join(evidence)
        )
    shares = np.exp(weights - top)
    return Posterior(sets, dict(evidence), prior, shares / shares.sum())


def _by_leak(leak: float, quiet: Floats) -> Floats:
    """Chance that only a leak brought what is there; quiet : log that nothing else brings it.

    0 where it cannot be there.
    """
    there = -np.expm1(np.log1p(-leak) + quiet)
    return np.asarray(leak * np.exp(quiet) / np.where(there > 0.0, there, 1.0))


def signs_after(sets: Sets, evidence: Mapping[SignCode, bool]) -> Floats:
    """(sets, signs) chance that each sign is there under each set, once the evidence is known.

    For signs that the evidence does not have.
    """
    there = np.exp(sets.signs[1])
    state = sets.graph.shown_by
    if not sets.graph.states:
        return np.asarray(there[0])
    on = np.where(state >= 0, sets.states_after(evidence)[:, state], 0.0)
    return np.asarray((1.0 - on) * there[0] + on * there[1])


def bits_of(chance: Floats) -> Floats:
    """Entropy (bits) of yes and no."""
    inner = np.clip(chance, 1e-300, 1.0)
    other = np.clip(1.0 - chance, 1e-300, 1.0)
    return -(inner * np.log2(inner) + other * np.log2(other))


def log_odds(chance: float) -> float:
    """Of a chance; of one that is as good as sure, of the nearest to it that has any."""
    inside = min(max(chance, 1e-300), 1.0 - 1e-16)
    return float(np.log(inside) - np.log1p(-inside))
