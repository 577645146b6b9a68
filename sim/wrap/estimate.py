"""A number with how far off it may be."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from math import isfinite
from operator import neg

from geometry.errors import BindpointError


class WrapError(BindpointError, ValueError):
    """Readings or numbers that no axle wrap can be told from."""


@dataclass(frozen=True)
class Estimate:
    """A value between a low and a high that it may as well be."""

    value: float
    low: float
    high: float

    def __post_init__(self) -> None:
        if not (isfinite(self.low) and isfinite(self.high) and self.low <= self.value <= self.high):
            raise WrapError(
                f"estimate: got {self.value} between {self.low} and {self.high}, expected finite "
                "numbers in that order"
            )

    @classmethod
    def exactly(cls, value: float) -> "Estimate":
        """A value that is not in doubt."""
        return cls(value, value, value)

    @classmethod
    def within(cls, value: float, off: float) -> "Estimate":
        """A value read to within `off` either way."""
        return cls(value, value - abs(off), value + abs(off))

    @classmethod
    def share(cls, value: float, share: float) -> "Estimate":
        """A value known to a share of itself either way."""
        return cls.within(value, share * value)

    @property
    def spread(self) -> float:
        """From the low to the high."""
        return self.high - self.low


def carried(work: Callable[..., float], *inputs: Estimate) -> Estimate:
    """Carry estimates through `work`, which goes one way with each of its inputs.

    The low and the high are those of all corners, so all inputs being off the worst way at once
    is covered: a bound, not a likely range.
    """
    corners = [work(*corner) for corner in product(*((each.low, each.high) for each in inputs))]
    value = work(*(each.value for each in inputs))
    return Estimate(value, min(value, *corners), max(value, *corners))


def distance(wrap: Estimate) -> Estimate:
    """How far a wrap of either sign goes; none is under zero."""
    if wrap.value < 0.0:
        wrap = carried(neg, wrap)
    return Estimate(wrap.value, max(0.0, wrap.low), wrap.high)
