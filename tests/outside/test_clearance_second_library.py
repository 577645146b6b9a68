"""The smallest clearance to meshes against Coal: dense ones, few large triangles, from inside.

Source: Coal 3, a general collision library; its cylinder is an exact shape, its tree over a mesh
and its distance are its own. The least over all poses is sought with SciPy from the best of many
sampled poses on, without anything of ours but the motion of the rod's ends.
"""

from collections.abc import Callable

import coal
import numpy as np
import pytest
import trimesh
from scipy.optimize import minimize

from geometry.contact.clearance import Clearance, Rod, clearance
from geometry.contact.convex import Triangles
from geometry.contact.piece_tree import PieceTree
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from sim.around.rods import Rod as NamedRod
from sim.around.surroundings import smallest_gap
from sim.around.things import Thing
from sim.derive import vehicle_of
from sim.rig.demos import load_demo
from tests.outside.second_library import coal_mesh

LOW, HIGH = np.array([-200.0, -0.15, -0.1]), np.array([100.0, 0.15, 0.2])
RADIUS = 30.0
STILL = coal.Transform3s.Identity()


def lifting(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """A rod of which one end stays; the other is lifted, moved aside and swung."""
    lift, tilt, swing = poses.T
    start = np.tile([1000.0, 0.0, 200.0], (len(poses), 1))
    stop = np.stack([250.0 * np.cos(swing), 60.0 * tilt, lift + 250.0 * np.sin(swing)], axis=1)
    return start, stop


def ours(mesh: trimesh.Trimesh) -> Clearance:
    rod = Rod(0, (0.0, 0.0), (1.0, 0.0), (RADIUS, RADIUS))
    thing = PieceTree(Triangles(np.array(mesh.triangles)))
    found = clearance(lambda q: tuple(end[None] for end in lifting(q)), LOW, HIGH, [rod], thing)
    assert found.finished
    assert found.distance - found.certified <= TOL.clearance
    return found


def theirs(mesh: trimesh.Trimesh) -> Callable[[np.ndarray], float]:
    """Distance of rod and mesh in a pose by the other library; 0 where they cut each other."""
    model = coal_mesh(Mesh.uniform(mesh.vertices, mesh.faces, "thing"))
    request = coal.DistanceRequest()

    def distance(pose: np.ndarray) -> float:
        (start,), (stop,) = lifting(np.clip(pose, LOW, HIGH)[None])
        axis = stop - start
        z = axis / np.linalg.norm(axis)
        x = np.cross([0.0, 1.0, 0.0], z)
        x /= np.linalg.norm(x)
        R = np.stack([x, np.cross(z, x), z], axis=1)
        rod = coal.Cylinder(RADIUS, float(np.linalg.norm(axis)))
        at = coal.Transform3s(R, 0.5 * (start + stop))
        return max(0.0, coal.distance(model, STILL, rod, at, request, coal.DistanceResult()))

    return distance


def least(distance: Callable[[np.ndarray], float], count: int) -> float:
    """The least of many poses, the corners among them, and from the best ones downhill."""
    rng = np.random.default_rng(4)
    corners = np.stack(np.meshgrid(*zip(LOW, HIGH, strict=True)), axis=-1).reshape(-1, 3)
    asked = np.concatenate([corners, LOW + (HIGH - LOW) * rng.uniform(size=(count, 3))])
    found = np.array([distance(pose) for pose in asked])
    best = [
        minimize(
            lambda q: distance(LOW + (HIGH - LOW) * q), (asked[i] - LOW) / (HIGH - LOW),
            method="Nelder-Mead", bounds=[(0.0, 1.0)] * 3,
            options={"maxfev": 200, "xatol": 1e-6, "fatol": 1e-4},
        ).fun
        for i in np.argsort(found)[:4]
    ]  # fmt: skip
    return min(*best, found.min())


def rough_ball(fineness: int, seed: int, at: np.ndarray) -> trimesh.Trimesh:
    """A ball with bumps, as a scan has them."""
    ball = trimesh.creation.icosphere(fineness, 80.0)
    noise = np.random.default_rng(seed).normal(size=len(ball.vertices)) * 0.3
    ball.vertices *= (1.0 + noise / 80.0)[:, None]
    return ball.apply_translation(at)


def sheet(cuts: int, at: np.ndarray, tilt: float) -> trimesh.Trimesh:
    """A curved plate beside the rod, 12 * 4^cuts triangles."""
    plate = trimesh.creation.box([500.0, 4.0, 500.0])
    for _ in range(cuts):
        plate = plate.subdivide()
    plate.vertices[:, 1] += 0.0004 * plate.vertices[:, 0] ** 2 + tilt * plate.vertices[:, 2]
    return plate.apply_translation(at)


MESHES = {
    "20,480 triangles of a rough ball": rough_ball(5, 1, np.array([520.0, 150.0, 210.0])),
    "20,480 triangles far away": rough_ball(5, 2, np.array([620.0, 420.0, -310.0])),
    "12,288 triangles of a curved sheet": sheet(5, np.array([560.0, 95.0, 150.0]), 0.05),
    "12 large triangles": trimesh.creation.box([3000.0, 60.0, 20.0]).apply_translation(
        [700.0, 40.0, -300.0]
    ),
    "a few slivers": trimesh.Trimesh(
        [[300.0, 130.0, -900.0], [301.0, 130.0, 900.0], [302.0, 131.0, 900.0],
         [900.0, -900.0, 330.0], [900.0, 900.0, 331.0], [901.0, 900.0, 331.0]],
        [[0, 1, 2], [3, 4, 5]], process=False,
    ),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("name", MESHES)
def test_the_least_clearance_to_a_mesh_is_what_another_library_finds(name: str) -> None:
    mesh = MESHES[name]
    found, distance = ours(mesh), theirs(mesh)
    true = least(distance, 400)
    assert found.certified <= true + 1e-4
    assert found.distance <= true + TOL.clearance
    if found.meets:
        assert distance(found.pose) == 0.0
    else:
        assert distance(found.pose) == pytest.approx(found.distance, abs=2.0 * TOL.rod)


@pytest.mark.slow
@pytest.mark.parametrize("away", [-6.0, 2.0, 170.0])
def test_a_quarter_of_a_million_triangles_are_searched_to_the_end(away: float) -> None:
    """A curved sheet of 196,608 triangles: cut by the rod, 2 mm beside it, far away."""
    mesh = sheet(7, np.array([560.0, 75.0 + away, 150.0]), 0.05)
    found, distance = ours(mesh), theirs(mesh)
    true = least(distance, 300)
    assert found.certified <= true + 1e-4
    assert found.distance <= true + TOL.clearance
    assert distance(found.pose) == pytest.approx(found.distance, abs=2.0 * TOL.rod)
    assert found.meets == (true == 0.0)


@pytest.mark.slow
@pytest.mark.parametrize("inside_out", [False, True])
def test_a_tube_inside_of_a_closed_mesh_touches_and_beside_it_does_not(inside_out: bool) -> None:
    """Coal, like any distance of surfaces, calls the tube inside free; the volume tells."""
    vehicle = vehicle_of(load_demo("ridge-crawler"))
    tube = NamedRod("tube", 38.1, (0.0, 54.0), (1.0, -54.0))
    middle = 0.5 * (vehicle.p_C_output + vehicle.p_A_pinion)
    ball = trimesh.creation.icosphere(5, 2500.0)
    if inside_out:
        ball.invert()
    for at, touches in ((middle, True), (np.add(middle, [0.0, 4000.0, 0.0]), False)):
        moved = ball.copy().apply_translation(at)
        mesh = Mesh.uniform(moved.vertices, moved.faces, "shell")
        model = coal_mesh(mesh)
        rod = coal.Cylinder(38.1, 500.0)
        place = coal.Transform3s(np.eye(3), middle)
        apart = coal.distance(
            model, STILL, rod, place, coal.DistanceRequest(), coal.DistanceResult()
        )
        assert apart > 100.0
        found = smallest_gap(vehicle, [tube], Thing("shell", Triangles(mesh.triangles), mesh=mesh))
        assert found.touches == touches
        assert found.finished
        assert (found.certified_mm == 0.0) == touches
