"""Wrap of leaf springs: how stiff they are against winding up, from their leaves or their rate.

Each half of a spring is a cantilever on the clamp, the eyes are pinned. Frame, shackle, friction
between the leaves and wind-up stops are left out: all but the last let the axle wrap less in a
quick pull and more in a worn spring. Rates are per spring, in N/mm and N mm/rad.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite
from typing import ClassVar, Final, Literal

from sim.remark import Remark
from sim.suspension import SuspensionTable
from sim.table.fields import Offset, Size
from sim.table.form import field, maybe
from sim.table.loads import STIFFNESS, Leaves, OffShare, Stiffness, share_or
from sim.table.part import Either, OneOf, Together
from sim.table.problems import NOTHING, Problem
from sim.table.typed import typed_length
from sim.wrap.estimate import Estimate, WrapError, carried
from sim.wrap.table import Around, WrapPart

STEEL: Final = 206_000.0
"""N/mm2. Modulus of spring steel (from memory; good to some per cent)."""


@dataclass(frozen=True)
class HalfRates:
    """A spring as two cantilevers on its clamp."""

    ahead: float
    """Length (mm) from the clamp to the eye ahead of it."""
    behind: float
    """The same behind it."""
    rate_ahead: float
    """Force at the end of the half ahead for each mm it bends, N/mm."""
    rate_behind: float
    """The same behind."""

    def __post_init__(self) -> None:
        for name in ("ahead", "behind", "rate_ahead", "rate_behind"):
            value = getattr(self, name)
            if not (isfinite(value) and value > 0.0):
                raise WrapError(f"spring {name}: got {value}, expected a number above zero")

    @property
    def vertical(self) -> float:
        """Rate of the whole spring up and down, N/mm: L^2 / (b^2/ka + a^2/kb) [derivation]."""
        a, b = self.ahead, self.behind
        return (a + b) ** 2 / (b**2 / self.rate_ahead + a**2 / self.rate_behind)

    @property
    def windup(self) -> float:
        """Torque on the clamp for each rad that it winds up, N mm/rad: L^2 / (1/ka + 1/kb).

        With eyes pinned the clamp turns about itself for equal halves only: it also rises or
        falls otherwise, which is in the formula [derivation].
        """
        return (self.ahead + self.behind) ** 2 / (1.0 / self.rate_ahead + 1.0 / self.rate_behind)


def from_rate(rate: float, ahead: float, behind: float) -> HalfRates:
    """Split a measured rate (N/mm) of a whole spring on its halves (mm), as 1/length^3.

    That is so for one section all along, however many leaves it has [derivation].
    """
    if not (isfinite(rate) and rate > 0.0):
        raise WrapError(f"spring rate: got {rate} N/mm, expected a number above zero")
    shape = HalfRates(ahead, behind, ahead**-3, behind**-3)
    scale = rate / shape.vertical
    return HalfRates(ahead, behind, scale * shape.rate_ahead, scale * shape.rate_behind)


def from_leaves(
    leaves: int,
    width: float,
    thickness: float,
    ahead: float,
    behind: float,
    modulus: float = STEEL,
) -> HalfRates:
    """Rates of a spring from its leaves (mm): each half k = E n b t^3 / (6 l^3).

    That of a spring of uniform strength, with equal halves 8 E n b t^3 / (3 L^3) for the whole
    [SARKAR, prob. 8.10]. Leaves of several thicknesses: give the mean of t^3, its third root.
    """
    for name, value in (("leaves", leaves), ("width", width), ("thickness", thickness)):
        if not (isfinite(value) and value > 0):
            raise WrapError(f"spring {name}: got {value}, expected a number above zero")
    bending = modulus * leaves * width * thickness**3 / 6.0
    return HalfRates(ahead, behind, bending / ahead**3, bending / behind**3)


def spring_wrap(
    windup: Estimate,
    axle_torque: Estimate,
    seat_above: float = 0.0,
    tyre_radius: float | None = None,
) -> Estimate:
    """Wrap (rad) of two equal springs of wind-up stiffness `windup` (N mm/rad each); linear.

    `axle_torque` (N mm) is that of both wheels on the ground. It pushes the housing forward at
    its centre by torque / tyre_radius, and the springs hold against it at their seats: with
    those `seat_above` the centre (mm, springs over the axle) the push winds them up further, with
    springs under the axle less [derivation]. Without a tyre radius the push is left out.
    """
    if tyre_radius is not None and not tyre_radius > 0.0:
        raise WrapError(f"tire radius: got {tyre_radius} mm, expected a number above zero")
    lever = 1.0 + (seat_above / tyre_radius if tyre_radius is not None else 0.0)
    return carried(lambda t, k: lever * t / (2.0 * k), axle_torque, windup)


RATE_OFF: Final = 0.1
"""Share by which a rate that was measured may be off (from memory)."""
LEAVES_OFF: Final = 0.2
"""The same for one worked out from leaves: 1/64 in of thickness is 3 x 6 % (from memory)."""


class SpringsTable(WrapPart):
    """The wind-up of two equal leaf springs, from their leaves or their rate."""

    stiff = OneOf(
        ("rate", "leaves"), 'rate, such as "200 lb/in", or leaves with their width and thickness'
    )
    seated = Either(("seat_higher", "seat_lower"), neither=None, writes=typed_length)
    """How far above the axle's centre the springs are clamped, mm, where the table says it."""
    blades = Together(
        ("leaves", "width", "thickness"), "leaves, width and thickness of them together"
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
    seat_higher: Offset | None = maybe(
        "How much higher than the axle's center the spring is clamped: a spring over "
        "the axle. Taken from a leaf suspension's seat when left out.",
        "3 in",
    )
    seat_lower: Offset | None = maybe("How much lower instead: a spring under the axle.")

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
                    Remark("half-or-leaf"),
                )
        if self.seat(suspension) is None:
            yield Problem(
                "wrap.seat_higher",
                NOTHING,
                Remark("seat-or-leaf"),
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
        if self.seated is not None:
            return self.seated
        springs = suspension.springs()
        return None if springs is None else springs.seat

    def windup(self, suspension: SuspensionTable) -> Estimate:
        """Wind-up stiffness of one spring, N mm/rad. Raises `WrapError`."""
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
        seat = self.seat(around.suspension) or 0.0
        radius = self.drive.tyre_radius.mm
        return spring_wrap(self.windup(around.suspension), torque, seat, radius)
