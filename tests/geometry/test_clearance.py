"""The clearance of a moving rod over a box of poses: closed forms and sampling."""

import numpy as np
import pytest
import trimesh

from geometry.clearance import Clearance, Rod
from geometry.clearance import clearance as smallest
from geometry.convex import Bars, Boxes, Pieces, Triangles
from geometry.errors import ShapeError
from geometry.piece_tree import PieceTree
from geometry.rod import nearest
from geometry.tolerances import TOL

LOW, HIGH = np.array([-200.0, -0.15, -0.1]), np.array([100.0, 0.15, 0.2])
ONE = np.zeros(1, dtype=np.intp)


def clearance(motion, low, high, radius: float, pieces: Pieces, **asked) -> Clearance:
    """The smallest clearance of one rod, whose ends `motion` gives."""

    def moving(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        start, stop = motion(poses)
        return start[None], stop[None]

    rod = Rod(0, (0.0, 0.0), (1.0, 0.0), (radius, radius))
    return smallest(moving, low, high, [rod], PieceTree(pieces), **asked)


def lifting(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """One end stays, the other is lifted and swings about a point 250 mm beside it."""
    lift, tilt, swing = poses.T
    start = np.tile([1000.0, 0.0, 200.0], (len(poses), 1))
    stop = np.stack(
        [250.0 * np.cos(swing), 60.0 * tilt + 0.0 * lift, lift + 250.0 * np.sin(swing)], axis=1
    )
    return start, stop


def test_a_plate_beside_the_rod_is_equally_near_in_all_heights() -> None:
    """The gap is the same over a whole stretch of poses, where plain Lipschitz bounds drown."""
    plate = Boxes(np.array([[600.0, 80.0, 0.0]]), np.array([[300.0, 10.0, 900.0]]))
    found = clearance(lambda q: lifting(q * [1.0, 0.0, 1.0]), LOW, HIGH, 30.0, plate)
    assert found.distance == pytest.approx(40.0, abs=1e-6)
    assert 40.0 - TOL.clearance <= found.certified <= 40.0 + 1e-9


def test_a_floor_is_nearest_in_the_lowest_corner_of_the_box() -> None:
    """Closed form: the rod's rim at its lower end, at full droop and swing."""
    floor = Boxes(np.array([[0.0, 0.0, -500.0]]), np.array([[5000.0, 5000.0, 100.0]]))
    found = clearance(lifting, LOW, HIGH, 30.0, floor)
    start, stop = lifting(np.array([[-200.0, 0.0, -0.1]]))
    u = (stop - start)[0] / np.linalg.norm(stop - start)
    expected = stop[0, 2] - 30.0 * np.sqrt(1.0 - u[2] ** 2) + 400.0
    assert found.distance == pytest.approx(expected, abs=TOL.clearance)
    assert expected - TOL.clearance <= found.certified <= expected
    assert found.pose[[0, 2]] == pytest.approx([-200.0, -0.1])


@pytest.mark.parametrize("seed", range(12))
def test_no_sampled_pose_is_under_the_certificate(seed: int) -> None:
    rng = np.random.default_rng(seed)
    poses = LOW + (HIGH - LOW) * rng.uniform(size=(20_000, 3))
    poses[:8000] = LOW + (HIGH - LOW) * np.round(4.0 * rng.uniform(size=(8000, 3))) / 4.0
    centre = np.array([rng.uniform([150.0, -250.0, -400.0], [1100.0, 250.0, 500.0])])
    if seed % 2:
        thing = Boxes(centre, rng.uniform(5.0, 150.0, (1, 3)))
    else:
        ends = rng.normal(size=(1, 3)) * 150.0
        thing = Bars(centre, centre + ends, rng.uniform(10.0, 50.0, 1))
    found = clearance(lifting, LOW, HIGH, 30.0, thing)
    sampled = nearest(*lifting(poses), 30.0, thing, np.zeros(len(poses), np.intp)).distance.min()
    assert found.certified <= sampled + 1e-9
    assert found.distance <= sampled + 1e-9 or found.distance - found.certified <= TOL.clearance
    if found.meets:
        assert nearest(*lifting(found.pose[None]), 30.0, thing, ONE).distance[0] == 0.0
    else:
        assert found.distance - found.certified <= TOL.clearance
        apart = np.linalg.norm(found.points[0] - found.points[1])
        assert apart == pytest.approx(found.distance, abs=1e-9)


def test_a_mesh_of_a_box_is_as_near_as_the_box() -> None:
    box = Boxes(np.array([[500.0, 60.0, 330.0]]), np.array([[40.0, 90.0, 15.0]]))
    mesh = trimesh.creation.box(extents=2.0 * box.half[0]).apply_translation(box.centre[0])
    one = clearance(lifting, LOW, HIGH, 30.0, box)
    fine = mesh.subdivide().subdivide().subdivide().subdivide().subdivide()
    for each in (mesh, fine):
        found = clearance(lifting, LOW, HIGH, 30.0, Triangles(np.array(each.triangles)))
        assert found.distance == pytest.approx(one.distance, abs=TOL.clearance)
        assert found.certified == pytest.approx(one.distance, abs=2.0 * TOL.clearance)


def test_a_closed_box_of_poses_is_one_pose() -> None:
    at = np.array([30.0, 0.1, 0.1])
    thing = Boxes(np.array([[500.0, 0.0, 0.0]]), np.full((1, 3), 20.0))
    found = clearance(lifting, at, at, 30.0, thing)
    alone = nearest(*lifting(at[None]), 30.0, thing, ONE)
    assert found.distance == pytest.approx(alone.distance[0], abs=1e-9)
    assert found.pose == pytest.approx(at)


def test_nothing_is_looked_at_that_does_not_beat_what_is_known() -> None:
    thing = Boxes(np.array([[500.0, 0.0, 900.0]]), np.full((1, 3), 20.0))
    found = clearance(lifting, LOW, HIGH, 30.0, thing, beat=10.0)
    assert found.certified >= 10.0 - TOL.clearance


def test_poses_out_of_reach_are_left_out() -> None:
    """Where the motion stops short, the smallest clearance lies on the edge of its reach."""
    floor = Boxes(np.array([[0.0, 0.0, -500.0]]), np.array([[5000.0, 5000.0, 100.0]]))

    def cut_short(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        start, stop = lifting(poses * [1.0, 1.0, 0.0])
        stop[poses[:, 0] < -120.0] = np.nan
        return start, stop

    found = clearance(cut_short, LOW, HIGH, 30.0, floor)
    whole = clearance(lambda q: lifting(q * [1.0, 1.0, 0.0]), LOW, HIGH, 30.0, floor)
    assert found.pose[0] == pytest.approx(-120.0, abs=300.0 / 128.0)
    assert found.distance == pytest.approx(whole.distance + 80.0, abs=4.0)
    assert found.certified > whole.distance


def test_no_pose_at_all_and_nothing_there_are_refused() -> None:
    nowhere = np.full((1, 3), np.nan)
    with pytest.raises(ShapeError, match="no pose"):
        clearance(
            lambda q: (np.tile(nowhere, (len(q), 1)),) * 2,
            LOW, HIGH, 30.0, Boxes(np.zeros((1, 3)), np.ones((1, 3))),
        )  # fmt: skip
    with pytest.raises(ShapeError, match="at least one piece"):
        clearance(lifting, LOW, HIGH, 30.0, Triangles(np.zeros((0, 3, 3))))
