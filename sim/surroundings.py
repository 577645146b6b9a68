"""How near the turning shaft comes to what lives around it, over the whole travel.

The shaft keeps clear as the round rods of `sim.rods`. They move with travel, roll and wrap; the
smallest gap is found and certified by `geometry.clearance`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from geometry.clearance import Clearance, Motion, clearance
from geometry.containment import holds
from geometry.convex import Bars, Boxes, Pieces, Triangles
from geometry.errors import MeshError
from geometry.mesh import Mesh
from sim.frames import FloatArray, read_only
from sim.head_hardware import EndHardware
from sim.rig import Rig
from sim.rig.fields import millimetres
from sim.rig.surroundings import MeshFile, Surrounding
from sim.rods import Rod, rod_ends, shaft_rods
from sim.travel_pieces import Piece, pieces
from sim.vehicle import Joint, Pose, Vehicle

UNITS: Final[Mapping[str, float]] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
"""What a unit of a mesh file is, mm."""

MOST_TRIANGLES: Final = 250_000
"""Triangles of one thing; with these a sweep takes some 5 s and 500 MB."""

HALVINGS: Final = 8
"""Halvings of the travel in search of the first pose that touches: to 1/256 of it."""

MIDDLE: Final = 0.5
"""Place on a side of a piece of the travel that is closed."""


@dataclass(frozen=True, eq=False)
class Thing:
    """Something near the shaft, in C as it lies at ride height, mm.

    name : what it is called
    pieces : what it is made of
    moves : whether it moves with the axle
    mesh : its surface, where it was read from a file
    """

    name: str
    pieces: Pieces
    moves: bool = False
    mesh: Mesh | None = None


@dataclass(frozen=True, eq=False)
class SurroundingGap:
    """The smallest gap between the shaft and one thing near it, over the whole travel.

    Attributes
    ----------
    name : what it is called.
    part : which part of the shaft comes nearest.
    gap_mm : 0 where they touch.
    certified_mm : no pose of the travel has less, to `geometry.tolerances.TOL.clearance`.
    at : the pose; where they touch, one about as near to ride height as any that does.
    points : (2, 3) mm in C, on the shaft and on the thing.
    fixed_to_axle : whether the thing moves with the axle.
    """

    name: str
    part: str
    gap_mm: float
    certified_mm: float
    at: Pose
    points: FloatArray
    fixed_to_axle: bool

    @property
    def touches(self) -> bool:
        """Whether the shaft touches it somewhere in the travel."""
        return self.gap_mm == 0.0


def surrounding_gaps(
    rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware]
) -> tuple[SurroundingGap, ...]:
    """Smallest gap to each of a rig's surroundings, in the order of the file.

    Raises
    ------
    MeshError
        For a mesh file that cannot be read.
    """
    rods = shaft_rods(rig, joints)
    return tuple(smallest_gap(vehicle, rods, thing_of(rig, each)) for each in rig.surroundings)


def gaps_at(
    rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware], at: Pose
) -> tuple[SurroundingGap, ...]:
    """Gap to each of a rig's surroundings in one pose of the axle, in the order of the file.

    Raises
    ------
    MeshError
        For a mesh file that cannot be read.
    """
    rods = shaft_rods(rig, joints)
    things = (thing_of(rig, each) for each in rig.surroundings)
    return tuple(_gap_at(vehicle, rods, thing, at) for thing in things)


def _gap_at(vehicle: Vehicle, rods: Iterable[Rod], thing: Thing, at: Pose) -> SurroundingGap:
    here = np.array([at.travel, at.roll, at.wrap])
    found = []
    for rod in rods:
        motion = _motion(vehicle, rod, thing.moves)
        near = clearance(motion, here, here, rod.radius, thing.pieces)
        inside = _is_inside(vehicle, rod, thing, here)
        found.append((0.0 if inside else near.distance, rod, near))
    gap, rod, near = min(found, key=lambda each: each[0])
    certified = 0.0 if gap == 0.0 else near.certified
    return _told(vehicle, thing, rod, near, gap, certified)


def thing_of(rig: Rig, surrounding: Surrounding) -> Thing:
    """Make a thing ready; a mesh is read from its file.

    Raises MeshError for a mesh file that cannot be read.
    """
    name, moves = surrounding.name, surrounding.moves
    if surrounding.box is not None:
        box = surrounding.box
        size = np.array([[length.mm for length in box.size]])
        return Thing(name, Boxes(np.array([millimetres(box.at)]), 0.5 * size), moves)
    if surrounding.cylinder is not None:
        pipe = surrounding.cylinder
        start, stop = (np.array([millimetres(end)]) for end in (pipe.start, pipe.to))
        return Thing(name, Bars(start, stop, np.array([0.5 * pipe.outside.mm])), moves)
    if surrounding.mesh is None:
        raise MeshError(f"{name}: no shape; expected one of box, cylinder and mesh")
    mesh = _read(rig, name, surrounding.mesh)
    return Thing(name, Triangles(mesh.triangles), moves, mesh)


def _read(rig: Rig, name: str, said: MeshFile) -> Mesh:
    # Reading mesh files is rare, and what it needs is slow to start.
    from geometry.imported.reading import read_mesh  # noqa: PLC0415

    try:
        raw = read_mesh(rig.folder / said.file)
    except MeshError as error:
        raise MeshError(f"{rig.name}: surroundings, {name}: {error}") from None
    if len(raw.faces) > MOST_TRIANGLES:
        raise MeshError(
            f"{name}: {said.file} has {len(raw.faces):,} triangles; expected at most "
            f"{MOST_TRIANGLES:,}. Reduce the mesh where it was scanned or drawn"
        )
    vertices = raw.vertices * UNITS[said.unit] + np.array(millimetres(said.at))
    return Mesh.uniform(vertices, raw.faces, name)


def smallest_gap(vehicle: Vehicle, rods: Iterable[Rod], thing: Thing) -> SurroundingGap:
    """Smallest gap between the rods of a shaft and one thing over the whole travel."""
    best: tuple[Rod, Clearance] | None = None
    certified = np.inf
    touching: list[tuple[float, Rod, Clearance]] = []
    for rod in rods:
        beat = np.inf if best is None else best[1].distance
        found = _clearance(vehicle, rod, thing, beat=beat)
        certified = min(certified, found.certified)
        if found.meets or _is_inside(vehicle, rod, thing):
            touching.append(_first_touch(vehicle, rod, thing, found))
        elif best is None or found.distance < best[1].distance:
            best = rod, found
    if touching:
        _, rod, found = min(touching, key=lambda each: each[0])
        return _told(vehicle, thing, rod, found, 0.0, 0.0)
    if best is None:
        raise MeshError(f"{thing.name}: no part of a shaft to keep clear; expected at least one")
    return _told(vehicle, thing, *best, best[1].distance, certified)


def _clearance(
    vehicle: Vehicle,
    rod: Rod,
    thing: Thing,
    share: float = 1.0,
    beat: float = np.inf,
) -> Clearance:
    """Clearance over a share of the travel about ride height.

    Each piece of the region is asked for in its own coordinates, in which it is a box.
    """
    motion = _motion(vehicle, rod, thing.moves)
    best: Clearance | None = None
    certified = np.inf
    for piece in pieces(vehicle.travel.scaled(share)):

        def within(points: FloatArray, piece: Piece = piece) -> tuple[FloatArray, FloatArray]:
            return motion(np.stack(piece.poses(points), axis=-1))

        low, high = (np.where(piece.open, end, MIDDLE) for end in (0.0, 1.0))
        found = clearance(within, low, high, rod.radius, thing.pieces, beat)
        pose = read_only(np.stack(piece.poses(found.pose), axis=-1))
        certified = min(certified, found.certified)
        if best is None or found.distance < best.distance:
            best = replace(found, pose=pose)
        beat = min(beat, best.distance)
        if best.meets:
            break
    if best is None:
        raise MeshError(f"{thing.name}: no travel to keep clear in; expected at least ride height")
    return replace(best, certified=certified)


def _motion(vehicle: Vehicle, rod: Rod, with_axle: bool) -> Motion:
    """How the rod's ends move, seen from the chassis or from the axle housing."""

    def motion(poses: FloatArray) -> tuple[FloatArray, FloatArray]:
        ends = rod_ends(vehicle, rod, poses)
        if not with_axle:
            return ends
        axle = vehicle.suspension.poses(*poses.T)
        start, stop = (np.einsum("nij,ni->nj", axle.R_CA, end - axle.p_C_A) for end in ends)
        return start, stop

    return motion


