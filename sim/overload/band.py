"""A number that is known to its order of magnitude: a value between a low and a high."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Band:
    """A value, and what it may as well be; `inf` for what never ends."""

    value: float
    low: float
    high: float

    def over(self, per: float) -> "Band":
        """All three divided by a number above zero."""
        return Band(self.value / per, self.low / per, self.high / per)
