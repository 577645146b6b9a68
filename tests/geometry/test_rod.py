"""A rod near boxes, bars and triangles: closed forms, and invariants on random pairs."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import null_space
from scipy.spatial.transform import Rotation

from geometry.contact.cone import highest_of_cone, project_to_cone
from geometry.contact.convex import Bars, Boxes, Pieces, Triangles
from geometry.contact.rod import nearest
from geometry.contact.segments import nearest_of_segments
from geometry.contact.triangles import project_to_triangle
from geometry.tolerances import TOL

RADIUS = 38.0
ONE = np.zeros(1, dtype=np.intp)


def row(*numbers: float) -> np.ndarray:
    return np.array([numbers], dtype=float)


CLOSED_FORMS = {
    "beside a box's side": (Boxes(row(0, 0, 100), row(50, 50, 10)), 100 - 10 - RADIUS),
    "beside a box's edge": (Boxes(row(0, 90, 100), row(300, 10, 10)), np.hypot(80, 90) - RADIUS),
    "flat end before a side": (Boxes(row(400, 0, 0), row(30, 99, 99)), 400 - 30 - 200),
    "rim before a corner": (
        Boxes(row(400, 120, 0), row(30, 20, 20)),
        np.hypot(370 - 200, 100 - RADIUS),
    ),
    "across a bar": (Bars(row(0, -300, 100), row(0, 300, 100), np.array([20.0])), 80 - RADIUS),
    "along a bar": (Bars(row(-90, 0, 100), row(90, 0, 100), np.array([20.0])), 80 - RADIUS),
    "end to end with a bar": (Bars(row(250, 9, 0), row(400, 9, 0), np.array([20.0])), 50.0),
    "rim to rim": (
        Bars(row(260, 0, 158), row(400, 0, 158), np.array([20.0])),
        np.hypot(60, 158 - 20 - RADIUS),
    ),
    "over a triangle": (Triangles(np.array([[[-50, -9, 70], [80, 0, 70], [0, 99, 70]]])), 32.0),
    "through a triangle": (Triangles(np.array([[[0, -99, -99], [0, 99, -99], [0, 0, 99]]])), 0.0),
    "inside a box": (Boxes(row(0, 0, 0), row(999, 999, 999)), 0.0),
    "round a small box": (Boxes(row(0, 10, 0), row(1, 1, 1)), 0.0),
    "capsule would touch, flat end does not": (Boxes(row(240, 0, 0), row(30, 5, 5)), 10.0),
}


@pytest.mark.parametrize(("pieces", "distance"), CLOSED_FORMS.values(), ids=CLOSED_FORMS)
def test_a_rod_of_400_mm_along_x(pieces: Pieces, distance: float) -> None:
    near = nearest(row(-200, 0, 0), row(200, 0, 0), RADIUS, pieces, ONE)
    assert near.distance[0] == pytest.approx(distance, abs=1e-6 if distance else 0.0)
    if distance:
        assert near.least[0] == pytest.approx(distance, abs=TOL.rod)


coordinate = st.floats(-300.0, 300.0).map(lambda x: round(x, 3))
point = st.tuples(coordinate, coordinate, coordinate).map(np.array)
size = st.floats(2.0, 80.0).map(lambda x: round(x, 3))


def apart(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """b, or a place 30 mm beside a where they are almost one point."""
    return b if np.linalg.norm(b - a) > 5.0 else a + np.array([30.0, 0.0, 0.0])


@pytest.mark.slow
@given(point, point, point, point, size, size, st.integers(0, 99))
def test_a_rigid_motion_changes_no_distance(a, b, c, d, radius, other, seed) -> None:
    b, d = apart(a, b), apart(c, d)
    R, p = Rotation.random(rng=seed).as_matrix(), np.array([70.0, -400.0, 11.0])
    for make in (
        lambda q: Bars(q[0][None], q[1][None], np.array([other])),
        lambda q: Triangles(q[None]),
    ):
        still = np.stack([c, d, c + np.array([9.0, 40.0, 2.0])])
        here = nearest(a[None], b[None], radius, make(still), ONE)
        moved = [(x @ R.T + p) for x in (a[None], b[None])]
        there = nearest(*moved, radius, make(still @ R.T + p), ONE)
        assert here.distance == pytest.approx(there.distance, abs=2.0 * TOL.rod)


@given(point, point, point, size, size)
def test_both_bounds_hold_and_the_points_lie_where_they_should(a, b, c, radius, half) -> None:
    b = apart(a, b)
    box = Boxes(c[None], np.array([[half, 2.0 * half, 7.0]]))
    near = nearest(a[None], b[None], radius, box, ONE)
    assert near.least[0] <= near.distance[0] + 1e-9
    if near.distance[0] > 0.0:
        assert near.distance[0] - near.least[0] <= TOL.rod
        assert np.linalg.norm(near.on_rod - near.on_piece) == pytest.approx(near.distance[0])
    inside = np.abs(near.on_piece[0] - c) <= box.half[0] + 1e-6
    assert inside.all()
    u = (b - a) / np.linalg.norm(b - a)
    along = (near.on_rod[0] - a) @ u
    assert -1e-6 <= along <= np.linalg.norm(b - a) + 1e-6
    assert np.linalg.norm(near.on_rod[0] - a - along * u) <= radius + 1e-6


@given(point, point, point, size)
def test_turning_the_ends_round_changes_nothing(a, b, c, half) -> None:
    b = apart(a, b)
    box = Boxes(c[None], np.full((1, 3), half))
    one, other = (nearest(*ends, 25.0, box, ONE) for ends in ((a[None], b[None]),) * 2)
    back = nearest(b[None], a[None], 25.0, box, ONE)
    assert one.distance == other.distance
    assert back.distance == pytest.approx(one.distance, abs=2.0 * TOL.rod)


@settings(max_examples=200)
@given(point, point, point, point)
def test_nearest_points_of_segments_beat_a_grid(p, q, a, b) -> None:
    s, t = nearest_of_segments(*(x[None] for x in (p, q, a, b)))
    found = np.linalg.norm(p + s[0] * (q - p) - a - t[0] * (b - a))
    grid = np.linspace(0.0, 1.0, 41)
    all_ = p + grid[:, None, None] * (q - p) - a - grid[None, :, None] * (b - a)
    assert found <= np.linalg.norm(all_, axis=-1).min() + 1e-9


@given(point, point, point, point)
def test_the_nearest_point_of_a_triangle_beats_a_grid(a, b, c, at) -> None:
    found = project_to_triangle(np.stack([a, b, c])[None], at[None])[0]
    u, v = np.meshgrid(*[np.linspace(0.0, 1.0, 31)] * 2)
    u, v = u[u + v <= 1.0], v[u + v <= 1.0]
    grid = a + u[:, None] * (b - a) + v[:, None] * (c - a)
    assert np.linalg.norm(found - at) <= np.linalg.norm(grid - at, axis=-1).min() + 1e-9


def every_kind() -> tuple[tuple[Pieces, np.ndarray], ...]:
    """Five pieces of each kind, and points that fill each of them, its farthest ones among them."""
    rng = np.random.default_rng(3)
    start, stop = rng.normal(size=(2, 5, 3)) * 50.0
    half, radius = np.abs(stop), np.abs(stop[:, 0])
    corners = np.array(list(product((-1.0, 1.0), repeat=3)))
    triangles = rng.normal(size=(5, 3, 3)) * 50.0
    around = np.linspace(0.0, 2.0 * np.pi, 4001)
    rims = []
    for a, b, r in zip(start, stop, radius, strict=True):
        across = null_space((b - a)[None])
        ring = r * (np.cos(around)[:, None] * across[:, 0] + np.sin(around)[:, None] * across[:, 1])
        rims.append(np.concatenate([a + ring, b + ring]))
    return (
        (Boxes(start, half), start[:, None] + corners * half[:, None]),
        (Bars(start, stop, radius), np.stack(rims)),
        (Triangles(triangles), triangles),
    )


@pytest.mark.parametrize("number", range(3))
def test_how_low_a_piece_reaches_is_how_low_its_lowest_point_lies(number: int) -> None:
    """Brute force over corners, or over 4,001 points of each rim: off by 1.3 um at 50 mm."""
    pieces, points = every_kind()[number]
    which = np.arange(5)
    for n in Rotation.random(60, rng=1).as_matrix()[:, 0]:
        along = np.tile(n, (5, 1))
        theirs = (points @ n).min(axis=1)
        assert pieces.lowest(which, along) == pytest.approx(theirs, abs=1e-4)
        assert pieces.lowest(which, 3.0 * along) == pytest.approx(3.0 * theirs, abs=3e-4)
        assert ((pieces.hulls() @ n).min(axis=1) <= theirs + 1e-9).all()
        far = pieces.project(which, 1e7 * -along)
        assert (far * along).sum(axis=1) == pytest.approx(theirs, abs=1e-3)


@pytest.mark.parametrize("number", range(3))
def test_no_point_of_a_piece_is_nearer_than_the_nearest_point(number: int) -> None:
    """For the nearest point q of a convex piece to p, (p - q) . x is largest at q (Hilbert)."""
    pieces, points = every_kind()[number]
    which = np.arange(5)
    for p in np.random.default_rng(5).normal(size=(60, 5, 3)) * 90.0:
        q = pieces.project(which, p)
        away = p - q
        reach = np.einsum("nki,ni->nk", points, away).max(axis=1)
        size = np.linalg.norm(away, axis=1)
        assert ((away * q).sum(axis=1) >= reach - 1e-4 * (1.0 + size)).all()
        assert pieces.project(which, q) == pytest.approx(q, abs=1e-9)


@pytest.mark.parametrize("number", range(3))
def test_the_share_beside_a_piece_beats_a_grid(number: int) -> None:
    """Of a segment's points the one given is as near to the piece as any of 1,001."""
    pieces, _ = every_kind()[number]
    rng, grid = np.random.default_rng(8), np.linspace(0.0, 1.0, 1001)
    which = np.tile(np.arange(5), 8)
    start, stop = rng.normal(size=(2, 40, 3)) * 120.0
    t = np.concatenate([pieces.beside(which, start, stop)[None], np.tile(grid[:, None], 40)])
    at = (start + t[..., None] * (stop - start)).reshape(-1, 3)
    foot = pieces.project(np.tile(which, len(t)), at)
    found, *others = np.linalg.norm(foot - at, axis=1).reshape(len(t), 40)
    best = np.min(others, axis=0)
    # Beside a bar it is the nearest to the bar's axis, which is as near while no end comes in.
    slack = np.inf if isinstance(pieces, Bars) else 1e-9
    assert (found <= best + slack).all()
    assert (found >= best - np.linalg.norm(stop - start, axis=1) / 1000.0).all()


