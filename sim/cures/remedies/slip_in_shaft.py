"""A slip in the shaft in place of a yoke that slides on the output."""

from collections.abc import Sequence

from sim.assessment.glance import glance
from sim.cures.effects import LINE
from sim.cures.remedy import INCH, Case, Dose, Remedy
from sim.cures.restate import in_coordinates
from sim.derive import vehicle_of
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.table.typed import typed_length
from sim.ticket.slips import slip_parts

SLIDING, FIXED = "sliding yoke", "flange yoke"

SIXTEENTH = 25.4 / 16.0


class SlipInShaft(Remedy):
    """A yoke fixed on the output, and the slip moved into the shaft.

    The joint is taken to sit where that of the sliding yoke sits at ride height.
    """

    code = "slip-in-shaft"
    effect = LINE
    builds = frozenset({"shaft.slip"})
    unit = INCH
    never_with = frozenset({"longer-slip", "reset-slip"})

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every slip of the catalogue, the shortest first."""
        end = rig.shaft.output_end
        if rig.shaft.slip.at != "output" or end.output_yoke.is_own or rig.carrier is not None:
            return ()
        parts = sorted(slip_parts(rig), key=lambda part: part.stroke)
        return (tuple(Dose(part.stroke, part.name) for part in parts),)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """A flange, and that slip set where it has as much left closing as opening."""
        part = next(part for part in slip_parts(rig) if part.name == dose.way)
        usable = part.usable
        values = {
            "shaft.slip": _slip(0.5 * usable, usable, part.stroke),
            "shaft.output_end.output_yoke": rig.shaft.output_end.output_yoke.name.replace(
                SLIDING, FIXED
            ),
        }
        fixed = changed(in_coordinates(rig), values)
        seen = glance(vehicle_of(fixed))
        swing = max(0.0, -seen.shortest), max(0.0, seen.longest)
        alike = min(max(0.5 * (usable + swing[0] - swing[1]), 0.0), usable)
        closes = round(alike / SIXTEENTH) * SIXTEENTH
        return changed(fixed, {"shaft.slip": _slip(closes, usable, part.stroke)})

    def says(self, case: Case) -> Remark:
        """Which slip, and how it is set."""
        slip = case.cured.shaft.slip
        return Remark(
            "slip-into-shaft", slip=case.dose.way, closes=slip.closes.mm, opens=slip.opens.mm
        )

    def costs(self, case: Case) -> tuple[Remark, ...]:  # noqa: ARG002  the same everywhere
        """A kit, a new shaft, and a joint that may sit elsewhere."""
        return (Remark("fixed-yoke-kit"),)


def _slip(closes: float, usable: float, stroke: float) -> dict[str, str]:
    """A slip in the shaft that still closes so much, of a usable and a whole stroke, all mm."""
    return {
        "at": "shaft",
        "closes": typed_length(closes),
        "opens": typed_length(usable - closes),
        "comes_apart": typed_length(stroke - closes),
    }
