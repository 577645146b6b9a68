import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import MeshError
from geometry.imported import Placement, likely_bores, placed_by_bores, three_picks
from geometry.imported.decimation import collapsed
from geometry.mesh import Mesh
from sim.parts.catalogue import cross_shape, yoke_kinds, yoke_shape
from tests.geometry.scan_like import dense, off_by, own_yoke, somewhere
from tests.simple_shapes import box

CROSSES = ("27 x 82", "35 x 106")


@pytest.mark.slow
@pytest.mark.parametrize("cross", CROSSES)
@pytest.mark.parametrize("kind", yoke_kinds())
def test_every_yoke_of_the_catalogue_comes_back(kind: str, cross: str) -> None:
    """Clean meshes at any pose: 0.05 mm, 0.05 deg."""
    yoke = own_yoke(kind, cross)
    R, p = somewhere(len(kind))
    found = placed_by_bores(yoke.moved(R, p))
    degrees, mm = off_by(found.R_YM, found.p_YM_Y, R, p)
    assert degrees < 0.05
    assert mm < 0.05
    bores = found.bores
    assert bores is not None
    shape = yoke_shape(kind, cross)
    np.testing.assert_allclose(bores.diameter, shape.bore, rtol=0, atol=0.05)
    np.testing.assert_allclose(bores.inside_span, shape.inside_span, rtol=0, atol=0.05)
    np.testing.assert_allclose(bores.outside_span, shape.outside_span, rtol=0, atol=0.05)
    assert bores.confidence > 0.9
    assert found.mirror_error < 0.02
    assert bores.arc == pytest.approx(0.5 if "strap" in kind else 1.0, abs=0.06)


@pytest.mark.slow
@pytest.mark.parametrize(
    "kind",
    ["weld yoke", "strap yoke"],
)
@pytest.mark.parametrize(
    ("edge", "noise", "faces", "mm", "degrees"),
    [(3.0, 0.1, None, 0.05, 0.06), (2.0, 0.1, 4000, 0.08, 0.1), (3.0, 0.2, None, 0.12, 0.1)],
)
def test_noise_and_few_triangles(
    kind: str, edge: float, noise: float, faces: int | None, mm: float, degrees: float
) -> None:
    """Noise of a coarse scanner on every corner; what is stated in docs/own-yokes.md."""
    R, p = somewhere(3)
    scan = dense(own_yoke(kind), edge, noise, faces).moved(R, p)
    found = placed_by_bores(scan)
    off = off_by(found.R_YM, found.p_YM_Y, R, p)
    assert off[0] < degrees
    assert off[1] < mm


@pytest.mark.slow
def test_a_one_sided_scan() -> None:
    """A quarter of the far end missing, a lump welded on one side: bores and mirror hold."""
    yoke = dense(own_yoke("weld yoke"), 3.0, 0.05)
    x, _, z = yoke.triangles.mean(axis=1).T
    kept = ~((x > 30.0) & (z > 10.0))
    lump = box((20.0, -5.0, -50.0), (40.0, 25.0, -30.0), "lump")
    scan = Mesh.join([Mesh.uniform(yoke.vertices, yoke.faces[kept], "surface"), lump])
    R, p = somewhere(4)
    found = placed_by_bores(scan.moved(R, p))
    degrees, mm = off_by(found.R_YM, found.p_YM_Y, R, p)
    assert degrees < 0.1
    assert mm < 0.05


@pytest.mark.slow
@settings(max_examples=3, deadline=None)
@given(st.integers(0, 10_000), st.sampled_from([0.001, 0.03937, 10.0]))
def test_the_frame_and_unit_of_the_file_do_not_matter(seed: int, scale: float) -> None:
    yoke = own_yoke("deep-throat strap yoke")
    R, p = somewhere(seed)
    moved = yoke.moved(R, p)
    scaled = Mesh(moved.vertices * scale, moved.faces, moved.labels, moved.label_names)
    found = placed_by_bores(scaled).scaled(1.0 / scale)
    degrees, mm = off_by(found.R_YM, found.p_YM_Y, R, p)
    assert degrees < 0.01
    assert mm < 0.01


@pytest.mark.slow
def test_the_same_every_time() -> None:
    scan = dense(own_yoke("weld yoke"), 4.0, 0.1)
    one, again = (placed_by_bores(scan) for _ in range(2))
    assert (one.R_YM == again.R_YM).all()
    assert (one.p_YM_Y == again.p_YM_Y).all()


@pytest.mark.slow
def test_the_middle_is_that_of_the_inside_faces() -> None:
    """One ear's outside ground off by 2 mm moves nothing."""
    yoke = dense(own_yoke("weld yoke"), 3.0)
    vertices = np.array(yoke.vertices)
    outside = vertices[:, 1] > 40.0
    vertices[outside, 1] = np.minimum(vertices[outside, 1], 41.5)
    ground = Mesh.uniform(vertices, yoke.faces, "surface")
    found = likely_bores(ground)[0]
    assert abs(found.centre[1]) == pytest.approx(0.0, abs=0.05)


