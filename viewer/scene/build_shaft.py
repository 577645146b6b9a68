"""The picture and the parts of a whole shaft in one pose."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from geometry.cross import Cross
from geometry.mesh import Mesh
from geometry.yoke import Yoke
from sim.around.outline import cross_name, land, slip_in_shaft, tube_before_slip
from sim.around.surroundings import SurroundingGap
from sim.around.things import thing_of
from sim.frames import pose, unit
from sim.front_section import FrontSection
from sim.head.hardware import EndHardware, HeadHardware
from sim.line import LineState
from sim.pose import PoseCheck
from sim.rig import Rig
from sim.vehicle import Joint, Pose, Vehicle
from viewer.draw.camera import Floats
from viewer.scene.build_joint import CENTRE, ENDS, SHAFT, Body, joint_frame
from viewer.scene.joint import CAUTION
from viewer.scene.parts import PosedPart
from viewer.scene.shaft import GapMark, JointMark, ShaftPicture
from viewer.scene.stand_ins import Sliding, axle_housing, bearing_ring, output_case, shaft_between
from viewer.scene.surroundings import surrounding_parts
from viewer.scene.suspension import suspension_parts


@dataclass(frozen=True, eq=False)
class Nearby:
    """What lives around the shaft: things near it, what holds the axle, gaps to be marked."""

    things: tuple[PosedPart, ...] = ()
    suspension: tuple[PosedPart, ...] = ()
    gaps: tuple[GapMark, ...] = ()

    @property
    def for_export(self) -> tuple[PosedPart, ...]:
        """The same bodies, each with a name of its own that no part of the shaft has."""
        kinds = (("surroundings", self.things), ("suspension", self.suspension))
        return tuple(
            PosedPart(f"{kind} {i + 1} {part.name}", part.material, part.mesh, part.X_CP)
            for kind, parts in kinds
            for i, part in enumerate(parts)
        )


def nearby(rig: Rig, vehicle: Vehicle, at: Pose, gaps: Sequence[SurroundingGap] = ()) -> Nearby:
    """What lives around a rig's shaft in one pose of the axle; `gaps` are to be marked."""
    axle = vehicle.suspension.poses(at.travel, at.roll, at.wrap)
    X_CA = pose(axle.R_CA, axle.p_C_A)
    things = (thing_of(rig, each) for each in rig.surroundings)
    marks = (GapMark(gap.name, gap.part, gap.gap_mm, gap.points) for gap in gaps)
    return Nearby(surrounding_parts(things, X_CA), suspension_parts(vehicle, at), tuple(marks))


def shaft_picture(
    found: PoseCheck,
    tube: tuple[float, float],
    headline: str,
    lines: tuple[str, ...] = (),
    length: str = "",
    ground: float | None = None,
    caution: str = CAUTION,
    near: Nearby | None = None,
) -> ShaftPicture:
    """Picture of the whole shaft in one pose.

    tube : outside diameter and wall, mm. near : what lives around it.
    """
    near = near or Nearby()
    bodies = shaft_bodies(found)
    marks = []
    for name in found.joints:
        frame, joint = joint_frame(found.vehicle, found.at, name), found.joints[name]
        here = joint.gap.overlaps
        elsewhere = joint.verdict == "touches" and not here
        marks.append(
            JointMark(f"{name} joint", frame.centre, frame.axes, joint.bend, here, elsewhere)
        )
    return ShaftPicture(
        parts=(
            *(part for name, body in bodies.items() for part in body.pieces(name)),
            *_tubes(found, tube),
            *_around(found, bodies),
        ),
        joints=tuple(marks),
        headline=headline,
        lines=lines,
        length=length,
        ground=ground,
        caution=caution,
        around=(*near.things, *near.suspension),
        named=tuple(part.name for part in near.things),
        gaps=near.gaps,
        from_above=any(_sideways(gap) for gap in near.gaps),
    )


def _sideways(gap: GapMark) -> bool:
    """Whether a gap runs so much sideways that it cannot be seen from the left."""
    across = gap.points[1] - gap.points[0]
    return bool(abs(across[1]) > 0.8 * np.linalg.norm(across) > 0.0)


def export_parts(
    found: PoseCheck, tube: tuple[float, float] | None = None
) -> tuple[PosedPart, ...]:
    """Every body of the shaft that can touch, each in its own frame with its pose.

    tube : outside diameter and wall, mm; with it the tube and slip are among the parts.
    """
    bodies = shaft_bodies(found)
    parts = [body.solid(name) for name, body in bodies.items()]
    if tube is not None:
        sections: dict[str, list[PosedPart]] = {}
        for piece in _tubes(found, tube):
            sections.setdefault(piece.name, []).append(piece)
        parts += [
            PosedPart(name, SHAFT, Mesh.join(piece.mesh for piece in pieces), pieces[0].X_CP)
            for name, pieces in sections.items()
        ]
    return tuple(parts)


def shaft_bodies(found: PoseCheck) -> dict[str, Body]:
    """Every yoke and cross of a posed shaft by name, from the output to the pinion."""
    hardware = {name: joint.hardware for name, joint in found.joints.items()}
    X_C, parts = found.state.X_C, shaft_hardware(hardware)
    return {name: Body(part, steel, X_C[name]) for name, (part, steel) in parts.items()}


