"""What a rig comes to, in the few numbers by which cures are compared."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
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
    tight : joints whose metal comes nearer than the gap wanted at their worst bend; looked for
        only where all else is clear.
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
    reaches: bool
    uneven: float
    length: float
    bend_at_ride: float
    tight: tuple[Joint, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The worst of joints, slip and reach, as a check of the rig has it."""
        said = [judged(margin, self.reserve) for margin in self.margins.values()]
        said += ["close"] if self.tight else []
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
        self._gaps: dict[str, dict[float, bool]] = {}

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
        slip = swept.slip
        found = Outcome(
            margins=MappingProxyType(margins),
            reserve=rig.wanted.bend.rad,
            worst=MappingProxyType(worst),
            closes_left=slip.closes_left,
            opens_left=slip.opens_left,
            slip_reserve=rig.wanted.slip.mm,
            reaches=swept.unreachable is None,
            uneven=running(vehicle).lead_amplitude,
            length=ride_height_of(rig).length,
            bend_at_ride=max(ride),
        )
        if found.verdict != "clear":
            return found
        tight = [j for j, m in margins.items() if not self.has_gap(rig, j, clear[j] - m)]
        return replace(found, tight=tuple(tight))

    def clear(self, rig: Rig, joint: Joint) -> float:
        """Certified clear bend (rad) of one joint of a rig."""
        return self.touch(rig, joint)[1].certified_clear

    def has_gap(self, rig: Rig, joint: Joint, bend: float) -> bool:
        """Whether one joint of a rig keeps the gap wanted over a turn at a bend (rad).

        Less bend leaves more room, so bends that were looked at before settle most others.
        """
        wanted, looked = rig.wanted.gap.mm, self._gaps.setdefault(self._key(rig, joint), {})
        if any(bend <= at and has for at, has in looked.items()):
            return True
        if any(bend >= at and not has for at, has in looked.items()):
            return False
        hardware, curve = self.touch(rig, joint)
        looked[bend] = hardware.keeps_gap(min(bend, curve.limit), wanted)
        return looked[bend]

    def touch(self, rig: Rig, joint: Joint) -> tuple[EndHardware, TouchCurve]:
        """Parts and touch curve of one joint of a rig."""
        key = self._key(rig, joint)
        if key not in self._known:
            hardware = end_hardware(rig, joint)
            self._known[key] = hardware, hardware.touch()
        return self._known[key]

    def _key(self, rig: Rig, joint: Joint) -> str:
        """What tells one pair of ends from another."""
        said = json.dumps(_parts(rig), sort_keys=True, default=str)
        return f"{joint} {rig.folder} {rig.wanted.gap.mm} {said}"

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
