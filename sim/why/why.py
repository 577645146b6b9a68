"""Why a joint broke or wore: what was seen and what the rig computes, weighed together."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import log
from typing import Final, cast, get_args

from sim.assessment import Assessor
from sim.causes import (
    CauseCode,
    Graph,
    Posterior,
    SeenCode,
    SignCode,
    Story,
    band,
    infer,
    load_graph,
    next_questions,
    odds_within,
)
from sim.causes.confirmed import Confirmed
from sim.causes.inference import log_odds
from sim.marks import Backward, backward
from sim.progress import Progress, silent
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.typed_joints import typed_joint
from sim.seen import Inspection, demand_joint, signs_of
from sim.seen.doubts import doubts
from sim.seen.evidence import Told, at
from sim.seen.joint import may_strap
from sim.seen.signs import SIGNS
from sim.vehicle import Joint
from sim.why.asked import Asked, ask
from sim.why.case import Case
from sim.why.evidence import Computed, from_the_rig

TELLS: Final = log(1.2)
"""From which on a sign is told as for or against a cause: it makes it a fifth likelier or less
likely by itself (judgement)."""

LITTLE: Final = 0.25
"""Change of a chance up to which what was seen has hardly moved it (judgement)."""

FEW: Final = 2
"""Signs that are there up to which next to nothing was seen (judgement)."""

LEAST: Final = 0.2
"""Chance of the first cause under which nothing can be said of any: one in five (judgement)."""

SEEN: Final[frozenset[SignCode]] = frozenset(get_args(SeenCode))
"""Signs that a person sees, measures or tells."""


@dataclass(frozen=True)
class Speaks:
    """What one sign says of one cause.

    Attributes
    ----------
    there : whether the sign was there.
    alone : log of how many times likelier the sign by itself makes the cause than it was before.
    here : the same beside all else that was seen, which may say it already.
    """

    sign: SignCode
    there: bool
    alone: float
    here: float


@dataclass(frozen=True)
class Weighed:
    """One cause, and all that bears on it.

    Attributes
    ----------
    chance : that it was at work, alone or with others.
    speaks_for, against : signs that were looked at or computed; those that tell most by themselves
        first.
    unseen : signs that nobody looked at and that would tell, with the bits each is expected to
        tell of this cause, most first.
    """

    code: CauseCode
    chance: float
    speaks_for: tuple[Speaks, ...]
    against: tuple[Speaks, ...]
    unseen: tuple[tuple[SeenCode, float], ...]

    @property
    def likely(self) -> bool:
        """Whether it is more likely than not."""
        return band(self.chance) in ("very-likely", "likely")


@dataclass(frozen=True)
class Next:
    """Something to look at next.

    Attributes
    ----------
    bits : by how much it is expected to settle which causes were at work.
    """

    sign: SeenCode
    bits: float


@dataclass(frozen=True, eq=False)
class Why:
    """Why a joint broke or wore.

    Attributes
    ----------
    seen : signs that the inspection tells, there or not there.
    computed : signs that the rig tells.
    asked : what the rig says of what was seen, with its numbers.
    doubts : what is odd of the inspection.
    confirmed : the shop's own settled joints; None where it keeps none.
    posterior : how likely each cause is, once both are known.
    """

    case: Case
    inspection: Inspection
    seen: Mapping[SeenCode, bool]
    computed: tuple[Computed, ...]
    asked: Asked
    doubts: tuple[Remark, ...]
    confirmed: Confirmed | None
    posterior: Posterior

    @property
    def joint(self) -> Joint:
        """Which joint it is."""
        return self.case.joint

    @property
    def story(self) -> Story:
        """Whether it broke or wore first.

        How it is said to have ended stands, unless a cause that is more likely than not tells
        otherwise. What still runs, or what nobody told the end of, is open without such a cause.
        """
        came, told = self.inspection.came, self.posterior.told
        if told != "open" and self.causes[0].likely:
            return told
        return came if came in ("broke", "wore") else "open"

    @cached_property
    def causes(self) -> tuple[Weighed, ...]:
        """Every cause, the likeliest first."""
        return tuple(self._weighed(code) for code in self.posterior.odds)

    @property
    def not_ruled_out(self) -> tuple[Weighed, ...]:
        """Those that are likely enough to be told."""
        kept = self.posterior.not_ruled_out()
        return tuple(each for each in self.causes if each.code in kept)

    @cached_property
    def too_little(self) -> bool:
        """Whether too little was looked at to put any cause first.

        None is likely, and what was seen has hardly moved them from what the rig alone says, or
        moved none of them up.
        """
        first = self.causes[0]
        if first.likely:
            return False
        there = [code for code, is_so in self.seen.items() if is_so and code != "came-apart"]
        evidence: dict[SignCode, bool] = {each.code: each.says for each in self.computed}
        alone = infer(self.posterior.graph, evidence, self._priors).odds
        moved = max(abs(chance - alone[code]) for code, chance in self.posterior.odds.items())
        return first.chance < LEAST or (moved < LITTLE and len(there) <= FEW)

    @cached_property
    def unexplained(self) -> tuple[SignCode, ...]:
        """Signs that are there and that nothing brought, nor stand for a cause that is not out."""
        told = {each.sign for cause in self.not_ruled_out for each in cause.speaks_for}
        return tuple(sign for sign, _ in self.posterior.unexplained if sign not in told)

    @property
    def out_of_reach(self) -> bool:
        """Whether the yokes clear each other all over the travel as typed, and not barely."""
        says = {each.code: each.says for each in self.computed}
        return says.get("touches-in-reach") is False and not says.get("nearly-touches")

    @property
    def too_small(self) -> bool:
        """Whether the joint is too small by the numbers: no accident is needed to pass it."""
        found = self.computed_of("steady-pull-past")
        return found is not None and found.says

    @property
    def right_size(self) -> bool:
        """Whether the joint holds the hardest pull at the bend it failed at, by the numbers."""
        found = self.asked.overload
        return found.peak is not None and found.failed.weakest.safety >= 1.0

    @property
    def begun(self) -> tuple[SeenCode, ...]:
        """What a look that was begun leaves open, and is asked before anything else.

        One dry cap tells little until it is known whether it is the only one.
        """
        one: tuple[SeenCode, ...] = ("one-cap-dry", "all-caps-dry")
        return tuple(each for each in one if self.seen.get("a-cap-dry") and self._may_ask(each))

    @cached_property
    def within(self) -> Mapping[CauseCode, tuple[float, float]]:
        """From where to where the chance of each cause goes: nobody knows the odds exactly."""
        return odds_within(self.posterior)

    @cached_property
    def next(self) -> tuple[Next, ...]:
        """What to look at next, the most telling first."""
        signs = [sign for sign in self.posterior.foretold if self._may_ask(sign)]
        asked = next_questions(
            self.posterior.graph,
            self.posterior.evidence,
            {sign: [sign] for sign in signs},
            self._priors,
        )
        found = (Next(cast("SeenCode", each.name), each.bits) for each in asked)
        return tuple(sorted(found, key=lambda each: each.sign not in self.begun))

    @property
    def _priors(self) -> dict[CauseCode, float]:
        """Chances before anything is seen where they are others than the trade's."""
        return priors_of(self.case, self.confirmed)

    @cached_property
    def made(self) -> tuple[Backward, ...]:
        """What made each mark that was seen, in their order: bends, turns and poses.

        Asked only where it is told, since each takes a part of a second.
        """
        if self.asked.lie is None:
            return ()
        found, joint = self.case.found, self.joint
        return tuple(backward(found, joint, each.mark) for each in self.asked.lie.marks)

    def computed_of(self, code: SignCode) -> Computed | None:
        """What the rig says of a sign; None where it cannot tell, or a person has to."""
        return next((each for each in self.computed if each.code == code), None)

    def _may_ask(self, sign: SignCode) -> bool:
        """Whether somebody can still look: what was answered and leaves it open is not asked again.

        Of what somebody tells as it comes to mind the one thing itself can be asked for.
        """
        if sign not in SEEN:
            return False
        rule = SIGNS[cast("SeenCode", sign)]
        return isinstance(rule, Told) or any(
            at(self.inspection, path) is None for path in rule.reads
        )

    def _weighed(self, code: CauseCode) -> Weighed:
        graph, priors = self.posterior.graph, tuple(self._priors.items())
        speaks = [
            Speaks(
                push.sign,
                push.there,
                _alone(graph, push.sign, push.there, priors)[code],
                push.log_odds,
            )
            for push in self.posterior.weigh(code)
        ]
        unseen = [
            (cast("SeenCode", sign), bits)
            for sign, bits in self.posterior.not_looked_at(code)
            if bits > 0.0 and self._may_ask(sign)
        ]
        return Weighed(
            code,
            self.posterior.odds[code],
            tuple(sorted((s for s in speaks if _tells(s, 1.0)), key=lambda s: -s.alone)),
            tuple(sorted((s for s in speaks if _tells(s, -1.0)), key=lambda s: s.alone)),
            tuple(unseen),
        )


