"""Axle wrap from a simple test: two angles, or a mark, under a known torque."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final, Literal

from pydantic import model_validator

from sim.remark import Remark
from sim.rig.wrap.base import Around, WrapPart
from sim.table.fields import Distance, Size, Slope, Swing, impossible, signed_angle
from sim.table.form import field, maybe
from sim.table.loads import FORCE, TORQUE, Force, OffShare, Torque, share_or
from sim.table.part import OneOf, Part, Together

if TYPE_CHECKING:
    from sim.wrap import Estimate, MeasuredWrap

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

    one_of: ClassVar = (
        OneOf(("points_up", "points_down"), 'points_up or points_down, an angle such as "3 deg"'),
    )

    points_up: Slope | None = maybe("How far it points up, toward its nose.", way="up")
    points_down: Slope | None = maybe("How far it points down, toward its nose.", way="down")

    @property
    def up(self) -> float:
        """Slope, rad, positive up."""
        return signed_angle(self.points_up, self.points_down)


class SimpleTest(WrapPart):
    """What every simple test has: the torque it was made under."""

    one_of: ClassVar[tuple[OneOf, ...]] = (
        OneOf(
            ("torque", "pinion_torque", "pull"),
            "the torque of the test: torque (at the axle), pinion_torque, or pull with its arm, "
            'such as torque = "900 lb-ft"',
        ),
    )

    together: ClassVar[tuple[Together, ...]] = (
        Together(("pull", "arm"), 'pull with its arm, such as pull = "200 lb", arm = "48 in"'),
    )

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
        "From the axle's centre to the pull, along the bar.",
        "48 in",
        asks="How far from the axle's centre was the pull?",
    )

    torque_off: OffShare | None = maybe("How far off the torque of the test may be.", "5 %")

    def seen_at(self) -> Estimate:
        """Torque of the test at the axle, N mm."""
        from sim.wrap import Estimate, torque_of_pull  # noqa: PLC0415

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
        from sim.wrap import distance  # noqa: PLC0415

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

    together: ClassVar[tuple[Together, ...]] = (
        *SimpleTest.together,
        Together(("frame_before", "frame_under_torque"), "both readings of the frame, or neither"),
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
        from sim.wrap import ANGLE_READING, from_angles  # noqa: PLC0415

        frame = None
        if self.frame_before is not None and self.frame_under_torque is not None:
            frame = self.frame_before.up, self.frame_under_torque.up
        off = ANGLE_READING if self.reading_off is None else self.reading_off.rad
        return from_angles(self.before.up, self.under_torque.up, self.seen_at(), frame, off)


class MarkTable(SimpleTest):
    """How far a mark on the housing goes up or down under a known torque."""

    one_of: ClassVar[tuple[OneOf, ...]] = (
        *SimpleTest.one_of,
        OneOf(("rises", "falls"), 'rises or falls, a length such as "1 in"'),
        OneOf(("points_up", "points_down")),
    )
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
        "From the axle's centre to the mark.",
        "11 in",
        asks="How far from the axle's centre is the mark?",
        datum="Straight, from the centre of the axle tube: such as 11 in.",
    )
    points_up: Slope | None = maybe(
        "How far the line from the axle's centre to the mark points up.",
        asks="Does the line from the axle's centre to the mark point up or down?",
        datum="Against level: such as 10 deg up.",
        way="up",
        otherwise="level",
    )
    points_down: Slope | None = maybe(
        "How far that line points down instead. Level when neither is given.", way="down"
    )

    reading_off: Distance | None = maybe(
        "How far off the way of the mark and its lever may be, each.", "1/32 in"
    )

    @model_validator(mode="after")
    def _can_rise_so_far(self) -> MarkTable:
        for key in ("rises", "falls"):
            went = getattr(self, key)
            if went is not None and went.mm >= self.lever.mm:
                raise impossible(key, went, f"the lever is {self.lever}", "less than the lever")
        return self

    def measured(self) -> MeasuredWrap:
        """Read the test."""
        from sim.wrap import MARK_READING, from_mark  # noqa: PLC0415

        rise = self.rises.mm if self.rises is not None else 0.0
        rise -= self.falls.mm if self.falls is not None else 0.0
        slope = signed_angle(self.points_up, self.points_down)
        off = MARK_READING if self.reading_off is None else self.reading_off.mm
        return from_mark(rise, self.lever.mm, self.seen_at(), slope, off)
