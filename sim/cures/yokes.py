"""Other joints: deep throats, another size."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any

from sim.cures.remedy import Case, Dose, Item, Remedy
from sim.cures.seats import seated
from sim.parts.catalogue import cross_sizes, yoke_kinds
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.choice import YokeChoice

DEEP = "deep-throat "

BOTH = "both"
"""The way of a dose at the output and the pinion."""

AND = " and "
"""Between the joints that are meant in the way of a dose."""

ENDS = {
    "output": ("output_yoke", "shaft_yoke"),
    "pinion": ("shaft_yoke", "pinion_yoke"),
}

JOINTS = {
    "output": ("shaft.output_end.", ENDS["output"]),
    "middle": ("carrier.middle.", ("front_yoke", "shaft_yoke")),
    "pinion": ("shaft.pinion_end.", ENDS["pinion"]),
}
"""Where the yokes of each joint are typed, from the output to the pinion."""


class DeepThroat(Remedy):
    """Yokes with deep throats at one joint, at two, or at all of them."""

    code = "deep-throat-yokes"
    changes = frozenset({"line", "joints"})
    for_joints = True
    each_way = True
    side_effects = (Remark("thinner-rings"),)

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every joint alone, every two of them, and all."""
        joints = [joint for joint in JOINTS if _to_be_deep(rig, joint)]
        return tuple(
            (Dose(float(count), BOTH if some == tuple(ENDS) else AND.join(some)),)
            for count in range(1, len(joints) + 1)
            for some in combinations(joints, count)
        )

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Every ordinary catalogue yoke at those joints replaced by its deep-throat kind."""
        values = {
            key: DEEP + yoke.name
            for joint in self.covers(dose.way)
            for key, yoke in _to_be_deep(rig, joint).items()
        }
        return seated(rig, changed(rig, values))

    def covers(self, way: str) -> tuple[str, ...]:
        """Its joints."""
        return tuple(ENDS) if way == BOTH else tuple(way.split(AND))

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """By the yoke."""
        yokes = sum(len(_to_be_deep(rig, joint)) for joint in self.covers(dose.way))
        return (Item(self.code, float(yokes)),)

    def says(self, case: Case) -> Remark:
        """Which joints."""
        joints = self.covers(case.dose.way)
        two_piece = case.rig.carrier is not None
        return Remark("deep-throats", at=AND.join(joints), count=len(joints), two_piece=two_piece)


class OtherSize(Remedy):
    """The next cross size up or down at every joint."""

    code = "other-size"
    changes = frozenset({"line", "joints"})
    for_joints = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """One size either way, where there is one and the ends share a size."""
        return tuple((Dose(1.0, size),) for size in _neighbours(rig))

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The other size, its yokes without dimensions of one's own."""
        values: dict[str, Any] = {}
        for end in ENDS:
            values[f"shaft.{end}_end.cross"] = dose.way
            values |= {key: yoke.name for key, yoke in _yokes(rig, end) if not yoke.is_own}
        if rig.carrier is not None:
            values["carrier.middle.cross"] = dose.way
            values["carrier.middle.front_yoke"] = rig.carrier.middle.front_yoke.name
            values["carrier.middle.shaft_yoke"] = rig.carrier.middle.shaft_yoke.name
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


def _yokes(rig: Rig, end: str) -> Iterator[tuple[str, YokeChoice]]:
    """Key path and choice of both yokes of an end."""
    part = rig.shaft.output_end if end == "output" else rig.shaft.pinion_end
    for name in ENDS[end]:
        yield f"shaft.{end}_end.{name}", getattr(part, name)


def _to_be_deep(rig: Rig, joint: str) -> dict[str, YokeChoice]:
    """The yokes of a joint that there is a deep-throat kind of, by their key paths."""
    at, names = JOINTS[joint]
    if joint == "middle":
        part: Any = None if rig.carrier is None else rig.carrier.middle
    else:
        part = rig.shaft.output_end if joint == "output" else rig.shaft.pinion_end
    yokes = {} if part is None else {at + name: getattr(part, name) for name in names}
    return {key: yoke for key, yoke in yokes.items() if _can_be_deep(yoke)}


def _can_be_deep(yoke: YokeChoice) -> bool:
    return not yoke.is_own and DEEP + yoke.name in yoke_kinds()


def _size(rig: Rig) -> str:
    """Catalogue name of the pinion joint's size."""
    name = rig.shaft.pinion_end.cross.name
    return next((s.name for s in cross_sizes() if name in (s.name, *s.aliases)), name)


def _neighbours(rig: Rig) -> list[str]:
    names = [size.name for size in cross_sizes()]
    crosses = {rig.shaft.output_end.cross.name, rig.shaft.pinion_end.cross.name}
    own = any(yoke.is_own for end in ENDS for _, yoke in _yokes(rig, end))
    if _size(rig) not in names or len(crosses) > 1 or own:
        return []
    here = names.index(_size(rig))
    return [names[i] for i in (here + 1, here - 1) if 0 <= i < len(names)]
