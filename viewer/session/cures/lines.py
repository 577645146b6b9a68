"""What would cure the rig, in plain lines: found elsewhere, shown at once."""

from dataclasses import dataclass

from sim.findings import Verdict

NOT_ENOUGH = "Helps, but not enough by itself:"
"""Heading of the cures that do not get as far as was wanted."""


@dataclass(frozen=True)
class Row:
    """One number of a rig before and after."""

    label: str
    before: str
    after: str


@dataclass(frozen=True)
class CureLine:
    """One way out.

    Attributes
    ----------
    name : what it is called in a few words.
    says, price, rests : what to do; what else it does; what it comes near to, and what it rests on
        that was not read.
    works : whether it gets as far as was wanted.
    verdict, word : what it comes to, of joints and slip.
    rows : the numbers that it changes.
    text : the rig file with it.
    """

    name: str
    says: str
    price: str
    rests: str
    works: bool
    verdict: Verdict
    word: str
    rows: tuple[Row, ...]
    text: str


@dataclass(frozen=True)
class CureList:
    """All that was found.

    Attributes
    ----------
    text : the rig file that was asked about.
    lead : what the list is a list of. notes : what else there is to say.
    without : codes of the remedies that were not to be tried.
    """

    text: str
    lead: str
    cures: tuple[CureLine, ...]
    notes: tuple[str, ...]
    without: tuple[str, ...] = ()

    def is_of(self, text: str) -> bool:
        """Whether it is about a rig file: the one that was asked about, or one that it cured."""
        return text == self.text or any(text == cure.text for cure in self.cures)

    def tried(self, text: str) -> int | None:
        """Place of the cure that a rig file has in it."""
        return next((i for i, cure in enumerate(self.cures) if cure.text == text), None)
