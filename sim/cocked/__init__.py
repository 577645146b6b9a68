"""A cap that sits crooked: its seat, its needles in slices, the pressure on the trunnion."""

from sim.cocked.amiss import Against, Astray, Thrust, against, astray, thrust
from sim.cocked.balance import FAST, Balance, BalanceError, Held, balance
from sim.cocked.cap import CapResult, Corner
from sim.cocked.cocked import CROOKED, Axis, Cocked, cocked
from sim.cocked.joint import CrossAt, cross_at
from sim.cocked.life import reference_life
from sim.cocked.places import cap_axes
from sim.cocked.seat import STRAIGHT, Seat, SeatError, Tip, stated
from sim.cocked.slices import Row
from sim.cocked.turned import PressureMap

__all__ = [
    "CROOKED",
    "FAST",
    "STRAIGHT",
    "Against",
    "Astray",
    "Axis",
    "Balance",
    "BalanceError",
    "CapResult",
    "Cocked",
    "Corner",
    "CrossAt",
    "Held",
    "PressureMap",
    "Row",
    "Seat",
    "SeatError",
    "Thrust",
    "Tip",
    "against",
    "astray",
    "balance",
    "cap_axes",
    "cocked",
    "cross_at",
    "reference_life",
    "stated",
    "thrust",
]
