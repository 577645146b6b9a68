import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.contact.containment import holds
from geometry.contact.triangles import distance_to_origin
from geometry.errors import MeshError
from geometry.imported import decimated
from geometry.imported.decimation import FEWEST, collapsed
from geometry.mesh import Mesh
from geometry.nearest import NearSurface, closest_weights, spread_samples
from tests.geometry.scan_like import dense, own_yoke
from tests.simple_shapes import ball

YOKE = own_yoke("weld yoke")
SCAN = dense(YOKE, 2.5, noise=0.03)


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 2**32 - 1), st.sampled_from([1.0, 1e-3]))
def test_nearest_point_of_a_triangle(seed: int, flatness: float) -> None:
    """The distance is that of the other routine."""
    random = np.random.default_rng(seed)
    triangles = random.normal(size=(40, 3, 3))
    between = triangles[:, 0] + 0.4 * (triangles[:, 1] - triangles[:, 0])
    triangles[:, 2] = between + flatness * random.normal(size=(40, 3))
    points = random.normal(size=(40, 3)) * 2.0
    weight = closest_weights(triangles, points)
    np.testing.assert_allclose(weight.sum(axis=1), 1.0, rtol=0, atol=1e-9)
    assert weight.min() >= -1e-12
    feet = np.einsum("ni,nij->nj", weight, triangles)
    found = np.linalg.norm(feet - points, axis=1)
    exact = distance_to_origin(triangles - points[:, None])
    np.testing.assert_allclose(found, exact, rtol=0, atol=1e-9)


def test_nearest_point_of_a_collapsed_triangle() -> None:
    """Three corners in one line are a segment; two equal ones too; three equal ones a point."""
    line = np.array([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [4.0, 0.0, 0.0]])
    triangles = np.stack([line, line, line[[0, 1, 0]], line[[1, 1, 1]]])
    points = np.array([[3.0, 4.0, 0.0], [13.0, 4.0, 0.0], [3.0, 0.0, 2.0], [10.0, 5.0, 12.0]])
    weight = closest_weights(triangles, points)
    feet = np.einsum("ni,nij->nj", weight, triangles)
    found = np.linalg.norm(feet - points, axis=1)
    np.testing.assert_allclose(found, [4.0, 5.0, 2.0, 13.0], rtol=0, atol=1e-12)


def test_distance_to_a_surface_is_never_too_small_and_nearly_always_exact() -> None:
    points = spread_samples(YOKE, 300)[0] + np.random.default_rng(2).normal(0.0, 0.5, (300, 3))
    found = NearSurface(YOKE).foot(points)
    exact = np.array([distance_to_origin(YOKE.triangles - point).min() for point in points])
    assert (found.distance >= exact - 1e-9).all()
    assert (found.distance < exact + 1e-9).mean() > 0.97
    at = np.einsum("ni,nij->nj", found.weight, YOKE.triangles[found.face])
    np.testing.assert_allclose(
        np.linalg.norm(at - points, axis=1), found.distance, rtol=0, atol=1e-9
    )


@pytest.mark.slow
def test_the_largest_distance_is_exact_where_a_foot_is_missed() -> None:
    """On a thinned scan some feet are missed by the samples' walk; the largest distance is not."""
    kept = decimated(SCAN, 12_000).mesh
    random = np.random.default_rng(4)
    weight = random.dirichlet([1.0, 1.0, 1.0], 100_000)
    face = random.integers(0, len(kept.faces), 100_000)
    points = np.einsum("ni,nij->nj", weight, kept.triangles[face])
    near = NearSurface(SCAN)
    said = near.foot(points).distance
    top = points[np.argsort(-said)[:60]]
    exact = np.array([distance_to_origin(SCAN.triangles - each).min() for each in top])
    assert near.farthest(points) == pytest.approx(exact.max(), rel=0, abs=1e-9)
    assert exact.max() < said.max() - 0.01
    assert near.farthest(np.zeros((0, 3))) == 0.0


