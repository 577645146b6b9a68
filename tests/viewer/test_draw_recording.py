"""The stage without a screen: cameras, what a recording keeps, normals, edges, broad lines."""

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.frames import Rx, Ry, Rz, pose
from tests.simple_shapes import ball, hub
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.subjects import cube
from viewer.draw.base import BLACK, Letters, Paint, Pen
from viewer.draw.camera import Camera, Region, framing
from viewer.draw.ribbon import ROUND, discs, ribbon
from viewer.draw.shading import corner_normals, outline, sharp_edges

UP = np.array([0.0, 0.0, 1.0])
REGION = Region(100.0, 50.0, 400.0, 300.0)
angles = st.floats(-3.0, 3.0)


def area(triangles):
    a, b = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    return 0.5 * np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()


@given(angles, st.floats(-1.4, 1.4), st.floats(5.0, 500.0))
def test_a_camera_keeps_lengths_in_its_plane_and_right_angles(turn, tilt, span):
    toward = Rz(turn) @ Ry(tilt) @ np.array([1.0, 0.0, 0.0])
    camera = Camera(np.array([3.0, -2.0, 7.0]), 4.0 * toward, UP, span)
    R = camera.R_VC
    np.testing.assert_allclose(R @ R.T, np.eye(3), atol=1e-13)
    np.testing.assert_allclose(np.linalg.det(R), 1.0, atol=1e-13)
    np.testing.assert_allclose(R[2], toward, atol=1e-13)
    assert R[1] @ UP > 0.0
    np.testing.assert_allclose(camera.project(camera.focus, REGION), REGION.middle, atol=1e-9)
    top = camera.focus + 0.5 * span * R[1]
    np.testing.assert_allclose(
        camera.project(top, REGION), [REGION.middle[0], REGION.top], atol=1e-9
    )
    np.testing.assert_allclose(camera.depth(camera.focus + 2.5 * R[2]), 2.5, atol=1e-9)


def test_seen_from_the_left_forward_is_left_and_up_is_up() -> None:
    camera = Camera(np.zeros(3), np.array([0.0, 1.0, 0.0]), UP, 300.0)
    ahead, above = camera.project(np.array([[30.0, 0.0, 0.0], [0.0, 0.0, 20.0]]), REGION)
    np.testing.assert_allclose(ahead - REGION.middle, [-30.0, 0.0], atol=1e-9)
    np.testing.assert_allclose(above - REGION.middle, [0.0, 20.0], atol=1e-9)


@given(angles, st.floats(-1.2, 1.2), st.integers(0, 10_000))
def test_framing_fills_the_region_to_its_margin(turn, tilt, seed):
    points = np.random.default_rng(seed).normal(size=(30, 3)) * [50.0, 20.0, 10.0]
    toward = Rz(turn) @ Ry(tilt) @ np.array([1.0, 0.0, 0.0])
    seen = framing(points, toward, UP, REGION, margin=0.1).project(points, REGION)
    low, high = seen.min(axis=0), seen.max(axis=0)
    np.testing.assert_allclose(0.5 * (low + high), REGION.middle, atol=1e-9)
    share = (high - low) / [REGION.width, REGION.height]
    np.testing.assert_allclose(share.max(), 0.8, atol=1e-12)


def test_regions() -> None:
    assert REGION.grown(10.0) == Region(90.0, 40.0, 420.0, 320.0)
    assert Region.around(np.array([5.0, 6.0]), 2.0) == Region(3.0, 4.0, 4.0, 4.0)
    assert REGION.meets(Region(499.0, 349.0, 10.0, 10.0))
    assert not REGION.meets(Region(500.0, 0.0, 10.0, 400.0))


def test_a_recording_keeps_every_verb_with_its_pane() -> None:
    stage = RecordingStage((640, 400))
    X = pose(Rx(0.4), [1.0, 2.0, 3.0])
    camera = Camera(np.zeros(3), UP, np.array([1.0, 0.0, 0.0]), 100.0)
    stage.pane("one", REGION, camera)
    stage.solid("block", cube(), Paint((1.0, 0.0, 0.0)), X, on_top=True)
    stage.lines("block", np.zeros((1, 2, 3)), Pen(), X)
    stage.move("block", np.eye(4))
    stage.stroke(np.zeros((1, 2, 2)), Pen())
    stage.area(np.zeros((1, 3, 2)), BLACK)
    stage.write("hello", (3.0, 4.0), Letters(20.0))
    assert stage.things["block"].X_CP[0, 0] == 1.0
    verbs = ["pane", "solid", "lines", "move", "stroke", "area", "write"]
    assert [call.verb for call in stage.calls] == verbs
    assert [call.pane for call in stage.calls] == ["one"] * 4 + [""] * 3
    np.testing.assert_array_equal(stage.of("solid", "one")[0].told["X_CP"], X)
    assert stage.of("solid", "other") == []
    assert stage.said() == ["hello"]
    assert stage.region == Region(0.0, 0.0, 640.0, 400.0)
    assert stage.image().shape == (400, 640, 3)
    assert stage.extent("ab", Letters(20.0)) == 2.0 * stage.extent("a", Letters(20.0))


