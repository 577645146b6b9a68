"""Gaps of rods against another library's own round and square primitives, on random poses.

Source: Coal 3, a general collision library; its cylinder and box are exact shapes, its distance
comes from another algorithm.
"""

import coal
import numpy as np
import pytest

from geometry.contact.convex import Bars, Boxes, Triangles
from geometry.contact.rod import nearest
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from sim.around.rods import Rod
from sim.around.surroundings import smallest_gap
from sim.around.things import Thing
from sim.derive import vehicle_of
from sim.head.bend import Head
from sim.line import line
from sim.rig.demos import demo_names, load_demo
from sim.vehicle import Vehicle
from tests.outside.second_library import coal_mesh

RADIUS = 38.1
STILL = coal.Transform3s.Identity()


def cylinder(start: np.ndarray, stop: np.ndarray, radius: float) -> tuple:
    axis = stop - start
    z = axis / np.linalg.norm(axis)
    x = np.cross([1.0, 0.0, 0.0] if abs(z[0]) < 0.9 else [0.0, 1.0, 0.0], z)
    x /= np.linalg.norm(x)
    R = np.stack([x, np.cross(z, x), z], axis=1)
    shape = coal.Cylinder(radius, float(np.linalg.norm(axis)))
    return shape, coal.Transform3s(R, 0.5 * (start + stop))


def distance(one: tuple, other: tuple) -> float:
    request = coal.DistanceRequest()
    request.gjk_tolerance = 1e-9
    return max(0.0, float(coal.distance(*one, *other, request, coal.DistanceResult())))


def random_rods(seed: int, count: int) -> tuple[np.ndarray, np.ndarray, np.random.Generator]:
    rng = np.random.default_rng(seed)
    start = rng.uniform(-300.0, 300.0, (count, 3))
    length = rng.uniform(50.0, 400.0, (count, 1))
    return start, start + length * rng.normal(size=(count, 3)), rng


def test_rods_near_boxes() -> None:
    start, stop, rng = random_rods(1, 600)
    boxes = Boxes(rng.uniform(-200, 200, (600, 3)), rng.uniform(5, 150, (600, 3)))
    near = nearest(start, stop, RADIUS, boxes, np.arange(600))
    theirs = [
        distance(
            cylinder(start[i], stop[i], RADIUS),
            (coal.Box(*(2.0 * boxes.half[i])), coal.Transform3s(np.eye(3), boxes.centre[i])),
        )
        for i in range(600)
    ]
    assert near.distance == pytest.approx(np.array(theirs), abs=2.0 * TOL.rod)
    assert (near.least <= np.array(theirs) + 1e-6).all()


def test_rods_near_bars() -> None:
    start, stop, rng = random_rods(2, 600)
    a = rng.uniform(-200, 200, (600, 3))
    bars = Bars(a, a + 100.0 * rng.normal(size=(600, 3)), rng.uniform(5, 60, 600))
    near = nearest(start, stop, RADIUS, bars, np.arange(600))
    theirs = [
        distance(
            cylinder(start[i], stop[i], RADIUS),
            cylinder(bars.start[i], bars.stop[i], float(bars.radius[i])),
        )
        for i in range(600)
    ]
    assert near.distance == pytest.approx(np.array(theirs), abs=2.0 * TOL.rod)


def test_rods_near_triangles() -> None:
    start, stop, rng = random_rods(3, 300)
    corners = rng.uniform(-200, 200, (300, 1, 3)) + 60.0 * rng.normal(size=(300, 3, 3))
    near = nearest(start, stop, RADIUS, Triangles(corners), np.arange(300))
    theirs = [
        distance(
            (coal_mesh(Mesh.uniform(corners[i], [[0, 1, 2]], "one")), STILL),
            cylinder(start[i], stop[i], RADIUS),
        )
        for i in range(300)
    ]
    assert near.distance == pytest.approx(np.array(theirs), abs=2.0 * TOL.rod)


def poses(vehicle: Vehicle, count: int) -> np.ndarray:
    """Random poses of the travel, its corners first."""
    travel = vehicle.travel
    rng = np.random.default_rng(5)
    box = travel.low + (travel.high - travel.low) * rng.uniform(size=(4 * count, 3))
    return np.concatenate([travel.corners(), box[travel.contains(*box.T)][:count]])


def to_own_cross(head: Head | None, bend: np.ndarray) -> np.ndarray:
    """From a head's ball to the shaft's cross: the triangle's side along the shaft, by cosines."""
    if head is None:
        return np.zeros_like(bend)
    across, along = head.ball * np.sin(bend), head.ball * np.cos(bend)
    return np.sqrt(head.span**2 - across**2) - along


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_no_pose_of_a_demo_rig_is_nearer_than_certified(name: str) -> None:
    """A box and a pipe over the tube: 2,000 poses asked of the other library."""
    vehicle = vehicle_of(load_demo(name))
    rod = Rod("tube", RADIUS, (0.0, 54.0), (1.0, -54.0))
    middle = 0.5 * (vehicle.p_C_output + vehicle.p_A_pinion)
    things = (
        (Boxes(middle[None] + [0.0, 40.0, 190.0], np.array([[40.0, 150.0, 15.0]])), False),
        (Bars(middle[None] + [-90, -300, 180], middle[None] + [90, 300, 220], np.array([25.0])),
         False),
        (Boxes(vehicle.p_A_pinion[None] + [0.0, 0.0, 90.0], np.array([[15.0, 50.0, 2.5]])), True),
    )  # fmt: skip
    asked = poses(vehicle, 2000)
    state = line(vehicle, *asked.T)
    axle = vehicle.suspension.poses(*asked.T)
    for pieces, moves in things:
        found = smallest_gap(vehicle, [rod], Thing("thing", pieces, moves))
        begin = 54.0 + to_own_cross(vehicle.output_head, state.output_bend)
        ends = [
            state.p_C_output + begin[:, None] * state.shaft_axis_C,
            state.p_C_pinion - 54.0 * state.shaft_axis_C,
        ]
        if moves:
            ends = [np.einsum("nij,ni->nj", axle.R_CA, end - axle.p_C_A) for end in ends]
        if isinstance(pieces, Boxes):
            shape = coal.Box(*(2.0 * pieces.half[0]))
            other = shape, coal.Transform3s(np.eye(3), pieces.centre[0])
        else:
            other = cylinder(pieces.start[0], pieces.stop[0], float(pieces.radius[0]))
        theirs = min(distance(cylinder(a, b, RADIUS), other) for a, b in zip(*ends, strict=True))
        assert theirs >= found.certified_mm - 1e-4
        assert theirs >= found.gap_mm - 2.0 * TOL.rod or found.gap_mm - theirs <= TOL.clearance
        if not found.touches:
            at = np.array([found.at.travel, found.at.roll, found.at.wrap])
            assert np.linalg.norm(found.points[0] - found.points[1]) == pytest.approx(
                found.gap_mm, abs=1e-6
            )
            assert ((at >= vehicle.travel.low - 1e-9) & (at <= vehicle.travel.high + 1e-9)).all()
