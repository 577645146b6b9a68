"""Moving the output: the case dropped or raised, or a longer shaft by a shorter tail."""

import numpy as np

from sim.cures.remedy import Case, Dose, Remedy
from sim.cures.restate import in_coordinates, readings_from, same_shaft, typed_point
from sim.cures.worse import made_worse
from sim.frames import FloatArray
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.fields import millimetres
from sim.units import format_length

QUARTER = 25.4 / 4.0

DROPS = 12
"""Quarter inches. A drop of 3 in is about the most that is sold; common practice, no source."""

LENGTHENINGS = 16
"""Half inches. Short tails and other gearboxes gain up to 8 in; common practice, no source."""


class OutputDrop(Remedy):
    """The case, with its engine mounts or a drop bracket, let down or lifted."""

    code = "output-drop"
    changes = frozenset({"output", "slip"})
    series = tuple(
        tuple(Dose(QUARTER * (i + 1), way) for i in range(DROPS)) for way in ("down", "up")
    )

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The output lower or higher, pointing as before, with the same shaft."""
        height = -dose.size if dose.way == "down" else dose.size
        return same_shaft(in_coordinates(rig), moved(rig, np.array([0.0, 0.0, height])))

    def says(self, case: Case) -> str:
        """How far, which way."""
        verb = "Drop" if case.dose.way == "down" else "Raise"
        return f"{verb} the output {format_length(case.dose.size)}, its slope kept"

    def costs(self, case: Case) -> str:
        """Belly clearance, or room above."""
        said = ["watch the floor, linkages and mounts"]
        if case.dose.way == "down":
            belly = f"costs {format_length(case.dose.size)} of belly clearance"
            said = [belly, "watch fan, linkages and mounts"]
        return "; ".join([*said, *made_worse(case)])


class LongerShaft(Remedy):
    """The output joint moved away from the axle: a shorter tail, another case, the axle set back.

    The suspension is taken to stay as it is about the axle.
    """

    code = "longer-shaft"
    changes = frozenset({"output"})
    for_joints = True
    series = (tuple(Dose(2.0 * QUARTER * (i + 1)) for i in range(LENGTHENINGS)),)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """A new, longer shaft with its slip set as before."""
        way = -1.0 if rig.axle.position == "front" else 1.0
        return moved(rig, np.array([way * dose.size, 0.0, 0.0]))

    def says(self, case: Case) -> str:
        """How much."""
        return (
            f"A shaft {format_length(case.dose.size)} longer along the vehicle: a shorter tail, "
            f"another case, or the axle set {_away(case.rig)}"
        )

    def costs(self, case: Case) -> str:
        """A new shaft, the wheelbase."""
        said = (
            f"a new shaft, which whirls at a lower speed; setting the axle {_away(case.rig)} "
            "changes the wheelbase and the suspension's own points"
        )
        return "; ".join([said, *made_worse(case)])


def _away(rig: Rig) -> str:
    """Which way an axle goes from the output."""
    return "forward" if rig.axle.front else "back"


def moved(rig: Rig, by: FloatArray) -> Rig:
    """The rig with its output, and what carries the shaft behind it, moved by `by` (3,) mm."""
    plain = in_coordinates(rig)
    values = {}
    if plain.output.joint is not None:
        values["output.joint"] = typed_point(np.array(millimetres(plain.output.joint)) + by)
    if plain.carrier is not None:
        bearing = np.array(millimetres(plain.carrier.bearing))
        values["carrier.bearing"] = typed_point(bearing + by)
    return changed(plain, values | readings_from(plain, by=by))
