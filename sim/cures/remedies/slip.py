"""The slip: more stroke, or the same one set elsewhere."""

from collections.abc import Sequence
from typing import Any

from geometry.yoke.base import Barrel
from sim.cures.effects import SLIP
from sim.cures.remedy import Case, Dose, Item, Remedy, stepped
from sim.cures.restate import in_coordinates, longer_tube
from sim.cures.seats import joint_drawn_out
from sim.derive import measured_slip
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.fitted import fitted_cross, fitted_yoke
from sim.table.typed import typed_length

STROKES = 12
"""Half inches. Long slips have up to 6 in more; common practice, no source."""

OFF_THE_SHELF = 3.0 * 25.4
"""mm more stroke than before that long slips and long barrels are stocked with; from memory."""

EIGHTH = 3.175


class LongerSlip(Remedy):
    """A slip with more stroke; of a yoke that slides on the output, one with a longer barrel."""

    code = "longer-slip"
    effect = SLIP
    builds = frozenset({"shaft.slip", "shaft.output_end.output_yoke"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """More for the sides that somebody measured: of the others no fault is known."""
        known = {key.rsplit(".", maxsplit=1)[-1] for key in measured_slip(rig)}
        ways = known | ({"both"} if len(known) > 1 else set())
        return stepped(12.7, STROKES, *(way for way in ("opens", "closes", "both") if way in ways))

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """More stroke on one side, or half of it on either.

        A sliding yoke closes farther only where its joint stands farther out of the case.
        """
        slip = rig.shaft.slip
        more = {"opens": 0.0, "closes": 0.0} | (
            {"opens": 0.5 * dose.size, "closes": 0.5 * dose.size}
            if dose.way == "both"
            else {dose.way: dose.size}
        )
        has = {
            "shaft.slip.closes": slip.closes.mm + more["closes"],
            "shaft.slip.opens": slip.opens.mm + more["opens"],
        }
        values = {key: typed_length(has[key]) for key in sorted(measured_slip(rig))}
        if slip.comes_apart is not None:
            values["shaft.slip.comes_apart"] = typed_length(slip.comes_apart.mm + more["opens"])
        if slip.at != "output":
            return changed(rig, values)
        longer = changed(rig, values | _longer_barrel(rig, dose.size))
        if more["closes"] == 0.0:
            return longer
        return joint_drawn_out(in_coordinates(longer), more["closes"])

    def says(self, case: Case) -> Remark:
        """How much more stroke, and how it sits at ride height."""
        slip, measured = case.cured.shaft.slip, measured_slip(case.rig)
        return Remark(
            "slip-longer",
            sliding=slip.at == "output",
            barrel=barrel_of(case.cured) if slip.at == "output" else None,
            more=case.dose.size,
            closes=slip.closes.mm if "shaft.slip.closes" in measured else None,
            opens=slip.opens.mm if "shaft.slip.opens" in measured else None,
        )

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """A longer slip off the shelf, by the inch; past that a part made for this shaft."""
        row = f"{self.code}-special" if _special(dose) else self.code
        return (Item(row, dose.size / 25.4),)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Less tube, or what a longer barrel takes."""
        gains = Remark("gains-length")
        made = (Remark("made-for-it"),) if _special(case.dose) else ()
        if case.rig.shaft.slip.at != "output":
            return (gains, Remark("less-tube"), *made)
        return (gains, *made, Remark("barrel-wants-spline"))


class ResetSlip(Remedy):
    """The same slip set elsewhere: the tube cut to another length."""

    code = "reset-slip"
    effect = SLIP

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every eighth of an inch, longer or shorter, as far as the stroke goes; if it is known."""
        if len(measured_slip(rig)) < 2:
            return ()
        slip = rig.shaft.slip
        room = {"longer": slip.closes.mm, "shorter": slip.opens.mm}
        return tuple(
            tuple(Dose(EIGHTH * (i + 1), way) for i in range(int(left / EIGHTH)))
            for way, left in {"shorter": room["shorter"], "longer": room["longer"]}.items()
        )

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """A longer tube pushes the slip in: less to close, more to open."""
        return longer_tube(rig, dose.size if dose.way == "longer" else -dose.size)

    def says(self, case: Case) -> Remark:
        """How much tube."""
        slip = case.cured.shaft.slip
        return Remark(
            "tube-cut-anew",
            by=case.dose.size,
            way=case.dose.way,
            closes=slip.closes.mm,
            opens=slip.opens.mm,
        )

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """The other side of the stroke."""
        side = "opening" if case.dose.way == "shorter" else "closing"
        return Remark("takes-slip", by=case.dose.size, side=side), Remark("cut-weld-balance")


def _special(dose: Dose) -> bool:
    return dose.size > OFF_THE_SHELF + 1e-9


def barrel_of(rig: Rig) -> float | None:
    """Length of the barrel (mm) of a yoke that slides on the output; None without a known one."""
    barrel = _barrel(rig)
    return None if barrel is None else barrel.length


def _barrel(rig: Rig) -> Barrel | None:
    choice = rig.shaft.output_end.output_yoke
    if choice.is_own:
        return None
    return fitted_yoke(choice, fitted_cross(rig.shaft.output_end.cross), rig.shaft.tube).barrel


def _longer_barrel(rig: Rig, more: float) -> dict[str, Any]:
    """The output yoke with a barrel that slides so much (mm) farther, where it is known."""
    barrel, choice = _barrel(rig), rig.shaft.output_end.output_yoke
    if barrel is None:
        return {}
    typed = rig.typed().get("shaft", {}).get("output_end", {}).get("output_yoke", choice.name)
    own = dict(typed) if isinstance(typed, dict) else {"kind": typed}
    own["barrel_end"] = typed_length(barrel.end + more)
    return {"shaft.output_end.output_yoke": own}
