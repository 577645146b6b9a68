"""The search over rows: its cap, what it claims when it is cut short, and zero and steep bends."""

from collections.abc import Callable
from math import cos, radians

import numpy as np
import pytest

from geometry.contact.first_touch import certify, first_touches, prove, seen_first
from geometry.contact.moves import Boxes, Motion, YokesMotion
from geometry.contact.pair import ClosingPair
from geometry.contact.row_search import Stretches, search
from geometry.contact.row_tree import row_tree
from geometry.contact.rows import bounds
from geometry.head.outer_pair import OuterMotion, sliding_in_carrying, split
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.random_bodies import random_yoke
from tests.simple_shapes import ball, box


def yokes(seed: int, limit: float = TOL.bend_limit) -> ClosingPair:
    """Two random yokes that are free when straight."""
    rng = np.random.default_rng(seed)
    while True:
        pair = ClosingPair(random_yoke(rng), random_yoke(rng), limit)
        if not pair.cut(0.0, 0.0):
            return pair


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("most", [0, 1000, 20_000])
def test_a_search_cut_short_claims_no_more_than_a_whole_one(seed: int, most: int) -> None:
    """Not finished, it is clear up to less, and says where it ended; never clear all the way."""
    pair = yokes(seed)
    seen = seen_first(pair, np.linspace(0.0, 2.0 * np.pi, 49).tolist())
    touch = min(bracket.touch for bracket in seen)
    touch = min(touch, TOL.bend_limit)
    whole = certify(pair, 0.0, 2.0 * np.pi, touch - 0.01)
    short = certify(pair, 0.0, 2.0 * np.pi, touch - 0.01, most)
    assert short.clear <= whole.clear
    if short.rows < whole.rows:
        assert not short.finished
        assert short.hit is not None
        assert short.hit[1].clear == short.clear < touch - 0.01
    for spin in np.linspace(0.0, 2.0 * np.pi, 90):
        assert not pair.cut(short.clear, float(spin))


def test_nothing_is_claimed_before_a_row_is_done() -> None:
    """Neither of a cell nor of any line of those that share their boxes."""
    pair, lines = yokes(1), np.arange(8.0)
    for side in (np.array([[0.0, 1.0]]), np.stack([lines, lines], 1)):
        count = len(side)
        bend, group = np.full(count, 0.2), np.zeros(count, np.intp)
        proof = search(pair, Stretches(np.zeros(count), bend, side, group), most=0)
        assert not proof.finished
        assert (proof.clear <= 0.0).all()
        assert np.isfinite(proof.where).all()


@pytest.mark.slow
@pytest.mark.parametrize("over", [0.005, 0.02])
def test_a_bend_told_too_high_is_brought_down_to_the_touch(over: float) -> None:
    """The repeat: what is asked beyond the touch ends at the touch, on lines as in the area."""
    ear = box((-18.0, 30.0, -8.0), (10.0, 44.0, 8.0), "ear")
    pair = ClosingPair(ear, box((42.0, -80.0, -80.0), (52.0, 80.0, 80.0), "plate"))
    (right,) = first_touches(pair, [0.0])
    assert right is not None
    (seen,) = seen_first(pair, [0.0])
    wrong = type(seen)(right.touch + over, right.touch + over)
    (line,) = prove(pair, [0.0], [wrong]).lines
    assert line.touch == pytest.approx(right.touch, abs=radians(0.002))
    assert line.clear <= line.touch <= line.clear + 0.5 * TOL.certificate
    found = certify(pair, -0.2, 0.2, right.touch + over)
    assert found.finished
    assert found.hit is not None
    assert found.hit[1].touch <= right.touch + radians(0.01)


@pytest.mark.parametrize("room", [0.0005, 0.002, 0.05])
def test_what_grazes_all_the_way_is_clear_only_with_room(room: float) -> None:
    """A ball about the centre beside a plate: nearer than a graze touches at once."""
    plate = box((20.0 + room, -3.0, -3.0), (30.0, 3.0, 3.0), "plate")
    pair = ClosingPair(ball((0.0, 0.0, 0.0), 20.0, "ball"), plate)
    found = certify(pair, 0.0, 0.05, 0.05)
    assert (found.hit is None) is (room > TOL.graze)
    if room < TOL.graze:
        assert found.clear == 0.0


def test_a_joint_bent_almost_square_is_searched_as_well() -> None:
    """Up to 85 deg: two rods that meet at a bend known in closed form."""
    rod = Mesh.join([box((10.0, -2.0, -2.0), (60.0, 2.0, 2.0), "rod")])
    aside = box((-1.0, 20.0, -1.0), (1.0, 22.0, 1.0), "aside")
    pair = ClosingPair(aside, rod, radians(85.0))
    found = certify(pair, -0.02, 0.02, radians(80.0))
    # The rod's side is 2 mm from its axis; the corner (1, 20) lies atan(20 / 1) round from it.
    met = np.arctan2(20.0, 1.0) - np.arcsin(2.0 / np.hypot(20.0, 1.0))
    assert found.clear <= met + 1e-3
    touch = first_touches(pair, [0.0], radians(85.0))[0]
    if touch is not None:
        assert not pair.cut(touch.clear, 0.0)
        assert pair.cut(touch.touch, 0.0)