def tapered(a: np.ndarray, b: np.ndarray, radius: np.ndarray) -> np.ndarray:
    """Points of both rims of a tapered bar, (8002, 3)."""
    around = np.linspace(0.0, 2.0 * np.pi, 4001)
    across = null_space((b - a)[None])
    ring = np.cos(around)[:, None] * across[:, 0] + np.sin(around)[:, None] * across[:, 1]
    return np.concatenate([a + radius[0] * ring, b + radius[1] * ring])


def test_a_tapered_bar_is_the_hull_of_its_two_rims() -> None:
    """Nearest points (Hilbert's condition) and reach, against the points of both rims."""
    rng = np.random.default_rng(11)
    for _ in range(60):
        a, b, at, n = rng.normal(size=(4, 3)) * 80.0
        radius = np.abs(rng.normal(size=2)) * 40.0
        rims, cone = tapered(a, b, radius), (a[None], b[None], radius[None])
        assert highest_of_cone(*cone, n[None])[0] == pytest.approx((rims @ n).max(), abs=1e-2)
        q = project_to_cone(*cone, at[None])[0]
        away = at - q
        assert away @ q >= (rims @ away).max() - 1e-4 * (1.0 + np.linalg.norm(away))
        shares = rng.dirichlet(np.ones(len(rims[::800])))
        inside = shares @ rims[::800]
        assert project_to_cone(*cone, inside[None])[0] == pytest.approx(inside, abs=1e-9)


