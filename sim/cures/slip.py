"""The slip: more stroke, or the same one set elsewhere."""

from collections.abc import Sequence

from sim.cures.remedy import Case, Dose, Remedy
from sim.cures.restate import typed_length
from sim.rig import Rig
from sim.rig.change import changed
from sim.units import format_length

STROKES = 12
"""Half inches. Long slips have up to 6 in more; common practice, no source."""

EIGHTH = 3.175


class LongerSlip(Remedy):
    """A slip with more stroke."""

    code = "longer-slip"
    changes = frozenset({"slip"})
    series = tuple(
        tuple(Dose(12.7 * (i + 1), way) for i in range(STROKES))
        for way in ("opens", "closes", "both")
    )
    side_effects = "gains length, not angle; a longer stub leaves less tube"

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """More stroke on one side, or half of it on either."""
        slip = rig.shaft.slip
        more = {"opens": 0.0, "closes": 0.0} | (
            {"opens": 0.5 * dose.size, "closes": 0.5 * dose.size}
            if dose.way == "both"
            else {dose.way: dose.size}
        )
        values = {
            "shaft.slip.closes": typed_length(slip.closes.mm + more["closes"]),
            "shaft.slip.opens": typed_length(slip.opens.mm + more["opens"]),
        }
        if slip.comes_apart is not None:
            values["shaft.slip.comes_apart"] = typed_length(slip.comes_apart.mm + more["opens"])
        return changed(rig, values)

    def says(self, case: Case) -> str:
        """How much more stroke, and how it sits at ride height."""
        slip = case.cured.shaft.slip
        return (
            f"A slip with {format_length(case.dose.size)} more stroke, set at ride height with "
            f"{format_length(slip.closes.mm)} to close and {format_length(slip.opens.mm)} to open"
        )


class ResetSlip(Remedy):
    """The same slip set elsewhere: the tube cut to another length."""

    code = "reset-slip"
    changes = frozenset({"slip"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every eighth of an inch, longer or shorter, as far as the stroke goes."""
        slip = rig.shaft.slip
        room = {"longer": slip.closes.mm, "shorter": slip.opens.mm}
        return tuple(
            tuple(Dose(EIGHTH * (i + 1), way) for i in range(int(left / EIGHTH)))
            for way, left in {"shorter": room["shorter"], "longer": room["longer"]}.items()
        )

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """A longer tube pushes the slip in: less to close, more to open."""
        slip, shift = rig.shaft.slip, dose.size if dose.way == "longer" else -dose.size
        values = {
            "shaft.slip.closes": typed_length(max(0.0, slip.closes.mm - shift)),
            "shaft.slip.opens": typed_length(max(0.0, slip.opens.mm + shift)),
        }
        if slip.comes_apart is not None:
            values["shaft.slip.comes_apart"] = typed_length(slip.comes_apart.mm + shift)
        return changed(rig, values)

    def says(self, case: Case) -> str:
        """How much tube."""
        slip = case.cured.shaft.slip
        return (
            f"The tube {format_length(case.dose.size)} {case.dose.way}, so that the slip sits with "
            f"{format_length(slip.closes.mm)} to close and {format_length(slip.opens.mm)} to open"
        )

    def costs(self, case: Case) -> str:
        """The other side of the stroke."""
        side = "opening" if case.dose.way == "shorter" else "closing"
        return f"takes {format_length(case.dose.size)} of {side}; cut, weld and balance again"
