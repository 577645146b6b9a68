"""How sure an answer is, as a command asks for it: at a first look, in full, or as it is kept."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from geometry.errors import BindpointError
from sim.assessment import Assessment
from sim.bars import Bars, bars, first_bars, kept_bars
from sim.bars.doubts import Doubts, doubts_of
from sim.findings import Finding
from sim.progress import Progress
from viewer.words.again import again_lines, again_short, read_first
from viewer.words.bars import finding_sure, full_lines, sure_words, unsure_words
from viewer.words.lines import listed


@dataclass(frozen=True)
class Sure:
    """How sure an answer is.

    Attributes
    ----------
    bars : chances and bands; None where nothing may be off, or nobody can tell.
    doubts : what may be off, and by how much.
    why : why nobody can tell; "" else.
    """

    bars: Bars | None = None
    doubts: Doubts = field(default_factory=Doubts)
    why: str = ""

    @property
    def says(self) -> str:
        """A sentence; "" where nothing may be off."""
        if self.bars is None:
            return unsure_words(self.why) if self.why else ""
        return " ".join(filter(None, (sure_words(self.bars, self.doubts), read_first(self.bars))))

    def of(self, finding: Finding) -> str:
        """A line on one finding; "" where nothing of it may be off."""
        each = None if self.bars is None else self.bars.of(finding)
        return "" if each is None else finding_sure(each, finding)

    @property
    def to_read(self) -> Mapping[str, str]:
        """What is worth reading again, by the key path of its field: what that would bring.

        Of a joint that is to be bent on the bench by its table; nothing where no reading would
        change the verdict.
        """
        if self.bars is None or not any(True for _ in again_lines(self.bars)):
            return {}
        field_of = re.compile(r"\[[123]\]$|\.bench$")
        return {field_of.sub("", each.key): again_short(each) for each in self.bars.again}

    def rests(self) -> Iterator[str]:
        """Lines on what the chances rest on."""
        if self.bars is not None:
            yield from full_lines(self.bars, self.doubts)
            yield from listed(
                "Read again, what narrows the doubt most first", again_lines(self.bars)
            )


UNASKED: Final = Sure()
"""Where nobody asked."""


def how_sure(found: Assessment, tell: Progress, full: bool = False) -> Sure:
    """How sure an answer is.

    full : whether to draw whole trucks, which takes some seconds, rather than to take what is kept
        or a first look.
    """
    try:
        doubts = doubts_of(found.rig, found.joints, progress=tell)
        told = bars(found, progress=tell) if full else kept_bars(found)
        if told is None:
            told = first_bars(found, sources=doubts.sources, shapes=doubts.shapes, progress=tell)
    except BindpointError as error:
        return Sure(why=str(error))
    return Sure(told, doubts) if told.keys else UNASKED
