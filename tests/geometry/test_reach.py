"""What can touch at all: cones and radii against points strewn on the metal, and closed forms.

Too small a reach would leave metal unasked that can touch: a plate that passes behind the cross,
an edge that dips out of the sphere between two corners, a bend up to which two cones still clear.
"""

import numpy as np
import numpy.typing as npt
import pytest
from scipy.optimize import brentq

from geometry.contact.reach import Outskirts, common_radii, reach, within
from geometry.mesh import Mesh
from tests.geometry.random_bodies import random_body, strewn_on
from tests.simple_shapes import ball, box, hub

Points = npt.NDArray[np.float64]

TUBE = hub(20.0, 15.0, 48, thick=300.0)


def test_cone_of_a_tube_closes_with_radius() -> None:
    """Beyond radius r a tube of radius a lies within asin(a / r) of its axis."""
    outside = float(np.linalg.norm(TUBE.vertices[:, 1:], axis=1).max())
    for radius in (40.0, 80.0, 200.0):
        assert Outskirts(TUBE).cone_beyond(radius) == pytest.approx(
            np.arcsin(outside / radius), abs=1e-9
        )
    assert Outskirts(TUBE).cone_beyond(1000.0) == 0.0


def test_metal_behind_the_cross_counts_as_all_round() -> None:
    assert Outskirts(ball((-30, 0, 0), 3.0, "ball")).cone_beyond(20.0) == np.pi


def test_reach_leaves_out_the_tubes_but_not_the_ears() -> None:
    ear = box((-20, 30, -10), (30, 40, 10), "ear")
    body = Mesh.join([TUBE, ear])
    radius = reach(body, body, np.radians(60.0))
    far_ear = np.linalg.norm(ear.vertices[ear.vertices[:, 0] < 0], axis=1).max()
    assert far_ear - 0.1 <= radius < 60.0
    assert within(body, radius).bounds[0, 0] == pytest.approx(-20.0)


def test_what_is_left_out_is_farther_than_the_reach() -> None:
    near = within(TUBE, 50.0)
    assert 0 < len(near.faces) < len(TUBE.faces)
    kept = {tuple(t.ravel()) for t in near.triangles}
    rng = np.random.default_rng(1)
    for triangle in TUBE.triangles:
        if tuple(triangle.ravel()) not in kept:
            w = rng.dirichlet(np.ones(3), 200)
            assert np.linalg.norm(w @ triangle, axis=1).min() > 50.0


def off_axis(points: Points) -> Points:
    return np.arccos(np.clip(points[:, 0] / np.linalg.norm(points, axis=1), -1.0, 1.0))


@pytest.mark.parametrize("seed", range(12))
def test_no_metal_farther_out_leaves_its_cone(seed: int) -> None:
    """Against points strewn on random bodies: none farther out than a radius stands at a wider
    angle, and where the cone is not all round, some stand nearly as wide."""
    rng = np.random.default_rng(seed)
    body = random_body(rng)
    points = np.concatenate([strewn_on(body, 60, rng), body.vertices])
    far, angle = np.linalg.norm(points, axis=1), off_axis(points)
    told = Outskirts(body)
    for radius in rng.uniform(0.0, 1.1, 12) * body.radius:
        beyond = angle[far > radius]
        cone = told.cone_beyond(radius)
        assert beyond.max(initial=0.0) <= cone + 1e-9
        assert cone == np.pi or cone <= 0.5 * np.pi
        if cone < np.pi and len(beyond) > 500:
            assert cone <= beyond.max() + 0.1


