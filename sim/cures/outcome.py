"""What a rig comes to, in the few numbers by which cures are compared."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from math import degrees, inf
from types import MappingProxyType

from geometry.contact.touch import TouchCurve
from geometry.errors import BindpointError
from sim.cures.glance import SLACK_BEND, Glance, at_best, glance
from sim.cures.limits import Limits
from sim.derive import ride_height_of, vehicle_of
from sim.head.hardware import EndHardware, end_hardware
from sim.line import running
from sim.rig import Rig
from sim.search.envelope import Envelope, envelope
from sim.vehicle import Joint, Pose, Vehicle


@dataclass(frozen=True, kw_only=True)
class Outcome(Limits):
    """What a rig comes to, found by sweeping its whole travel.

    Attributes
    ----------
    worst : where each joint has the least left.
    uneven : rad by which the pinion leads and lags at ride height.
    length : mm between the joints at ride height.
    bend_at_ride : rad, the largest.
    """

    worst: Mapping[Joint, Pose]
    uneven: float
    length: float
    bend_at_ride: float

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


class Assessor:
    """Assesses rigs, remembering every pair of ends and every sweep it has met."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[EndHardware, TouchCurve]] = {}
        self._keys: dict[int, tuple[Rig, dict[Joint, str]]] = {}
        self._keeps: dict[str, float] = {}
        self._swept: dict[str, Envelope] = {}
        self._worst: dict[tuple[float, ...], Pose] = {}

    def outcome(self, rig: Rig) -> Outcome:
        """Sweep a rig. Raises BindpointError for parts and vehicles that cannot be."""
        vehicle = vehicle_of(rig)
        clear = {joint: self.clear(rig, joint) for joint in joints_of(vehicle)}
        swept = self._sweep(rig, vehicle)
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
        slip = replace(swept.slip, has=vehicle.slip)
        below, above = swept.extrapolated
        found = Outcome(
            margins=MappingProxyType(margins),
            reserve=rig.wanted.bend.rad,
            worst=MappingProxyType(worst),
            closes_left=slip.closes_left,
            opens_left=slip.opens_left,
            slip_reserve=rig.wanted.slip.mm,
            reaches=swept.unreachable is None,
            below=below,
            above=above,
            uneven=running(vehicle).lead_amplitude,
            length=ride_height_of(rig).length,
            bend_at_ride=max(ride),
        )
        if found.held != "clear":
            return found
        tight = [j for j, m in margins.items() if not self.has_gap(rig, j, clear[j] - m)]
        return replace(found, tight=tuple(tight))

    def glance(self, vehicle: Vehicle) -> Glance:
        """Look at a few poses of a vehicle, those among them that were the worst elsewhere."""
        return glance(vehicle, tuple(self._worst.values()))

    def at_best(
        self, parts: Rig, vehicle: Vehicle, seen: Glance, enough: Callable[[Limits], bool]
    ) -> Limits:
        """What a vehicle with the joints of `parts` comes to at best, by what was seen of it.

        Joints that were not met before are only built while what is known so far is enough.
        Raises BindpointError for parts that cannot be.
        """
        heads = {"output": vehicle.output_head, "pinion": vehicle.pinion_head}
        keys = {joint: self._key(parts, joint) for joint in seen.bends}
        clear = dict.fromkeys(keys, inf)
        for joint, key in keys.items():
            head = heads.get(joint)
            if key in self._known:
                clear[joint] = self._known[key][1].certified_clear
            elif head is not None:
                clear[joint] = head.limit
        tight = [joint for joint, key in keys.items() if self._tight(key, seen.bends[joint])]
        # The joint that bends most is the likeliest to tell.
        for joint in sorted(keys, key=lambda each: -seen.bends[each]):
            if keys[joint] in self._known:
                continue
            found = at_best(seen, vehicle, parts, clear, tight)
            if not enough(found):
                return found
            clear[joint] = self.clear(parts, joint)
        return at_best(seen, vehicle, parts, clear, tight)

    def clear(self, rig: Rig, joint: Joint) -> float:
        """Certified clear bend (rad) of one joint of a rig."""
        return self.touch(rig, joint)[1].certified_clear

    def has_gap(self, rig: Rig, joint: Joint, bend: float) -> bool:
        """Whether one joint of a rig keeps the gap wanted over a turn at a bend (rad).

        By the same curve as a check goes by.
        """
        key = self._key(rig, joint)
        if key not in self._keeps:
            hardware, _ = self.touch(rig, joint)
            self._keeps[key] = hardware.touch(rig.wanted.gap.mm).certified_clear
        return bend <= self._keeps[key]

    def touch(self, rig: Rig, joint: Joint) -> tuple[EndHardware, TouchCurve]:
        """Parts and touch curve of one joint of a rig."""
        key = self._key(rig, joint)
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

    def _sweep(self, rig: Rig, vehicle: Vehicle) -> Envelope:
        """The sweep of a vehicle, or of one before that moves alike; its slip may differ."""
        key = _motion(rig, vehicle)
        if key not in self._swept:
            swept = envelope(vehicle)
            self._swept[key] = swept
            for found in (
                swept.output.most,
                swept.pinion.most,
                swept.slip.shortest,
                swept.slip.longest,
            ):
                self._learn(found.at)
        return self._swept[key]

    def _learn(self, at: Pose) -> None:
        """Remember a pose that was the worst somewhere: it is likely to be bad elsewhere."""
        if len(self._worst) < MOST_LEARNT:
            self._worst.setdefault((round(at.travel), round(at.roll, 2), round(at.wrap, 2)), at)

    def _tight(self, key: str, bend: float) -> bool:
        """Whether a joint is known to come nearer than wanted at this bend (rad) or less."""
        return bend - SLACK_BEND > self._keeps.get(key, inf)

    def _key(self, rig: Rig, joint: Joint) -> str:
        """What tells one pair of ends from another: all that its parts are built from."""
        held, keys = self._keys.setdefault(id(rig), (rig, {}))
        if joint not in keys:
            keys[joint] = _parts(held, joint)
        return keys[joint]


