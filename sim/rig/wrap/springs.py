"""Axle wrap from leaf springs: their leaves, or their rate."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final, Literal

from sim.remark import Remark
from sim.rig.wrap.base import Around, WrapPart
from sim.suspension import SuspensionTable
from sim.table.fields import Distance, Size
from sim.table.form import field, maybe
from sim.table.loads import STIFFNESS, Leaves, OffShare, Stiffness, share_or
from sim.table.part import OneOf, Together
from sim.table.problems import NOTHING, Problem

if TYPE_CHECKING:
    from sim.wrap import Estimate

RATE_OFF: Final = 0.1
"""Share by which a rate that was measured may be off (from memory)."""
LEAVES_OFF: Final = 0.2
"""The same for one worked out from leaves: 1/64 in of thickness is 3 x 6 % (from memory)."""


class SpringsTable(WrapPart):
    """The wind-up of two equal leaf springs, from their leaves or their rate."""

    one_of: ClassVar = (
        OneOf(
            ("rate", "leaves"),
            'rate, such as "200 lb/in", or leaves with their width and thickness',
        ),
        OneOf(("seat_higher", "seat_lower")),
    )
    together: ClassVar = (
        Together(("leaves", "width", "thickness"), "leaves, width and thickness of them together"),
    )
    known_by: ClassVar[Remark] = Remark("by-springs")

    kind: Literal["springs"] = field("Two leaf springs that wind up.")
    rate: Stiffness | None = maybe("Rate of one spring up and down, where known.", "200 lb/in")
    leaves: Leaves | None = maybe("How many leaves one spring has.", 7)
    width: Size | None = maybe("Width of a leaf.", "2 1/2 in")
    thickness: Size | None = maybe(
        "Thickness of a leaf; where they differ, the third root of the mean cube.", "5/16 in"
    )
    ahead: Size | None = maybe(
        "From the middle of the clamp to the eye ahead of it; taken from a leaf "
        "suspension's points when left out.",
        "24 in",
    )
    behind: Size | None = maybe(
        "From the middle of the clamp to the eye behind it, likewise.", "28 in"
    )
    seat_higher: Distance | None = maybe(
        "How much higher than the axle's centre the spring is clamped: a spring over "
        "the axle. Taken from a leaf suspension's seat when left out.",
        "3 in",
    )
    seat_lower: Distance | None = maybe("How much lower instead: a spring under the axle.")

    stiffness_off: OffShare | None = maybe(
        "How far off the rate may be, or the stiffness that the leaves make.", "5 %"
    )

    def missing(self, suspension: SuspensionTable) -> Iterator[Problem]:
        """Lengths and seat, where no leaf suspension tells them."""
        ahead, behind = self.halves(suspension)
        for key, found in (("ahead", ahead), ("behind", behind)):
            if found is None:
                yield Problem(
                    f"wrap.{key}",
                    NOTHING,
                    'a length such as "24 in", or a leaf suspension with its shackled_eye',
                )
        if self.seat(suspension) is None:
            yield Problem(
                "wrap.seat_higher",
                NOTHING,
                'seat_higher or seat_lower, a length such as "3 in", or a leaf suspension',
            )

    def halves(self, suspension: SuspensionTable) -> tuple[float | None, float | None]:
        """Lengths (mm) from the clamp to the eyes ahead and behind, None where not known."""
        springs = suspension.springs()
        ahead, behind = (None, None) if springs is None else (springs.ahead, springs.behind)
        return (
            ahead if self.ahead is None else self.ahead.mm,
            behind if self.behind is None else self.behind.mm,
        )

    def seat(self, suspension: SuspensionTable) -> float | None:
        """How far above the axle's centre the springs are clamped, mm; None where not known."""
        if self.seat_higher is not None:
            return self.seat_higher.mm
        if self.seat_lower is not None:
            return -self.seat_lower.mm
        springs = suspension.springs()
        return None if springs is None else springs.seat

    def windup(self, suspension: SuspensionTable) -> Estimate:
        """Wind-up stiffness of one spring, N mm/rad. Raises `WrapError`."""
        from sim.wrap import Estimate, WrapError, from_leaves, from_rate  # noqa: PLC0415

        ahead, behind = self.halves(suspension)
        if ahead is None or behind is None:
            raise WrapError("wrap: got no lengths of the springs, expected ahead and behind")
        if self.leaves is not None and self.width is not None and self.thickness is not None:
            spring = from_leaves(self.leaves, self.width.mm, self.thickness.mm, ahead, behind)
            return Estimate.share(spring.windup, share_or(self.stiffness_off, LEAVES_OFF))
        rate = STIFFNESS.sure(self.rate or "")
        off = share_or(self.stiffness_off, RATE_OFF)
        return Estimate.share(from_rate(rate, ahead, behind).windup, off)

    def wrap(self, torque: Estimate, around: Around) -> Estimate:
        """Wind both springs up."""
        from sim.wrap import spring_wrap  # noqa: PLC0415

        seat = self.seat(around.suspension) or 0.0
        radius = self.drive.tyre_radius.mm
        return spring_wrap(self.windup(around.suspension), torque, seat, radius).wrap
