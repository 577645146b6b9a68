"""A rod near boxes, bars and triangles: closed forms, and invariants on random pairs."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from geometry.convex import Bars, Boxes, Pieces, Triangles, project_to_triangle
from geometry.rod import nearest
from geometry.segments import nearest_of_segments
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


def test_every_kind_lies_in_its_balls_and_says_how_low_it_reaches() -> None:
    rng = np.random.default_rng(3)
    start, stop = rng.normal(size=(2, 5, 3)) * 50.0
    kinds: tuple[Pieces, ...] = (
        Boxes(start, np.abs(stop)),
        Bars(start, stop, np.abs(stop[:, 0])),
        Triangles(rng.normal(size=(5, 3, 3)) * 50.0),
    )
    which = np.arange(5)
    for pieces in kinds:
        centre, radius = pieces.spheres()
        for n in rng.normal(size=(40, 3)):
            far = pieces.project(which, np.tile(-1e4 * n, (5, 1)))
            assert (np.linalg.norm(far - centre, axis=-1) <= radius + 1e-9).all()
            along = np.tile(n, (5, 1))
            assert pieces.lowest(which, along) == pytest.approx(far @ n, rel=1e-3, abs=2.0)
            assert (pieces.lowest(which, along) <= far @ n + 1e-9).all()