MOST_LEARNT = 24
"""Poses that every glance looks at besides its own."""


def joints_of(vehicle: Vehicle) -> tuple[Joint, ...]:
    """Every joint of a vehicle's shaft, from the output to the pinion."""
    names: tuple[Joint, ...] = vehicle.joint_names
    return names if vehicle.section is None else ("output", *names)


def _parts(rig: Rig, joint: Joint) -> str:
    """Everything that the parts of a joint are built from, and the gap wanted between them."""
    shaft, carrier = rig.shaft, rig.carrier
    end: object = shaft.pinion_end if joint == "pinion" else shaft.output_end
    typed = rig.typed().get("shaft", {}).get(f"{joint}_end")
    if joint == "middle" and carrier is not None:
        end, typed = carrier.middle, rig.typed().get("carrier", {}).get("middle")
    pieces = 1 if carrier is None else 2
    return f"{joint} {pieces} {rig.folder} {rig.wanted.gap.mm} {shaft.tube!r} {end!r} {typed}"


def _motion(rig: Rig, vehicle: Vehicle) -> str:
    """Everything that decides where the shaft runs; of the slip only where it is."""
    still = ("name", "note", "wanted", "surroundings", "shaft", "drive")
    typed = {key: value for key, value in rig.typed().items() if key not in still}
    typed["carrier"] = {k: v for k, v in typed.get("carrier", {}).items() if k != "middle"}
    said = json.dumps(typed, sort_keys=True, default=str)
    heads = (vehicle.output_head, vehicle.pinion_head)
    points = (vehicle.p_C_output.tolist(), vehicle.p_A_pinion.tolist())
    return f"{vehicle.slip.at} {vehicle.phase} {vehicle.travel} {points} {heads} {said}"
