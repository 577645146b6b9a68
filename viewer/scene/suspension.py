"""What holds the axle, as simple bodies where they stand: links, arms, track bar, leaf springs.

They only show where things are. Their thicknesses are generic, from memory, and touch nothing.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, prism, turned
from sim.frames import pose
from sim.suspension import Leaf, Links
from sim.suspension.links.members import Arm, Link, Member, TorqueArm, Wishbone
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
    suspension = vehicle.suspension
    axle = suspension.poses(at.travel, at.roll, at.wrap)
    X_CA = pose(axle.R_CA, axle.p_C_A)
    if isinstance(suspension, Links):
        return tuple(part for member in suspension.members for part in _member(member, X_CA))
    if isinstance(suspension, Leaf):
        return tuple(_springs(suspension, X_CA))
    return ()


def _member(member: Member, X_CA: Floats) -> Iterator[PosedPart]:
    """The rods of a link, wishbone or arm."""
    name = member.name
    for start, stop in _rods(member, X_CA):
        length = float(np.linalg.norm(stop - start))
        if length > END:
            yield PosedPart(name, LOOK, rod(length), toward(start, stop))


def _rods(member: Member, X_CA: Floats) -> list[tuple[Floats, Floats]]:
    """Ends of the rods that stand for a member, each (3,) mm in C."""

    def on_axle(point: Sequence[float]) -> Floats:
        return np.asarray(X_CA[:3, :3] @ np.array(point) + X_CA[:3, 3])

    if isinstance(member, Link):
        return [(np.array(member.chassis), on_axle(member.axle))]
    if isinstance(member, Arm):
        return [(np.array(member.chassis), on_axle(point)) for point in member.axle]
    if isinstance(member, Wishbone):
        if member.apex_on == "axle":
            return [(np.array(bush), on_axle(member.apex)) for bush in member.bushes]
        return [(np.array(member.apex), on_axle(bush)) for bush in member.bushes]
    if isinstance(member, TorqueArm):
        rods = [(on_axle((0.0, 0.0, 0.0)), on_axle(member.end))]
        if member.shackle is not None:
            rods.append((np.array(member.shackle), on_axle(member.end)))
        return rods
    return []


def rod(length: float) -> Mesh:
    """A rod along x with a round end at 0 and another at `length`, mm."""
    angle = np.linspace(np.pi, 0.0, 13)
    ball = END * np.column_stack([np.cos(angle), np.sin(angle)])[::-1]
    ball[[0, -1], 1] = 0.0
    ends = [turned(ball + np.array([x, 0.0]), "x", "end", gap=0.5) for x in (0.0, length)]
    return Solid.union([*ends, cylinder("x", ROD, 0.0, length, "rod")]).mesh()


def _springs(leaf: Leaf, X_CA: Floats) -> Iterator[PosedPart]:
    """Both leaf springs, each from eye to eye over its seat."""
    seat = np.array(leaf.seat)
    fixed = np.array(leaf.fixed_eye)
    other = 2.0 * seat - fixed  # where nobody knows: as long behind the seat as ahead of it
    other[2] = fixed[2]
    if leaf.shackled_eye is not None:
        other = np.array(leaf.shackled_eye)
    half = float(np.hypot(other[0] - seat[0], other[2] - seat[2]))
    for side, name in ((1.0, "left spring"), (-1.0, "right spring")):
        mirror = np.array([1.0, side, 1.0])
        moved = X_CA[:3, :3] @ (seat * mirror) + X_CA[:3, 3]
        drop = np.clip(other[2] - moved[2], -half, half)
        # The shackle lets its eye move fore and aft; its height is taken to stay.
        along = np.copysign(np.sqrt(half**2 - drop**2), other[0] - seat[0])
        swung = np.array([moved[0] + along, other[1], moved[2] + drop])
        mesh = spring(fixed * mirror - moved, swung * mirror * [1.0, 1.0, 1.0] - moved)
        yield PosedPart(name, LOOK, mesh, pose(np.eye(3), moved))


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
