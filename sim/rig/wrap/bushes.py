"""Axle wrap of an axle on links, from the stiffness of its bushes."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import TYPE_CHECKING, ClassVar, Literal

from sim.remark import Remark
from sim.rig.wrap.base import Around, WrapPart
from sim.suspension import SuspensionTable, links_of
from sim.table.form import field, maybe
from sim.table.loads import OffShare, share_or
from sim.table.problems import Problem, as_typed

if TYPE_CHECKING:
    from sim.wrap import BushWrap, Estimate


class BushesTable(WrapPart):
    """The give of the links' bushes under torque."""

    known_by: ClassVar[Remark] = Remark("by-bushes")

    kind: Literal["bushes"] = field("Links whose bushes give under torque.")

    stiffness_off: OffShare | None = maybe(
        "How far off the stiffness of the bushes may be, all of them at once.", "15 %"
    )

    def missing(self, suspension: SuspensionTable) -> Iterator[Problem]:
        """Links to have bushes."""
        if not suspension.has_links:
            yield Problem(
                "wrap.kind",
                as_typed("bushes"),
                'a [suspension] of the kind "links", whose bushes give',
                f'the suspension is "{suspension.kind}"',
            )

    def wrap(self, torque: Estimate, around: Around) -> Estimate:
        """Balance the bushes, level, at ride height and at both ends of the travel."""
        from sim.wrap import Estimate  # noqa: PLC0415

        ride, *ends = self._told(torque, around)
        wraps = [ride.wrap, *(each.wrap for each in ends)]
        return Estimate(
            ride.wrap.value, min(each.low for each in wraps), max(each.high for each in wraps)
        )

    def hints(self, around: Around) -> Iterator[Remark]:
        """Which bush gives most."""
        ride = self._told(self.drive.torque().driving, around)[0]
        yield Remark(
            "bush-gives-most", bush=ride.softest, gives=ride.most_give, bottoms=ride.bottoms
        )

    def _told(self, torque: Estimate, around: Around) -> list[BushWrap]:
        from sim.wrap import STIFFNESS_OFF, WrapError, bush_wrap  # noqa: PLC0415

        links = links_of(around.suspension, around.front)
        if links is None:
            raise WrapError(f"wrap: got a {around.suspension.kind} suspension, expected links")
        ends = [around.travel.bump.mm, -around.travel.droop.mm]
        reached = [height for height in ends if isfinite(float(links.solved(height, 0.0)[0]))]
        radius = self.drive.tyre_radius.mm
        off = share_or(self.stiffness_off, STIFFNESS_OFF)
        return [bush_wrap(links, torque, radius, off, height) for height in (0.0, *reached)]
