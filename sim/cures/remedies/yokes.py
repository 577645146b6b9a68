"""Other joints: deep throats, another size."""

from collections.abc import Sequence
from itertools import combinations
from typing import Any

from sim.cures.effects import LINE
from sim.cures.remedy import Case, Dose, Item, Remedy
from sim.cures.seats import seated
from sim.parts.catalogue import cross_sizes, yoke_kinds
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.choice import YokeChoice
from sim.rig.typed_joints import TypedJoint, typed_joints

DEEP = "deep-throat "

BOTH = "both"
"""The way of a dose at the output and the pinion."""

AND = " and "
"""Between the joints that are meant in the way of a dose."""

ENDS = ("output", "pinion")
"""What is meant by `BOTH`."""


class DeepThroat(Remedy):
    """Yokes with deep throats at one joint, at two, or at all of them."""

    code = "deep-throat-yokes"
    effect = LINE
    for_joints = True
    each_way = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every joint alone, every two of them, and all."""
        joints = [each.joint for each in typed_joints(rig) if _to_be_deep(each)]
        return tuple(
            (Dose(float(count), BOTH if some == ENDS else AND.join(some)),)
            for count in range(1, len(joints) + 1)
            for some in combinations(joints, count)
        )

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Every ordinary catalogue yoke at those joints replaced by its deep-throat kind."""
        values = {key: DEEP + yoke.name for key, yoke in self._yokes(rig, dose)}
        return seated(rig, changed(rig, values))

    def covers(self, way: str) -> tuple[str, ...]:
        """Its joints."""
        return ENDS if way == BOTH else tuple(way.split(AND))

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """By the yoke."""
        return (Item(self.code, float(len(self._yokes(rig, dose)))),)

    def says(self, case: Case) -> Remark:
        """Which joints."""
        joints = self.covers(case.dose.way)
        two_piece = case.rig.carrier is not None
        return Remark("deep-throats", at=AND.join(joints), count=len(joints), two_piece=two_piece)

    def costs(self, case: Case) -> tuple[Remark, ...]:  # noqa: ARG002  the same everywhere
        """Thinner rings, a tube cut anew."""
        return (Remark("thinner-rings"),)

    def _yokes(self, rig: Rig, dose: Dose) -> list[tuple[str, YokeChoice]]:
        """Key path and choice of every yoke that becomes a deep one."""
        joints = self.covers(dose.way)
        return [
            pair
            for each in typed_joints(rig)
            if each.joint in joints
            for pair in _to_be_deep(each).items()
        ]


class OtherSize(Remedy):
    """The next cross size up or down at every joint."""

    code = "other-size"
    effect = LINE
    for_joints = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """One size either way, where there is one and the ends share a size."""
        return tuple((Dose(1.0, size),) for size in _neighbours(rig))

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The other size, its yokes without dimensions of one's own."""
        values: dict[str, Any] = {}
        for each in typed_joints(rig):
            values[f"{each.table}.cross"] = dose.way
            values |= {
                key: yoke.name
                for key, yoke in each.yokes.items()
                if each.joint == "middle" or not yoke.is_own
            }
        return seated(rig, changed(rig, values))

    def says(self, case: Case) -> Remark:
        """Which size."""
        two_piece = case.rig.carrier is not None
        size, was = case.dose.way, _size(case.rig)
        return Remark("joints-of-size", size=size, was=was, two_piece=two_piece)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Strength, and new end yokes."""
        names = [size.name for size in cross_sizes()]
        smaller = names.index(case.dose.way) < names.index(_size(case.rig))
        strength = Remark("joints-weaker") if smaller else Remark("joints-stronger")
        return strength, Remark("new-yokes-and-tube")


def _to_be_deep(joint: TypedJoint) -> dict[str, YokeChoice]:
    """The yokes of a joint that there is a deep-throat kind of, by their key paths."""
    return {key: yoke for key, yoke in joint.yokes.items() if _can_be_deep(yoke)}


def _can_be_deep(yoke: YokeChoice) -> bool:
    return not yoke.is_own and DEEP + yoke.name in yoke_kinds()


def _size(rig: Rig) -> str:
    """Catalogue name of the pinion joint's size."""
    name = rig.shaft.pinion_end.cross.name
    return next((s.name for s in cross_sizes() if name in (s.name, *s.aliases)), name)


def _neighbours(rig: Rig) -> list[str]:
    names = [size.name for size in cross_sizes()]
    ends = [each for each in typed_joints(rig) if each.joint in ENDS]
    crosses = {each.cross.name for each in ends}
    own = any(yoke.is_own for each in ends for yoke in each.yokes.values())
    if _size(rig) not in names or len(crosses) > 1 or own:
        return []
    here = names.index(_size(rig))
    return [names[i] for i in (here + 1, here - 1) if 0 <= i < len(names)]
