"""What is left to every limit of a rig, and the verdict on it."""

from collections.abc import Mapping
from dataclasses import dataclass

from sim.findings import Verdict, judged, worst_of
from sim.vehicle import Joint


@dataclass(frozen=True, kw_only=True)
class Limits:
    """Margins of a rig over its whole travel.

    Attributes
    ----------
    margins : rad left at each joint.
    reserve : rad wanted.
    closes_left, opens_left : mm of slip.
    slip_reserve : mm wanted.
    reaches : whether suspension and shaft can be where the travel says.
    tight : joints whose metal comes nearer than the gap wanted at their worst bend; looked for
        only where all else is clear.
    below, above : mm by which the travel goes beyond the heights the suspension was read at.
    """

    margins: Mapping[Joint, float]
    reserve: float
    closes_left: float
    opens_left: float
    slip_reserve: float
    reaches: bool
    tight: tuple[Joint, ...] = ()
    below: float = 0.0
    above: float = 0.0

    @property
    def held(self) -> Verdict:
        """The worst of joints, slip and reach, taking what lies beyond the readings for known."""
        said = [judged(margin, self.reserve) for margin in self.margins.values()]
        said += ["close"] if self.tight else []
        said += [judged(left, self.slip_reserve) for left in (self.closes_left, self.opens_left)]
        return worst_of([*said, "clear" if self.reaches else "touches"])

    @property
    def verdict(self) -> Verdict:
        """The verdict of a check: never clear where the travel goes beyond the readings."""
        return worst_of([self.held, "close" if self.beyond > 0.0 else "clear"])

    @property
    def beyond(self) -> float:
        """How far (mm) the travel goes beyond the readings, at the worse end."""
        return max(self.below, self.above)

    @property
    def least(self) -> float:
        """The least left of anything, as a share of the reserve wanted; negative past a limit."""
        bend = max(self.reserve, _LEAST_BEND)
        slip = max(self.slip_reserve, _LEAST_SLIP)
        left = [margin / bend for margin in self.margins.values()]
        left += [self.closes_left / slip, self.opens_left / slip]
        return min(left) if self.reaches else min(*left, -1.0)


_LEAST_BEND, _LEAST_SLIP = 1e-3, 0.1
"""rad and mm. A reserve of nothing still has to be divided by."""
