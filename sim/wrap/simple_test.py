"""Degrees of wrap from what a shop can do: two angles, or a mark, under a known torque.

A torque counts only as far as it reaches the ground or a lever fixed to something else than the
axle. What brakes on the same axle hold back closes within the housing and turns nothing: a test
against the foot brake shows the share of the other axle's brakes alone [derivation].
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, isfinite, pi, radians, sin
from typing import ClassVar, Final, Literal

from pydantic import model_validator

from sim.remark import Remark
from sim.table.fields import Distance, Size, Slope, Swing, impossible
from sim.table.form import field, maybe
from sim.table.loads import FORCE, TORQUE, Force, OffShare, Torque, share_or
from sim.table.part import Either, OneOf, Part, Together
from sim.table.typed import typed_length
from sim.wrap.estimate import Estimate, WrapError, carried, distance
from sim.wrap.table import Around, WrapPart
from sim.wrap.torque import torque_of_pull

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


TORQUE_OFF: Final = 0.1
"""Share by which the torque of a test may be off: a wrench, a spring scale (from memory)."""

FAR: Final = 2.0
"""The torque meant, over that of the test, beyond which the number is well on the high side."""

_SAME_FACE: Final = "Against level, on the same face both times: such as 1 deg up."
_FRAME: Final = (
    "Where the frame tilts too, read it at the same moments and put frame_before and "
    "frame_under_torque into the file, or its squat counts as wrap."
)


class SlopeReading(Part):
    """One reading of an angle finder."""

    up = Either(
        ("points_up", "points_down"),
        'points_up or points_down, an angle such as "3 deg"',
        neither=0.0,
    )
    """Slope, rad, positive up."""

    points_up: Slope | None = maybe("How far it points up, toward its nose.")
    points_down: Slope | None = maybe("How far it points down, toward its nose.")


class SimpleTest(WrapPart):
    """What every simple test has: the torque it was made under."""

    under = OneOf(
        ("torque", "pinion_torque", "pull"),
        "the torque of the test: torque (at the axle), pinion_torque, or pull with its arm, "
        'such as torque = "900 lb-ft"',
    )
    bar = Together(("pull", "arm"), 'pull with its arm, such as pull = "200 lb", arm = "48 in"')

    torque: Torque | None = maybe(
        "Torque of the test at the axle: what both wheels put on the ground.",
        "900 lb-ft",
        "1200 N m",
        asks="How large was the torque at the axle?",
    )
    pinion_torque: Torque | None = maybe(
        "Torque of the test at the pinion instead, the wheels held by the ground.",
        "220 lb-ft",
        "300 N m",
        asks="How large was the torque at the pinion?",
    )
    pull: Force | None = maybe(
        "Pull of the test instead, square to a bar that is bolted to the housing.",
        "200 lb",
        asks="How hard was the pull on the bar?",
        datum="By a spring scale, square to the bar: such as 200 lb or 900 N.",
    )
    arm: Size | None = maybe(
        "From the axle's center to the pull, along the bar.",
        "48 in",
        asks="How far from the axle's center was the pull?",
    )

    torque_off: OffShare | None = maybe("How far off the torque of the test may be.", "5 %")

    def seen_at(self) -> Estimate:
        """Torque of the test at the axle, N mm."""
        off = share_or(self.torque_off, TORQUE_OFF)
        if self.pull is not None and self.arm is not None:
            force = Estimate.share(FORCE.sure(self.pull), off)
            return torque_of_pull(force, Estimate.exactly(self.arm.mm))
        if self.pinion_torque is not None:
            at_axle = self.drive.axle_ratio * TORQUE.sure(self.pinion_torque)
            return Estimate.share(at_axle, off)
        return Estimate.share(TORQUE.sure(self.torque or ""), off)

    @abstractmethod
    def measured(self) -> MeasuredWrap:
        """Read the test. Raises `WrapError`."""

    def wrap(self, torque: Estimate, around: Around) -> Estimate:
        """Scale the test to another torque."""
        del around
        size = distance(torque)
        return distance(self.measured().at(size))

    def hints(self, around: Around) -> Iterator[Remark]:
        """Whether the test tells anything, and how far off the torque it was made."""
        del around
        test = self.measured()
        if not test.told:
            yield Remark("test-tells-nothing")
        most = self.drive.torque()
        share = max(most.driving.high, most.braking.high) / test.torque.value
        if share > FAR:
            yield Remark("far-from-test", times=share)


class AnglesTable(SimpleTest):
    """Two readings of the pinion's slope: before, and under a known torque."""

    frame = Together(
        ("frame_before", "frame_under_torque"), "both readings of the frame, or neither"
    )
    known_by: ClassVar[Remark] = Remark("by-angles")

    kind: Literal["angles"] = field("Two angles read under a known torque.")
    before: SlopeReading = field(
        "Slope of the pinion without torque.",
        {"points_up": "1 deg"},
        asks="How did the pinion point in the test, without torque?",
        datum=_SAME_FACE,
        beware=_FRAME,
    )
    under_torque: SlopeReading = field(
        "Slope of the pinion under the torque.",
        {"points_up": "6 deg"},
        asks="How did the pinion point in the test, under the torque?",
        datum=_SAME_FACE,
        beware=_FRAME,
    )
    frame_before: SlopeReading | None = maybe(
        "Slope of the frame without torque, looking the way the pinion looks."
    )
    frame_under_torque: SlopeReading | None = maybe(
        "Slope of the frame under the torque; the squat is then taken off."
    )

    reading_off: Swing | None = maybe("How far off each reading of a slope may be.", "1/4 deg")

    def measured(self) -> MeasuredWrap:
        """Read the test."""
        frame = None
        if self.frame_before is not None and self.frame_under_torque is not None:
            frame = self.frame_before.up, self.frame_under_torque.up
        off = ANGLE_READING if self.reading_off is None else self.reading_off.rad
        return from_angles(self.before.up, self.under_torque.up, self.seen_at(), frame, off)


