"""The bore finder against bodies whose bores are known because they were drilled by another hand.

The bodies are primitives of trimesh, drilled by its boolean; nothing of our own yokes is in them.
Noise is normal, on every corner, along all three axes.
"""

import numpy as np
import pytest
import trimesh
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from geometry.imported import likely_bores
from geometry.mesh import Mesh


def block(low: list[float], high: list[float]) -> trimesh.Trimesh:
    return trimesh.creation.box(bounds=[low, high])


def drill(radius: float, sections: int = 96) -> trimesh.Trimesh:
    """A drill along y; its corners lie on the circle."""
    tool = trimesh.creation.cylinder(radius, 200.0, sections=sections)
    return tool.apply_transform(trimesh.transformations.rotation_matrix(np.pi / 2, [1, 0, 0]))


def fork(radius: float, gap: float, thick: float, saddle: bool = False) -> trimesh.Trimesh:
    """Two square ears on a bridge, drilled along y; cut off at the bore's middle for a saddle."""
    half = 0.5 * gap
    near = 0.0 if saddle else -radius - 6.0
    wide = radius + 8.0
    ears = [
        block([near, half, -wide], [radius + 20.0, half + thick, wide]),
        block([near, -half - thick, -wide], [radius + 20.0, -half, wide]),
        block([radius + 10.0, -half - thick, -wide], [radius + 30.0, half + thick, wide]),
    ]
    return trimesh.boolean.union(ears).difference(drill(radius))


def scanned(body: trimesh.Trimesh, edge: float, noise: float, seed: int) -> trimesh.Trimesh:
    """In triangles of about `edge`, each corner moved by noise."""
    vertices, faces = trimesh.remesh.subdivide_to_size(body.vertices, body.faces, edge)
    dense = trimesh.Trimesh(vertices, faces)
    dense.merge_vertices()
    random = np.random.default_rng(seed)
    dense.vertices[:] = dense.vertices + random.normal(0.0, noise, dense.vertices.shape)
    return dense


def posed(body: trimesh.Trimesh, seed: int) -> tuple[Mesh, np.ndarray, np.ndarray]:
    """At a random pose; returns the mesh, where the bores' axis points and where its middle is."""
    random = np.random.default_rng(seed)
    R = Rotation.random(random_state=random).as_matrix()
    p = random.uniform(-500.0, 500.0, 3)
    return Mesh.uniform(body.vertices @ R.T + p, body.faces, "body"), R[:, 1], p


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("saddle", [False, True], ids=["drilled through", "half-round saddles"])
@pytest.mark.parametrize("noise", [0.0, 0.05, 0.1])
def test_known_bores(noise: float, saddle: bool, seed: int) -> None:
    """Clean: to 0.01 mm and 0.01 deg. At 0.1 mm of noise: 0.05 mm along and across, 0.05 deg."""
    random = np.random.default_rng(100 + seed)
    radius, gap, thick = random.uniform([12.0, 45.0, 12.0], [18.0, 70.0, 20.0])
    body = fork(radius, gap, thick, saddle)
    mesh, axis, middle = posed(scanned(body, 2.5, noise, seed), seed)
    found = likely_bores(mesh)[0]
    few = 0.01 + 0.4 * noise
    assert np.degrees(np.arccos(min(1.0, abs(found.axis @ axis)))) < few
    off = found.centre - middle
    assert abs(off @ axis) < few
    assert np.linalg.norm(off - (off @ axis) * axis) < (2.0 if saddle else 1.0) * few
    # The wall between two corners of the drill lies up to r (1 - cos(pi / 96)) inside.
    assert abs(found.radius - radius) < 0.01 + 0.3 * noise
    np.testing.assert_allclose(found.inside_span, gap, rtol=0, atol=0.02 + 0.5 * noise)
    np.testing.assert_allclose(found.outside_span, gap + 2 * thick, rtol=0, atol=0.02 + 0.5 * noise)
    assert found.confidence > 0.9
    assert found.arc == pytest.approx(0.5 if saddle else 1.0, abs=0.09)
    if noise:
        np.testing.assert_allclose(found.spread, noise, rtol=0.35, atol=0)