@pytest.mark.slow
@pytest.mark.parametrize(
    "mesh",
    [
        box((0.0, 0.0, 0.0), (30.0, 40.0, 50.0), "block"),
        cross_shape("27 x 82").build().parts["cross"],
        yoke_shape("weld yoke", "27 x 82").build().contact,
        dense(yoke_shape("sliding yoke", "27 x 82").build().parts["caps"], 5.0),
    ],
    ids=["block", "cross", "yoke with its caps in", "caps"],
)
def test_no_bores_ask_for_picks(mesh: Mesh) -> None:
    with pytest.raises(MeshError, match=r"no two round bores in one line .* pick three points"):
        placed_by_bores(mesh)


@pytest.mark.slow
def test_one_ear_is_not_enough() -> None:
    yoke = dense(own_yoke("weld yoke"), 4.0)
    half = Mesh.uniform(yoke.vertices, yoke.faces[yoke.triangles[..., 1].mean(axis=1) > 0.0], "")
    with pytest.raises(MeshError, match="no two round bores"):
        likely_bores(half)[0]


@pytest.mark.slow
def test_metal_on_both_sides_asks_for_picks() -> None:
    """A middle piece: two yokes back to back about one pair of bores."""
    plates = [
        Mesh.uniform(m.vertices, m.faces, "plate")
        for m in (own_yoke("strap yoke"), own_yoke("strap yoke").moved(np.diag([-1.0, 1.0, -1.0])))
    ]
    with pytest.raises(MeshError, match="the metal lies evenly round the bores"):
        placed_by_bores(Mesh.join(plates))


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 10_000), st.floats(10.0, 100.0), st.floats(-0.5, 0.5))
def test_three_picks_are_exact(seed: int, far: float, shift: float) -> None:
    """The third pick need not be square to the bores; what it is off is told."""
    R, p = somewhere(seed)
    picks = np.array([[0.0, 40.0, 0.0], [0.0, -40.0, 0.0], [far, shift * far, 0.0]]) @ R.T + p
    found = three_picks(*picks)
    degrees, mm = off_by(found.R_YM, found.p_YM_Y, R, p)
    assert degrees < 1e-5
    assert mm < 1e-9
    np.testing.assert_allclose(found.skew, np.arctan(abs(shift)), rtol=0, atol=1e-9)
    np.testing.assert_allclose(found.centre, p, rtol=0, atol=1e-9)
    swapped = three_picks(picks[1], picks[0], picks[2])
    np.testing.assert_allclose(swapped.R_YM, found.R_YM, rtol=0, atol=1e-12)


@pytest.mark.parametrize(
    ("picks", "says"),
    [
        (((0, 1, 0), (0, 1, 0), (5, 0, 0)), "one point"),
        (((0, 1, 0), (0, -1, 0), (0, 0, 0)), "in the middle"),
        (((0, 1, 0), (0, -1, 0), (0, 9, 0)), "one line"),
        (((0, 1, 0), (0, -1, 0), (np.nan, 9, 0)), "finite numbers"),
        (((0, 1), (0, -1), (1, 9)), "three finite numbers"),
    ],
)
def test_picks_that_say_nothing(picks: tuple[object, ...], says: str) -> None:
    with pytest.raises(MeshError, match=says):
        three_picks(*picks)  # type: ignore[arg-type]


@pytest.mark.parametrize("R", [2.0 * np.eye(3), np.diag([1.0, 1.0, -1.0]), np.eye(2)])
def test_a_placement_is_a_rotation(R: np.ndarray) -> None:
    with pytest.raises(MeshError, match="rotation"):
        Placement(R, np.zeros(3), "picks")


@pytest.mark.slow
def test_the_finder_does_not_depend_on_how_dense_the_mesh_is() -> None:
    for faces in (None, 60_000, 15_000, 3_000, 1_500):
        scan = dense(own_yoke("weld yoke"), 1.5, 0.05)
        scan = scan if faces is None else collapsed(scan, faces)
        R, p = somewhere(6)
        found = placed_by_bores(scan.moved(R, p))
        degrees, mm = off_by(found.R_YM, found.p_YM_Y, R, p)
        assert degrees < 0.12
        assert mm < 0.1


@pytest.mark.slow
@pytest.mark.parametrize(("edge", "noise", "within"), [(2.0, 0.0, 0.02), (2.0, 0.03, 0.06)])
@pytest.mark.parametrize("shift", [0.0, 0.5])
def test_bores_out_of_line_are_told(edge: float, noise: float, within: float, shift: float) -> None:
    """One ear pushed along the shaft: each bore's axis then misses the other by so much."""
    scan = dense(own_yoke("weld yoke"), edge, noise)
    share = np.clip((30.0 - scan.vertices[:, 0]) / 15.0, 0.0, 1.0) * (scan.vertices[:, 1] > 0.0)
    pushed = scan.vertices + np.outer(shift * share, [1.0, 0.0, 0.0])
    R, p = somewhere(9)
    bores = likely_bores(Mesh.uniform(pushed, scan.faces, "surface").moved(R, p))[0]
    np.testing.assert_allclose(bores.out_of_line, shift, rtol=0, atol=within)
    np.testing.assert_allclose(bores.scaled(25.4).out_of_line, 25.4 * bores.out_of_line, rtol=1e-12)
