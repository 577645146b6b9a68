"""The axle on two leaf springs, by the three-link approximation."""

from dataclasses import dataclass
from functools import cached_property
from math import copysign, hypot, isfinite, sqrt

import numpy as np

from sim.frames import FloatArray, Vec3, mirrored
from sim.suspension.base import EulerSuspension, Motion, SuspensionError
from sim.suspension.bodies import Body, Spring

LINK_SHARE = 0.75
"""Length of the link that stands for half a leaf, as a share of the half length a. A leaf of
uniform strength bends into a circle, whose end shortens by (2/3) y^2/a; a link of length l
shortens by y^2/(2 l); equal for l = (3/4) a [derivation]."""


def half_length(along: float, height: float) -> float:
    """Half length a (mm) of a spring whose seat lies so far along and above its eye.

    The link of length 3/4 a turns about the point at the eye's height, a/4 from the eye toward
    the seat; the seat lies on its arc when (along - a/4)^2 + height^2 = (3a/4)^2, a quadratic in
    a. For a seat at the eye's height a is `along` itself.
    """
    along = abs(along)
    return 0.5 * (sqrt(9.0 * along**2 + 8.0 * height**2) - along)


def clamp_rotation(ahead: float, behind: float) -> float:
    """Turn of the seat with its height, rad/mm, positive when going up lifts the front.

    `ahead` and `behind` are the half lengths (mm). Each half is a cantilever on the clamp whose
    rate goes with 1/length^3, the eyes stay at their heights, and the eye forces balance about
    the clamp: (b/ka - a/kb) / (b^2/ka + a^2/kb) with a ahead and b behind
    [derivation]. The shorter half is the stiffer one: it leads the seat as a link would.
    """
    soft_ahead, soft_behind = ahead**3, behind**3
    return (behind * soft_ahead - ahead * soft_behind) / (
        behind**2 * soft_ahead + ahead**2 * soft_behind
    )


@dataclass(frozen=True, kw_only=True)
class Leaf(EulerSuspension):
    """Each side's spring seat runs on the arc of an equivalent link; both sides are mirrored.

    The two seats on their arcs settle the housing's fore-aft place and its yaw (roll steer). The
    half behind and ahead of the seat being unequal, the seat also turns with its height, for
    which the shackled eye must be known. Sideways the springs are taken as stiff.
    Points are given for the left side at ride height, in C (mm).
    """

    fixed_eye: Vec3
    seat: Vec3
    shackled_eye: Vec3 | None = None

    def __post_init__(self) -> None:
        for name in ("fixed_eye", "seat", "shackled_eye"):
            point = getattr(self, name)
            if point is not None and not (len(point) == 3 and all(map(isfinite, point))):
                raise SuspensionError(f"leaf {name}: got {point}, expected three finite numbers")
        if self.fixed_eye[0] == self.seat[0]:
            raise SuspensionError(
                f"leaf: eye and seat both lie {self.seat[0]} mm forward; expected the eye ahead "
                "of or behind the seat"
            )
        if self.seat[1] == 0.0:
            raise SuspensionError(
                "leaf seat: got 0 mm to the side, expected the left spring's seat"
            )
        if self.shackled_eye is not None and (
            (self.shackled_eye[0] - self.seat[0]) * (self.fixed_eye[0] - self.seat[0]) >= 0.0
        ):
            raise SuspensionError(
                f"leaf shackled_eye: got {self.shackled_eye[0]} mm forward, expected it on the "
                f"other side of the seat at {self.seat[0]} mm than the fixed eye at "
                f"{self.fixed_eye[0]} mm"
            )

    @cached_property
    def fixed_half(self) -> float:
        """Half length a (mm) from the seat to the fixed eye."""
        return half_length(self.seat[0] - self.fixed_eye[0], self.seat[2] - self.fixed_eye[2])

    @cached_property
    def shackled_half(self) -> float | None:
        """Half length b (mm) from the seat to the shackled eye, where known."""
        if self.shackled_eye is None:
            return None
        eye, seat = self.shackled_eye, self.seat
        return half_length(seat[0] - eye[0], seat[2] - eye[2])

    @cached_property
    def nose_rate(self) -> float:
        """Right-hand pitch about y for each mm the axle goes up, rad/mm."""
        if self.shackled_half is None:
            return 0.0
        halves = self.fixed_half, self.shackled_half
        ahead, behind = halves if self.fixed_eye[0] > self.seat[0] else halves[::-1]
        return -clamp_rotation(ahead, behind)

    @cached_property
    def link_centre(self) -> tuple[float, float]:
        """Centre (x, z) of the arc that the seat runs on, mm."""
        from_eye = (1.0 - LINK_SHARE) * self.fixed_half
        toward_seat = copysign(from_eye, self.seat[0] - self.fixed_eye[0])
        return self.fixed_eye[0] + toward_seat, self.fixed_eye[2]

    def _arc(self, height: FloatArray) -> FloatArray:
        """Fore-aft move (mm) of a seat at so much above the link's centre; nan out of reach."""
        drop = self.seat[2] - self.link_centre[1]
        link = hypot(self.seat[0] - self.link_centre[0], drop)
        side = copysign(1.0, self.seat[0] - self.fixed_eye[0])
        reach, at_ride = link**2 - height * height, link**2 - drop * drop
        reach = np.where(reach < 0.0, np.nan, reach)
        moved: FloatArray = side * (np.sqrt(reach) - np.sqrt(at_ride))
        return moved

    def motion(self, travel: FloatArray, roll: FloatArray) -> Motion:
        """Solve the place and yaw of the housing that put both seats on their arcs, exactly."""
        half_track = abs(self.seat[1])
        pitch = self.nose_rate * travel
        s, c = np.sin(pitch), np.cos(pitch)
        seat_x = c * self.seat[0] + s * self.seat[2]
        seat_z = c * self.seat[2] - s * self.seat[0]
        s, c = np.sin(roll), np.cos(roll)
        middle = travel + c * seat_z - self.link_centre[1]
        left, right = self._arc(middle + half_track * s), self._arc(middle - half_track * s)
        sin_yaw = (right - left) / (2.0 * half_track * c)
        yaw = np.arcsin(np.where(np.abs(sin_yaw) > 1.0, np.nan, sin_yaw))
        place = self.seat[0] + 0.5 * (left + right)
        x = place - seat_x * np.cos(yaw) - seat_z * s * sin_yaw
        return Motion(x=x, y=np.zeros(()), z=travel, roll=roll, pitch=pitch, yaw=yaw)

    def bodies(self) -> tuple[Body, ...]:
        """Both springs; where the shackled eye is unknown, as long behind the seat as ahead."""
        fixed, seat = self.fixed_eye, self.seat
        far = 2.0 * seat[0] - fixed[0], 2.0 * seat[1] - fixed[1], fixed[2]
        left = Spring("left", fixed, seat, self.shackled_eye or far)
        points = mirrored(fixed), mirrored(seat), mirrored(left.shackled_eye)
        return left, Spring("right", *points)
