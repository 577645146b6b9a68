"""Two pieces in place of one, with a carrier bearing that shares the angle."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from sim.cures.effects import LINE
from sim.cures.remedies.yokes import DEEP
from sim.cures.remedy import Case, Dose, Remedy
from sim.cures.restate import in_coordinates, readings_from
from sim.derive import ride_height_of
from sim.frames import FloatArray, unit
from sim.remark import Remark
from sim.ride import Ride
from sim.rig import Rig
from sim.rig.change import changed
from sim.table.typed import typed_length, typed_point

SHARES = (0.4, 0.5, 0.6)
"""Where along the shaft the middle joint sits."""

DROPPED = (0.25, 0.5, 0.75)
"""How far the bearing sits from the output's own line toward the straight line to the pinion."""

BEYOND = 90.0
"""mm from the bearing to the middle joint; common practice, no source."""

SHORTEST = 1000.0
"""mm. A shorter shaft has no room for a bearing and two pieces; from memory."""


class TwoPiece(Remedy):
    """A front section that ends in a carrier bearing, and a shorter rear section with the slip."""

    code = "two-piece"
    effect = LINE
    for_joints = True

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Several places of the bearing."""
        out, shaft = rig.shaft.output_end, rig.shaft
        whole = rig.carrier is None and out.joint == "single" and shaft.pinion_end.joint == "single"
        own = out.output_yoke.is_own or out.shaft_yoke.is_own or shaft.slip.at == "output"
        if not whole or own or ride_height_of(rig).length < SHORTEST:
            return ()
        return tuple((Dose(share, f"{dropped:g}"),) for share in SHARES for dropped in DROPPED)

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The bearing, and a middle joint like the one at the output."""
        plain = in_coordinates(rig)
        ride = ride_height_of(plain)
        end = plain.shaft.output_end
        weld = (DEEP if end.shaft_yoke.name.startswith(DEEP) else "") + "weld yoke"
        bearing = _bearing(ride, dose)
        middle = bearing + BEYOND * unit(bearing - ride.p_C_output)
        values: dict[str, Any] = {
            "carrier": {
                "bearing": typed_point(bearing),
                "middle_joint_beyond": typed_length(BEYOND),
                "phase": "0 deg",
                "middle": {
                    "joint": "single",
                    "cross": end.cross.name,
                    "front_yoke": weld,
                    "shaft_yoke": end.shaft_yoke.name,
                },
            }
        }
        return changed(plain, values | readings_from(plain, by=middle - ride.p_C_output))

    def says(self, case: Case) -> Remark:
        """Where the bearing goes."""
        ride = ride_height_of(case.rig)
        back, _, down = ride.p_C_output - _bearing(ride, case.dose)
        return Remark("two-pieces", back=abs(float(back)), below=float(down), beyond=BEYOND)

    def costs(self, case: Case) -> tuple[Remark, ...]:  # noqa: ARG002  the same everywhere
        """What a bearing and a third joint bring."""
        return (Remark("bearing-and-third-joint"),)


def _bearing(ride: Ride, dose: Dose) -> FloatArray:
    """Middle of the bearing in C, mm."""
    share = dose.size - BEYOND / ride.length
    straight = ride.p_C_output + share * ride.shaft
    along = share * ride.length * ride.output_points + ride.p_C_output
    return np.asarray(along + float(dose.way) * (straight - along))
