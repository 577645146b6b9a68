"""Findings: what a check has to say, as coded records without words.

A finding carries a code, a verdict, numbers with units and the pose; the words are added by
whoever shows it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import degrees, inf
from types import MappingProxyType
from typing import Any, Literal

from sim.rig.assumed import Assumed
from sim.vehicle import Pose

Verdict = Literal["clear", "close", "touches"]
"""clear: room to spare. close: room, but less than the reserve wanted. touches: metal meets, or
the slip runs out."""

ORDER: tuple[Verdict, ...] = ("clear", "close", "touches")

Code = Literal[
    "joint-bend",
    "joint-gap",
    "slip-closes",
    "slip-opens",
    "slip-comes-apart",
    "slip-not-measured",
    "no-room-for-slip",
    "turns-at-ride",
    "surroundings",
    "surroundings-unfinished",
    "out-of-reach",
    "beyond-readings",
    "caster",
    "hubs",
]


@dataclass(frozen=True)
class Measure:
    """A number with its unit: "deg" or "mm"."""

    value: float
    unit: Literal["deg", "mm"]


def deg(rad: float) -> Measure:
    """An angle as findings have it."""
    return Measure(degrees(rad), "deg")


def mm(length: float) -> Measure:
    """A length as findings have it."""
    return Measure(length, "mm")


@dataclass(frozen=True)
class Finding:
    """One thing found, without words.

    Attributes
    ----------
    code : what kind of thing.
    verdict : how bad.
    subject : what it is about: "output", "pinion", "slip", "axle", or the name
        of a thing near the shaft.
    margin : what is left to the limit; negative past it.
    limit : the limit itself.
    worst : the worst value met over the whole travel.
    at : the pose where that is; None where no single pose is meant.
    detail : whatever else the words need (surfaces, reserve wanted, ...).
    rests_on : values that nobody gave and that its numbers or its verdict follow
        from, as in `Rig.assumed`.
    """

    code: Code
    verdict: Verdict
    subject: str
    margin: Measure
    limit: Measure
    worst: Measure
    at: Pose | None
    detail: Mapping[str, Any] = field(default_factory=dict)
    rests_on: tuple[Assumed, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "detail", MappingProxyType(dict(self.detail)))

    @property
    def rests_on_assumed(self) -> tuple[str, ...]:
        """Keys of the values that it rests on and nobody gave."""
        return tuple(each.key for each in self.rests_on)


def judged(margin: float, reserve: float) -> Verdict:
    """Verdict on a margin against the reserve wanted, both in the same unit."""
    if not margin > 0.0:
        return "touches"
    return "clear" if margin >= reserve else "close"


def worst_of(verdicts: list[Verdict]) -> Verdict:
    """The worst of several verdicts; clear when there are none."""
    return max(verdicts, key=ORDER.index, default="clear")


def by_gravity(findings: list[Finding]) -> tuple[Finding, ...]:
    """Worst verdict first; within one what stops the axle soonest, then what has least to spare.

    Sooner is a shorter way from ride height; less to spare is a smaller share of the reserve
    wanted, which compares degrees with lengths. What has neither comes last, as it came; a slip
    that has to be measured comes before all that is clear.
    """
    return tuple(sorted(findings, key=_gravity))


def _gravity(finding: Finding) -> tuple[int, float, float]:
    first = finding.detail.get("first") if finding.verdict == "touches" else None
    way = abs(first.travel) if first is not None else inf
    name = "reserve_deg" if finding.margin.unit == "deg" else "reserve_mm"
    reserve = float(finding.detail.get(name, 0.0))
    share = finding.margin.value / reserve if reserve > 0.0 else inf
    if finding.code == "slip-not-measured":
        share = -inf
    return -ORDER.index(finding.verdict), way, share