def shaft_hardware(
    hardware: Mapping[Joint, EndHardware],
) -> dict[str, tuple[Yoke | Cross, str]]:
    """Every yoke and cross of a shaft with its steel by name, from the output to the pinion."""
    parts: dict[str, tuple[Yoke | Cross, str]] = {}
    first: Joint = "middle" if "middle" in hardware else "output"
    if first == "middle":
        names = "output yoke", "front section yoke"
        parts |= _hardware(hardware["output"], "output", names, (ENDS, SHAFT))
    steel = (SHAFT if first == "middle" else ENDS, SHAFT)
    parts |= _hardware(hardware[first], first, (f"{first} yoke", f"{first} shaft yoke"), steel)
    names = "pinion shaft yoke", "pinion yoke"
    return parts | _hardware(hardware["pinion"], "pinion", names, (SHAFT, ENDS))


def _hardware(
    hardware: EndHardware, joint: Joint, names: tuple[str, str], steel: tuple[str, str]
) -> dict[str, tuple[Yoke | Cross, str]]:
    driving, driven = names
    parts: dict[str, tuple[Yoke | Cross, str]] = {driving: (hardware.driving, steel[0])}
    if isinstance(hardware, HeadHardware):
        built = hardware.built
        parts[f"{joint} cross"] = built.cross, CENTRE
        parts[f"{joint} centre yoke"] = built.centre, CENTRE
        parts[f"{joint} second cross"] = built.cross, CENTRE
    else:
        parts[f"{joint} cross"] = hardware.cross, CENTRE
    return parts | {driven: (hardware.driven, steel[1])}


def _tubes(found: PoseCheck, tube: tuple[float, float]) -> tuple[PosedPart, ...]:
    """The tube and slip of the shaft, and the front section with its bearing where there is one."""
    state, vehicle = found.state, found.vehicle
    first = found.joints[vehicle.ends[0]].hardware
    pinion, section = found.joints["pinion"].hardware, vehicle.section
    apart = float(
        np.linalg.norm(_origin(state.X_C["pinion shaft yoke"]) - _origin(state.X_C["shaft"]))
    )
    lands = land(first.driven), apart - land(pinion.driving)
    ends = land(first.driven), land(pinion.driving)
    sliding = slip_at(vehicle, ends, cross_name(pinion), tube, float(state.line.slip))
    pieces = shaft_between("shaft", state.X_C["shaft"], lands, tube, sliding)
    if section is None:
        return pieces
    yokes = found.joints["output"].hardware.driven, first.driving
    return pieces + _front_section(section, yokes, tube)


def _front_section(
    section: FrontSection, yokes: tuple[Yoke, Yoke], tube: tuple[float, float]
) -> tuple[PosedPart, ...]:
    x = section.axis_C
    y = unit(np.cross([0.0, 0.0, 1.0], x))
    X_C = pose(np.stack([x, y, np.cross(x, y)], axis=-1), section.p_C_output)
    lands = land(yokes[0]), section.length - land(yokes[1])
    bearing = bearing_ring(section.to_bearing)
    return (
        *shaft_between("front section", X_C, lands, tube, None),
        PosedPart("carrier bearing", "rubber", bearing, X_C),
    )


def slip_at(
    vehicle: Vehicle,
    lands: tuple[float, float],
    cross: str,
    tube: tuple[float, float],
    opened: float,
) -> Sliding | None:
    """The slip in the shaft as far as it is opened since ride height; None where there is none.

    lands : from their crosses to where either of the shaft's yokes ends, mm.
    """
    if vehicle.slip.at != "shaft":
        return None
    shape = slip_in_shaft(cross, tube, vehicle.slip)
    before = tube_before_slip(vehicle, lands, shape)
    return None if before is None else Sliding(shape, before, opened)


def _origin(X: Floats) -> Floats:
    return X[..., :3, 3]


def _around(found: PoseCheck, bodies: dict[str, Body]) -> tuple[PosedPart, ...]:
    """The axle housing and the case at the output, in simple shapes."""
    state, pinion = found.state, found.joints["pinion"].hardware.driven
    snout, X_C = housing_place(state.line, state.X_C["housing"], land(pinion))
    output = bodies["output yoke"]
    case = output_case(land(found.joints["output"].hardware.driving) - 2.0)
    return (
        PosedPart("housing", "cast iron", axle_housing(snout), X_C),
        PosedPart("case", "cast iron", case, output.X_CP),
    )


def housing_place(state: LineState, X_CA: Floats, pinion_land: float) -> tuple[float, Floats]:
    """Length (mm) of the snout of an axle housing, and pose (4, 4) in C of its shape.

    pinion_land : from the pinion joint's centre to where its yoke ends, mm.
    """
    ahead = -state.axis_C_pinion
    left = unit(X_CA[:3, 1] - (X_CA[:3, 1] @ ahead) * ahead)
    # The pinion need not pass through the middle of the axle, so the snout starts on its line.
    reach = float((state.p_C_pinion - X_CA[:3, 3]) @ ahead)
    base = state.p_C_pinion - reach * ahead
    R = np.stack([ahead, left, np.cross(ahead, left)], axis=-1)
    return max(120.0, reach - pinion_land + 2.0), pose(R, base)