def _is_inside(vehicle: Vehicle, rod: Rod, thing: Thing, at: FloatArray | None = None) -> bool:
    """Whether the rod sits wholly inside a closed mesh, whose surface it then never touches."""
    if thing.mesh is None:
        return False
    here = np.zeros((1, 3)) if at is None else at[None]
    ends = _motion(vehicle, rod, thing.moves)(here)
    return bool(holds(thing.mesh, 0.5 * (ends[0] + ends[1]))[0])


def _first_touch(
    vehicle: Vehicle, rod: Rod, thing: Thing, found: Clearance
) -> tuple[float, Rod, Clearance]:
    """Share of the travel about ride height in which the rod touches first, and the touch."""
    clear, touches = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = 0.5 * (clear + touches)
        # Only what overlaps by more than the tolerance is followed: this looks for a touch.
        inner = _clearance(vehicle, rod, thing, middle, beat=0.0)
        if inner.meets:
            touches, found = middle, inner
        else:
            clear = middle
    return touches, rod, found


def _told(
    vehicle: Vehicle, thing: Thing, rod: Rod, found: Clearance, gap: float, certified: float
) -> SurroundingGap:
    at = Pose(*map(float, found.pose))
    points = found.points
    if thing.moves:
        axle = vehicle.suspension.poses(at.travel, at.roll, at.wrap)
        points = points @ axle.R_CA.T + axle.p_C_A
    points = np.array(points)
    points.flags.writeable = False
    return SurroundingGap(thing.name, rod.name, gap, certified, at, points, thing.moves)
