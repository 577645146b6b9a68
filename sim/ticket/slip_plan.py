"""How to split the slip: what the whole travel asks of it, and where to set it at ride height."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sim.derive import measured_slip
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.fitted import fitted_cross, fitted_yoke
from sim.search.envelope import Envelope
from sim.ticket.slips import (
    GOOD_DIAMETERS,
    LEAST_DIAMETERS,
    SlipPart,
    described_slip,
    slip_parts,
)
from sim.vehicle import Pose

SIXTEENTH = 25.4 / 16.0
"""mm. What a tape shows and a shop cuts to."""


@dataclass(frozen=True)
class Split:
    """A slip set at ride height, against what the travel asks.

    Attributes
    ----------
    name : of the slip.
    closes : mm that it still closes from ride height until it bottoms.
    opens : mm that it still opens with enough spline engaged.
    closes_left, opens_left : mm left of these in the shortest and the longest pose.
    engaged : mm of spline left engaged in the longest pose; None where that is not known.
    reserve : mm wanted at either end.
    """

    name: str
    closes: float
    opens: float
    closes_left: float
    opens_left: float
    engaged: float | None
    reserve: float

    @property
    def least(self) -> float:
        """The smaller of the two reserves, mm."""
        return min(self.closes_left, self.opens_left)

    @property
    def fits(self) -> bool:
        """Whether both ends keep the reserve that is wanted."""
        return self.least >= self.reserve - 1e-9

    def closed_by(self, mm: float) -> Split:
        """The same slip set further closed: what a tube cut so much longer does."""
        engaged = None if self.engaged is None else self.engaged + mm
        return replace(
            self,
            closes=self.closes - mm,
            opens=self.opens + mm,
            closes_left=self.closes_left - mm,
            opens_left=self.opens_left + mm,
            engaged=engaged,
        )


@dataclass(frozen=True)
class Need:
    """What the travel asks of a slip, mm.

    Attributes
    ----------
    closing, opening : how far it closes and opens it from ride height at the most.
    reserve : wanted beyond that, at either end.
    """

    closing: float
    opening: float
    reserve: float

    def split(self, name: str, closes: float, opens: float, apart: float | None) -> Split:
        """A slip with so much left at ride height; `apart`: until its splines part."""
        return Split(
            name=name,
            closes=closes,
            opens=opens,
            closes_left=closes - self.closing,
            opens_left=opens - self.opening,
            engaged=None if apart is None else apart - self.opening,
            reserve=self.reserve,
        )

    def best_set(self, name: str, usable: float, beyond: float | None) -> Split:
        """A slip with `usable` mm in all, set to 1/16 in where its smaller reserve is greatest.

        beyond : mm of spline engaged when all of that is used. The reserves are alike where
        closes = (usable + closing - opening) / 2; a set point within the slip is the nearest.
        """
        alike = 0.5 * (usable + self.closing - self.opening)
        closes = round(min(max(alike, 0.0), max(usable, 0.0)) / SIXTEENTH) * SIXTEENTH
        opens = usable - closes
        return self.split(name, closes, opens, None if beyond is None else opens + beyond)


@dataclass(frozen=True, kw_only=True)
class SlipPlan(Need):
    """What the slip has to do, what it is set to, and what would be better.

    Attributes
    ----------
    at : "shaft" or "output".
    at_shortest, at_longest : the poses that close and open it the most.
    spline : diameter of the spline, mm.
    barrel : length of a sliding yoke's barrel, mm; 0 where there is none or it is not known.
    built : the slip that the ticket is made for, as it is set before the tube is cut.
    built_part : its shape; None for a yoke that slides on the output.
    by_rig : whether that is the slip of the rig file, which somebody measured both ways.
    best : the same slip set where the smaller reserve is greatest, to 1/16 in.
    choices : every slip of the catalogue, each at its best set.
    """

    at: str
    at_shortest: Pose
    at_longest: Pose
    spline: float
    barrel: float
    built: Split
    built_part: SlipPart | None
    by_rig: bool
    best: Split
    choices: tuple[Split, ...]

    @property
    def wanted(self) -> float:
        """Spline that is wanted to stay engaged, mm."""
        return GOOD_DIAMETERS * self.spline

    @property
    def least(self) -> float:
        """Spline that stays engaged at the least, mm."""
        return LEAST_DIAMETERS * self.spline

    @property
    def stroke(self) -> float:
        """From bottomed to parted, mm, that all of it takes."""
        return self.closing + self.opening + 2.0 * self.reserve + self.wanted

    @property
    def chosen(self) -> Split | None:
        """The shortest of the catalogue that fits; None where none does."""
        return _first_that_fits(self.choices)

    def as_cut(self, split: Split | None) -> SlipPlan:
        """The same with the slip as it is set after the tube is cut; None for no cut."""
        return self if split is None else replace(self, built=split)

    @property
    def flags(self) -> tuple[Remark, ...]:
        """What is wrong with the slip."""
        return tuple(_flags(self))


def _first_that_fits(choices: Iterable[Split]) -> Split | None:
    return next((split for split in choices if split.fits), None)


def slip_plan(rig: Rig, swept: Envelope) -> SlipPlan:
    """Plan the slip of a rig for its whole travel."""
    slip, reserve = rig.shaft.slip, rig.wanted.slip.mm
    closing = max(0.0, -swept.slip.shortest.value)
    opening = max(0.0, swept.slip.longest.value)
    in_shaft = slip.at == "shaft"
    parts = slip_parts(rig) if in_shaft else ()
    spline, barrel = (parts[0].spline_diameter, 0.0) if in_shaft else _sliding(rig)
    wanted = GOOD_DIAMETERS * spline
    need = Need(closing, opening, reserve)
    choices = tuple(need.best_set(part.name, part.usable, wanted) for part in parts)
    typed = len(measured_slip(rig)) == 2
    apart = None if slip.comes_apart is None else slip.comes_apart.mm
    built = need.split("slip as described", slip.closes.mm, slip.opens.mm, apart)
    part = None
    if in_shaft and typed:
        part = described_slip(rig, slip.opens.mm + wanted if apart is None else apart)
    elif in_shaft:  # the longest where none has what the travel asks, which is told
        built = _first_that_fits(choices) or choices[-1]
        part = parts[choices.index(built)]
    elif not typed and barrel > 0.0:
        built = need.best_set("sliding yoke", barrel - wanted, wanted)
    elif not typed:
        built = need.split("slip as the travel asks", closing + reserve, opening + reserve, None)
    usable = built.closes + built.opens
    beyond = None if built.engaged is None else built.engaged - built.opens_left
    return SlipPlan(
        closing=closing,
        opening=opening,
        reserve=reserve,
        at=slip.at,
        at_shortest=swept.slip.shortest.at,
        at_longest=swept.slip.longest.at,
        spline=spline,
        barrel=barrel,
        built=built,
        built_part=part,
        by_rig=typed,
        best=need.best_set(built.name, usable, beyond),
        choices=choices,
    )


def generic_slip(rig: Rig, swept: Envelope) -> Split | None:
    """The shortest generic slip that keeps its reserves at both ends, at its best set; or None.

    What the rig says of a slip of its own does not matter here. Raises BindpointError where no
    slip of the catalogue goes with the rig's tube.
    """
    plan = slip_plan(rig, swept)
    if plan.at == "shaft":
        return plan.chosen
    barrel = plan.best_set("sliding yoke", plan.barrel - plan.wanted, plan.wanted)
    return barrel if plan.barrel > 0.0 and barrel.fits else None


def _sliding(rig: Rig) -> tuple[float, float]:
    """Spline diameter and length of barrel (mm) of a yoke that slides on the output; 0 unknown."""
    end = rig.shaft.output_end
    if end.output_yoke.is_own:
        return 0.0, 0.0
    barrel = fitted_yoke(end.output_yoke, fitted_cross(end.cross), rig.shaft.tube).barrel
    return (0.0, 0.0) if barrel is None else (barrel.spline_diameter, barrel.length)


def _flags(plan: SlipPlan) -> Iterator[Remark]:
    built = plan.built
    if built.closes_left < 0.0:
        yield Remark("slip-bottoms", short=-built.closes_left)
    if built.opens_left < 0.0:
        yield Remark("slip-runs-out", short=-built.opens_left)
    if 0.0 <= built.least < plan.reserve - 1e-9:
        yield Remark("slip-little-reserve", left=built.least, wanted=plan.reserve)
    if built.engaged is not None and built.engaged <= 0.0:
        yield Remark("slip-parts")
    elif built.engaged is not None and plan.spline and built.engaged < plan.least:
        yield Remark("slip-little-engaged", engaged=built.engaged, least=plan.least)
    if plan.at == "shaft" and plan.chosen is None:
        yield Remark("slip-no-choice", stroke=plan.stroke)
