"""How sure an answer is, as a command asks for it: at a first look, in full, or as it is kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from geometry.errors import BindpointError
from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars import Bars, bars, first_bars, kept_bars
from sim.findings import Finding
from sim.progress import Progress
from viewer.words.bars import finding_sure, full_lines, sure_words, unsure_words


@dataclass(frozen=True)
class Sure:
    """How sure an answer is.

    Attributes
    ----------
    bars : chances and bands; None where nothing may be off, or nobody can tell.
    taken : what may be off, and by how much.
    why : why nobody can tell; "" else.
    """

    bars: Bars | None = None
    taken: tuple[Source, ...] = ()
    why: str = ""

    @property
    def says(self) -> str:
        """A sentence; "" where nothing may be off."""
        if self.bars is None:
            return unsure_words(self.why) if self.why else ""
        return sure_words(self.bars, self.taken)

    def of(self, finding: Finding) -> str:
        """A line on one finding; "" where nothing of it may be off."""
        each = None if self.bars is None else self.bars.of(finding)
        return "" if each is None else finding_sure(each, finding)

    def rests(self) -> Iterator[str]:
        """Lines on what the chances rest on."""
        if self.bars is not None:
            yield from full_lines(self.bars, self.taken)


UNASKED: Final = Sure()
"""Where nobody asked."""


def how_sure(found: Assessment, tell: Progress, full: bool = False) -> Sure:
    """How sure an answer is.

    full : whether to draw whole trucks, which takes some seconds, rather than to take what is kept
        or a first look.
    """
    try:
        known = bars(found, progress=tell) if full else kept_bars(found)
        told = known or first_bars(found, progress=tell)
    except BindpointError as error:
        return Sure(why=str(error))
    return Sure(told) if told.keys else UNASKED