@pytest.mark.parametrize("seed", range(6))
def test_the_widest_of_an_edge_is_where_it_leaves_the_sphere(seed: int) -> None:
    """Slender triangles whose corners lie about as far out as each other: a thousand points along
    every edge, at radii a hair under a corner's own, where little of the edge is outside."""
    rng = np.random.default_rng(20 + seed)
    for _ in range(25):
        out = rng.normal((1.5, 0.0, 0.0), size=(3, 3))
        out *= 40.0 * rng.uniform(0.99, 1.0, (3, 1)) / np.linalg.norm(out, axis=1, keepdims=True)
        share = np.linspace(0.0, 1.0, 1001)[:, None]
        edges = np.concatenate([(1 - share) * out[i - 1] + share * out[i] for i in range(3)])
        far, told = np.linalg.norm(edges, axis=1), Outskirts(Mesh.uniform(out, [[0, 1, 2]], "t"))
        for tip in np.linalg.norm(out, axis=1):
            for radius in tip - np.array([0.02, 0.1, 0.3, 1.0, 3.0]):
                widest = off_axis(edges[far > radius]).max(initial=0.0)
                assert widest <= told.cone_beyond(radius) + 1e-9
                if widest < np.radians(88.0):
                    assert told.cone_beyond(radius) <= widest + 0.01


@pytest.mark.parametrize("behind", [-1.0, -10.0])
def test_a_plate_that_passes_behind_the_cross_is_all_round(behind: float) -> None:
    """Its corners stand little past square to the shaft, its middle straight behind the cross."""
    corners = np.array([[behind, y, z] for y, z in ((-60, -50), (60, -50), (60, 50), (-60, 50))])
    plate = Mesh.uniform(np.vstack([corners, [behind, 1.0, 2.0]]), [[0, 1, 4], [1, 2, 3]], "plate")
    assert off_axis(corners).max() < np.radians(98.0)
    for radius in (0.5, 20.0, 60.0, 77.0):
        assert Outskirts(plate).cone_beyond(radius) == np.pi


def test_a_cone_a_little_under_square_is_told_as_it_is() -> None:
    """A needle square to the shaft but for a hundredth of its length, and one as much behind."""
    for ahead, cone in ((0.5, np.arctan2(50.0, 0.5)), (-0.5, np.pi)):
        tips = np.array([[ahead, 50.0, 0.0], [10.0, 1.0, 0.0], [10.0, 0.0, 1.0]])
        needle = Mesh.uniform(tips, [[0, 1, 2]], "needle")
        assert Outskirts(needle).cone_beyond(49.0) == pytest.approx(cone, abs=1e-12)


@pytest.mark.parametrize("corners", [[0, 1, 2], [1, 2, 0], [2, 0, 1], [0, 2, 1]])
def test_an_edge_that_leaves_the_sphere_counts_from_where_it_does(corners: list[int]) -> None:
    """From (10, 40, 0) straight out to (100, 0, 0): at 60 mm it stands where the line crosses the
    sphere, by the quadratic; and an edge whose two ends are outside dips in and counts by them."""
    near, tip = np.array([10.0, 40.0, 0.0]), np.array([100.0, 0.0, 0.0])
    blade = Mesh.uniform(np.array([near, tip, [100.0, 0.0, 0.1]]), [corners], "blade")
    share = max(np.roots([9700.0, 2.0 * (900.0 - 1600.0), 1700.0 - 3600.0]).real)
    crossing = near + share * (tip - near)
    assert np.linalg.norm(crossing) == pytest.approx(60.0, abs=1e-9)
    expected = np.arctan2(crossing[1], crossing[0])
    assert Outskirts(blade).cone_beyond(60.0) == pytest.approx(expected, abs=2e-3)
    bar = box((1.0, 5.0, -80.0), (2.0, 6.0, 80.0), "bar")
    widest = np.arctan2(np.hypot(6.0, 80.0), 1.0)
    assert Outskirts(bar).cone_beyond(20.0) == pytest.approx(widest, abs=1e-12)


