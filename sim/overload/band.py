"""A number that is known to its order of magnitude: a value between a low and a high."""

from dataclasses import dataclass
from math import inf, isfinite, log10


@dataclass(frozen=True)
class Band:
    """A value, and what it may as well be; `inf` for what never ends."""

    value: float
    low: float
    high: float

    @property
    def magnitude(self) -> float:
        """The power of ten nearest to the value; 0 below one, inf for what never ends."""
        if not isfinite(self.value):
            return inf
        return 0.0 if self.value < 1.0 else 10.0 ** round(log10(self.value))

    def over(self, per: float) -> "Band":
        """All three divided by a number above zero."""
        return Band(self.value / per, self.low / per, self.high / per)
