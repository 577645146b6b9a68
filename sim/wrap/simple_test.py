"""Degrees of wrap from what a shop can do: two angles, or a mark, under a known torque.

A torque counts only as far as it reaches the ground or a lever fixed to something else than the
axle. What brakes on the same axle hold back closes within the housing and turns nothing: a test
against the foot brake shows the share of the other axle's brakes alone [derivation].
"""

from dataclasses import dataclass
from math import asin, isfinite, pi, radians, sin
from typing import Final

from sim.wrap.estimate import Estimate, WrapError, carried

ANGLE_READING: Final = radians(0.5)
"""rad. Error of one reading of an angle finder (common practice, no source)."""

MARK_READING: Final = 25.4 / 16.0
"""mm. Error of the length of a mark, 1/16 in (common practice, no source)."""


@dataclass(frozen=True)
class MeasuredWrap:
    """Wrap seen at one torque."""

    wrap: Estimate
    """rad, nose up positive."""
    torque: Estimate
    """Torque on the axle at which it was seen, N mm, positive when it turns the nose up."""

    def __post_init__(self) -> None:
        if self.torque.low <= 0.0 <= self.torque.high:
            raise WrapError(
                f"torque of the test: got {self.torque.value} N mm, expected one that is surely "
                "not zero"
            )

    @property
    def told(self) -> bool:
        """Whether the test shows any wrap at all beyond its reading errors."""
        return not self.wrap.low <= 0.0 <= self.wrap.high

    def at(self, torque: Estimate) -> Estimate:
        """Wrap (rad) at another torque (N mm), taken to grow with it.

        Real springs wind up less and less, bushes too; far beyond the torque of the test the
        number is on the high side.
        """
        return carried(lambda w, seen, t: w * t / seen, self.wrap, self.torque, torque)

    @property
    def stiffness(self) -> Estimate | None:
        """Torque for each rad, N mm/rad; None where the test shows no wrap for sure."""
        return carried(lambda w, t: t / w, self.wrap, self.torque) if self.told else None


def from_angles(
    before: float,
    after: float,
    torque: Estimate,
    chassis: tuple[float, float] | None = None,
    reading: float = ANGLE_READING,
) -> MeasuredWrap:
    """Read the pinion's slope before and under torque (rad, up positive).

    With the slopes of the frame (`chassis`, nose up positive) read at the same two moments, the
    vehicle's own squat is taken off; without them it counts as wrap. Every reading may be off by
    `reading`, all the worst way at once.
    """
    _finite(before=before, after=after, reading=reading)
    wrap = after - before
    readings = 2
    if chassis is not None:
        _finite(chassis_before=chassis[0], chassis_after=chassis[1])
        wrap -= chassis[1] - chassis[0]
        readings = 4
    return MeasuredWrap(Estimate.within(wrap, readings * reading), torque)


def from_mark(
    rise: float,
    lever: float,
    torque: Estimate,
    slope: float = 0.0,
    reading: float = MARK_READING,
) -> MeasuredWrap:
    """Read how far a mark on the housing went up (mm, as on a plate beside it fixed to the frame).

    The mark lies `lever` (mm) from the axis that the housing turns about, along a line that
    points up by `slope` (rad): sin(slope + wrap) = sin(slope) + rise / lever [derivation]. The
    axle must not have gone up or down meanwhile; measure beside the tube too and take it off.
    """
    _finite(rise=rise, lever=lever, slope=slope, reading=reading)
    if not lever > reading:
        raise WrapError(f"lever of the mark: got {lever} mm, expected more than {reading:g} mm")
    if not abs(slope) < pi / 2:
        raise WrapError(f"slope to the mark: got {slope} rad, expected under a right angle")

    def turned(up: float, arm: float) -> float:
        height = sin(slope) + up / arm
        if abs(height) > 1.0:
            raise WrapError(
                f"rise of the mark: got {rise} mm at {lever} mm from the axis, expected less than "
                "the mark can rise"
            )
        return asin(height) - slope

    return MeasuredWrap(
        carried(turned, Estimate.within(rise, reading), Estimate.within(lever, reading)), torque
    )


def _finite(**numbers: float) -> None:
    for name, value in numbers.items():
        if not isfinite(value):
            raise WrapError(f"{name}: got {value}, expected a finite number")
