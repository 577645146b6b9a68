"""Moving the output: the case dropped or raised, or a longer shaft by a shorter tail."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from sim.cures.effects import OUTPUT, SAME_SHAFT
from sim.cures.remedy import Case, Dose, Item, Remedy, stepped
from sim.cures.restate import in_coordinates, readings_from, same_shaft
from sim.derive import ride_height_of
from sim.frames import FloatArray
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.change import changed
from sim.table.fields import millimetres
from sim.table.typed import typed_point

QUARTER = 25.4 / 4.0

DROPS = 12
"""Quarter inches. A drop of 3 in is about the most that is sold; common practice, no source."""

LENGTHENINGS = 16
"""Half inches. Short tails and other gearboxes gain up to 8 in; common practice, no source."""


class OutputDrop(Remedy):
    """The case, with its engine mounts or a drop bracket, let down or lifted.

    A carrier bearing stays where it is; its own height, and both together, are other remedies.
    """

    code = "output-drop"
    effect = SAME_SHAFT

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:  # noqa: ARG002  the same everywhere
        """Quarter inches down and up."""
        return stepped(QUARTER, DROPS, "down", "up")

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The output lower or higher, pointing as before, with the same shaft."""
        return same_shaft(in_coordinates(rig), moved(rig, output=by_height(dose)))

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """Spacers or a bracket, by the inch."""
        return (Item(self.code, dose.size / 25.4),)

    def says(self, case: Case) -> Remark:
        """How far, which way, and what does not go along."""
        two_piece = case.rig.carrier is not None
        if case.dose.way == "down":
            return Remark("output-dropped", by=case.dose.size, two_piece=two_piece)
        return Remark("output-raised", by=case.dose.size, two_piece=two_piece)

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """Belly clearance, or room above."""
        return (*belly_or_floor(case.dose), *front_section_longer(case))


class LongerShaft(Remedy):
    """The output joint moved away from the axle: a shorter tail, another case, the axle set back.

    The suspension is taken to stay as it is about the axle.
    """

    code = "longer-shaft"
    effect = OUTPUT
    for_joints = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:  # noqa: ARG002  the same everywhere
        """Half inches."""
        return stepped(2.0 * QUARTER, LENGTHENINGS, "")

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """A new, longer shaft with its slip set as before; a carrier bearing stays on its frame."""
        way = -1.0 if rig.axle.position == "front" else 1.0
        by = np.array([way * dose.size, 0.0, 0.0])
        return moved(rig, output=by, bearing=by)

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """A new shaft, and moving what has to move, by the inch."""
        return (Item(self.code, dose.size / 25.4),)

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


def by_height(dose: Dose) -> FloatArray:
    """(3,) mm of a dose that goes down or up."""
    return np.array([0.0, 0.0, -dose.size if dose.way == "down" else dose.size])


def belly_or_floor(dose: Dose) -> tuple[Remark, ...]:
    """What lowering or raising the case comes near to."""
    if dose.way == "down":
        return Remark("costs-belly", by=dose.size), Remark("watch-fan")
    return (Remark("watch-floor"),)


def front_section_longer(case: Case) -> tuple[Remark, ...]:
    """How much longer or shorter the front section has to be, where a tape tells."""
    was, now = ride_height_of(case.rig).section, ride_height_of(case.cured).section
    if was is None or now is None:
        return ()
    longer = now.to_bearing - was.to_bearing
    if abs(longer) < A_TAPE:
        return ()
    return (Remark("front-section-changes", longer=longer),)


A_TAPE = 25.4 / 16.0
"""mm that a tape tells."""


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
