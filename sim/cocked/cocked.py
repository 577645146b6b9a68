"""Every cap of a joint: how it sits, where its trunnion is pressed, how long it lasts for that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Final

from sim.causes.codes import ComputedCode
from sim.cocked.amiss import DRY, GREASED, Thrust, thrust
from sim.cocked.balance import Held
from sim.cocked.cap import CapResult, End, cap_result
from sim.cocked.found import seats_of
from sim.cocked.joint import CrossAt, cross_at
from sim.cocked.seat import STRAIGHT, Seat, bed_stiffness
from sim.cocked.slices import CLEARANCE, Row
from sim.cocked.torque import Torques, torques_of
from sim.cocked.turning import cap_turn
from sim.remark import Remark
from sim.rig import Rig
from sim.seen.inspection import Inspection
from sim.seen.words import CAPS, YOKES, CapName, HeadCross, YokeName, caps_of
from sim.ticket.shaft_parts import TOOTH
from sim.ticket.slips import slip_parts
from sim.vehicle import Joint

CROOKED: Final = 0.58e-3
"""rad, 2 minutes of arc: the tilt from which a cap counts as crooked. A general table of roller
bearings allows as much to others than the common cylindrical ones; needles about half (from
memory)."""

GOOD: Final = 0.8
"""Life against a straight cap's from which an axis counts as good (judgement)."""

WORN: Final = 0.5
"""The same up to which it counts as worn early (judgement)."""

_STUCK: Final = frozenset({"stuck", "rusty", "galled", "dry"})


@dataclass(frozen=True, eq=False)
class Axis:
    """What the two caps of one yoke come to, which wear one axis of the cross.

    Attributes
    ----------
    yoke : which. caps : its two caps.
    """

    yoke: YokeName
    caps: tuple[CapResult, CapResult]

    @property
    def life_ratio(self) -> float:
        """Of the cap that gives out first, over that of a straight one."""
        return min(cap.life_ratio for cap in self.caps)

    @property
    def ends(self) -> frozenset[End]:
        """At which ends of its trunnions corners stand out over a turn, on drive or coast."""
        return frozenset(corner.end for cap in self.caps for corner in cap.corners)

    @property
    def in_the_yoke(self) -> bool:
        """Whether both caps are tipped, so that the yoke is bad and not one cap's seat.

        A new joint in the same yoke then lasts no longer than this one.
        """
        return all(cap.seat.tipped >= CROOKED for cap in self.caps)


@dataclass(frozen=True, eq=False)
class Cocked:
    """What the caps of a joint come to.

    Attributes
    ----------
    at : the cross.
    torques : at which it was asked.
    caps : by their names.
    thrust : what its slip does to the trunnions where it sticks, at the hardest pull.
    sticks : whether the slip was found so; None where nobody looked.
    assumed : what all this rests on that nobody told.
    """

    at: CrossAt
    torques: Torques
    caps: Mapping[CapName, CapResult]
    thrust: Thrust
    sticks: bool | None
    assumed: tuple[Remark, ...]

    @cached_property
    def axes(self) -> dict[YokeName, Axis]:
        """Both axes of the cross by the yoke that they run in."""
        made = {}
        for yoke in YOKES:
            a, b = (self.caps[cap] for cap in caps_of(yoke))
            made[yoke] = Axis(yoke, (a, b))
        return made

    @property
    def crooked(self) -> tuple[CapName, ...]:
        """Caps that sit crooked."""
        return tuple(name for name in CAPS if self.caps[name].seat.tipped >= CROOKED)

    @property
    def worst(self) -> CapName:
        """The cap with the largest corner ratio, the first of those that are alike.

        One that sits crooked where one does, else one that was measured where one was.
        """
        measured = tuple(name for name in CAPS if self.caps[name].seat.measured)
        return max(
            self.crooked or measured or CAPS,
            key=lambda name: round(self.caps[name].corner_ratio, 6),
        )

    @property
    def worn_axis(self) -> YokeName | None:
        """The yoke whose axis wears early while the other one stays good; None where none does."""
        shaft, end = (self.axes[yoke] for yoke in YOKES)
        for bad, good in ((shaft, end), (end, shaft)):
            if bad.life_ratio <= WORN and good.life_ratio >= GOOD:
                return bad.yoke
        return None

    @property
    def evidence(self) -> dict[ComputedCode, bool]:
        """What it says of the causes; what cannot be told from what was measured is left out."""
        found: dict[ComputedCode, bool] = {}
        caps = self.caps.values()
        crooked = bool(self.crooked)
        straight = all(cap.seat.measured and max(cap.seat.may) < CROOKED for cap in caps)
        if crooked or straight:
            found["cap-cocked"] = crooked
            found["corner-dents"] = any(
                cap.dents_by_tilt and cap.seat.tipped >= CROOKED for cap in caps
            )
        if self.sticks is not None and self.torques.pull_known:
            found["slip-thrust-dents"] = self.thrust.dents
        return found


