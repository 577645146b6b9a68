"""Other joints: deep throats, another size."""

from collections.abc import Iterator, Sequence
from typing import Any

from sim.catalogue import cross_sizes, yoke_kinds
from sim.cures.remedy import Case, Dose, Remedy
from sim.cures.seats import seated
from sim.cures.worse import made_worse
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.choice import YokeChoice

DEEP = "deep-throat "

ENDS = {
    "output": ("output_yoke", "shaft_yoke"),
    "pinion": ("shaft_yoke", "pinion_yoke"),
}


class DeepThroat(Remedy):
    """Yokes with deep throats at one end or at both."""

    code = "deep-throat-yokes"
    changes = frozenset({"line", "joints"})
    for_joints = True
    side_effects = (
        "thinner rings round the bores; longer lands and other flanges, so the tube is cut and "
        "balanced again; dimensions of one's own are dropped, measure the new"
    )

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """One end, the other, both."""
        ends = [end for end in ENDS if any(_can_be_deep(yoke) for _, yoke in _yokes(rig, end))]
        series = [(Dose(1.0, end),) for end in ends]
        return (*series, (Dose(2.0, "both"),)) if len(ends) == len(ENDS) else tuple(series)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """Every ordinary catalogue yoke at those ends replaced by its deep-throat kind."""
        ends = ENDS if dose.way == "both" else (dose.way,)
        values = {
            key: DEEP + yoke.name
            for end in ends
            for key, yoke in _yokes(rig, end)
            if _can_be_deep(yoke)
        }
        return seated(rig, changed(rig, values))

    def says(self, case: Case) -> str:
        """Which end."""
        where = "both ends" if case.dose.way == "both" else f"the {case.dose.way} end"
        return f"Deep-throat yokes at {where}"

    def costs(self, case: Case) -> str:
        """Thinner rings, another tube, and what is worse for it."""
        return "; ".join([self.side_effects, *made_worse(case)])


class OtherSize(Remedy):
    """The next cross size up or down at both ends."""

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

    def says(self, case: Case) -> str:
        """Which size."""
        return f"Joints of size {case.dose.way} at both ends in place of {_size(case.rig)}"

    def costs(self, case: Case) -> str:
        """Strength, and new end yokes."""
        names = [size.name for size in cross_sizes()]
        smaller = names.index(case.dose.way) < names.index(_size(case.rig))
        strength = "weaker joints: check the torque first" if smaller else "stronger and heavier"
        new = "new yokes on the output and the pinion, and a tube cut and balanced for them"
        return "; ".join([strength, new, *made_worse(case)])


def _yokes(rig: Rig, end: str) -> Iterator[tuple[str, YokeChoice]]:
    """Key path and choice of both yokes of an end."""
    part = rig.shaft.output_end if end == "output" else rig.shaft.pinion_end
    for name in ENDS[end]:
        yield f"shaft.{end}_end.{name}", getattr(part, name)


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
