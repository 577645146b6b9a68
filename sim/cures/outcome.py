"""What a rig comes to, in the few numbers by which cures are compared."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees
from types import MappingProxyType

from geometry.errors import BindpointError
from geometry.touch import TouchCurve
from sim.derive import ride_height_of, vehicle_of
from sim.envelope import envelope
from sim.findings import Verdict, judged, worst_of
from sim.head_hardware import EndHardware, end_hardware
from sim.line import running
from sim.rig import Rig
from sim.vehicle import Joint, Pose, Vehicle


@dataclass(frozen=True)
class Outcome:
    """Margins of a rig over its whole travel.

    Attributes
    ----------
    margins : rad left at each joint.
    reserve : rad wanted.
    worst : where each joint has the least left.
    closes_left, opens_left : mm of slip.
    slip_reserve : mm wanted.
    gaps : mm between the metal at the worst bend of each joint that has its reserve; the others
        need no such look.
    gap_reserve : mm wanted.
    reaches : whether suspension and shaft can be where the travel says.
    uneven : rad by which the pinion leads and lags at ride height.
    length : mm between the joints at ride height.
    bend_at_ride : rad, the largest.
    """

    margins: Mapping[Joint, float]
    reserve: float
    worst: Mapping[Joint, Pose]
    closes_left: float
    opens_left: float
    slip_reserve: float
    gaps: Mapping[Joint, float]
    gap_reserve: float
    reaches: bool
    uneven: float
    length: float
    bend_at_ride: float

    @property
    def verdict(self) -> Verdict:
        """The worst of joints, slip and reach, as a check of the rig has it."""
        said = [judged(margin, self.reserve) for margin in self.margins.values()]
        said += ["clear" if gap >= self.gap_reserve else "close" for gap in self.gaps.values()]
        said += [judged(left, self.slip_reserve) for left in (self.closes_left, self.opens_left)]
        return worst_of([*said, "clear" if self.reaches else "touches"])

    @property
    def least(self) -> float:
        """The least left of anything, as a share of the reserve wanted; negative past a limit."""
        bend = max(self.reserve, _LEAST_BEND)
        slip = max(self.slip_reserve, _LEAST_SLIP)
        left = [margin / bend for margin in self.margins.values()]
        left += [self.closes_left / slip, self.opens_left / slip]
        return min(left) if self.reaches else min(*left, -1.0)

    @property
    def lines(self) -> dict[str, float]:
        """The numbers by name, deg and mm, for a table of before and after."""
        margins = {f"{joint}_margin_deg": degrees(m) for joint, m in self.margins.items()}
        return margins | {
            "slip_closes_left_mm": self.closes_left,
            "slip_opens_left_mm": self.opens_left,
            "lead_and_lag_deg": degrees(self.uneven),
            "length_mm": self.length,
            "largest_bend_at_ride_deg": degrees(self.bend_at_ride),
        }


_LEAST_BEND, _LEAST_SLIP = 1e-3, 0.1
"""rad and mm. A reserve of nothing still has to be divided by."""


class Assessor:
    """Assesses rigs, remembering the touch of every pair of ends it has met."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[EndHardware, TouchCurve]] = {}

    def outcome(self, rig: Rig) -> Outcome:
        """Sweep a rig. Raises BindpointError for parts and vehicles that cannot be."""
        vehicle = vehicle_of(rig)
        clear = {joint: self.clear(rig, joint) for joint in joints_of(vehicle)}
        swept = envelope(vehicle)
        first, second = vehicle.joint_names
        margins = {
            first: clear[first] - swept.output.most.value,
            second: clear[second] - swept.pinion.most.value,
        }
        worst = {first: swept.output.most.at, second: swept.pinion.most.at}
        ride = [swept.output.ride, swept.pinion.ride]
        if vehicle.section is not None:
            margins = {"output": clear["output"] - vehicle.section.bend, **margins}
            worst = {"output": Pose(), **worst}
            ride.append(vehicle.section.bend)
        slip, reserve = swept.slip, rig.wanted.bend.rad
        return Outcome(
            margins=MappingProxyType(margins),
            reserve=reserve,
            worst=MappingProxyType(worst),
            closes_left=slip.closes_left,
            opens_left=slip.opens_left,
            slip_reserve=rig.wanted.slip.mm,
            gaps=MappingProxyType(
                {
                    joint: self.gap(rig, joint, clear[joint] - margin)
                    for joint, margin in margins.items()
                    if judged(margin, reserve) == "clear"
                }
            ),
            gap_reserve=rig.wanted.gap.mm,
            reaches=swept.unreachable is None,
            uneven=running(vehicle).lead_amplitude,
            length=ride_height_of(rig).length,
            bend_at_ride=max(ride),
        )

    def clear(self, rig: Rig, joint: Joint) -> float:
        """Certified clear bend (rad) of one joint of a rig."""
        return self.touch(rig, joint)[1].certified_clear

    def gap(self, rig: Rig, joint: Joint, bend: float) -> float:
        """Smallest gap (mm) over a turn of one joint of a rig at a bend (rad)."""
        hardware, curve = self.touch(rig, joint)
        return hardware.smallest_gap(min(bend, curve.limit)).distance

    def touch(self, rig: Rig, joint: Joint) -> tuple[EndHardware, TouchCurve]:
        """Parts and touch curve of one joint of a rig."""
        key = f"{joint} {rig.folder} {json.dumps(_parts(rig), sort_keys=True, default=str)}"
        if key not in self._known:
            hardware = end_hardware(rig, joint)
            self._known[key] = hardware, hardware.touch()
        return self._known[key]

    def could(self, rig: Rig) -> Outcome | None:
        """The outcome, or None where the parts or the vehicle cannot be."""
        try:
            return self.outcome(rig)
        except BindpointError:
            return None


def joints_of(vehicle: Vehicle) -> tuple[Joint, ...]:
    """Every joint of a vehicle's shaft, from the output to the pinion."""
    names: tuple[Joint, ...] = vehicle.joint_names
    return names if vehicle.section is None else ("output", *names)


def _parts(rig: Rig) -> dict[str, object]:
    """Everything typed that shapes the parts; a rig may say nothing of its shaft."""
    typed = rig.typed()
    shaft = {k: v for k, v in typed.get("shaft", {}).items() if k not in ("slip", "phase")}
    carrier = typed.get("carrier", {})
    return {"shaft": shaft, "middle": carrier.get("middle")}