def _tells(says: Speaks, way: float) -> bool:
    """Whether a sign speaks one way by itself, and not the other way beside the rest."""
    return way * says.alone >= TELLS and way * says.here > -TELLS


@lru_cache(maxsize=1024)
def _alone(
    graph: Graph, sign: SignCode, there: bool, priors: tuple[tuple[CauseCode, float], ...]
) -> Mapping[CauseCode, float]:
    """Log of how many times likelier one sign by itself makes each cause."""
    before, after = (infer(graph, evidence, dict(priors)).odds for evidence in ({}, {sign: there}))
    return {code: log_odds(after[code]) - log_odds(before[code]) for code in after}


def why(
    rig: Rig,
    inspection: Inspection,
    confirmed: Confirmed | None = None,
    progress: Progress | None = None,
) -> Why:
    """Weigh every cause of what happened to a joint of a rig.

    confirmed : the shop's own settled joints, which shift the odds.

    Raises
    ------
    NoSuchJointError
        For a joint that the rig does not have.
    BindpointError
        For a rig that cannot be assessed, and readings that no joint can have.
    """
    tell = progress or silent
    demand_joint(inspection, rig)
    tell("sweeping the travel", 0.1)
    case = Case(Assessor().assess(rig), inspection.joint or "pinion")
    return weigh(case, inspection, confirmed, tell)