def test_a_bar_without_length_is_a_disc_of_the_larger_rim() -> None:
    """Two rims in one place; straight beside it the distance is to the rim."""
    a = np.zeros((1, 3))
    b = np.array([[1e-13, 0.0, 0.0]])
    q = project_to_cone(a, b, np.array([[10.0, 20.0]]), np.array([[0.0, 50.0, 0.0]]))
    assert q[0] == pytest.approx([0.0, 20.0, 0.0], abs=1e-9)


def test_a_tapered_rod_is_as_near_to_a_wall_as_its_slant() -> None:
    """Closed form: a cone of 45 deg beside a wall along its slant, and square to its end."""
    start, stop, radius = row(0, 0, 0), row(40, 0, 0), np.array([[50.0, 10.0]])
    far = 70.0 * np.sqrt(0.5)
    level = Rotation.from_euler("y", 45.0, degrees=True).as_matrix()
    wall = Boxes(row(far + 5.0, 0, 0), row(5.0, 200.0, 200.0))
    near = nearest(start @ level.T, stop @ level.T, radius, wall, ONE)
    assert near.distance[0] == pytest.approx(20.0 * np.sqrt(0.5), abs=TOL.rod)
    assert near.least[0] == pytest.approx(20.0 * np.sqrt(0.5), abs=TOL.rod)
    behind = Boxes(row(-15.0, 0, 0), row(5.0, 200.0, 200.0))
    assert nearest(start, stop, radius, behind, ONE).distance[0] == pytest.approx(10.0, abs=1e-6)


