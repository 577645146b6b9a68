"""Every remedy tried on a rig, the smallest dose of each that works, ranked."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sim.cures.double_cardan import DoubleCardan
from sim.cures.outcome import Assessor, Outcome
from sim.cures.output import LongerShaft, OutputDrop
from sim.cures.pinion import PinionTurn
from sim.cures.ranking import Weights, lost_travel, weights
from sim.cures.remedy import Remedy
from sim.cures.search import Pair, Trial, pairs, reaches, smallest
from sim.cures.slip import LongerSlip, ResetSlip
from sim.cures.travel import BumpStops, LimitStraps
from sim.cures.two_piece import TwoPiece
from sim.cures.wrap import AntiWrapBar
from sim.cures.yokes import DeepThroat, OtherSize
from sim.findings import Verdict
from sim.rig import Rig

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
    TwoPiece(),
)

DEAR = 5.0
"""Score. Where no single remedy cures the shaft for less, pairs are tried as well."""

MOST_PAIRED = 5
"""Remedies, the most helpful, that are tried in pairs."""

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Cure:
    """Something that can be done, alone or with a second remedy.

    Attributes
    ----------
    trials : one, or two together: the second in the rig that the first left.
    score : cost by the weights; less is offered first.
    works : whether it gets as far as was wanted.
    """

    trials: tuple[Trial, ...]
    score: float
    works: bool

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
    useless : codes of those among them that do not help.
    """

    rig: Rig
    before: Outcome
    goal: Verdict
    cures: tuple[Cure, ...]
    weights: Weights
    tried: tuple[str, ...]
    useless: tuple[str, ...]


def find_cures(
    rig: Rig, ranked_by: Weights | None = None, progress: Progress | None = None
) -> Cures:
    """Try every remedy on a rig.

    Raises BindpointError when the rig itself cannot be assessed.
    """
    tell = progress or _silent
    by, assessor = ranked_by or weights(), Assessor()
    before = assessor.outcome(rig)
    if before.verdict == "clear":
        return Cures(rig, before, "clear", (), by, (), ())
    for goal in _goals(before):
        found = _all(rig, before, goal, assessor, tell)
        singles = [trial for trial in found.values() if trial is not None]
        cures = [Cure((t,), by.score(t), reaches(t.verdict, goal)) for t in singles]
        short = [trial for trial in singles if not reaches(trial.verdict, goal)]
        if not any(cure.works and cure.score <= DEAR for cure in cures):
            tell("trying them in pairs", 0.8)
            best = sorted(short, key=lambda trial: -trial.case.after.least)[:MOST_PAIRED]
            cures += [_together(pair, by) for pair in pairs(best, goal, assessor)]
        if any(cure.works for cure in cures) or goal == "close":
            break
    ordered = sorted(cures, key=lambda cure: (not cure.works, cure.score, -cure.after.least))
    return Cures(
        rig,
        before,
        goal,
        tuple(ordered),
        by,
        tuple(found),
        tuple(code for code, trial in found.items() if trial is None),
    )


def _goals(before: Outcome) -> tuple[Verdict, ...]:
    """What to aim at: the reserve wanted, else that nothing touches."""
    return ("clear",) if before.verdict == "close" else ("clear", "close")


def _all(
    rig: Rig, before: Outcome, goal: Verdict, assessor: Assessor, tell: Progress
) -> dict[str, Trial | None]:
    """The smallest dose of each remedy that makes sense here; None where it does not help."""
    fitting: Sequence[Remedy] = [each for each in REMEDIES if each.doses(rig)]
    found: dict[str, Trial | None] = {}
    for number, remedy in enumerate(fitting):
        tell(f"trying {remedy.code.replace('-', ' ')}", 0.8 * number / len(fitting))
        found[remedy.code] = smallest(remedy, rig, before, goal, assessor)
    return found


def _together(pair: Pair, by: Weights) -> Cure:
    score = by.score(pair.first) + by.score(pair.second)
    return Cure((pair.first, pair.second), score, works=True)


def _silent(_what: str, _share: float) -> None:
    """Nobody wants to know."""


__all__ = ["REMEDIES", "Cure", "Cures", "find_cures", "lost_travel"]
