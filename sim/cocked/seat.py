"""How a cap can sit in its yoke: the tilt its seat gives it, and the play it has there.

Frame K as in `sim.cocked.balance`: d the way the trunnion presses on the cap while driving, a along
the shaft of the cap's own yoke, away from the cross. The tilt of a cap is how far its outer end
leans toward d and toward a, for each mm along the bore, against the line of the trunnions. d and e
point opposite ways in the two ears of a yoke, a the same way, so one tilt in both is the mirror
image about the shaft where it leans toward a, and a turn about the shaft where it leans toward d.

- *Ears spread* by so much each turn about a line square to shaft and bore; the root is on the side
  of a, so the outer end of either cap leans toward a: both caps opposite ways, like a V that opens
  toward the other shaft. Across the load, so the trunnion gets it on a diagonal, and its corners
  change ends after half a turn at a bend.
- *Bores skewed* about the shaft: as torque bends each ear the way it pushes, the line through both
  bores turns against the bores themselves. In the plane of the load: one end on drive, the other
  on coast, the same after half a turn.
- *A gouge* on the loaded side lets one end of the cap down into it, in the plane of the load; it
  is empty on coast. *A mushroomed edge*, hit from the ear's tip, holds one end off, across it.

All formulas are plain geometry [derivation]; which end and side, where nobody measured it, is a
choice, and `Seat.either` says so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import hypot
from typing import Final

import numpy as np

from geometry.errors import BindpointError
from sim.quantities import require_fields, require_not_negative, require_positive
from sim.remark import Remark

BED: Final = 100_000.0
"""N/mm that each mm of a cap's length is held by where it is pressed into its ear: half of steel's
modulus (from memory, generic)."""

BAR_PLAY: Final = 0.03
"""mm that a bar which fits both bores is thinner than they are, about 0.001 in (from memory)."""

STRAP_PLAY: Final = 0.25
"""mm that a cap can lift under a strap that is loose by hand (from memory)."""

MOST: Final = 0.09
"""rad, 5 deg: a cap tilted so far over needles 12 mm long stands 1 mm off at their ends, half a
needle's diameter."""

Tilt = tuple[float, float]
"""How far the outer end of a cap leans toward d and toward a, rad."""


class SeatError(BindpointError, ValueError):
    """Readings of a seat that cannot be."""


@dataclass(frozen=True)
class Tip:
    """One thing that tips a cap, or that was looked at and does not.

    Attributes
    ----------
    why : which, with its numbers.
    drive, coast : the tilt it gives while the engine drives and while it holds back.
    play : rad that it lets the cap rock either way.
    either : whether end or side are a choice, the mirror image being as likely.
    """

    why: Remark
    drive: Tilt = (0.0, 0.0)
    coast: Tilt = (0.0, 0.0)
    play: Tilt = (0.0, 0.0)
    either: bool = False


def summed(tilts: Iterable[Tilt]) -> Tilt:
    """Several small tilts at once."""
    d, a = np.sum([(0.0, 0.0), *tilts], axis=0)
    return float(d), float(a)


@dataclass(frozen=True)
class Seat:
    """How one cap sits.

    Attributes
    ----------
    tips : what tips it; none for a cap that is taken to sit straight, since nothing was measured.
    loose : rad that it may come back across the load before its ear holds it.
    out : mm that it is not home.
    lost : needles that are not in their row, side by side.
    """

    tips: tuple[Tip, ...] = field(default=())
    loose: float = 0.0
    out: float = 0.0
    lost: int = 0

    def __post_init__(self) -> None:
        require_fields(SeatError, self, "", "loose out lost")
        for tilt in (self.drive, self.coast):
            if not hypot(*tilt) < MOST:
                raise SeatError(
                    f"cap tilted: got {hypot(*tilt):g} rad, expected under {MOST:g}, past which it "
                    "does not go over its trunnion"
                )

    @property
    def drive(self) -> Tilt:
        """Its tilt while the engine drives."""
        return summed(tip.drive for tip in self.tips)

    @property
    def coast(self) -> Tilt:
        """Its tilt while the engine holds back."""
        return summed(tip.coast for tip in self.tips)

    @property
    def may(self) -> Tilt:
        """The most that it could lean either way in each plane, rad: as tipped, and its play."""
        play = summed(tip.play for tip in self.tips)
        most = np.maximum(np.abs(self.drive), np.abs(self.coast)) + np.array(play)
        return float(most[0]), float(most[1])

    @property
    def measured(self) -> bool:
        """Whether anything of it was measured or stated."""
        return bool(self.tips)

    @property
    def either(self) -> bool:
        """Whether end or side of what tips it are a choice."""
        return any(tip.either for tip in self.tips if any(tip.drive) or any(tip.coast))

    @property
    def tipped(self) -> float:
        """The most it is tipped, on drive or on coast, rad."""
        return max(hypot(*self.drive), hypot(*self.coast))