@pytest.mark.parametrize("leaf", [True, False])
@pytest.mark.parametrize("half", [0.02, 0.2])
@pytest.mark.parametrize("share", [0.05, 0.55, 0.9, 2.0])
def test_a_row_knows_how_far_an_arc_leaves_its_tangent(
    leaf: bool, half: float, share: float
) -> None:
    """At spin 0 metal goes round the driven bores, and inward by r (1 - cos) of the half width."""
    radius, bend = 40.0, 0.5
    inward = radius * (1.0 - cos(half))
    middle = driven_in_driving(bend, 0.0).T @ [radius, 0.0, 0.0]
    speck = Mesh.uniform(middle + 1e-4 * np.eye(3), [[0, 1, 2]], "speck")
    wall = np.array([[0.0, -30.0, -30.0], [0.0, 30.0, -30.0], [0.0, 0.0, 40.0]])
    wall[:, 0] = radius - share * inward
    trees = row_tree(Mesh.uniform(wall, [[0, 1, 2]], "wall")), row_tree(speck)
    moves = YokesMotion().over(
        Boxes(np.array([[bend - half, 0.0]]), np.array([[bend + half, 0.0]]))
    )
    row = (np.array([1]), np.array([1]), np.array([0]))
    least = bounds(trees, moves, row, 0.0, 0.0, leaf)[0][0]
    assert (least > 0.0) == (share > 1.0)


SPAN, BALL = 70.0, 35.5


def in_head(bend: float, spin: float) -> tuple[np.ndarray, np.ndarray]:
    """Sliding yoke in the carrying yoke's frame: rotation and origin."""
    X = sliding_in_carrying(*split(SPAN, BALL, bend), spin, SPAN)
    return X[:3, :3], X[:3, 3]


def in_joint(bend: float, spin: float) -> tuple[np.ndarray, np.ndarray]:
    """Driven yoke in the driving yoke's frame."""
    return driven_in_driving(bend, spin), np.zeros(3)


@pytest.mark.parametrize("leaf", [True, False])
@pytest.mark.parametrize("size", [0.1, 0.01])
@pytest.mark.parametrize(
    ("motion", "placed"), [(YokesMotion(), in_joint), (OuterMotion(SPAN, BALL), in_head)]
)
def test_what_meets_at_one_corner_of_a_box_of_poses_is_not_clear(
    leaf: bool,
    size: float,
    motion: Motion,
    placed: Callable[[float, float], tuple[np.ndarray, np.ndarray]],
) -> None:
    """A speck where a corner of a block or triangle comes to in that pose, whichever of all."""
    rng = np.random.default_rng(3)
    for _ in range(400):
        low = np.array([[rng.uniform(0.0, 0.4), rng.uniform(0.0, 6.3)]])
        poses = Boxes(low, low + size * rng.uniform(0.0, 1.0, (1, 2)))
        middle, half = 30.0 * rng.normal(size=3), rng.uniform(1.0, 20.0, 3)
        block = box(tuple(middle - half), tuple(middle + half), "block")
        corner = middle + rng.choice([-1.0, 1.0], 3) * half
        if leaf:
            others = middle + 20.0 * rng.normal(size=(2, 3))
            block = Mesh.uniform(np.vstack([corner, others]), [[0, 1, 2]], "block")
        pose = np.where(rng.uniform(size=2) < 0.5, poses.low[0], poses.high[0])
        R, place = placed(*pose.tolist())
        speck = R @ corner + place + 1e-6 * np.eye(3)
        trees = row_tree(Mesh.uniform(speck, [[0, 1, 2]], "speck")), row_tree(block)
        row = (np.array([1]), np.array([1]), np.array([0]))
        assert bounds(trees, motion.over(poses), row, 0.0, 200.0, leaf)[0][0] <= 1e-5


def test_a_row_knows_the_arc_of_a_joint_that_hangs_on_another() -> None:
    """A speck at the second cross of a head stays at the span from the first one."""
    bend, half, motion = 0.3, 0.1, OuterMotion(SPAN, BALL)
    toward = in_head(bend, 0.0)[1] / SPAN
    ends = [in_head(bend + by, 0.0)[1] @ toward for by in (-half, half)]
    across = np.linalg.svd(toward[None])[2][1:]
    wall = np.array([[-30.0, -30.0], [30.0, -30.0], [0.0, 40.0]]) @ across
    wall += (SPAN - 0.55 * (SPAN - min(ends))) * toward
    speck = Mesh.uniform(1e-4 * np.eye(3), [[0, 1, 2]], "speck")
    trees = row_tree(Mesh.uniform(wall, [[0, 1, 2]], "wall")), row_tree(speck)
    moves = motion.over(Boxes(np.array([[bend - half, 0.0]]), np.array([[bend + half, 0.0]])))
    row = (np.array([1]), np.array([1]), np.array([0]))
    assert bounds(trees, moves, row, 0.0, 200.0, leaf=True)[0][0] <= 0.0


def test_metal_as_far_out_as_the_other_and_the_gap_counts() -> None:
    """A tip at 5 mm, 3 mm over a speck, sinks on its arc; the rest of it is farther out."""
    bend, half, radius, gap = 0.5, 0.02, 5.0, 3.0
    tip = np.array([[radius, 0.0, 0.0], [40.0, 1.0, 0.0], [40.0, -1.0, 0.0]])
    place = radius - gap - 0.55 * radius * (1.0 - cos(half))
    speck = np.array([place, 0.0, 0.0]) - 1e-6 * np.eye(3)
    moving = Mesh.uniform(tip @ driven_in_driving(bend, 0.0), [[0, 1, 2]], "tip")
    trees = row_tree(Mesh.uniform(speck, [[0, 1, 2]], "speck")), row_tree(moving)
    moves = YokesMotion().over(
        Boxes(np.array([[bend - half, 0.0]]), np.array([[bend + half, 0.0]]))
    )
    row = (np.array([1]), np.array([1]), np.array([0]))
    assert bounds(trees, moves, row, gap, gap, leaf=True)[0][0] <= 0.0