class MarkTable(SimpleTest):
    """How far a mark on the housing goes up or down under a known torque."""

    went = Either(
        ("rises", "falls"),
        'rises or falls, a length such as "1 in"',
        neither=0.0,
        writes=typed_length,
    )
    """How far the mark went, mm, positive up."""
    slope = Either(("points_up", "points_down"), neither=0.0)
    """Slope of the line to the mark, rad, positive up."""
    known_by: ClassVar[Remark] = Remark("by-mark")

    kind: Literal["mark"] = field("A mark on the housing under a known torque.")
    rises: Distance | None = maybe(
        "How far the mark went up under the torque.",
        "1 in",
        asks="How far did the mark go under the torque?",
        datum="Against the frame: such as 1 in up.",
        beware="The axle must not go up or down meanwhile; mark it beside the tube too and take "
        "that off.",
        way="up",
    )
    falls: Distance | None = maybe("How far the mark went down instead.", way="down")
    lever: Size = field(
        "From the axle's center to the mark.",
        "11 in",
        asks="How far from the axle's center is the mark?",
        datum="Straight, from the center of the axle tube: such as 11 in.",
    )
    points_up: Slope | None = maybe(
        "How far the line from the axle's center to the mark points up.",
        asks="Does the line from the axle's center to the mark point up or down?",
        datum="Against level: such as 10 deg up.",
        otherwise="level",
    )
    points_down: Slope | None = maybe(
        "How far that line points down instead. Level when neither is given."
    )

    reading_off: Distance | None = maybe(
        "How far off the way of the mark and its lever may be, each.", "1/32 in"
    )

    @model_validator(mode="after")
    def _can_rise_so_far(self) -> MarkTable:
        if abs(self.went) >= self.lever.mm:
            key = "falls" if self.rises is None else "rises"
            raise impossible(
                key, getattr(self, key), f"the lever is {self.lever}", "less than the lever"
            )
        return self

    def measured(self) -> MeasuredWrap:
        """Read the test."""
        off = MARK_READING if self.reading_off is None else self.reading_off.mm
        return from_mark(self.went, self.lever.mm, self.seen_at(), self.slope, off)
