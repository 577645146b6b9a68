"""What holds the axle, as simple bodies where they stand: links, arms, track bar, leaf springs.

They only show where things are. Their thicknesses are generic, from memory, and touch nothing.
"""

from collections.abc import Iterator

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, prism, turned
from sim.frames import Vec3, pose
from sim.suspension.bodies import Body, Side, Spring
from sim.vehicle import Pose, Vehicle
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart
from viewer.scene.surroundings import toward

LOOK = "suspension"
"""The material of links and springs: seen through, so that they hide nothing of the shaft."""

ROD, END = 14.0, 23.0
"""Radius of a link's rod and of its round ends, mm."""

SPRING = (34.0, 10.0, 62.0)
"""A leaf spring's pack at its seat, its thickness at the eyes, and its width, mm."""

EYE = 20.0
"""Radius of a spring's eye, mm."""


def suspension_parts(vehicle: Vehicle, at: Pose) -> tuple[PosedPart, ...]:
    """Links or leaf springs in one pose of the axle; none where only the travel is known."""
    axle = vehicle.suspension.poses(at.travel, at.roll, at.wrap)
    X_CA = pose(axle.R_CA, axle.p_C_A)
    return tuple(part for body in vehicle.suspension.bodies() for part in _parts(body, X_CA))


def _parts(body: Body, X_CA: Floats) -> Iterator[PosedPart]:
    """A body where it stands; rods too short for their ends are left out."""
    if isinstance(body, Spring):
        yield _spring(body, X_CA)
        return
    for each in body.rods:
        start = _stands(each.start, each.start_on, X_CA)
        stop = _stands(each.stop, each.stop_on, X_CA)
        length = float(np.linalg.norm(stop - start))
        if length > END:
            yield PosedPart(body.name, LOOK, rod(length), toward(start, stop))


def _stands(point: Vec3, side: Side, X_CA: Floats) -> Floats:
    """Where a point (3,) mm is in C."""
    return np.array(point) if side == "chassis" else X_CA[:3, :3] @ np.array(point) + X_CA[:3, 3]


def rod(length: float) -> Mesh:
    """A rod along x with a round end at 0 and another at `length`, mm."""
    angle = np.linspace(np.pi, 0.0, 13)
    ball = END * np.column_stack([np.cos(angle), np.sin(angle)])[::-1]
    ball[[0, -1], 1] = 0.0
    ends = [turned(ball + np.array([x, 0.0]), "x", "end", gap=0.5) for x in (0.0, length)]
    return Solid.union([*ends, cylinder("x", ROD, 0.0, length, "rod")]).mesh()


def _spring(leaf: Spring, X_CA: Floats) -> PosedPart:
    """A leaf spring from eye to eye over its seat."""
    fixed, seat, other = (np.array(p) for p in (leaf.fixed_eye, leaf.seat, leaf.shackled_eye))
    half = float(np.hypot(other[0] - seat[0], other[2] - seat[2]))
    moved = _stands(leaf.seat, "axle", X_CA)
    drop = np.clip(other[2] - moved[2], -half, half)
    # The shackle lets its eye move fore and aft; its height is taken to stay.
    along = np.copysign(np.sqrt(half**2 - drop**2), other[0] - seat[0])
    swung = np.array([moved[0] + along, other[1], moved[2] + drop])
    mesh = spring(fixed - moved, swung - moved)
    return PosedPart(f"{leaf.side} spring", LOOK, mesh, pose(np.eye(3), moved))


def spring(one: Floats, other: Floats) -> Mesh:
    """A spring through its seat at the origin, flat there, between two eyes (3,) mm."""
    pack, tip, width = SPRING
    share = np.linspace(-1.0, 1.0, 41)
    near = share[:, None] < 0.0
    ends = np.where(near, one[[0, 2]], other[[0, 2]])
    size = np.abs(share)
    middle = np.column_stack([ends[:, 0] * size, ends[:, 1] * size**2])
    half = 0.5 * (tip + (pack - tip) * np.round(4.0 * (1.0 - size)) / 4.0)
    upper, lower = (middle + np.outer(sign * half, [0.0, 1.0]) for sign in (1.0, -1.0))
    outline = np.concatenate([upper, lower[::-1]])[:, ::-1]
    if one[0] > other[0]:
        outline = outline[::-1]
    eyes = [
        cylinder("y", EYE, -0.5 * width, 0.5 * width, "eye", (float(eye[2]), float(eye[0])))
        for eye in (one, other)
    ]
    leaves = prism(outline, "y", -0.5 * width, 0.5 * width, "leaf")
    return Solid.union([leaves, *eyes]).mesh()
