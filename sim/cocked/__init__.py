"""A cap that sits crooked: its seat, its needles in slices, the pressure on the trunnion."""

from sim.cocked.balance import FAST, Balance, BalanceError, Held, balance
from sim.cocked.cap import CapResult, Corner, PressureMap
from sim.cocked.cocked import Cocked, cocked
from sim.cocked.joint import CAPS, Cap
from sim.cocked.life import reference_life
from sim.cocked.seat import STRAIGHT, Seat, SeatError, stated
from sim.cocked.slices import Row

__all__ = [
    "CAPS",
    "FAST",
    "STRAIGHT",
    "Balance",
    "BalanceError",
    "Cap",
    "CapResult",
    "Cocked",
    "Corner",
    "Held",
    "PressureMap",
    "Row",
    "Seat",
    "SeatError",
    "balance",
    "cocked",
    "reference_life",
    "stated",
]
