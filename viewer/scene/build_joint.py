"""The picture of one joint or head, out of a pose of the axle and what was found there."""

import numpy as np

from geometry.contact.gap import Gap
from geometry.contact.pair import CROSS
from geometry.contact.touch import Contact
from sim.assessment import JointAssessment
from sim.hardware.head import EndHardware, HeadHardware, cross_of
from sim.hardware.joint import JointHardware
from sim.line import line
from sim.vehicle import Pose, Vehicle
from viewer.scene.joint import JointPicture
from viewer.scene.joint_bodies import Body, crosses_of, head_spin, joint_frame
from viewer.scene.spot import overlap


def joint_picture(
    vehicle: Vehicle,
    at: Pose,
    hardware: EndHardware,
    gap: Gap | Contact,
    headline: str,
    lines: tuple[str, ...] = (),
) -> JointPicture:
    """Picture of one joint or head in one pose of the axle.

    gap : what is nearest, or touches, there; also says how far it is turned.
    """
    state = line(vehicle, at.travel, at.roll, at.wrap)
    frame = joint_frame(vehicle, state, hardware.joint)
    crosses = crosses_of(frame, hardware, gap)
    bodies: dict[str, Body] = {}
    for each in crosses:
        for body in each.bodies().values():
            bodies.setdefault(body.name, body)  # a center yoke is at both
    first, second = hardware.names(gap)
    axes, bend = frame.axes, frame.bend
    if isinstance(hardware, HeadHardware):  # what meets first, and the crosses last
        rest = sorted(bodies, key=lambda name: name.endswith(CROSS))
        bodies = {name: bodies[name] for name in (first, second, *rest)}
    else:
        axes = np.stack([body.X_CP[:3, 0] for body in list(bodies.values())[:2]])
        bend = gap.bend
    solids = {name: body.solid for name, body in bodies.items()}
    gives = isinstance(gap, Gap) and gap.overlaps
    X_CK = crosses[cross_of(gap)].X_CK
    return JointPicture(
        parts=tuple(part for body in bodies.values() for part in body.shown()),
        solids=tuple(solids.values()),
        centre=frame.centre,
        axes=axes,
        bend=bend,
        points=gap.points @ X_CK[:3, :3].T + X_CK[:3, 3],
        gap_mm=gap.distance if isinstance(gap, Gap) else 0.0,
        overlap=overlap(solids[first], solids[second]) if gives else None,
        bodies=(first, second),
        surfaces=gap.surfaces,
        headline=headline,
        lines=lines,
    )


def worst_gap(joint: JointAssessment) -> Gap:
    """What meets, or is nearest, in the worst pose of one joint.

    Where metal meets at many spins the one is taken at which it meets first.
    """
    gap, first = joint.gap, joint.curve.first
    if not gap.overlaps or first is None:
        return gap
    hardware = joint.hardware
    if isinstance(hardware, JointHardware):
        return hardware.gap_at(gap.bend, first.spin)
    bends = hardware.bends(joint.sweep.most.value)
    return hardware.gap_at(joint.sweep.most.value, head_spin(bends[0], first))
