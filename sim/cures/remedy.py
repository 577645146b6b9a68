"""What can be done about a shaft that binds: each remedy is a change of the rig by a dose."""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from sim.cures.outcome import Outcome
from sim.rig import Rig

Changes = Literal["travel", "slip", "joints", "output", "line"]
"""travel: takes some away. slip: what is left in it. joints: their parts. output: its place.
line: anything else of where the shaft runs."""


@dataclass(frozen=True)
class Dose:
    """How much of a remedy.

    Attributes
    ----------
    size : mm, rad or a count, by the remedy; more is more trouble.
    way : which of its directions or places, where it has several.
    """

    size: float
    way: str = ""


@dataclass(frozen=True)
class Case:
    """A remedy at a dose in a rig.

    Attributes
    ----------
    rig, before : as it came, and what it comes to.
    cured, after : with the remedy, and what that comes to.
    """

    rig: Rig
    dose: Dose
    cured: Rig
    before: Outcome
    after: Outcome


LITTLE_ELSE = "little else"
"""What a remedy costs that costs nothing worth telling."""


class Remedy(ABC):
    """One remedy.

    Class attributes
    ----------------
    code : its name in JSON and in the weights' file.
    changes : what of the vehicle it changes.
    never_with : codes of remedies that make no sense together with it.
    for_joints : whether it is for the joints' sake alone: nobody does it for a slip that is short.
    series : what a shop would try, where that does not depend on the rig.
    side_effects : what else it does, where that does not depend on the case.
    """

    code: ClassVar[str]
    changes: ClassVar[frozenset[Changes]]
    never_with: ClassVar[frozenset[str]] = frozenset()
    for_joints: ClassVar[bool] = False
    series: ClassVar[Sequence[Sequence[Dose]]] = ()
    side_effects: ClassVar[str] = ""

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:  # noqa: ARG002  see `series`
        """What a shop would try, each series from little to much; empty where it makes no sense."""
        return self.series

    @abstractmethod
    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The rig with the remedy in it. Raises BindpointError where that cannot be."""

    @abstractmethod
    def says(self, case: Case) -> str:
        """What to do, in a shop's words."""

    def costs(self, case: Case) -> str:  # noqa: ARG002  the plainest remedies always cost the same
        """What else it does, in a shop's words."""
        return self.side_effects