@pytest.mark.parametrize("limit", [20.0, 45.0, 60.0])
@pytest.mark.parametrize(("one", "other"), [(15.0, 15.0), (25.0, 10.0)])
def test_reach_of_two_tubes(limit: float, one: float, other: float) -> None:
    """Tubes of radius a and c about their shafts part where asin(a / r) + asin(c / r) leaves room
    for the bend [derivation]; found no nearer, and no more than a twentieth of a mm farther."""
    a, b = (hub(0.0, radius, 720, thick=400.0) for radius in (one, other))
    open_angle = np.pi - np.radians(limit)
    outside = [np.linalg.norm(mesh.vertices[:, 1:], axis=1).max() for mesh in (a, b)]

    def over(radius: float) -> float:
        return float(np.arcsin(np.array(outside) / radius).sum() - open_angle)

    exact = brentq(over, max(outside), 400.0) if over(max(outside)) > 0.0 else max(outside)
    assert exact <= reach(a, b, np.radians(limit)) <= exact + 0.051


def test_reach_never_leaves_what_both_have() -> None:
    """Bodies that stay apart at any bend are asked as far in as both have metal; balls that can
    meet all over, as far out."""
    inner, outer = common_radii(hub(40.0, 5.0, 24), hub(20.0, 5.0, 24))
    assert (inner, outer) == (
        pytest.approx(40.0, abs=1e-9),
        pytest.approx(np.hypot(50.0, 5.0 / np.cos(np.pi / 24)), abs=1e-9),
    )
    assert common_radii(hub(40.0, 5.0, 24), hub(80.0, 5.0, 24)) == pytest.approx((80.0, 80.0))
    assert 40.0 <= reach(hub(40.0, 5.0, 24), hub(20.0, 5.0, 24), 0.1) <= 40.06
    ring = ball((0.0, 0.0, 0.0), 30.0, "ball")
    assert reach(ring, ball((0.0, 0.0, 0.0), 20.0, "ball"), 0.1) == pytest.approx(30.0, abs=0.1)
    ear = box((-9.0, 30.0, -5.0), (9.0, 41.0, 5.0), "ear")
    assert reach(ear, ear, 0.1) == pytest.approx(ear.radius, abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("limit", [20.0, 60.0])
def test_nothing_beyond_the_reach_can_meet(seed: int, limit: float) -> None:
    """Two points meet only as far out as each other, and only where their angles off their own
    shafts add up to what the bend leaves: strewn on random bodies, beyond the reach none do."""
    rng = np.random.default_rng(40 + seed)
    a, b = random_body(rng), random_body(rng)
    radius = reach(a, b, np.radians(limit))
    clouds = [np.concatenate([strewn_on(body, 80, rng), body.vertices]) for body in (a, b)]
    far = [np.linalg.norm(cloud, axis=1) for cloud in clouds]
    for shell in np.arange(radius, min(a.radius, b.radius), 1.0):
        widest = [
            off_axis(cloud[(at >= max(shell, radius + 1e-9)) & (at <= shell + 1.0)]).max(initial=0)
            for cloud, at in zip(clouds, far, strict=True)
        ]
        assert min(widest) == 0.0 or sum(widest) < np.pi - np.radians(limit)


def test_what_is_kept_is_the_same_metal() -> None:
    """Every triangle that comes as near as the radius, its corners, name and chord kept; of a wide
    plate, too, whose corners all lie far out."""
    plate = box((42.0, -90.0, -90.0), (46.0, 90.0, 90.0), "plate")
    ear = box((-5.0, 20.0, -5.0), (5.0, 30.0, 5.0), "ear")
    body = Mesh.join([hub(40.0, 20.0, 24, thick=80.0), plate, ear])
    near = within(body, 43.0)
    kept = {tuple(np.round(corner.ravel(), 9)): i for i, corner in enumerate(near.triangles)}
    rng = np.random.default_rng(5)
    share = rng.dirichlet(np.full(3, 0.5), 400)
    for i, triangle in enumerate(body.triangles):
        distance = np.linalg.norm(share @ triangle, axis=1).min()
        place = kept.pop(tuple(np.round(triangle.ravel(), 9)), None)
        if distance <= 43.0:
            assert place is not None
        if place is not None:
            assert distance <= 44.5
            assert near.label_of(place) == body.label_of(i)
    assert not kept
    assert near.chord == body.chord
    assert len(near.vertices) == len(np.unique(near.faces))
