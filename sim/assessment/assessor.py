"""Assesses rigs, and remembers every pair of ends and every sweep it has met."""

from collections.abc import Callable, Hashable
from dataclasses import replace
from math import inf
from types import MappingProxyType

from geometry.errors import BindpointError
from sim.assessment.assessment import Assessment, JointAssessment
from sim.assessment.glance import SLACK_BEND, Glance, at_best, glance
from sim.assessment.joint_room import JointRoom
from sim.assessment.limits import Limits
from sim.derive import vehicle_of
from sim.hardware.head import end_hardware
from sim.rig import Rig
from sim.rig.typed_joints import typed_joint
from sim.search.envelope import Envelope, envelope
from sim.vehicle import Joint, Pose, Vehicle

MOST_LEARNT = 24
"""Poses that every glance looks at besides its own."""


class Assessor:
    """Assesses rigs. What two of them share is built and swept once."""

    def __init__(self) -> None:
        self._rooms: dict[Hashable, JointRoom] = {}
        self._swept: dict[Hashable, Envelope] = {}
        self._worst: dict[tuple[float, ...], Pose] = {}

    def assess(self, rig: Rig) -> Assessment:
        """Sweep a rig. Raises BindpointError for parts and vehicles that cannot be."""
        vehicle = vehicle_of(rig)
        rooms = {joint: self.room(rig, joint) for joint in vehicle.joints}
        swept = self._sweep(rig, vehicle)
        swept = replace(swept, slip=replace(swept.slip, has=vehicle.slip))
        joints = {
            joint: JointAssessment(room, swept.joints[joint], joint, vehicle)
            for joint, room in rooms.items()
        }
        margins = {joint: found.margin for joint, found in joints.items()}
        below, above = swept.extrapolated
        found = Assessment(
            rig=rig,
            vehicle=vehicle,
            joints=MappingProxyType(joints),
            swept=swept,
            margins=MappingProxyType(margins),
            reserve=rig.wanted.bend.rad,
            closes_left=swept.slip.closes_left,
            opens_left=swept.slip.opens_left,
            slip_reserve=rig.wanted.slip.mm,
            reaches=swept.unreachable is None,
            below=below,
            above=above,
        )
        if found.held != "clear":
            return found
        tight = [joint for joint, each in joints.items() if not each.room.has_gap(each.most)]
        return replace(found, tight=tuple(tight))

    def knows(self, found: Assessment) -> None:
        """Take over the joints and the sweep of what was assessed elsewhere."""
        for joint, each in found.joints.items():
            self._rooms[_parts(found.rig, joint)] = each.room
        self._swept[_motion(found.rig, found.vehicle)] = found.swept

    def could(self, rig: Rig) -> Assessment | None:
        """What a rig comes to, or None where the parts or the vehicle cannot be."""
        try:
            return self.assess(rig)
        except BindpointError:
            return None

    def room(self, rig: Rig, joint: Joint) -> JointRoom:
        """The room of one joint of a rig. Raises BindpointError where its parts cannot be."""
        key = _parts(rig, joint)
        if key not in self._rooms:
            self._rooms[key] = JointRoom(end_hardware(rig, joint), rig.wanted)
        return self._rooms[key]

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
        known = {joint: self._rooms.get(_parts(parts, joint)) for joint in seen.bends}
        clear = {joint: inf if room is None else room.clear for joint, room in known.items()}
        clear |= {
            joint: head.limit for joint, head in vehicle.heads.items() if known[joint] is None
        }
        tight = [
            joint
            for joint, room in known.items()
            if room is not None and room.known_tight(seen.bends[joint] - SLACK_BEND)
        ]
        # The joint that bends most is the likeliest to tell.
        for joint in sorted(known, key=lambda each: -seen.bends[each]):
            if known[joint] is not None:
                continue
            found = at_best(seen, vehicle, parts, clear, tight)
            if not enough(found):
                return found
            clear[joint] = self.room(parts, joint).clear
        return at_best(seen, vehicle, parts, clear, tight)

    def _sweep(self, rig: Rig, vehicle: Vehicle) -> Envelope:
        """The sweep of a vehicle, or of one before that moves alike; its slip may differ."""
        key = _motion(rig, vehicle)
        if key not in self._swept:
            swept = envelope(vehicle)
            self._swept[key] = swept
            for joint in vehicle.ends:
                self._learn(swept.joints[joint].most.at)
            for found in (swept.slip.shortest, swept.slip.longest):
                self._learn(found.at)
        return self._swept[key]

    def _learn(self, at: Pose) -> None:
        """Remember a pose that was the worst somewhere: it is likely to be bad elsewhere."""
        if len(self._worst) < MOST_LEARNT:
            self._worst.setdefault((round(at.travel), round(at.roll, 2), round(at.wrap, 2)), at)


def _parts(rig: Rig, joint: Joint) -> Hashable:
    """Everything that the parts of a joint are built from, and what is wanted of them."""
    typed = typed_joint(rig, joint).typed
    return joint, rig.carrier is None, rig.folder, rig.wanted, rig.shaft.tube, typed


def _motion(rig: Rig, vehicle: Vehicle) -> Hashable:
    """Everything that decides where the shaft runs; of the slip only where it is."""
    points = (
        vehicle.p_C_output,
        vehicle.axis_C_output,
        vehicle.p_A_pinion,
        vehicle.axis_A_pinion,
    )
    return (
        rig.suspension,
        rig.axle.wrap_centre,
        vehicle.front,
        vehicle.travel,
        vehicle.slip.at,
        tuple(vehicle.heads.items()),
        tuple(vehicle.still.items()),
        *(point.tobytes() for point in points),
    )
