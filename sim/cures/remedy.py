"""What can be done about a shaft that binds: each remedy is a change of the rig by a dose."""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import ClassVar, Literal

from sim.assessment import Assessment
from sim.cures.effects import Effect
from sim.findings import Verdict
from sim.remark import Remark
from sim.rig import Rig

RemedyCode = Literal[
    "limit-straps",
    "bump-stops",
    "reset-slip",
    "pinion-turn",
    "output-drop",
    "bearing-height",
    "output-and-bearing",
    "anti-wrap-bar",
    "longer-shaft",
    "double-cardan-head",
    "deep-throat-yokes",
    "other-size",
    "longer-slip",
    "slip-in-shaft",
    "two-piece",
]
"""Names of the remedies, in JSON and in the weights' file."""


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
    before: Assessment
    after: Assessment


@dataclass(frozen=True)
class Item:
    """One line of what a dose takes: a row of the weights' file, and how much of it.

    Attributes
    ----------
    row : name of the row; that of the remedy for its ordinary kind.
    amount : how many units of the row: inches, degrees or yokes, by the row.
    """

    row: str
    amount: float = 0.0


INCH = 25.4
"""mm."""


def stepped(step: float, count: int, *ways: str) -> tuple[tuple[Dose, ...], ...]:
    """A series of rising doses for each way."""
    return tuple(tuple(Dose(step * (i + 1), way) for i in range(count)) for way in ways)


class Remedy(ABC):
    """One remedy: its doses, what it does to a rig, what it takes, and what is said of it.

    Class attributes
    ----------------
    never_with : codes of remedies that make no sense together with it.
    for_joints : whether it is for the joints' sake alone: nobody does it for a slip that is short.
    takes_travel : whether it gives up bump, droop or roll.
    each_way : whether each of its ways is a cure of its own, rather than the least of them.
    builds : key paths, of whole tables too, of numbers that the shop builds: no longer measured.
    unit : size of a dose that counts as one on its bill; endless where any dose takes the same.
    """

    never_with: ClassVar[frozenset[RemedyCode]] = frozenset()
    for_joints: ClassVar[bool] = False
    takes_travel: ClassVar[bool] = False
    each_way: ClassVar[bool] = False
    builds: ClassVar[frozenset[str]] = frozenset()
    unit: ClassVar[float] = inf

    @property
    @abstractmethod
    def code(self) -> RemedyCode:
        """Its name."""

    @property
    @abstractmethod
    def effect(self) -> Effect:
        """What it does to a vehicle."""

    @abstractmethod
    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """What a shop would try, each series from little to much; empty where it makes no sense."""

    @abstractmethod
    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The rig with the remedy in it. Raises BindpointError where that cannot be."""

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """What a dose takes, by the rows of the weights; more of one series never takes less."""
        return (Item(self.code, dose.size / self.unit),)

    @abstractmethod
    def says(self, case: Case) -> Remark:
        """What to do."""

    @abstractmethod
    def costs(self, case: Case) -> tuple[Remark, ...]:
        """What else it takes; what it makes worse is told of the whole cure."""

    def covers(self, way: str) -> tuple[str, ...]:
        """What a way of it is made of; with all of that and more in it another goes on from it."""
        return (way,)


@dataclass(frozen=True)
class Trial:
    """A remedy tried at one dose.

    Attributes
    ----------
    remedy, case : what was done, and what came of it.
    """

    remedy: Remedy
    case: Case

    @property
    def verdict(self) -> Verdict:
        """What the rig comes to with it."""
        return self.case.after.verdict

    @property
    def helps(self) -> bool:
        """Whether the tightest thing has more left than before."""
        return self.case.after.least > self.case.before.least + FELT


FELT = 0.1
"""Share of the reserve wanted. Nobody does anything for less than 0.2 deg or 1/16 in."""
