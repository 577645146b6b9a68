"""The round stretches of a turning shaft, which a turn about its own axis does not change.

Each piece of a shaft keeps clear as its tube, one cylinder of the tube's outside diameter from
weld land to weld land, also over the thinner slip, and as the circles that the ears of its own
two yokes turn in. A double-Cardan head has a centre yoke between its crosses, which turns about
the line through them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geometry.yoke import Yoke
from sim.frames import FloatArray
from sim.head import Head
from sim.head_hardware import EndHardware, HeadHardware
from sim.line import line
from sim.rig import Rig
from sim.vehicle import Joint, Vehicle

Line = Literal["shaft", "front section", "output head", "pinion head"]
"""What a rod turns with: the shaft from its own first cross to its own last one, the front section
from the output joint to the middle one, the centre yoke of a head from the cross nearer the engine
to the other."""


@dataclass(frozen=True)
class Rod:
    """A round stretch of the shaft.

    name : what it is called
    radius : mm
    start, stop : ends of its axis, each a share of the length of its line and a length (mm) along
        the line beyond that
    along : the line its axis lies on
    """

    name: str
    radius: float
    start: tuple[float, float]
    stop: tuple[float, float]
    along: Line = "shaft"


def shaft_rods(rig: Rig, joints: Mapping[Joint, EndHardware]) -> tuple[Rod, ...]:
    """Give the round stretches of a rig's shaft, from its tube to what lies in front of it."""
    first = joints["middle"] if "middle" in joints else joints["output"]
    output, pinion = first.driven, joints["pinion"].driving
    lands = _land(output), _land(pinion)
    tube = Rod("tube", 0.5 * rig.shaft.tube.outside.mm, (0.0, lands[0]), (1.0, -lands[1]))
    back, ears = _ears(output, lands[0])
    end = "middle joint" if "middle" in joints else "output end"
    at_output = Rod(f"{end}'s ears", ears, (0.0, back), (0.0, lands[0]))
    back, ears = _ears(pinion, lands[1])
    at_pinion = Rod("pinion end's ears", ears, (1.0, -back), (1.0, -lands[1]))
    return (tube, at_output, at_pinion, *_heads(joints), *_front(rig, joints))


def _heads(joints: Mapping[Joint, EndHardware]) -> Iterator[Rod]:
    """The centre yokes of double-Cardan heads."""
    lines: tuple[tuple[Joint, Line], ...] = (("output", "output head"), ("pinion", "pinion head"))
    for joint, along in lines:
        head = joints[joint]
        if isinstance(head, HeadHardware):
            back, radius = _ears(head.built.centre, np.inf)
            yield Rod(f"{along}'s centre yoke", radius, (0.0, back), (1.0, -back), along)


def _front(rig: Rig, joints: Mapping[Joint, EndHardware]) -> Iterator[Rod]:
    """The front section of a two-piece shaft: its tube up to the bearing, and its two yokes.

    The yoke behind the bearing counts whole, with the flange that it may have. What runs through
    the bearing does not count: something has to hold that.
    """
    if "middle" not in joints or rig.carrier is None:
        return
    output, middle = joints["output"].driven, joints["middle"].driving
    land, tube = _land(output), 0.5 * rig.shaft.tube.outside.mm
    stub = rig.carrier.bearing_stub.mm if rig.carrier.bearing_stub is not None else 0.0
    behind = rig.carrier.middle_joint_beyond.mm + stub
    yield Rod("front tube", tube, (0.0, land), (1.0, -behind), "front section")
    back, ears = _ears(output, land)
    yield Rod("front tube's ears", ears, (0.0, back), (0.0, land), "front section")
    back, whole = _ears(middle, np.inf)
    reach = float(middle.contact.vertices[:, 0].max())
    yield Rod("front yoke", whole, (1.0, -reach), (1.0, -back), "front section")


def _land(yoke: Yoke) -> float:
    """Where the tube begins, mm from the cross; without a weld, at the floor of the throat."""
    if yoke.weld_land is not None:
        return yoke.weld_land
    return yoke.dimensions.get("throat_depth", 0.0)


def _ears(yoke: Yoke, land: float) -> tuple[float, float]:
    """How far back the ears reach along the shaft, and the radius they turn in, mm."""
    vertices = yoke.contact.vertices
    ears = vertices[vertices[:, 0] <= land]
    return float(ears[:, 0].min()), float(np.hypot(ears[:, 1], ears[:, 2]).max())


def rod_ends(vehicle: Vehicle, rod: Rod, poses: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Both ends (n, 3), mm in C, of a rod's axis at poses (n, 3): travel mm, roll and wrap rad."""
    begin, end = _line_ends(vehicle, rod.along, poses)
    apart = end - begin
    length = np.linalg.norm(apart, axis=-1, keepdims=True)
    start, stop = (
        begin + (share * length + beyond) * (apart / length)
        for share, beyond in (rod.start, rod.stop)
    )
    return start, stop


def _line_ends(vehicle: Vehicle, along: Line, poses: FloatArray) -> tuple[FloatArray, FloatArray]:
    if along == "front section" and vehicle.section is not None:
        still = np.zeros_like(poses)
        return still + vehicle.section.p_C_output, still + vehicle.section.p_C_middle
    state = line(vehicle, *poses.T)
    u = state.shaft_axis_C
    begin = state.p_C_output + _reach(vehicle.output_head, state.output_bend) * u
    end = state.p_C_pinion - _reach(vehicle.pinion_head, state.pinion_bend) * u
    if along == "output head" and vehicle.output_head is not None:
        return state.p_C_output + vehicle.output_head.ball * vehicle.axis_C_output, begin
    if along == "pinion head" and vehicle.pinion_head is not None:
        return end, state.p_C_pinion + vehicle.pinion_head.ball * state.axis_C_pinion
    return begin, end


def _reach(head: Head | None, bend: FloatArray) -> FloatArray:
    """From the joint's centre to the shaft's own cross, (n, 1) mm."""
    if head is None:
        return np.zeros((len(bend), 1))
    return head.split(bend).reach[:, None]
