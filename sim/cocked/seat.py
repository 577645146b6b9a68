"""How a cap can sit in its yoke: the tilt its seat gives it, and the play it has there.

Frame K as in `sim.cocked.balance`: d the way the trunnion presses on the cap while driving, a along
the shaft of the cap's own yoke, away from the cross; the tilt of a cap is how far its outer end
leans toward d and a, for each mm along the bore. All formulas are plain geometry [derivation].
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import hypot

from geometry.errors import BindpointError
from sim.cocked.balance import FAST, Held
from sim.quantities import require_fields, require_positive
from sim.remark import Remark

BED = 100_000.0
"""N/mm that each mm of a cap's length is held by where it is pressed into its ear: half of steel's
modulus (from memory, generic)."""

Tilt = tuple[float, float]
"""How far the outer end of a cap leans toward d and toward a, rad."""


class SeatError(BindpointError, ValueError):
    """Readings of a seat that cannot be."""


@dataclass(frozen=True)
class Seat:
    """How one cap sits.

    Attributes
    ----------
    tilt, coast_tilt : what its seat gives it while the engine drives and while it holds back.
    may : most that it could lean either way in each plane, rad.
    held : what holds it against being brought straight by its needles.
    out : mm that it is not home.
    why : each reason with its numbers; none for a cap that is taken to be straight.
    measured : whether any of it was measured or stated.
    """

    tilt: Tilt = (0.0, 0.0)
    coast_tilt: Tilt | None = None
    may: Tilt = (0.0, 0.0)
    held: Held = FAST
    out: float = 0.0
    why: tuple[Remark, ...] = field(default=())
    measured: bool = False

    def __post_init__(self) -> None:
        require_fields(SeatError, self, "", "out")
        for tilt in (self.tilt, self.coast_tilt or self.tilt):
            if not hypot(*tilt) < MOST:
                raise SeatError(
                    f"cap tilted: got {hypot(*tilt):g} rad, expected under {MOST:g}, past which it "
                    "does not go over its trunnion"
                )

    @property
    def on_coast(self) -> Tilt:
        """Its tilt while the engine holds back."""
        return self.tilt if self.coast_tilt is None else self.coast_tilt

    @property
    def straight(self) -> bool:
        """Whether nothing tips it."""
        return not (any(self.tilt) or any(self.on_coast) or self.out)


MOST = 0.09
"""rad, 5 deg: a cap tilted so far over needles 12 mm long stands 1 mm off at their ends, half a
needle's diameter."""

STRAIGHT = Seat()
"""A cap that sits as it should; what is taken where nothing was measured."""


def stated(tilt: float, across: float = 0.0) -> Seat:
    """A cap whose tilt somebody states, rad: in the plane of the load, and across it."""
    return Seat((tilt, across), measured=True, why=(Remark("cap-tilt-stated", tilt=tilt),))


def bed_stiffness(length: float) -> float:
    """N mm a rad of a cap pressed into its ear over a length (mm): k L^3 / 12 [derivation]."""
    require_positive(SeatError, seat_length=length)
    return BED * length**3 / 12.0
