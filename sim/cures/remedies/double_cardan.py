"""A double-Cardan head, which takes the angle at one end."""

from collections.abc import Sequence
from itertools import product
from math import inf, radians
from typing import Any

import numpy as np

from sim.cures.effects import LINE
from sim.cures.remedies.pinion import from_turning, past_shims, turning
from sim.cures.remedy import Case, Dose, Item, Remedy
from sim.cures.restate import pinion_turned
from sim.cures.seats import seated
from sim.derive import measured_slip, ride_height_of
from sim.frames import housing_turned
from sim.head.catalogue import head_kinds
from sim.parts.catalogue import ordinary, slides
from sim.remark import Remark
from sim.ride import Ride
from sim.rig import Rig
from sim.rig.change import changed


class DoubleCardan(Remedy):
    """A double-Cardan head at the output, the pinion aimed at it but for what driving turns it."""

    code = "double-cardan-head"
    effect = LINE
    never_with = frozenset({"pinion-turn", "two-piece"})
    for_joints = True

    LOWS = (2.0, 1.0, 3.0, 0.0, 4.0)
    """deg below pointing at the head; 1 to 2 for leaves, common practice, no source. On a front
    axle above it: driving forward lowers the nose there."""

    def doses(self, rig: Rig) -> Sequence[Sequence[Dose]]:
        """Every kind of head, each with the pinion at several angles below pointing at it."""
        end = rig.shaft.output_end
        if end.joint == "double" or rig.shaft.pinion_end.joint == "double":
            return ()
        if rig.carrier is not None or end.output_yoke.is_own or end.shaft_yoke.is_own:
            return ()
        if rig.shaft.slip.at == "output" or slides(end.output_yoke.name):
            return ()
        way = "high" if rig.axle.front else "low"
        return tuple(
            (Dose(float(place), f"{kind}, {low:g} deg {way}"),)
            for place, (kind, low) in enumerate(product(head_kinds(), self.LOWS))
        )

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The head on the output, its flange on the same face, and the pinion re-aimed."""
        end = rig.shaft.output_end
        values: dict[str, Any] = {
            "shaft.output_end": {
                "joint": "double",
                "head": _kind(dose),
                "cross": end.cross.name,
                "output_yoke": ordinary(end.output_yoke.name),
                "shaft_yoke": ordinary(end.shaft_yoke.name),
            }
        }
        headed = seated(rig, changed(rig, values))
        headed = pinion_turned(headed, _to_aim(ride_height_of(headed), radians(_low(dose))))
        slip = rig.shaft.slip
        typed = {"shaft.slip.closes": slip.closes.typed, "shaft.slip.opens": slip.opens.typed}
        values = {key: typed[key] for key in sorted(measured_slip(rig))}
        if slip.comes_apart is not None:
            values["shaft.slip.comes_apart"] = slip.comes_apart.typed
        return changed(headed, values)

    def says(self, case: Case) -> Remark:
        """Which head, and where the pinion goes."""
        up = ride_height_of(case.cured).pinion_up
        return Remark(
            "head-at-output",
            head=_kind(case.dose),
            turn=up - ride_height_of(case.rig).pinion_up,
            up=up,
            low=radians(_low(case.dose)),
        )

    def costs(self, case: Case) -> tuple[Remark, ...]:
        """A new shaft, a heavy head, perches past shims."""
        said = [Remark("new-shaft-and-head")]
        turn = ride_height_of(case.cured).pinion_up - ride_height_of(case.rig).pinion_up
        if past_shims(turn):
            said.append(Remark("no-shim-goes-so-far"))
        return (*said, *from_turning(case))

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:
        """A head by its kind, and the pinion turned to it."""
        kinds = head_kinds()
        dearer = kinds.index(_kind(dose)) > 0
        head = Item(f"{self.code}-high-angle" if dearer else self.code)
        return head, turning(rig, cured)


def _kind(dose: Dose) -> str:
    return dose.way.split(",")[0]


def _low(dose: Dose) -> float:
    """Deg below pointing at the head, negative above."""
    size, _, way = dose.way.split(",")[1].split()
    return float(size) if way == "low" else -float(size)


def _to_aim(ride: Ride, low: float) -> float:
    """How far (rad, nose up) the pinion has to turn to end up `low` below pointing at the head."""
    off, turned = inf, 0.0
    while abs(off) > _AIMED:
        # Turning the pinion moves its joint, which moves the line it has to point along.
        x, _, z = ride.p_C_output - housing_turned(ride.p_C_pinion, turned, ride.front)
        off = float(np.arctan2(z, abs(x))) - low - (ride.pinion_up + turned)
        turned += off
    return turned


_AIMED = 1e-6
"""rad, how near is near enough."""