def test_in_front_of_a_disc_its_nearer_face_is_nearest() -> None:
    """Closed form: 1 mm thick and 50 mm round, so that its far face is nearer than its rim."""
    disc = row(0, 0, 0), row(1, 0, 0), np.array([[50.0, 50.0]])
    assert project_to_cone(*disc, row(-10, 3, 0))[0] == pytest.approx([0.0, 3.0, 0.0], abs=1e-12)
    assert project_to_cone(*disc, row(11, 3, 0))[0] == pytest.approx([1.0, 3.0, 0.0], abs=1e-12)


def test_a_segment_through_a_triangle_is_nearest_where_it_goes_through() -> None:
    triangle = Triangles(np.array([[[-90.0, -90.0, 5.0], [90.0, -90.0, 5.0], [0.0, 90.0, 5.0]]]))
    share = triangle.beside(ONE, row(1, 2, -10), row(3, -4, 40))
    assert share[0] == pytest.approx(0.3, abs=1e-12)


def test_what_just_touches_is_at_no_distance_at_all() -> None:
    """A side laid against the rod in a random frame, nearer than rounding on a few metres."""
    for seed in range(20):
        R = Rotation.random(rng=seed).as_matrix()
        p = np.array([900.0, -2000.0, 70.0])
        start, stop = (p + R @ end for end in ([0.0, 0.0, 0.0], [300.0, 0.0, 0.0]))
        wall = p + np.array([[90, -60, 38], [210, -60, 38], [150, 60, 38]]) @ R.T + 3e-8 * R[:, 2]
        near = nearest(start[None], stop[None], 38.0, Triangles(wall[None]), ONE)
        assert near.distance[0] == 0.0
        assert near.least[0] >= -1e-6
        end = p + np.array([[300, -60, -60], [300, 60, -60], [300, 0, 60]]) @ R.T + 3e-8 * R[:, 0]
        assert nearest(start[None], stop[None], 38.0, Triangles(end[None]), ONE).distance[0] == 0.0


def test_parallel_segments_are_nearest_in_the_middle_of_where_they_face_each_other() -> None:
    """Closed form, either way round: 0 to 100 against 40 to 180 beside it, and apart."""
    p, q = row(0, 0, 0), row(100, 0, 0)
    for a, b in ((row(40, 7, 0), row(180, 7, 0)), (row(180, 7, 0), row(40, 7, 0))):
        s, t = nearest_of_segments(p, q, a, b)
        assert s[0] == pytest.approx(0.7)
        assert (a + t[0] * (b - a))[0] == pytest.approx([70.0, 7.0, 0.0])
    s, t = nearest_of_segments(p, q, row(130, 0, 0), row(180, 0, 0))
    assert (s[0], t[0]) == (1.0, 0.0)
    s, t = nearest_of_segments(p, q, row(-130, 0, 0), row(-20, 0, 0))
    assert (s[0], t[0]) == (0.0, 1.0)


def test_fewer_turns_still_bound_the_distance_from_both_sides() -> None:
    rng = np.random.default_rng(2)
    start, stop = rng.normal(size=(2, 200, 3)) * 100.0
    boxes = Boxes(rng.normal(size=(200, 3)) * 150.0, rng.uniform(2.0, 60.0, (200, 3)))
    radius, which = rng.uniform(1.0, 50.0, (200, 2)), np.arange(200)
    true = nearest(start, stop, radius, boxes, which)
    quick = nearest(start, stop, radius, boxes, which, turns=2)
    assert (true.distance - true.least)[true.distance > 0.0].max() <= TOL.rod
    assert (quick.distance >= true.least - 1e-9).all()
    assert (quick.least <= true.distance + 1e-9).all()
