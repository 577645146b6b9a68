"""From a symptom to what it most likely is, and what would mend it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sim.assessment import Assessor
from sim.balance import Balance
from sim.progress import Progress, silent
from sim.rig import Rig
from sim.vibration.case import Case
from sim.vibration.evidence import Reason, reasons
from sim.vibration.mending import Mend, mends
from sim.vibration.suspect import Prediction, Suspect, SuspectCode
from sim.vibration.suspects import SUSPECTS
from sim.vibration.symptom import Symptom
from sim.vibration.tubes import Tube, stouter

LIKELY = 3
"""Points from which a suspect is likely, unless another has far more."""

AS_LIKELY = 1
"""Points by which two are as likely."""


@dataclass(frozen=True, eq=False)
class Suspected:
    """A suspect, and how it stands.

    Attributes
    ----------
    frequencies : Hz, of each of its orders.
    """

    suspect: Suspect
    frequencies: tuple[float, ...]
    foretold: Prediction
    reasons: tuple[Reason, ...]

    @property
    def code(self) -> SuspectCode:
        """Its name."""
        return self.suspect.code

    @property
    def points(self) -> int:
        """All that speaks for it less all that speaks against it."""
        return sum(reason.points for reason in self.reasons)


@dataclass(frozen=True, eq=False)
class Vibration:
    """What a shake most likely is.

    Attributes
    ----------
    case : the rig and the symptom.
    suspected : the likeliest first.
    mends : cures of the joints' shake, where it is likely or foretold.
    tube : a stouter tube, where it whirls.
    balances : what balancing may leave of each piece at that speed, by its name.
    """

    case: Case
    suspected: tuple[Suspected, ...]
    mends: tuple[Mend, ...]
    tube: Tube | None
    balances: tuple[tuple[str, Balance], ...]

    @property
    def as_likely(self) -> tuple[Suspected, ...]:
        """The first, and those that are as likely."""
        most = max(each.points for each in self.suspected)
        return tuple(each for each in self.suspected if each.points >= most - AS_LIKELY)

    def of(self, code: SuspectCode) -> Suspected | None:
        """A suspect by its name; None where it does not come in."""
        return next((each for each in self.suspected if each.code == code), None)


def find_vibration(rig: Rig, symptom: Symptom, progress: Progress | None = None) -> Vibration:
    """Weigh every suspect, and try what would mend the joints.

    Raises
    ------
    SymptomError : for a speed at which no driveshaft turns.
    BindpointError : for a rig that cannot be assessed.
    """
    tell = progress or silent
    case = Case(rig, symptom, Assessor())
    _ = case.turns  # refused before anything is built
    tell("sweeping the travel", 0.1)
    _ = case.found
    tell("weighing what it may be", 0.5)
    suspected = _ranked(list(_suspected(case)))
    tell("trying what would mend it", 0.6)
    return Vibration(
        case=case,
        suspected=suspected,
        mends=mends(case) if _asks(suspected, "joint-angles", "wind-up", "carrier") else (),
        tube=stouter(case) if _asks(suspected, "whirl") else None,
        balances=case.balances,
    )


def _ranked(found: Sequence[Suspected]) -> tuple[Suspected, ...]:
    """The likeliest first; of those that are as likely the one that is cheapest to look at."""
    most = max(each.points for each in found)
    return tuple(sorted(found, key=lambda each: -min(each.points, most - AS_LIKELY)))


def _suspected(case: Case) -> Iterator[Suspected]:
    for suspect in SUSPECTS:
        if suspect.comes_in(case):
            foretold = suspect.predicted(case)
            told = reasons(suspect, case, foretold)
            yield Suspected(suspect, suspect.frequencies(case), foretold, told)


def _asks(suspected: tuple[Suspected, ...], *codes: SuspectCode) -> bool:
    """Whether one of these is likely, or foretold."""
    return any(
        each.code in codes and (each.points >= LIKELY or each.foretold.says in ("yes", "near"))
        for each in suspected
    )
