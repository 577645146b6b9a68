import pickle
from dataclasses import FrozenInstanceError

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from geometry.errors import MeshError
from geometry.mesh import Mesh

CORNERS = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float)
SIDES = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]])


@pytest.fixture
def corner() -> Mesh:
    return Mesh(CORNERS, SIDES, np.array([0, 1, 1, 0]), ("floor", "wall"), 0.02)


def test_closed_form_of_the_unit_corner(corner: Mesh) -> None:
    assert corner.is_watertight
    np.testing.assert_allclose(corner.volume, 1 / 6, rtol=1e-15)
    np.testing.assert_allclose(corner.radius, 1.0, rtol=1e-15)
    np.testing.assert_allclose(corner.bounds, [[0, 0, 0], [1, 1, 1]], rtol=0, atol=0)
    np.testing.assert_allclose(corner.area_vectors.sum(axis=0), 0.0, rtol=0, atol=1e-15)


def test_volume_and_tightness_do_not_depend_on_place(corner: Mesh) -> None:
    turn = Rotation.from_rotvec([0.3, -1.2, 2.0]).as_matrix()
    moved = corner.moved(turn, (100.0, -50.0, 7.0))
    assert moved.is_watertight
    np.testing.assert_allclose(moved.volume, corner.volume, rtol=1e-10)
    back = moved.moved(np.eye(3), (-100.0, 50.0, -7.0)).moved(turn.T)
    np.testing.assert_allclose(back.vertices, corner.vertices, rtol=0, atol=1e-13)
    assert moved.label_names == corner.label_names
    assert moved.chord == corner.chord


def test_inside_out_has_negative_volume() -> None:
    turned = Mesh.uniform(CORNERS, SIDES[:, ::-1], "skin")
    assert turned.is_watertight
    np.testing.assert_allclose(turned.volume, -1 / 6, rtol=1e-15)


@pytest.mark.parametrize(
    "faces",
    [
        SIDES[:3],
        np.vstack([SIDES, SIDES[:1]]),
        np.vstack([SIDES[:3], SIDES[3:, ::-1]]),
        np.vstack([SIDES, [[1, 1, 2]]]),
        np.empty((0, 3), dtype=int),
    ],
    ids=["open", "doubled", "one turned over", "collapsed", "empty"],
)
def test_what_is_not_watertight(faces: np.ndarray) -> None:
    assert not Mesh.uniform(CORNERS, faces, "skin").is_watertight


def test_join_keeps_names_and_the_worst_chord(corner: Mesh) -> None:
    other = Mesh.uniform(CORNERS + 5.0, SIDES, "wall", chord=0.04)
    both = Mesh.join([corner, other])
    assert both.label_names == ("floor", "wall")
    assert [both.label_of(i) for i in (0, 1, 4)] == ["floor", "wall", "wall"]
    assert both.on("wall").sum() == 6
    assert both.chord == 0.04
    assert both.is_watertight
    np.testing.assert_allclose(both.volume, 2 / 6, rtol=1e-13)


def test_key_is_the_content(corner: Mesh) -> None:
    same = Mesh(CORNERS.tolist(), SIDES.tolist(), [0, 1, 1, 0], ["floor", "wall"], 0.02)  # type: ignore[arg-type]
    assert same.key() == corner.key()
    assert len(corner.key()) == 64
    nudged = CORNERS.copy()
    nudged[3, 2] = np.nextafter(1.0, 2.0)
    different = [
        Mesh(nudged, SIDES, corner.labels, corner.label_names, 0.02),
        Mesh(CORNERS, SIDES[[1, 0, 2, 3]], corner.labels, corner.label_names, 0.02),
        Mesh(CORNERS, SIDES, np.array([0, 1, 1, 1]), corner.label_names, 0.02),
        Mesh(CORNERS, SIDES, corner.labels, ("floor", "roof"), 0.02),
        Mesh(CORNERS, SIDES, corner.labels, corner.label_names, 0.03),
    ]
    keys = {mesh.key() for mesh in different} | {corner.key()}
    assert len(keys) == 6


def test_nothing_can_be_changed(corner: Mesh) -> None:
    for array in (corner.vertices, corner.faces, corner.labels, corner.triangles):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0
    with pytest.raises(FrozenInstanceError):
        corner.chord = 1.0  # type: ignore[misc]


def test_the_callers_arrays_stay_his() -> None:
    mine = CORNERS.copy()
    mesh = Mesh.uniform(mine, SIDES, "skin")
    mine[0] = 9.0
    np.testing.assert_allclose(mesh.vertices[0], 0.0, rtol=0, atol=0)


def test_a_copy_from_a_pickle_is_as_good(corner: Mesh) -> None:
    copy = pickle.loads(pickle.dumps(corner))
    assert copy.key() == corner.key()
    assert not copy.vertices.flags.writeable


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"vertices": CORNERS[:, :2]}, "vertices have shape"),
        ({"faces": SIDES + 1}, "outside the 4 vertices"),
        ({"faces": SIDES - 1}, "outside the 4 vertices"),
        ({"labels": np.array([0, 1])}, "one a face"),
        ({"labels": np.array([0, 1, 2, 0])}, "outside the names"),
        ({"vertices": CORNERS * np.nan}, "not finite"),
        ({"chord": -0.1}, "chord is -0.1"),
        ({"chord": np.inf}, "chord is inf"),
    ],
)
def test_wrong_input_is_told(change: dict[str, object], says: str) -> None:
    given: dict[str, object] = {
        "vertices": CORNERS,
        "faces": SIDES,
        "labels": np.array([0, 1, 1, 0]),
        "label_names": ("floor", "wall"),
        "chord": 0.02,
    }
    with pytest.raises(MeshError, match=says):
        Mesh(**(given | change))  # type: ignore[arg-type]


def test_wrong_calls_are_told(corner: Mesh) -> None:
    with pytest.raises(MeshError, match="not a rotation"):
        corner.moved(2.0 * np.eye(3))
    with pytest.raises(MeshError, match="mirror"):
        corner.moved(np.diag([1.0, 1.0, -1.0]))
    with pytest.raises(MeshError, match="there are floor, wall"):
        corner.on("roof")
    with pytest.raises(MeshError, match="nothing to join"):
        Mesh.join([])
    with pytest.raises(MeshError, match="no bounds"):
        _ = Mesh.uniform(np.empty((0, 3)), np.empty((0, 3), dtype=int), "skin").bounds