@pytest.mark.slow
def test_other_holes_do_not_distract() -> None:
    """A wider hole down the shaft, four bolt holes of the bores' own size, a blind pair."""
    body = fork(14.0, 60.0, 16.0)
    plate = block([44.0, -70.0, -70.0], [56.0, 70.0, 70.0])
    body = trimesh.boolean.union([body, plate])
    along_x = trimesh.transformations.rotation_matrix(np.pi / 2, [0, 1, 0])
    tools = [trimesh.creation.cylinder(18.0, 400.0, sections=96).apply_transform(along_x)]
    for y, z in ((50.0, 50.0), (50.0, -50.0), (-50.0, 50.0), (-50.0, -50.0)):
        tool = trimesh.creation.cylinder(14.0, 400.0, sections=96).apply_transform(along_x)
        tools.append(tool.apply_translation([0.0, y, z]))
    for side in (1.0, -1.0):
        tool = drill(5.0, 48).apply_translation([28.0, side * 140.0, 0.0])
        tools.append(tool)
    for tool in tools:
        body = body.difference(tool)
    mesh, axis, middle = posed(scanned(body, 3.0, 0.1, 1), 1)
    found = likely_bores(mesh)[0]
    assert np.degrees(np.arccos(min(1.0, abs(found.axis @ axis)))) < 0.05
    assert np.linalg.norm(found.centre - middle) < 0.05
    assert abs(found.radius - 14.0) < 0.04


@pytest.mark.slow
def test_no_bores_are_found_where_none_are() -> None:
    from geometry.errors import MeshError

    bodies = [
        trimesh.creation.icosphere(4, 40.0),
        trimesh.creation.torus(50.0, 15.0),
        trimesh.creation.cylinder(20.0, 120.0),
        # A pipe is one hole, not two in line.
        trimesh.creation.annulus(12.0, 20.0, 90.0),
        block([-20.0, -30.0, -40.0], [20.0, 30.0, 40.0]),
    ]
    for body in bodies:
        mesh, _, _ = posed(scanned(body, 5.0, 0.05, 2), 2)
        with pytest.raises(MeshError, match="no two round bores in one line"):
            likely_bores(mesh)[0]


@pytest.mark.slow
def test_the_axis_is_that_of_a_fit_to_the_drilled_corners() -> None:
    """Corners known to be drilled, fitted by a solver of scipy's with other unknowns."""
    radius, noise = 15.0, 0.1
    body = scanned(fork(radius, 55.0, 16.0), 2.0, 0.0, 0)
    wall = np.abs(np.linalg.norm(body.vertices[:, [0, 2]], axis=1) - radius) < 1e-6
    assert wall.sum() > 1000
    body.vertices[:] = body.vertices + np.random.default_rng(5).normal(
        0, noise, body.vertices.shape
    )
    points = body.vertices[wall]

    def misfit(x: np.ndarray) -> np.ndarray:
        # Two points where the axis crosses y = 0 and y = 50, and the radius.
        a, b = np.array([x[0], 0.0, x[1]]), np.array([x[2], 50.0, x[3]])
        along = (b - a) / np.linalg.norm(b - a)
        return np.linalg.norm(np.cross(points - a, along), axis=1) - x[4]

    x = least_squares(misfit, [0.0, 0.0, 0.0, 0.0, radius]).x
    found = likely_bores(Mesh.uniform(body.vertices, body.faces, "body"))[0]
    axis = found.axis / found.axis[1]
    for y, at in ((0.0, x[:2]), (50.0, x[2:4])):
        crossing = found.centre + (y - found.centre[1]) * axis
        np.testing.assert_allclose(crossing[[0, 2]], at, rtol=0, atol=0.01)
    np.testing.assert_allclose(found.radius, x[4], rtol=0, atol=0.01)