@pytest.mark.slow
def test_no_drawing_library_is_loaded_before_a_picture_is_drawn() -> None:
    code = (
        "import sys, viewer.written.picture, viewer.written.export;"
        "import viewer.scene.build_shaft, viewer.scene.build_joint;"
        "heavy = {'pyvista', 'vtkmodules', 'matplotlib', 'trimesh', 'PIL'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_normals_of_a_ball_point_from_its_middle() -> None:
    mesh = ball((4.0, 5.0, 6.0), 20.0, "ball")
    out = mesh.triangles - np.array([4.0, 5.0, 6.0])
    cosine = np.einsum("ijk,ijk->ij", corner_normals(mesh), out) / np.linalg.norm(out, axis=-1)
    assert np.degrees(np.arccos(cosine.min())) < 0.3


def test_normals_of_a_cube_are_those_of_its_sides_exactly() -> None:
    mesh = cube()
    flat = mesh.area_vectors / np.linalg.norm(mesh.area_vectors, axis=-1, keepdims=True)
    np.testing.assert_allclose(
        corner_normals(mesh), np.repeat(flat[:, None], 3, axis=1), atol=1e-12
    )


def test_a_disc_is_round_on_its_rim_and_flat_on_its_faces() -> None:
    normals = corner_normals(hub(10.0, 25.0)).reshape(-1, 3)
    along = np.abs(normals[:, 0])
    assert (np.isclose(along, 1.0, atol=1e-9) | np.isclose(along, 0.0, atol=1e-9)).all()


def test_sharp_edges_are_those_of_a_machined_part() -> None:
    edges = sharp_edges(cube(10.0))
    assert edges.shape == (12, 2, 3)
    np.testing.assert_allclose(np.linalg.norm(edges[:, 1] - edges[:, 0], axis=-1), 10.0)
    rims = sharp_edges(hub(10.0, 25.0, sections=96, thick=30.0))
    assert len(rims) == 2 * 96
    assert set(np.unique(rims[..., 0].round(9))) == {10.0, 40.0}
    assert len(sharp_edges(ball((0.0, 0.0, 0.0), 20.0, "ball"))) == 0


def test_the_outline_of_a_ball_is_a_great_circle() -> None:
    toward = np.array([1.0, 2.0, 2.0]) / 3.0
    rim = outline(ball((0.0, 0.0, 0.0), 20.0, "ball"), toward)
    # Within one facet (4 deg) of the plane square to the eye, and once all the way round.
    assert np.abs(rim @ toward).max() < 20.0 * np.sin(np.radians(4.0))
    around = np.linalg.norm(rim[:, 1] - rim[:, 0], axis=-1).sum()
    assert 2.0 * np.pi * 20.0 * 0.99 < around < 2.0 * np.pi * 20.0 * 1.3


def test_broad_lines_have_the_area_of_their_width() -> None:
    segments = np.array([[[0.0, 0.0], [30.0, 40.0]]])
    np.testing.assert_allclose(area(ribbon(segments, 2.0)), 100.0, rtol=1e-12)
    round_ends = 2.0 * area(discs(np.zeros((1, 2)), 5.0))
    np.testing.assert_allclose(area(ribbon(segments, 10.0)), 500.0 + round_ends, rtol=1e-12)
    regular = 0.5 * ROUND * 25.0 * np.sin(2.0 * np.pi / ROUND)  # a polygon of that many corners
    np.testing.assert_allclose(area(discs(np.zeros((1, 2)), 5.0)), regular, rtol=1e-12)


@pytest.mark.parametrize("width", [1.0, 9.0])
def test_no_point_of_a_broad_line_is_farther_off_than_half_its_width(width: float) -> None:
    segments = np.array([[[5.0, 5.0], [25.0, 10.0]], [[25.0, 10.0], [30.0, 40.0]]])
    points = ribbon(segments, width).reshape(-1, 2)
    a, b = segments[:, 0], segments[:, 1]
    share = np.clip(
        np.einsum("nsk,sk->ns", points[:, None] - a, b - a) / ((b - a) ** 2).sum(-1), 0.0, 1.0
    )
    off = np.linalg.norm(points[:, None] - a - share[..., None] * (b - a), axis=-1).min(axis=1)
    assert off.max() <= 0.5 * width + 1e-3