Seats = Inspection | Seat | Mapping[CapName, Seat] | None
"""What is known of how the caps sit: an inspection; one seat for all; each by its name, the rest
straight; nothing."""


def cocked(
    rig: Rig,
    joint: Joint,
    seats: Seats = None,
    torque: float | None = None,
    which: HeadCross | None = None,
    held: Held | None = None,
) -> Cocked:
    """Ask every cap of a joint of a rig.

    torque : N mm that the joint gets every day, in place of what the rig tells.
    which : cross of a head, in place of what the inspection tells; the outer one otherwise.
    held : what holds the caps against being brought straight by their needles; ears that give as
        generic steel does, and the play of their seats, where left out. `FAST`: nothing gives.

    Raises NoSuchJointError, and SeatError for readings that no cap can have.
    """
    seen = seats if isinstance(seats, Inspection) else None
    at = cross_at(rig, joint, which or (None if seen is None else seen.head_cross))
    sit = _sit(seats, at)
    torques = torques_of(rig, at.needles, at.trunnion.arm, torque)
    spline = (1.0 - TOOTH) * slip_parts(rig)[0].spline_diameter
    sticks = None if seen is None else _sticks(seen)
    return Cocked(
        at=at,
        torques=torques,
        caps=MappingProxyType({cap: _cap(cap, at, sit[cap], torques, held) for cap in CAPS}),
        thrust=thrust(
            at.needles,
            at.trunnion.arm,
            torques.hardest,
            spline,
            GREASED if sticks is False else DRY,
        ),
        sticks=sticks,
        assumed=(*torques.assumed, Remark("slices-assumed", clearance=CLEARANCE)),
    )


def _sit(seats: Seats, at: CrossAt) -> dict[CapName, Seat]:
    if isinstance(seats, Inspection):
        return seats_of(seats, at)
    if isinstance(seats, Seat):
        return dict.fromkeys(CAPS, seats)
    known = seats or {}
    return {cap: known.get(cap, STRAIGHT) for cap in CAPS}


def _sticks(seen: Inspection) -> bool | None:
    """Whether the spline was found to stick; None where nobody looked."""
    words = None if seen.spline is None else seen.spline.seen
    return None if words is None else not _STUCK.isdisjoint(words)


def _cap(cap: CapName, at: CrossAt, seat: Seat, torques: Torques, held: Held | None) -> CapResult:
    arm = at.trunnion.arm
    driving, far = cap in caps_of(at.drives), cap.endswith("_b")
    turn = cap_turn(torques.everyday, at.bend, arm, driving=driving, far=far)
    lost = tuple(range(seat.lost))
    row = Row(at.needles, CLEARANCE, bare=seat.out, lost=lost)
    return cap_result(
        row,
        Row(at.needles, CLEARANCE),
        seat,
        turn,
        torques.hardest / torques.everyday,
        Held(bed_stiffness(at.trunnion.seat_length), (0.0, seat.loose)) if held is None else held,
    )
