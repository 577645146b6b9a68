"""Turning the pinion: shims, adjustable arms, perches cut and turned."""

from collections.abc import Sequence
from math import degrees, radians

from sim.cures.effects import LINE
from sim.cures.remedy import Case, Dose, Item, Remedy, stepped
from sim.cures.restate import pinion_turned
from sim.derive import ride_height_of
from sim.remark import Remark
from sim.rig import Rig

HALF = radians(0.5)
"""Shims are had in half degrees; common practice, no source."""

MOST = 16
"""Half degrees. Past 8 deg little is right about the axle; common practice, no source."""

SHIMMED = radians(6.0)
"""A shim rarely turns a pinion farther; common practice, no source."""

BOLTS = radians(4.0)
"""Past this a shim loads the centre pin and wants a longer one; from memory."""

FAR_UP = radians(5.0)
"""Past this a pinion that points up is said to want more oil; from memory."""


class PinionTurn(Remedy):
    """The housing turned about its own axis, nose up or nose down."""

    code = "pinion-turn"
    effect = LINE

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:  # noqa: ARG002  the same everywhere
        """Half degrees up and down."""
        return stepped(HALF, MOST, "up", "down")

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The same shaft on a turned pinion."""
        return pinion_turned(rig, dose.size if dose.way == "up" else -dose.size)

    def says(self, case: Case) -> Remark:
        """How far, which way, and which end of a shim is thick."""
        up, turn = ride_height_of(case.cured).pinion_up, case.dose.size
        return Remark(
            "pinion-turned",
            way=case.dose.way,
            turn=turn,
            how=turned_how(case.rig, case.dose),
            up=up,
        )

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """Shims by the degree; arms, or perches cut and turned."""
        return (turning(rig, cured),)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Pins, oil, caster."""
        shims = case.rig.suspension.turned_by == "shims"
        thick = case.dose.size > BOLTS and shims and not past_shims(case.dose.size)
        return (*((Remark("shim-loads-pin"),) if thick else ()), *from_turning(case))


def turned_how(rig: Rig, dose: Dose) -> Remark:
    """What turns a pinion so far, by what holds the axle."""
    by, far = rig.suspension.turned_by, past_shims(dose.size)
    if by == "arms":
        return Remark("by-arms")
    if by != "shims":
        return Remark("by-arms-or-perches") if far else Remark("by-shims-arms-or-perches")
    if far:
        return Remark("by-perches")
    # The thick end of a shim, between the seat and a spring above the axle.
    toward_nose = (dose.way == "down") == _spring_above(rig)
    to_front = toward_nose != (rig.axle.position == "front")
    return Remark("by-shims", size=dose.size, to_front=to_front)


def turning(rig: Rig, cured: Rig) -> Item:
    """What it takes to turn the pinion from one rig to the other: shims, arms or perches."""
    turn = abs(ride_height_of(cured).pinion_up - ride_height_of(rig).pinion_up)
    if rig.suspension.turned_by == "arms":
        return Item("pinion-turn-arms", degrees(turn))
    return Item("pinion-turn-perches" if past_shims(turn) else "pinion-turn", degrees(turn))


def past_shims(turn: float) -> bool:
    """Whether a turn of the pinion (rad, either way) is more than shims give."""
    return abs(turn) > SHIMMED + 1e-9


def from_turning(case: Case) -> tuple[Remark, ...]:
    """What follows from the pinion's turn, whatever turned it: oil, and on a front axle caster."""
    up = ride_height_of(case.cured).pinion_up
    turn, said = up - ride_height_of(case.rig).pinion_up, []
    if turn > 0.0 and up > FAR_UP:
        said.append(Remark("pinion-starves"))
    if case.rig.axle.position == "front":
        said.append(Remark("caster-changes", turn=turn, then=case.cured.axle.steers))
    return tuple(said)


def _spring_above(rig: Rig) -> bool:
    """Whether the springs sit above the axle, so that a shim lies between them."""
    springs = rig.suspension.springs()
    return springs is None or springs.seat >= 0.0