STRAIGHT: Final = Seat()
"""A cap that sits as it should; what is taken where nothing was measured."""


def stated(tilt: float, across: float = 0.0) -> Seat:
    """A cap whose tilt somebody states, rad: in the plane of the load, and across it."""
    return Seat((stated_tip(tilt, across),))


def stated_tip(tilt: float, across: float = 0.0) -> Tip:
    """A tilt that was stated, in the plane of the load, where it does the most, unless told."""
    leans = (tilt, across)
    return Tip(Remark("cap-tilt-stated", tilt=hypot(tilt, across)), leans, leans, either=True)


def spread(at_tips: float, at_root: float, apart: float) -> Tip:
    """Ears whose gap (mm) differs between tips and root, places so far `apart` along the shaft.

    Both are taken to have spread alike: each by (tips - root) / (2 apart).
    """
    require_positive(SeatError, gap_at_tips=at_tips, gap_at_root=at_root, apart=apart)
    lean = (at_tips - at_root) / (2.0 * apart)
    why = Remark("ears-spread-by", wider=at_tips - at_root, apart=apart, tilt=lean)
    return Tip(why, (0.0, lean), (0.0, lean))


def skewed(off: float, between: float, at_least: bool = False) -> Tip:
    """Bores of which a bar in one misses the other by `off` mm, their middles so far apart.

    The line of the trunnions then leans by off / between in both caps. Taken to lie round the
    shaft, bent the way that drive pushes, which presses the outer ends on drive.
    """
    require_not_negative(SeatError, off=off)
    require_positive(SeatError, between=between)
    lean = off / between
    why = Remark("bores-off-the-bar", off=off, between=between, tilt=lean, at_least=at_least)
    return Tip(why, (-lean, 0.0), (-lean, 0.0), either=True)


def bar_through(between: float) -> Tip:
    """A bar goes through both bores, so far `between` their middles: no more than its own play."""
    require_positive(SeatError, between=between)
    play = BAR_PLAY / between
    return Tip(Remark("bar-goes-through", tilt=play), play=(play, play))


def gouge(depth: float, length: float) -> Tip:
    """A seat of a `length`, gouged so deep (mm) on its loaded side that one end drops into it.

    Its inner end, toward the cross, is taken to; then the outer ends of the needles carry.
    """
    require_not_negative(SeatError, gouge=depth)
    require_positive(SeatError, seat_length=length)
    lean = -depth / length
    return Tip(Remark("seat-gouged-by", depth=depth, tilt=-lean), (lean, 0.0), either=True)


def edge(height: float, length: float) -> Tip:
    """A seat of a `length` whose edge is mushroomed in so far (mm), which holds one end off.

    Taken to be at the ear's tip on the inside, where the other yoke hits it.
    """
    require_not_negative(SeatError, edge=height)
    require_positive(SeatError, seat_length=length)
    lean = -height / length
    why = Remark("edge-mushroomed-by", height=height, tilt=-lean)
    return Tip(why, (0.0, lean), (0.0, lean), either=True)


def play(along: float, across: float, length: float) -> Tip:
    """A seat wider than its cap by so much (mm) along the shaft and across it.

    It can rock by the play over the seat's length. Torque presses it flat on its loaded side, and
    its needles hold it straight across: play alone lets it rock, and does not tip it.
    """
    require_positive(SeatError, seat_length=length)
    round_it = max(across, 0.0) / length, max(along, 0.0) / length
    return Tip(
        Remark("cap-plays-by", along=along, across=across, tilt=max(round_it)), play=round_it
    )


def loose_strap(length: float) -> Tip:
    """A strap that is loose by hand and lets the cap rock across the load."""
    require_positive(SeatError, seat_length=length)
    rocks = STRAP_PLAY / length
    return Tip(Remark("strap-loose-by", play=STRAP_PLAY, tilt=rocks), play=(0.0, rocks))


def bed_stiffness(length: float) -> float:
    """N mm a rad of a cap pressed into its ear over a length (mm): k L^3 / 12 [derivation]."""
    require_positive(SeatError, seat_length=length)
    return BED * length**3 / 12.0
