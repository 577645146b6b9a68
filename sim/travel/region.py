"""Which poses of the axle there are: what its stops, shocks and straps allow at each side.

With s the sine of the roll and h half the distance of the stops, the left side stands at
travel + h s and the right one at travel - h s above ride height: exactly, in the frames of
`sim.frames`, since neither yaw nor pitch nor wrap about the axle's own line lifts a point of it.
Each side stays between bump and droop. In travel, s and wrap that is a convex body around ride
height: a box with its corners cut. Heights of the sides are those before wrap about another centre.
"""

from dataclasses import dataclass, replace
from functools import cached_property
from math import asin, inf, isfinite, pi, sin
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.errors import BindpointError
from sim.frames import FloatArray, read_only
from sim.tolerances import TOL

Flags = NDArray[np.bool_]

DroopStrap = Literal["sides", "middle"]


class VehicleError(BindpointError, ValueError):
    """A vehicle that cannot be: impossible travel, slip, points or axes."""


@dataclass(frozen=True)
class Pose:
    """One state of the axle: travel (mm, up positive), roll and wrap (rad)."""

    travel: float = 0.0
    roll: float = 0.0
    wrap: float = 0.0


@dataclass(frozen=True)
class TravelRegion:
    """How far the axle goes from ride height; every number is a distance, none is negative.

    Each side goes in [-droop, bump] (mm), roll (rad) in [-roll, roll], wrap (rad) in
    [-nose_down, nose_up]. A zero closes that direction.
    """

    bump: float
    droop: float
    roll: float
    nose_up: float
    nose_down: float
    stops_apart: float = 0.0
    """Distance (mm) at which stops, shocks and straps act, left to right; 0 has them all act in
    the middle, so that roll is free at every height."""
    droop_strap: DroopStrap = "sides"
    """Where the droop ends: at each side, or at one strap in the middle, which lets roll free."""
    wrap_at_droop: float = 1.0
    """Share of the wrap that is left at full droop. From ride height it falls in a straight line:
    the tyres unload nearly so as a spring's force does, and the torque they hold with them."""
    lowest: float = -inf
    """Least travel (mm) looked at, where it is only a part."""
    highest: float = inf
    """Most travel (mm) looked at."""

    def __post_init__(self) -> None:
        for name in ("bump", "droop", "roll", "nose_up", "nose_down", "stops_apart"):
            value = getattr(self, name)
            if not (isfinite(value) and value >= 0.0):
                raise VehicleError(
                    f"travel {name}: got {value}, expected a distance from ride height, "
                    "zero or more"
                )
            if name in {"roll", "nose_up", "nose_down"} and value >= pi / 2:
                raise VehicleError(f"travel {name}: got {value} rad, expected under 90 deg")
        if self.droop_strap not in get_args(DroopStrap):
            raise VehicleError(
                f"travel droop_strap: got {self.droop_strap!r}, expected one of "
                f"{get_args(DroopStrap)}"
            )
        if not 0.0 <= self.wrap_at_droop <= 1.0:
            raise VehicleError(
                f"travel wrap_at_droop: got {self.wrap_at_droop}, expected a share from 0 to 1"
            )
        if not self.lowest <= 0.0 <= self.highest:
            raise VehicleError(
                f"travel: got the part from {self.lowest} to {self.highest} mm, expected one with "
                "ride height in it"
            )

    def part(self, lowest: float = -inf, highest: float = inf) -> "TravelRegion":
        """The part between two travels (mm), ride height among them; the stops stay."""
        low, high = max(self.lowest, lowest), min(self.highest, highest)
        return replace(self, lowest=low, highest=high)

    def strapped(self, droop: float) -> "TravelRegion":
        """The region with its droop ended earlier (mm); what there is at a height stays.

        The tyres carry at each height what they did, until the straps take it.
        """
        return replace(self, droop=droop, wrap_at_droop=float(self.wrap_share(-droop)))

    def level(self) -> "TravelRegion":
        """The part without roll."""
        return replace(self, roll=0.0)

    def unwrapped(self) -> "TravelRegion":
        """The part without wrap."""
        return replace(self, nose_up=0.0, nose_down=0.0)

    def scaled(self, share: float) -> "TravelRegion":
        """The region shrunk toward ride height, to a share of travel, sine of roll, and wrap."""
        return replace(
            self,
            bump=share * self.bump,
            droop=share * self.droop,
            roll=asin(share * sin(self.roll)),
            nose_up=share * self.nose_up,
            nose_down=share * self.nose_down,
            lowest=share * self.lowest if share else 0.0,
            highest=share * self.highest if share else 0.0,
        )

    @property
    def arm(self) -> float:
        """Half the distance at which the stops act, mm."""
        return 0.5 * self.stops_apart

    @property
    def _span(self) -> tuple[float, float]:
        """Least and most travel, mm."""
        return max(-self.droop, self.lowest), min(self.bump, self.highest)

    @cached_property
    def low(self) -> FloatArray:
        """Least travel mm, roll rad, wrap rad of any pose, (3,)."""
        return read_only([self._span[0], -self.most_roll, -self.nose_down])

    @cached_property
    def high(self) -> FloatArray:
        """Most travel mm, roll rad, wrap rad of any pose, (3,)."""
        return read_only([self._span[1], self.most_roll, self.nose_up])

    @cached_property
    def most_roll(self) -> float:
        """Farthest (rad) that the axle rolls at any height: as given, or as the stops allow."""
        return float(np.max(self.roll_limit(np.array(self.kinks))))

    def sides(self, travel: ArrayLike, roll: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Heights (mm) above ride height at which left and right side stand."""
        t, lift = np.asarray(travel, np.float64), self.arm * np.sin(np.asarray(roll, np.float64))
        return t + lift, t - lift

    def roll_limit(self, travel: ArrayLike) -> FloatArray:
        """Farthest roll (rad) either way that the stops leave at each travel (mm)."""
        t = np.asarray(travel, dtype=np.float64)
        if self.arm == 0.0:
            return np.full(t.shape, self.roll)
        room = self.bump - t
        if self.droop_strap == "sides":
            room = np.minimum(room, t + self.droop)
        sine = np.clip(room / self.arm, 0.0, 1.0)
        return np.where(sine >= sin(self.roll), self.roll, np.arcsin(sine))

    def wrap_share(self, travel: ArrayLike) -> FloatArray:
        """Share of the whole wrap that is there at each travel (mm)."""
        t = np.asarray(travel, dtype=np.float64)
        if self.droop == 0.0:
            return np.ones(t.shape)
        return 1.0 - (1.0 - self.wrap_at_droop) * np.clip(-t / self.droop, 0.0, 1.0)

    def wrap_limits(self, travel: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Least and most wrap (rad) at each travel (mm)."""
        share = self.wrap_share(travel)
        return -self.nose_down * share, self.nose_up * share

    def travel_limits(self, roll: ArrayLike, wrap: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Least and most travel (mm) at which a roll and a wrap (rad) are there; nan if never."""
        return self._travel_limits(*(np.asarray(each, np.float64) for each in (roll, wrap)))

    def _travel_limits(self, roll: FloatArray, wrap: FloatArray) -> tuple[FloatArray, FloatArray]:
        lift = self.arm * np.abs(np.sin(roll))
        bottom, top = self._span
        low = np.maximum(bottom, self._lowest_for(wrap))
        if self.droop_strap == "sides":
            low = np.maximum(low, lift - self.droop)
        high = np.minimum(top, self.bump - lift)
        slack = TOL.same_height
        never = (low > high + slack) | (np.abs(roll) > self.roll + TOL.same_angle)
        # Where rounding alone has them cross, both are the one height that there is.
        middle = np.clip(0.5 * (low + high), bottom, top)
        crossed = low > high
        low, high = np.where(crossed, middle, low), np.where(crossed, middle, high)
        return np.where(never, np.nan, low), np.where(never, np.nan, high)

    def _lowest_for(self, wrap: FloatArray) -> FloatArray:
        """Least travel (mm) at which there is so much wrap; infinite where there never is."""
        least, most = (np.full(wrap.shape, way) for way in (self.nose_down, self.nose_up))
        way, size = np.where(wrap < 0.0, least, most), np.abs(wrap)
        need = np.divide(size, way, out=np.where(size > 0.0, inf, 0.0), where=way > 0.0)
        slope = 1.0 - self.wrap_at_droop
        if slope == 0.0 or self.droop == 0.0:
            falls = np.full(wrap.shape, -self.droop)
        else:
            falls = -self.droop * np.clip((1.0 - need) / slope, 0.0, 1.0)
        return np.where(size > way + TOL.same_angle, inf, falls)

    def contains(self, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike) -> Flags:
        """Whether poses that broadcast are in the region, its edge included."""
        t, r, w = (np.asarray(each, dtype=np.float64) for each in (travel, roll, wrap))
        low, high = self._travel_limits(r, w)
        slack = TOL.same_height
        inside: Flags = (t >= low - slack) & (t <= high + slack)
        return inside

    def held(self, at: Pose, first: Literal["travel", "roll", "wrap"] = "travel") -> Pose:
        """The pose of the region that comes nearest, one axis kept before the others.

        Travel is kept before roll and wrap. A roll or a wrap that comes first is kept where there
        is a height that has it, and the travel gives way as little as it has to.
        """
        travel = float(np.clip(at.travel, *self._span))
        roll = float(np.clip(at.roll, -self.most_roll, self.most_roll))
        wrap = float(np.clip(at.wrap, -self.nose_down, self.nose_up))
        if first != "travel":
            kept = (roll, 0.0) if first == "roll" else (0.0, wrap)
            low, high = (float(each) for each in self.travel_limits(*kept))
            travel = float(np.clip(travel, low, high))
        limit = float(self.roll_limit(travel))
        least, most = (float(each) for each in self.wrap_limits(travel))
        return Pose(
            travel,
            roll if first == "roll" else float(np.clip(roll, -limit, limit)),
            wrap if first == "wrap" else float(np.clip(wrap, least, most)),
        )

    def held_all(self, poses: FloatArray) -> FloatArray:
        """Poses (n, 3) each at the nearest height that there is, with what roll and wrap it has."""
        travel = np.clip(poses[:, 0], *self._span)
        limit, (least, most) = self.roll_limit(travel), self.wrap_limits(travel)
        roll, wrap = np.clip(poses[:, 1], -limit, limit), np.clip(poses[:, 2], least, most)
        return np.stack([travel, roll, wrap], axis=-1)

    def at_shares(self, travel: float, roll: float, wrap: float) -> Pose:
        """The pose at shares, each -1 to 1, of the way.

        That is of the travel, and of the roll and the wrap that there are at its height.
        """
        height = float(np.clip(travel * (self.bump if travel > 0.0 else self.droop), *self._span))
        least, most = (float(each) for each in self.wrap_limits(height))
        return Pose(
            height,
            roll * float(self.roll_limit(height)),
            wrap * most if wrap > 0.0 else -wrap * least,
        )

    def corners(self) -> FloatArray:
        """Every corner of the region, ride height too: travel mm, roll and wrap rad, (n, 3)."""
        poses = {(0.0, 0.0, 0.0)}
        for travel in self.kinks:
            roll = float(self.roll_limit(travel))
            for wrap in (*(float(each) for each in self.wrap_limits(travel)), 0.0):
                poses |= {(travel, sign * roll, wrap) for sign in (-1.0, 0.0, 1.0)}
        return read_only(sorted(poses))

    @cached_property
    def kinks(self) -> tuple[float, ...]:
        """Travels (mm), both ends among them, between which no limit has a kink.

        There the limits of the wrap, and of the sine of the roll, go in a straight line.
        """
        lift = self.arm * sin(self.roll)
        at = [0.0] if self.wrap_at_droop < 1.0 else []
        if lift > 0.0 and self.droop_strap == "middle":
            at += [self.bump - lift]
        elif lift > 0.0 and 2.0 * lift < self.bump + self.droop:
            at += [self.bump - lift, lift - self.droop]
        elif lift > 0.0:
            at += [0.5 * (self.bump - self.droop)]
        bottom, top = self._span
        apart = TOL.same_height
        return (bottom, *sorted(each for each in at if bottom + apart < each < top - apart), top)
