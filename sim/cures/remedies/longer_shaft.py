"""A longer shaft by a shorter tail; output and carrier bearing moved."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from sim.cures.effects import OUTPUT
from sim.cures.remedy import INCH, Case, Dose, Remedy, stepped
from sim.cures.restate import in_coordinates, readings_from
from sim.derive import ride_height_of
from sim.frames import FloatArray
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.table.fields import millimetres
from sim.table.typed import typed_point

QUARTER = 25.4 / 4.0

LENGTHENINGS = 16
"""Half inches. Short tails and other gearboxes gain up to 8 in; common practice, no source."""


class LongerShaft(Remedy):
    """The output joint moved away from the axle: a shorter tail, another case, the axle set back.

    The suspension is taken to stay as it is about the axle.
    """

    code = "longer-shaft"
    effect = OUTPUT
    unit = INCH
    for_joints = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:  # noqa: ARG002  the same everywhere
        """Half inches."""
        return stepped(2.0 * QUARTER, LENGTHENINGS, "")

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """A new, longer shaft with its slip set as before; a carrier bearing stays on its frame."""
        way = -1.0 if rig.axle.position == "front" else 1.0
        by = np.array([way * dose.size, 0.0, 0.0])
        return moved(rig, output=by, bearing=by)

    def says(self, case: Case) -> Remark:
        """How much, and what is moved."""
        if case.rig.carrier is not None:
            return Remark("rear-section-longer", by=case.dose.size, goes=_away(case.rig))
        return Remark("shaft-longer", by=case.dose.size, goes=_away(case.rig))

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """A new shaft, the wheelbase."""
        return (Remark("new-shaft-and-wheelbase", goes=_away(case.rig)),)


def _away(rig: Rig) -> str:
    """Which way an axle goes from the output."""
    return "forward" if rig.axle.front else "back"


def moved(rig: Rig, output: FloatArray | None = None, bearing: FloatArray | None = None) -> Rig:
    """The rig with its output and its carrier bearing moved by so much, (3,) mm; None: not."""
    plain, still = in_coordinates(rig), np.zeros(3)
    values: dict[str, Any] = {}
    hung_by = still if output is None else output
    if output is not None and plain.output.joint is not None:
        values["output.joint"] = typed_point(np.array(millimetres(plain.output.joint)) + output)
    section = ride_height_of(plain).section
    if section is not None:
        place = section.p_C_bearing + (still if bearing is None else bearing)
        if bearing is not None:
            values["carrier.bearing"] = typed_point(place)
        after = replace(section, p_C_output=section.p_C_output + hung_by, p_C_bearing=place)
        hung_by = after.p_C_middle - section.p_C_middle
    return changed(plain, values | readings_from(plain, by=hung_by))
