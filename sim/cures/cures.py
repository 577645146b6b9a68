"""Every remedy tried on a rig, the smallest dose of each that works, ranked."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from math import inf

from sim.cures.double_cardan import DoubleCardan
from sim.cures.near import short_of_clearance
from sim.cures.outcome import Assessor, Outcome
from sim.cures.output import LongerShaft, OutputDrop
from sim.cures.pairs import cheapest_pairs
from sim.cures.pinion import PinionTurn
from sim.cures.ranking import Weights, weights
from sim.cures.remedy import Remedy
from sim.cures.search import smallest
from sim.cures.slip import LongerSlip, ResetSlip
from sim.cures.slip_in_shaft import SlipInShaft
from sim.cures.travel import BumpStops, LimitStraps
from sim.cures.trial import Bench, Goal, Trial, benches
from sim.cures.two_piece import TwoPiece
from sim.cures.wrap import AntiWrapBar
from sim.cures.yokes import DeepThroat, OtherSize
from sim.findings import Verdict
from sim.rig import Rig
from sim.surroundings import SurroundingGap

REMEDIES: tuple[Remedy, ...] = (
    LimitStraps(),
    BumpStops(),
    ResetSlip(),
    PinionTurn(),
    OutputDrop(),
    AntiWrapBar(),
    LongerShaft(),
    DoubleCardan(),
    DeepThroat(),
    OtherSize(),
    LongerSlip(),
    SlipInShaft(),
    TwoPiece(),
)

WITHIN_READINGS: tuple[Remedy, ...] = (LimitStraps(), BumpStops())
"""What is tried where nothing is wrong but that the travel goes beyond what was read."""

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Cure:
    """Something that can be done, alone or with a second remedy.

    Attributes
    ----------
    trials : one, or two together: the second in the rig that the first left.
    score : cost by the weights; less is offered first.
    works : whether it gets as far as was wanted. Where `after` goes beyond the readings of the
        suspension that rests on the axle going straight on there, and has to be said. Nothing works
        that leaves the shaft hitting something near it.
    near : what the shaft then touches, or comes nearer to than is wanted.
    """

    trials: tuple[Trial, ...]
    score: float
    works: bool
    near: tuple[SurroundingGap, ...] = ()

    @property
    def rig(self) -> Rig:
        """The cured rig."""
        return self.trials[-1].case.cured

    @property
    def before(self) -> Outcome:
        """What the rig came to as it was."""
        return self.trials[0].case.before

    @property
    def after(self) -> Outcome:
        """What it comes to cured."""
        return self.trials[-1].case.after

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of its remedies."""
        return tuple(trial.remedy.code for trial in self.trials)

    @property
    def says(self) -> tuple[str, ...]:
        """What to do, one line for each remedy."""
        return tuple(trial.remedy.says(trial.case) for trial in self.trials)

    @property
    def costs(self) -> tuple[str, ...]:
        """What else it does, one line for each remedy."""
        return tuple(trial.remedy.costs(trial.case) for trial in self.trials)


@dataclass(frozen=True)
class Cures:
    """All that can be done about a rig.

    Attributes
    ----------
    rig, before : what was asked, and what it comes to.
    goal : what was aimed at: "clear" with the reserve wanted, or "close" where nothing gets there.
    cures : those that work first, the cheapest first.
    weights : what they were ranked by.
    tried : codes of the remedies that make sense here.
    useless : codes of those among them that do not help, alone or in a pair.
    near : what the shaft touches as it is, or comes nearer to than is wanted.
    """

    rig: Rig
    before: Outcome
    goal: Verdict
    cures: tuple[Cure, ...]
    weights: Weights
    tried: tuple[str, ...]
    useless: tuple[str, ...]
    near: tuple[SurroundingGap, ...] = ()


def find_cures(
    rig: Rig, ranked_by: Weights | None = None, progress: Progress | None = None
) -> Cures:
    """Try every remedy on a rig.

    Raises BindpointError when the rig itself cannot be assessed.
    """
    tell = progress or _silent
    by, assessor = ranked_by or weights(), Assessor()
    before = assessor.outcome(rig)
    near = short_of_clearance(rig, assessor)
    if before.verdict == "clear":
        return Cures(rig, before, "clear", (), by, (), (), near)
    only_beyond = before.held == "clear"
    on = benches(WITHIN_READINGS if only_beyond else REMEDIES, rig, before, assessor)
    for verdict in _goals(before):
        goal = Goal(verdict, within_readings=only_beyond)
        found = _singles(on, goal, tell)
        cures = [
            Cure((trial,), by.price((trial,)), goal.met(trial.case.after))
            for trial in found.values()
            if trial is not None
        ]
        tell("trying them in pairs", 0.8)
        cheapest = min((cure.score for cure in cures if cure.works), default=inf)
        pairs = cheapest_pairs(on, goal, by, cheapest)
        cures += [Cure(pair, by.price(pair), works=True) for pair in pairs]
        if any(cure.works for cure in cures) or verdict == "close":
            break
    tell("looking at what is near the shaft", 0.95)
    cures = [_looked_around(cure, assessor) for cure in cures]
    ordered = sorted(cures, key=lambda cure: (not cure.works, cure.score, -cure.after.least))
    return Cures(
        rig,
        before,
        verdict,
        tuple(ordered),
        by,
        tuple(found),
        tuple(code for code in found if not any(code in cure.codes for cure in ordered)),
        near,
    )


def _looked_around(cure: Cure, assessor: Assessor) -> Cure:
    """The cure with what is near its shaft."""
    near = short_of_clearance(cure.rig, assessor)
    return replace(cure, near=near, works=cure.works and not any(gap.touches for gap in near))


def _goals(before: Outcome) -> tuple[Verdict, ...]:
    """What to aim at: the reserve wanted, else that nothing touches."""
    return ("clear",) if before.verdict == "close" else ("clear", "close")


def _singles(on: Mapping[str, Bench], goal: Goal, tell: Progress) -> dict[str, Trial | None]:
    """The smallest dose of each remedy that makes sense here; None where it does not help."""
    found: dict[str, Trial | None] = {}
    for number, (code, bench) in enumerate(on.items()):
        tell(f"trying {code.replace('-', ' ')}", 0.8 * number / len(on))
        found[code] = smallest(bench, goal)
    return found


def _silent(_what: str, _share: float) -> None:
    """Nobody wants to know."""


__all__ = ["REMEDIES", "Cure", "Cures", "find_cures"]
