"""The graph: what each cause brings, keeps away and how often, as data and as arrays."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from geometry.errors import BindpointError
from sim.causes.codes import CauseCode, SignCode

Floats = NDArray[np.float64]


class GraphError(BindpointError, ValueError):
    """A graph whose numbers are no probabilities, or that names what it does not have."""


@dataclass(frozen=True)
class Beta:
    """What is held of a share before anything is seen: `yes` and `no` count like cases."""

    yes: float
    no: float

    def __post_init__(self) -> None:
        if not (0.0 < self.yes < np.inf and 0.0 < self.no < np.inf):
            raise GraphError(f"prior: got {self.yes} and {self.no}, expected two numbers above 0")

    @property
    def mean(self) -> float:
        """The share to expect, yes / (yes + no) [derivation]."""
        return self.yes / (self.yes + self.no)

    def after(self, found: float, of: float) -> "Beta":
        """The same once `found` of `of` cases turned out to be it."""
        return Beta(self.yes + found, self.no + of - found)


@dataclass(frozen=True)
class Cause:
    """A cause by itself.

    Attributes
    ----------
    prior : how many of the joints that are brought in have it, among other causes or alone.
    broke : of the joints that it ends, the share that breaks rather than wears first.
    """

    code: CauseCode
    prior: Beta
    broke: float


@dataclass(frozen=True)
class State:
    """A state of the joint that several signs show at once, such as a cap that ran dry.

    Signs of one state are nearly one observation. Seen three times over it is still one state, so
    they say no more together than the state itself would: that is what it is for.

    Attributes
    ----------
    leak : how often it is there for no cause of the graph.
    shows : sign -> how often the state by itself brings it.
    """

    code: str
    leak: float
    shows: Mapping[SignCode, float]


@dataclass(frozen=True)
class Link:
    """From a cause to a sign or a state.

    Attributes
    ----------
    to : the sign, or the state.
    strength : how often the cause by itself brings it, or keeps it away.
    source : where the strength is from.
    prevents : whether it keeps it away.
    """

    cause: CauseCode
    to: str
    strength: float
    source: str
    prevents: bool = False


@dataclass(frozen=True, eq=False)
class Graph:
    """Causes, states, signs and the links between them; every array in the order of the tuples.

    A sign or a state is there unless its leak and every cause at work fail to bring it, each by
    itself (noisy-or) [PEARL, p. 184], and no cause at work keeps it away [derivation]:

        P(there) = (1 - (1 - leak) prod (1 - strength)) prod (1 - prevented)

    A state counts for the signs that it shows as one more cause does. Raises GraphError.

    Attributes
    ----------
    leaks : sign -> how often it is there for no cause of the graph. They are the signs there are.
    none : the share of joints brought in that failed for none of the causes. Where it is None,
        causes are independent of one another and nothing says that there has to be one.
    """

    causes: tuple[Cause, ...]
    leaks: Mapping[SignCode, float]
    links: tuple[Link, ...]
    states: tuple[State, ...] = ()
    none: float | None = None

    def __post_init__(self) -> None:
        codes = [cause.code for cause in self.causes]
        targets = [*(state.code for state in self.states), *self.leaks]
        shown = [sign for state in self.states for sign in state.shows]
        _once("cause", codes)
        _once("state or sign", targets)
        _once("sign that a state shows", shown)
        _once("link", [f"{e.cause} to {e.to}, prevents: {e.prevents}" for e in self.links])
        _known("cause", [each.cause for each in self.links], codes)
        _known("sign or state", [each.to for each in self.links], targets)
        _known("sign", shown, [*self.leaks])
        for cause in self.causes:
            _share(f"{cause.code}, broke", cause.broke)
        for state in self.states:
            _share(f"{state.code}, leak", state.leak)
            for sign, share in state.shows.items():
                _share(f"{state.code}, {sign}", share)
        for sign, leak in self.leaks.items():
            _share(f"{sign}, leak", leak)
        for link in self.links:
            _share(f"{link.cause} to {link.to}", link.strength)
        _share("none", self.none or 0.0)

    @cached_property
    def codes(self) -> tuple[CauseCode, ...]:
        """Of the causes."""
        return tuple(cause.code for cause in self.causes)

    @cached_property
    def signs(self) -> tuple[SignCode, ...]:
        """All that can be seen, measured, told or computed."""
        return tuple(self.leaks)

    @cached_property
    def place(self) -> Mapping[str, int]:
        """Of each sign in the tuple."""
        return {sign: at for at, sign in enumerate(self.signs)}

    @cached_property
    def shown_by(self) -> NDArray[np.intp]:
        """(signs,) which state shows a sign; -1 for none."""
        of = {sign: at for at, state in enumerate(self.states) for sign in state.shows}
        return np.array([of.get(sign, -1) for sign in self.signs], dtype=np.intp)

    @cached_property
    def shows(self) -> Floats:
        """(signs,) how often its state brings a sign; 0 where no state shows it."""
        of = {sign: share for state in self.states for sign, share in state.shows.items()}
        return np.array([of.get(sign, 0.0) for sign in self.signs])

    def matrix(self, targets: Sequence[str], prevents: bool = False) -> Floats:
        """(causes, targets) strengths of the links that bring, or prevent, signs or states."""
        found = np.zeros((len(self.codes), len(targets)))
        column = {code: at for at, code in enumerate(targets)}
        row = {code: at for at, code in enumerate(self.codes)}
        for link in self.links:
            if link.prevents == prevents and link.to in column:
                found[row[link.cause], column[link.to]] = link.strength
        return found

    def of(self, cause: CauseCode) -> Cause:
        """All that is known of one cause by itself."""
        return self.causes[self.codes.index(cause)]

    def background(self, sign: SignCode) -> float:
        """How often a sign is there for no cause of the graph, straight or by its state."""
        by_state = [s.leak * s.shows[sign] for s in self.states if sign in s.shows]
        return 1.0 - (1.0 - self.leaks[sign]) * (1.0 - sum(by_state))


def _share(what: str, share: Any) -> None:
    # At 1 a cause could be proved or refuted by one sign, which none is; the logarithm ends there.
    if not 0.0 <= share < 1.0:
        raise GraphError(f"{what}: got {share}, expected from 0 to under 1")


def _once(what: str, codes: Sequence[str]) -> None:
    for code in codes:
        if codes.count(code) > 1:
            raise GraphError(f"{what} {code!r}: got it twice, expected each once")


def _known(what: str, codes: Sequence[str], legal: Sequence[str]) -> None:
    for code in codes:
        if code not in legal:
            raise GraphError(f"no {what} {code!r}; there are: {', '.join(legal)}")
