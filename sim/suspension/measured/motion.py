"""The motion through readings of shaft length and pinion angle at three or more heights."""

from dataclasses import dataclass
from functools import cached_property
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np

from sim.frames import FloatArray, Ry, Vec3
from sim.suspension.base import EulerSuspension, Motion, SuspensionError
from sim.suspension.bodies import Body
from sim.tolerances import TOL

if TYPE_CHECKING:
    from scipy.interpolate import CubicSpline


@dataclass(frozen=True)
class Reading:
    """What a shop reads at one height of the axle, level and without torque."""

    travel: float
    """Height of the housing centre above ride height, mm; zero at ride height."""
    length: float
    """From the point `p_C_output` of the chassis to the pinion joint, mm."""
    points_up: float
    """How much the pinion points up in the side view, rad."""


@dataclass(frozen=True, kw_only=True)
class Measured(EulerSuspension):
    """Fore-aft shift and pitch of the housing, interpolated through the readings.

    At each height the length, the pinion angle and the known output joint leave one unknown, the
    fore-aft place of the housing; `shift_and_pitch` solves it. Between the readings a cubic
    spline without added knots runs through shift and pitch (a parabola for three readings), so
    every reading is reproduced; outside of them it goes on straight, and `range` tells where
    that begins. Roll is as in `Vertical`.

    Readings count from the one at ride height: where its length disagrees with the joints'
    places by less than the tape's own error, every length is taken by its difference.
    """

    p_C_output: Vec3
    """Point of the chassis that the lengths are read from: the output joint at ride height."""
    p_A_pinion: Vec3
    """Pinion joint in A, mm."""
    readings: tuple[Reading, ...]

    def __post_init__(self) -> None:
        readings = tuple(sorted(self.readings, key=lambda reading: reading.travel))
        object.__setattr__(self, "readings", readings)
        heights = [reading.travel for reading in readings]
        for reading in readings:
            numbers = (reading.travel, reading.length, reading.points_up)
            if not all(map(isfinite, numbers)) or reading.length <= 0.0:
                raise SuspensionError(
                    f"measured: got {reading}, expected finite numbers and a length above zero"
                )
        if len(readings) < 3:
            raise SuspensionError(
                f"measured: got {len(readings)} heights, expected at least 3 of which one is ride "
                "height"
            )
        if heights.count(0.0) != 1:
            raise SuspensionError(
                f"measured: got heights {heights} mm, expected exactly one at ride height, 0"
            )
        if min(np.diff(heights)) < TOL.unlike_heights:
            raise SuspensionError(f"measured: got heights {heights} mm, expected unlike heights")
        if abs(self.ride_error) > TOL.ride_reading:
            raise SuspensionError(
                f"measured: the length read at ride height is {self._ride.length:.2f} mm, but the "
                f"joints lie {self._ride.length - self.ride_error:.2f} mm apart; expected the "
                f"same within {TOL.ride_reading} mm"
            )
        self.shift_and_pitch  # noqa: B018  (an impossible reading is told now, not later)

    @cached_property
    def _ride(self) -> Reading:
        return next(reading for reading in self.readings if reading.travel == 0.0)

    @property
    def ride_error(self) -> float:
        """Length read at ride height less the distance of the joints' places, mm."""
        between = np.subtract(self.p_A_pinion, self.p_C_output)
        return self._ride.length - float(np.linalg.norm(between))

    @cached_property
    def shift_and_pitch(self) -> FloatArray:
        """Solved at each reading, (n, 2): shift forward mm, right-hand pitch about y rad."""
        ahead = self.p_A_pinion[0] > self.p_C_output[0]
        solved = np.empty((len(self.readings), 2))
        for row, reading in zip(solved, self.readings, strict=True):
            pitch = self.nose_up_sense * (reading.points_up - self._ride.points_up)
            p_C_pinion = Ry(pitch) @ np.array(self.p_A_pinion) + [0.0, 0.0, reading.travel]
            offset = p_C_pinion - self.p_C_output
            length = reading.length - self.ride_error
            forward_squared = length**2 - offset[1] ** 2 - offset[2] ** 2
            if forward_squared < 0.0:
                raise SuspensionError(
                    f"measured: at travel {reading.travel} mm the length {reading.length} mm is "
                    f"less than the {np.hypot(*offset[1:]):.2f} mm the joints are apart in height "
                    "and sideways"
                )
            row[:] = np.sqrt(forward_squared) * (1.0 if ahead else -1.0) - offset[0], pitch
        return solved

    @cached_property
    def _curve(self) -> "CubicSpline":
        heights = [reading.travel for reading in self.readings]
        # Slow to read, and most rigs have no readings.
        from scipy.interpolate import CubicSpline  # noqa: PLC0415

        curve = CubicSpline(heights, self.shift_and_pitch)
        for end, outward in zip(self.range(), (-1.0, 1.0), strict=True):
            slope = curve(end, 1)
            start = curve(end) + min(outward, 0.0) * slope  # a piece counts from its lower end
            still = np.zeros_like(slope)
            curve.extend(np.array([still, still, slope, start])[:, None], [end + outward])
        return curve

    @cached_property
    def _at_ride(self) -> FloatArray:
        value: FloatArray = self._curve(0.0)
        return value

    def range(self) -> tuple[float, float]:
        """Lowest and highest reading, mm of travel."""
        return self.readings[0].travel, self.readings[-1].travel

    def knots(self) -> tuple[float, ...]:
        """The readings: the curve bends most around them, and goes on straight after the last."""
        return tuple(reading.travel for reading in self.readings)

    def motion(self, travel: FloatArray, roll: FloatArray) -> Motion:
        """Shift and pitch by the curve through the readings, straight on outside of them."""
        value = self._curve(travel) - self._at_ride
        return Motion(x=value[..., 0], y=np.zeros(()), z=travel, roll=roll, pitch=value[..., 1])

    def bodies(self) -> tuple[Body, ...]:
        """Readings do not tell what holds it."""
        return ()
