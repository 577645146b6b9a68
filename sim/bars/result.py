"""What error bars come to: chances, bands and what is likely, as data without words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from sim.accuracy.source import Unit, Why
from sim.findings import Code, Finding
from sim.vehicle import Joint

Likely = Literal["clear", "may-touch", "touches"]
"""What is likely, given everything that may be off."""

LITTLE: Final = 0.05
"""Chance of touching up to which it is told as clear; and of clearing, as touching: as many as lie
outside of a band."""

How = Literal["first", "full"]
"""By slopes at the numbers as they are; or by many whole rigs drawn at random."""


def likely_of(chance: float) -> Likely:
    """What is likely by the chance that it touches."""
    if chance <= LITTLE:
        return "clear"
    return "touches" if chance >= 1.0 - LITTLE else "may-touch"


@dataclass(frozen=True)
class Band:
    """Where 95 of 100 lie: 2.5 of 100 are lower, 2.5 higher."""

    low: float
    high: float
    unit: Literal["deg", "mm"]


@dataclass(frozen=True)
class PoseBand:
    """Where the worst pose lies; each way of the axle by itself."""

    travel: Band
    roll: Band
    wrap: Band


@dataclass(frozen=True)
class FindingBars:
    """How sure one finding is.

    Attributes
    ----------
    code, subject : of the finding, see `sim.findings`.
    chance : that it touches or runs out, of everything that may be off; of `joint-gap` that the
        joint touches; of `out-of-reach` that some pose is.
    chance_off : how far off the chance itself may be (95 of 100), by the number of draws and by
        what their forecast leaves open.
    band : of its margin, in the finding's unit; None where it has none (`out-of-reach`).
    worst : of its worst value; None where it has none.
    first : heights (mm above ride height) at which it first touches or runs out by any roll and
        wrap, of those draws in which it does; None where hardly any does, or nobody asked.
    level : the same level and without wrap.
    at : where its worst pose lies; None where no single pose is meant.
    """

    code: Code
    subject: str
    chance: float
    chance_off: float
    band: Band | None
    worst: Band | None = None
    first: Band | None = None
    level: Band | None = None
    at: PoseBand | None = None

    @property
    def likely(self) -> Likely:
        """What is likely."""
        return likely_of(self.chance)


@dataclass(frozen=True)
class Outcome:
    """What the verdict would be if a reading came out so.

    Attributes
    ----------
    value : that is read, mm or rad.
    chance : that it touches or runs out then, with the tool's own error left.
    """

    value: float
    chance: float

    @property
    def likely(self) -> Likely:
        """What is likely."""
        return likely_of(self.chance)


@dataclass(frozen=True)
class Again:
    """Something to read again, for the finding that is most in doubt.

    Attributes
    ----------
    key : where it stands in the rig file; of a whole joint that of its bench readings.
    code, subject : of that finding.
    share : of its doubt, by this alone: the first Sobol index; to first order in first bars.
    total : of its doubt, with all that it does together with others: the total index.
    value : as it is, mm or rad by `unit`; of a whole joint the bend that it is clear to.
    off : how far off it may be now (95 of 100).
    why, tool : who says so and how it was read, as of a source.
    better, better_off : the tool to read it with, and how far off it would be then; "" for a joint
        bent on the bench.
    narrows : what is left of the band of the finding's margin then, 0 to 1.
    low, high : what would come of it if it came out at either end of what it may be.
    """

    key: str
    code: Code
    subject: str
    share: float
    total: float
    value: float
    unit: Unit
    off: float
    why: Why
    tool: str
    better: str
    better_off: float
    narrows: float
    low: Outcome
    high: Outcome


@dataclass(frozen=True)
class Bars:
    """How sure the verdict on a rig is.

    Attributes
    ----------
    how : by slopes alone, or in full.
    seed : of the draws.
    draws : how many rigs were drawn.
    impossible : how many of them cannot be: no vehicle, or no parts. They are in no chance.
    chance : that anything touches or runs out.
    chance_off : how far off that chance may be, as for each finding.
    findings : of each finding that may be off; also of those that a check only has in some draws.
    first : heights (mm above ride height) at which anything first touches; None as for a finding.
    keys : what was put off, by key path, in one fixed order.
    left_out : keys of what may be off as well and was not, such as words; no chance has it.
    unshaped : joints whose parts were taken as they are, since nobody can tell how far off.
    forecast_off : mm or deg by code and subject, 95 of 100 draws are no farther off a whole sweep;
        empty where nobody looked.
    again : what to read again, what narrows the doubt most first.
    """

    how: How
    seed: int
    draws: int
    impossible: int
    chance: float
    chance_off: float
    findings: tuple[FindingBars, ...]
    first: Band | None
    keys: tuple[str, ...]
    left_out: tuple[str, ...]
    unshaped: tuple[Joint, ...]
    forecast_off: tuple[tuple[Code, str, float], ...] = ()
    again: tuple[Again, ...] = ()

    @property
    def likely(self) -> Likely:
        """What is likely."""
        return likely_of(self.chance)

    def of(self, finding: Finding) -> FindingBars | None:
        """Those of a finding; None where nothing of it may be off."""
        code = finding.code
        return self.named(
            "surroundings" if code == "surroundings-unfinished" else code, finding.subject
        )

    def named(self, code: Code, subject: str) -> FindingBars | None:
        """Those of a code and a subject; None where there are none."""
        for each in self.findings:
            if (each.code, each.subject) == (code, subject):
                return each
        return None