def weigh(
    case: Case,
    inspection: Inspection,
    confirmed: Confirmed | None = None,
    progress: Progress | None = None,
) -> Why:
    """The same of a rig that was assessed already: quick enough to follow what is ticked."""
    tell = progress or silent
    seen = signs_of(inspection, case.rig)
    tell("asking the rig", 0.3)
    asked = ask(case, inspection)
    computed = (*from_the_rig(case), *asked.signs)
    tell("weighing the causes", 0.9)
    evidence: dict[SignCode, bool] = {each.code: each.says for each in computed}
    posterior = infer(load_graph(), evidence | seen, priors_of(case, confirmed))
    odd = doubts(inspection, case.rig)
    return Why(case, inspection, seen, computed, asked, odd, confirmed, posterior)


def priors_of(case: Case, confirmed: Confirmed | None) -> dict[CauseCode, float]:
    """Chances of causes before anything is seen: the shop's own, and none of what cannot be."""
    own = {} if confirmed is None else confirmed.priors(load_graph())
    return own | dict.fromkeys(impossible(case), 0.0)


def impossible(case: Case) -> tuple[CauseCode, ...]:
    """A head's cause of a single cross, and that of straps where none holds a cap."""
    none: list[CauseCode] = []
    if case.head is None:
        none.append("head-past-its-angle")
        if not may_strap(typed_joint(case.rig, case.joint).yokes.values()):
            none.append("loose-straps")
    return tuple(none)
