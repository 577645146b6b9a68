"""The clearance of a moving rod over a box of poses: closed forms and sampling."""

import numpy as np
import pytest
import trimesh
from scipy.optimize import minimize

from geometry.contact.clearance import Clearance, Rod
from geometry.contact.clearance import clearance as smallest
from geometry.contact.convex import Bars, Boxes, Pieces, Triangles
from geometry.contact.piece_tree import PieceTree
from geometry.contact.rod import nearest
from geometry.errors import ShapeError
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


def test_where_a_distance_is_only_true_to_its_tolerance_the_certificate_stays_below() -> None:
    """One pose, nothing left to halve: of 300 bars the one whose distance is known least well."""
    rng = np.random.default_rng(6)
    ends = rng.normal(size=(2, 300, 3)) * 150.0
    bars = Bars(*ends, rng.uniform(2.0, 60.0, 300))
    start, stop = np.zeros((300, 3)), np.tile([120.0, 0.0, 0.0], (300, 1))
    near = nearest(start, stop, 25.0, bars, np.arange(300))
    worst = int(np.argmax(np.where(near.distance > 0.0, near.distance - near.least, 0.0)))
    assert near.distance[worst] - near.least[worst] > 1e-4
    one = Bars(*ends[:, worst : worst + 1], bars.radius[worst : worst + 1])
    at = np.zeros(3)

    def still(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return start[: len(poses)], stop[: len(poses)]

    found = clearance(still, at, at, 25.0, one, within=1e-9)
    assert found.distance == pytest.approx(near.distance[worst], abs=1e-9)
    assert found.certified == pytest.approx(near.least[worst], abs=1e-9)
    assert not found.finished


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


# curved motions, thin things


def curved(axis: int, at: float, depth: float):
    """A level rod along x that dips in a parabola over one axis of the box, lowest at a share."""

    def motion(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        share = (poses[:, axis] - LOW[axis]) / (HIGH - LOW)[axis]
        start = np.zeros((len(poses), 3))
        start[:, 2] = 100.0 + depth * (share - at) ** 2
        return start, start + np.array([400.0, 0.0, 0.0])

    return motion


GROUND = Boxes(np.array([[200.0, 0.0, -10.0]]), np.array([[5000.0, 5000.0, 10.0]]))


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("at", [0.0637, 0.3171, 0.5619, 0.8112])
def test_the_lowest_place_of_a_curved_motion_lies_off_the_poses_that_are_read(
    axis: int, at: float
) -> None:
    """Closed form: 100 mm less the rod's radius, at a share of the box that no halving meets."""
    found = clearance(curved(axis, at, 900.0), LOW, HIGH, 30.0, GROUND)
    assert 70.0 <= found.distance <= 70.0 + TOL.clearance
    assert 70.0 - TOL.clearance <= found.certified <= 70.0
    share = (found.pose[axis] - LOW[axis]) / (HIGH - LOW)[axis]
    assert 900.0 * (share - at) ** 2 == pytest.approx(found.distance - 70.0, abs=1e-6)


def test_a_motion_that_curves_along_all_three_axes_at_once() -> None:
    at = np.array([0.2837, 0.7391, 0.4123])

    def motion(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        share = (poses - LOW) / (HIGH - LOW)
        start = np.zeros((len(poses), 3))
        start[:, 2] = 100.0 + 300.0 * ((share - at) ** 2).sum(axis=1)
        return start, start + np.array([400.0, 0.0, 0.0])

    found = clearance(motion, LOW, HIGH, 30.0, GROUND)
    assert 70.0 <= found.distance <= 70.0 + TOL.clearance
    assert 70.0 - TOL.clearance <= found.certified <= 70.0


def sweeping(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """A level rod along x, moved aside by the first number and up by the second."""
    start = np.zeros((len(poses), 3))
    start[:, 1], start[:, 2] = poses[:, 0], 200.0 * poses[:, 1]
    return start, start + np.array([400.0, 0.0, 0.0])


@pytest.mark.parametrize("aside", [-187.3, -12.9, 61.7])
def test_a_thin_pin_between_the_poses_that_are_read_is_met(aside: float) -> None:
    """A rod 2 mm thick sweeps 300 mm past a pin 0.4 mm thick; read 37 mm apart at first."""
    pin = np.array([[200.0, aside, -25.0]]), np.array([[200.0, aside, -11.0]])
    bars = Bars(*pin, np.array([0.2]))
    found = clearance(sweeping, LOW, HIGH, 1.0, bars)
    assert found.meets
    assert abs(found.pose[0] - aside) <= 1.2 + 1e-6
    assert -25.0 - 1.0 <= 200.0 * found.pose[1] <= -11.0 + 1.0
    thin = Triangles(np.array([[[200.0, aside, z], [200.0, aside, z + 14.0], [200.1, aside, z]]
                               for z in (-25.0, -60.0)]))  # fmt: skip
    assert clearance(sweeping, LOW, HIGH, 1.0, thin).meets


def test_a_rod_between_two_columns_of_pins_is_as_near_as_the_nearer() -> None:
    """Closed form: pins at both sides beyond the sweep, the right ones 3 mm nearer."""
    x = np.arange(10.0, 400.0, 5.0)
    feet = [np.stack([x, 0.0 * x + y, 0.0 * x - 900.0], axis=1) for y in (-266.0, 163.0)]
    start = np.concatenate(feet)
    pins = Bars(start, np.add(start, [0.0, 0.0, 1800.0]), np.full(len(start), 0.5))
    found = clearance(sweeping, LOW, HIGH, 20.0, pins)
    assert found.distance == pytest.approx(163.0 - 100.0 - 20.0 - 0.5, abs=TOL.rod)
    assert found.piece >= len(x)
    assert found.pose[0] == pytest.approx(100.0, abs=1e-9)


# meshes


def soup(seed: int, count: int, size: float) -> np.ndarray:
    """Random triangles about a place near the rod, (count, 3, 3)."""
    rng = np.random.default_rng(seed)
    centre = rng.uniform([300.0, -150.0, -200.0], [900.0, 150.0, 400.0])
    return centre + rng.normal(size=(count, 1, 3)) * 60.0 + rng.normal(size=(count, 3, 3)) * size


def brute(poses: np.ndarray, triangles: np.ndarray, radius: float) -> np.ndarray:
    """Distance of the rod to triangles at poses, all pairs asked one by one."""
    start, stop = (np.repeat(end, len(triangles), axis=0) for end in lifting(poses))
    which = np.tile(np.arange(len(triangles)), len(poses))
    near = nearest(start, stop, radius, Triangles(triangles), which)
    return near.distance.reshape(len(poses), -1).min(axis=1)


@pytest.mark.parametrize("seed", range(6))
def test_random_meshes_keep_to_the_certificate_and_to_what_the_rod_can_move(seed: int) -> None:
    """Where it is d away in one pose, it is d less its farthest move away in another, or more.

    With that, distances at a few hundred poses bound the least one from below without any search.
    """
    triangles = soup(seed, 60, 5.0 if seed % 2 else 60.0)
    found = clearance(lifting, LOW, HIGH, 25.0, Triangles(triangles))
    assert found.finished
    rng = np.random.default_rng(seed + 100)
    poses = LOW + (HIGH - LOW) * rng.uniform(size=(250, 3))
    here = brute(poses, triangles, 25.0)
    assert here.min() >= found.certified - 1e-9
    ends = lifting(np.concatenate([poses, found.pose[None]]))
    moved = np.max([np.linalg.norm(end[:-1] - end[-1], axis=1) for end in ends], axis=0)
    # The rim goes round with the rod's lean as well: at most the radius times its turn.
    lean = ends[1] - ends[0]
    lean /= np.linalg.norm(lean, axis=1, keepdims=True)
    turn = 25.0 * 2.0 * np.linalg.norm(lean[:-1] - lean[-1], axis=1)
    assert (found.distance >= here - moved - turn - 1e-6).all()
    if found.meets:
        assert brute(found.pose[None], triangles, 25.0)[0] == 0.0
        return
    assert found.distance - found.certified <= TOL.clearance
    assert brute(found.pose[None], triangles, 25.0)[0] == pytest.approx(found.distance, abs=TOL.rod)
    nearest_piece = brute(found.pose[None], triangles[found.piece][None], 25.0)[0]
    assert nearest_piece == pytest.approx(found.distance, abs=TOL.rod)
    local = minimize(
        lambda q: brute(LOW + (HIGH - LOW) * np.clip(q, 0.0, 1.0)[None], triangles, 25.0)[0],
        (found.pose - LOW) / (HIGH - LOW), method="Nelder-Mead", options={"maxfev": 150},
    )  # fmt: skip
    assert local.fun >= found.certified - 1e-9
    assert local.fun >= found.distance - TOL.clearance


@pytest.mark.parametrize("away", [0.0, 140.0])
def test_the_certificate_is_as_good_on_a_fine_mesh_as_on_a_coarse_one(away: float) -> None:
    """A ball of 80, 1,280 and 5,120 triangles: once the finer, the worse."""
    for fineness in (1, 3, 4):
        ball = trimesh.creation.icosphere(fineness, 60.0).apply_translation([500, 120 + away, 200])
        found = clearance(lifting, LOW, HIGH, 30.0, Triangles(np.array(ball.triangles)))
        assert found.finished
        assert found.distance - found.certified <= TOL.clearance
        # An icosphere's corners lie on the ball and its faces inside.
        middle = np.array([[500.0, 120.0 + away, 200.0]])
        dot = Bars(middle, middle + 1e-6, np.zeros(1))
        true = clearance(lifting, LOW, HIGH, 30.0, dot).distance - 60.0
        faces = np.einsum("ij,ij->i", ball.face_normals, ball.triangles[:, 0] - middle)
        assert found.certified <= true + 60.0 - faces.min() + TOL.clearance
        assert found.distance >= true - TOL.clearance


def test_a_search_cut_short_says_so_and_certifies_no_more_than_is_true() -> None:
    ball = trimesh.creation.icosphere(5, 60.0).apply_translation([500, 220, 200])
    thing = Triangles(np.array(ball.triangles))
    true = clearance(lifting, LOW, HIGH, 30.0, thing)
    for most in (1, 300, 1000):
        short = clearance(lifting, LOW, HIGH, 30.0, thing, most=most)
        assert not short.finished
        assert 0.0 <= short.certified < true.certified
        assert short.distance >= brute(short.pose[None], thing.corners, 30.0)[0] - TOL.rod
        assert short.distance >= true.certified
    # What may be nearest is looked at first, so little is left to gain.
    assert short.certified > 0.9 * true.certified


def test_what_waits_while_others_look_nearer_is_not_forgotten() -> None:
    """Closed form: 80 rods that curve far aside look nearest for long, one that dips a bit is so.

    It dips between the poses that are read, so that it too has to be looked at closely.
    """

    def lines(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        still = np.zeros((len(poses), 3))
        aside = still + 0.1 * poses[:, :1] ** 2 * [0.0, 1.0, 0.0]
        dips = still + 900.0 * (poses[:, 2:] - 0.0173) ** 2 * [0.0, 1.0, 0.0]
        begin = np.stack([np.add(aside, [3.0 * i, 30.0, 0.0]) for i in range(80)] + [dips])
        return begin, begin + np.array([0.0, 0.0, 200.0])

    wall = Boxes(np.array([[120.0, -25.0, 100.0]]), np.array([[500.0, 5.0, 500.0]]))
    rods = [Rod(i, (0.0, 0.0), (1.0, 0.0), (1.0, 1.0)) for i in range(81)]
    low, high = np.array([-200.0, -0.1, -0.1]), np.array([200.0, 0.1, 0.1])
    found = smallest(lines, low, high, rods, PieceTree(wall))
    assert found.rod == 80
    assert found.distance == pytest.approx(19.0, abs=TOL.clearance)
    assert 19.0 - TOL.clearance <= found.certified <= 19.0 + 1e-9


def test_a_search_that_only_has_to_beat_something_is_finished_when_it_cannot() -> None:
    thing = Boxes(np.array([[500.0, 0.0, 900.0]]), np.full((1, 3), 20.0))
    true = clearance(lifting, LOW, HIGH, 30.0, thing)
    found = clearance(lifting, LOW, HIGH, 30.0, thing, beat=0.5 * true.distance)
    assert found.finished
    assert found.certified >= 0.5 * true.distance - TOL.clearance
    assert found.certified <= true.distance
    # And it looks at less.
    asked = []

    def counting(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        asked.append(len(poses))
        return lifting(poses)

    clearance(counting, LOW, HIGH, 30.0, thing, beat=0.2 * true.distance)
    few, _ = sum(asked), asked.clear()
    clearance(counting, LOW, HIGH, 30.0, thing)
    assert few < sum(asked)


# several rods on several lines


def two_lines(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The lifting rod, and a line that stands upright beside it and is moved along."""
    start, stop = lifting(poses)
    foot = np.stack([poses[:, 0], 0.0 * poses[:, 0] + 300.0, 0.0 * poses[:, 0]], axis=1)
    return np.stack([start, foot]), np.stack([stop, np.add(foot, [0.0, 0.0, 500.0])])


RODS = (
    Rod(0, (0.1, 5.0), (0.4, -10.0), (30.0, 20.0)),
    Rod(1, (0.5, 0.0), (1.0, 20.0), (10.0, 45.0)),
    Rod(0, (1.0, 0.0), (1.0, 60.0), (15.0, 15.0)),
)


def placed(rod: Rod, poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Ends of a rod on its line."""
    begin, end = (lines[rod.line] for lines in two_lines(poses))
    length = np.linalg.norm(end - begin, axis=1, keepdims=True)
    u = (end - begin) / length
    first, last = (begin + (s * length + m) * u for s, m in (rod.start, rod.stop))
    return first, last


@pytest.mark.parametrize("seed", range(8))
def test_of_several_rods_the_nearest_is_told_with_its_place(seed: int) -> None:
    rng = np.random.default_rng(seed)
    centre = rng.uniform([-200.0, 0.0, -100.0], [1000.0, 600.0, 600.0])
    thing = Boxes(centre[None], rng.uniform(5.0, 60.0, (1, 3)))
    found = smallest(two_lines, LOW, HIGH, RODS, PieceTree(thing))
    poses = LOW + (HIGH - LOW) * rng.uniform(size=(4000, 3))
    sampled = []
    for rod in RODS:
        radii = np.tile(rod.radius, (len(poses), 1))
        near = nearest(*placed(rod, poses), radii, thing, np.zeros(len(poses), np.intp))
        sampled.append(near.distance.min())
    assert found.certified <= min(sampled) + 1e-9
    assert found.distance - found.certified <= TOL.clearance
    assert found.distance <= min(sampled) + TOL.clearance
    rod = RODS[found.rod]
    here = nearest(*placed(rod, found.pose[None]), np.array([rod.radius]), thing, ONE)
    assert here.distance[0] == pytest.approx(found.distance, abs=TOL.rod)
    if not found.meets:
        assert here.on_rod[0] == pytest.approx(found.points[0], abs=0.5)
        each = [smallest(two_lines, LOW, HIGH, [one], PieceTree(thing)) for one in RODS]
        least = min(one.distance for one in each)
        assert found.distance == pytest.approx(least, abs=TOL.clearance)


def test_a_tapered_rod_keeps_clear_as_its_thick_end() -> None:
    """Closed form: a level cone over a floor, thick end first and last."""
    for radius in ((10.0, 40.0), (40.0, 10.0)):
        cone = Rod(0, (0.0, 0.0), (1.0, 0.0), radius)

        def level(poses: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
            start, stop = curved(0, 0.4, 100.0)(poses)
            return start[None], stop[None]

        found = smallest(level, LOW, HIGH, [cone], PieceTree(GROUND))
        assert found.distance == pytest.approx(60.0, abs=TOL.clearance)
        assert found.points[0][0] == pytest.approx(400.0 if radius[1] > 20.0 else 0.0, abs=1e-6)


def test_no_rod_is_refused() -> None:
    with pytest.raises(ShapeError, match="at least one rod"):
        smallest(two_lines, LOW, HIGH, [], PieceTree(GROUND))
