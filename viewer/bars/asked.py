"""How sure an answer is, as a command asks for it: at a first look, in full, or as it is kept."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.errors import BindpointError
from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars import Bars, bars, first_bars, kept_bars
from sim.findings import Finding
from sim.progress import Progress
from viewer.words.bars import finding_sure, sure_words


@dataclass(frozen=True)
class Sure:
    """How sure an answer is.

    Attributes
    ----------
    bars : chances and bands.
    taken : what may be off, and by how much.
    """

    bars: Bars
    taken: tuple[Source, ...] = ()

    @property
    def says(self) -> str:
        """One sentence or two."""
        return sure_words(self.bars, self.taken)

    def of(self, finding: Finding) -> str:
        """A line on one finding; "" where nothing of it may be off."""
        each = self.bars.of(finding)
        return "" if each is None else finding_sure(each, finding)


def how_sure(found: Assessment, tell: Progress, full: bool = False) -> Sure | BindpointError:
    """How sure an answer is; or why nobody can tell.

    full : whether to draw whole rigs, which takes some seconds, rather than to take what is kept
        or a first look.
    """
    try:
        known = bars(found, progress=tell) if full else kept_bars(found)
        return Sure(known or first_bars(found, progress=tell))
    except BindpointError as error:
        return error
