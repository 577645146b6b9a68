"""The picture and the exported bodies of a whole shaft in one pose."""

from collections.abc import Sequence

import numpy as np

from geometry.mesh import Mesh
from geometry.yoke import Yoke
from sim.around.surroundings import SurroundingGap
from sim.frames import pose
from sim.pose import PoseCheck
from sim.rig import Rig
from sim.vehicle import Pose, Vehicle
from viewer.scene.joint_bodies import joint_frame
from viewer.scene.mount import CHASSIS, HOUSING, SHAFT, Frames, frames_of
from viewer.scene.nearby import Nearby
from viewer.scene.part import Part, posed
from viewer.scene.parts import PosedPart
from viewer.scene.shaft import JointMark, ShaftPicture
from viewer.scene.shaft_parts import SHAFT_STEEL, named_parts, shaft_parts
from viewer.scene.slip_mark import SlipMark
from viewer.scene.slip_place import slip_place
from viewer.scene.surroundings import things_near
from viewer.scene.suspension import suspension_parts


def nearby(rig: Rig, vehicle: Vehicle, at: Pose, gap: SurroundingGap | None = None) -> Nearby:
    """What lives around a rig's shaft in one pose of the axle; `gap` is to be marked."""
    axle = vehicle.suspension.poses(at.travel, at.roll, at.wrap)
    frames = {CHASSIS: np.eye(4), HOUSING: pose(axle.R_CA, axle.p_C_A)}
    return Nearby(posed(things_near(rig), frames), posed(suspension_parts(vehicle), frames), gap)


def shaft_picture(
    found: PoseCheck,
    tube: tuple[float, float],
    headline: str,
    lines: tuple[str, ...] = (),
    length: str = "",
    near: Nearby | None = None,
) -> ShaftPicture:
    """Picture of the whole shaft in one pose.

    tube : outside diameter and wall, mm. near : what lives around it.
    """
    marks = []
    for name, joint in found.joints.items():
        frame, here = joint_frame(found.vehicle, found.state.line, name), joint.gap.overlaps
        elsewhere = joint.verdict == "touches" and not here
        marks.append(
            JointMark(f"{name} joint", frame.centre, frame.axes, joint.bend, here, elsewhere)
        )
    parts = posed(*_built(found, tube))
    near = near or Nearby()
    slip = _slip(found, tube)
    return ShaftPicture(parts, tuple(marks), length, slip, near, headline=headline, lines=lines)


def _slip(found: PoseCheck, tube: tuple[float, float]) -> SlipMark:
    """The slip in that pose."""
    hardware = {name: joint.hardware for name, joint in found.joints.items()}
    place = slip_place(found.vehicle, hardware, tube)
    state = found.state
    return SlipMark(place.at(float(state.line.slip)), state.X_C[place.frame])


def _built(found: PoseCheck, tube: tuple[float, float]) -> tuple[list[Part], Frames]:
    """The parts of a posed shaft, built in that pose, and the frames they hang on."""
    hardware = {name: joint.hardware for name, joint in found.joints.items()}
    built = found.state
    return (
        list(shaft_parts(found.vehicle, hardware, tube, built)),
        frames_of(found.vehicle, built, built),
    )


def export_parts(
    found: PoseCheck, tube: tuple[float, float] | None = None
) -> tuple[PosedPart, ...]:
    """Every body of the shaft that can touch, each in its own frame with its pose.

    tube : outside diameter and wall, mm; with it the tube and slip are among the parts.
    """
    hardware = {name: joint.hardware for name, joint in found.joints.items()}
    X_C = found.state.X_C
    parts = [
        PosedPart(name, steel, part.contact, X_C[name], made.fitted and isinstance(part, Yoke))
        for joint, made in hardware.items()
        for name, (part, steel) in named_parts(joint, made, two_piece="middle" in hardware).items()
    ]
    if tube is not None:
        built, frames = _built(found, tube)
        by_name = {part.name: part for part in built}
        front, bearing = by_name.pop("front section tube", None), by_name.get("carrier bearing")
        shaft = [part for part in by_name.values() if part.group == "shaft"]
        parts.append(PosedPart("shaft", SHAFT_STEEL, _joined(shaft), frames[SHAFT]))
        if front is not None and bearing is not None:
            X_CP = bearing.mount.pose(frames)  # along the same axis, and not turned with the shaft
            ring = bearing.pieces[0].mesh
            parts.append(PosedPart("front section", SHAFT_STEEL, _joined([front]), X_CP))
            parts.append(PosedPart("carrier bearing", SHAFT_STEEL, ring, X_CP))
    return tuple(parts)


def _joined(parts: Sequence[Part]) -> Mesh:
    """One mesh of parts along one axis."""
    return Mesh.join(piece.mesh for part in parts for piece in part.pieces)