def test_samples_are_spread_by_area() -> None:
    points, face = spread_samples(YOKE, 5000)
    assert len(points) == 5000
    share = np.bincount(face, minlength=len(YOKE.faces)) / 5000
    area = np.linalg.norm(YOKE.area_vectors, axis=1)
    np.testing.assert_allclose(share, area / area.sum(), rtol=0, atol=1.0001 / 5000)
    foot = NearSurface(YOKE).foot(points)
    assert foot.distance.max() < 1e-9
    each = spread_samples(YOKE, 100, each=True)[1]
    assert set(each.tolist()) == set(range(len(YOKE.faces)))


def test_what_is_small_enough_stays() -> None:
    kept = decimated(YOKE, len(YOKE.faces))
    assert kept.mesh is YOKE
    assert kept.deviation == kept.grown == kept.outside == 0.0


@pytest.mark.slow
@pytest.mark.parametrize("most", [12_000, 4_000])
def test_deviation_holds_for_other_points_than_those_it_was_measured_at(most: int) -> None:
    kept = decimated(SCAN, most)
    assert 0.9 * most < len(kept.mesh.faces) <= most
    assert kept.mesh.is_watertight
    assert kept.mesh.chord == kept.deviation > 0.0
    random = np.random.default_rng(4)
    for one, other in ((SCAN, kept.mesh), (kept.mesh, SCAN)):
        weight = random.dirichlet([1.0, 1.0, 1.0], 20_000)
        face = random.integers(0, len(one.faces), 20_000)
        points = np.einsum("ni,nij->nj", weight, one.triangles[face])
        assert NearSurface(other).farthest(points) <= kept.deviation + 0.02


@pytest.mark.slow
@pytest.mark.parametrize("most", [12_000, 4_000])
def test_the_scan_lies_inside_what_is_kept(most: int) -> None:
    """By the winding number, which the growing does not use."""
    kept = decimated(SCAN, most)
    some = np.random.default_rng(5).choice(len(SCAN.vertices), 800, replace=False)
    points = SCAN.vertices[some]
    chunks = [holds(kept.mesh, points[i : i + 100]) for i in range(0, 800, 100)]
    inside = np.concatenate(chunks)
    left = NearSurface(kept.mesh).foot(points[~inside]).distance
    assert inside.mean() > 0.9
    assert left.max(initial=0.0) <= kept.outside + 1e-3
    assert kept.outside < 0.03
    assert kept.grown <= 2.0 * kept.deviation


@pytest.mark.slow
def test_before_it_is_grown_the_surface_is_nearer() -> None:
    assert abs(collapsed(SCAN, 8_000).volume / SCAN.volume - 1.0) < 1e-3
    assert decimated(SCAN, 8_000).mesh.volume > SCAN.volume


@pytest.mark.parametrize("most", [4000, 1000])
def test_a_sphere_in_few_triangles(most: int) -> None:
    """Equilateral triangles inscribed in a sphere of radius r are 4.84 r / n off it (own sum)."""
    round_ = dense(ball((0.0, 0.0, 0.0), 50.0, "ball"), 1.5)
    least = 4.84 * 50.0 / most
    bare = collapsed(round_, most)
    off = NearSurface(bare).foot(round_.vertices).distance.max()
    assert 0.5 * least < off < 4.0 * least


@pytest.mark.slow
def test_the_same_every_time_and_in_any_unit() -> None:
    one, again = (decimated(SCAN, 5000).mesh for _ in range(2))
    assert one.key() == again.key()
    small = Mesh(SCAN.vertices / 1024.0, SCAN.faces, SCAN.labels, SCAN.label_names)
    scaled = collapsed(small, 5000).vertices * 1024.0
    np.testing.assert_allclose(scaled, collapsed(SCAN, 5000).vertices, rtol=0, atol=1e-9)


@pytest.mark.slow
def test_names_of_surfaces_stay_with_their_place() -> None:
    far = SCAN.triangles.mean(axis=1)[:, 0] > 40.0
    named = Mesh(SCAN.vertices, SCAN.faces, far.astype(np.int16), ("near", "far"))
    kept = decimated(named, 6000).mesh
    x = kept.triangles.mean(axis=1)[:, 0]
    assert x[kept.on("far")].min() > 38.0
    assert x[kept.on("near")].max() < 42.0


def test_too_few_are_refused() -> None:
    with pytest.raises(MeshError, match=f"100 triangles to keep; expected {FEWEST} or more"):
        decimated(SCAN, 100)
