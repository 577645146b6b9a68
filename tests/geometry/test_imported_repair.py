import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.contact.containment import holds
from geometry.errors import MeshError
from geometry.imported import LIMITS, RawMesh, repaired
from geometry.imported.crossings import crossings_of
from geometry.imported.repair import FILLED, RepairReport
from geometry.mesh import Mesh
from tests.geometry.scan_like import dense, own_yoke
from tests.simple_shapes import ball, box

BALL = ball((1.0, 2.0, 3.0), 20.0, "ball")
BLOCK = dense(box((0.0, 0.0, 0.0), (40.0, 60.0, 80.0), "block"), 8.0)


def raw(mesh: Mesh, keep: np.ndarray | None = None) -> RawMesh:
    faces = np.asarray(mesh.faces, dtype=np.int64)
    return RawMesh(mesh.vertices, faces if keep is None else faces[keep], source="part.stl")


def soup(mesh: Mesh) -> RawMesh:
    """As an STL file has it: no shared corners."""
    points = mesh.triangles.reshape(-1, 3)
    return RawMesh(points, np.arange(len(points)).reshape(-1, 3))


def both(one: Mesh, other: Mesh) -> Mesh:
    return Mesh.join([one, other])


def test_a_sound_mesh_is_left_as_it_is() -> None:
    mesh, report = repaired(soup(BALL))
    assert report == RepairReport(faces=len(BALL.faces))
    assert mesh.is_watertight
    np.testing.assert_allclose(mesh.volume, BALL.volume, rtol=1e-12, atol=0)
    assert len(mesh.vertices) == len(BALL.vertices)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(0.0, 1.0))
def test_any_faces_may_be_turned_over(seed: int, share: float) -> None:
    over = np.random.default_rng(seed).random(len(BALL.faces)) < share
    faces = np.where(over[:, None], BALL.faces[:, ::-1], BALL.faces)
    mesh, report = repaired(RawMesh(BALL.vertices, faces))
    assert mesh.is_watertight
    np.testing.assert_allclose(mesh.volume, BALL.volume, rtol=1e-12, atol=0)
    assert report.flipped == over.sum()


def test_pieces_are_each_turned_outward() -> None:
    far = box((100.0, 0.0, 0.0), (140.0, 40.0, 40.0), "far")
    inward = Mesh.uniform(far.vertices, far.faces[:, ::-1], "far")
    mesh, report = repaired(soup(both(BALL, inward)))
    assert report.shells == 2
    assert report.flipped == 12
    np.testing.assert_allclose(mesh.volume, BALL.volume + far.volume, rtol=1e-12, atol=0)


def test_specks_and_hidden_pieces_go() -> None:
    speck = box((60.0, 0.0, 0.0), (60.5, 0.5, 0.5), "speck")
    inner = box((0.0, 1.0, 2.0), (2.0, 3.0, 4.0), "inner")
    mesh, report = repaired(soup(Mesh.join([BALL, speck, inner])))
    assert (report.shells, report.specks, report.hidden) == (3, 1, 1)
    np.testing.assert_allclose(mesh.volume, BALL.volume, rtol=1e-12, atol=0)


def test_doubled_collapsed_and_unfinished_triangles_go() -> None:
    n = len(BALL.faces)
    vertices = np.concatenate([BALL.vertices, [[np.nan, 0.0, 0.0]]])
    extra = [BALL.faces[5], np.roll(BALL.faces[7], 1), [3, 3, 9], [1, 2, len(BALL.vertices)]]
    mesh, report = repaired(RawMesh(vertices, np.concatenate([BALL.faces, extra])))
    assert report.faces == n + 4
    assert report.not_finite == 1
    assert report.doubled == 3
    assert mesh.is_watertight
    assert len(mesh.faces) == n


def test_a_flap_back_to_back_goes() -> None:
    """Two triangles back to back on one edge, as decimating leaves them."""
    a, b, _ = BALL.faces[0]
    vertices = np.concatenate([BALL.vertices, [[40.0, 0.0, 0.0]]])
    tip = len(BALL.vertices)
    faces = np.concatenate([BALL.faces, [[a, b, tip], [b, a, tip]]])
    mesh, report = repaired(RawMesh(vertices, faces))
    assert report.doubled == 2
    assert mesh.is_watertight


def test_rounding_at_a_seam_is_sewn_up() -> None:
    """Two halves whose common edge differs by what a text file rounds."""
    left = BALL.triangles.mean(axis=1)[:, 0] < 1.0
    halves = [BALL.triangles[left], BALL.triangles[~left] + 5e-4]
    points = np.concatenate(halves).reshape(-1, 3)
    mesh, report = repaired(RawMesh(points, np.arange(len(points)).reshape(-1, 3)))
    assert report.shells == 1
    assert report.holes == 0
    assert mesh.is_watertight


def test_small_holes_are_filled_flat() -> None:
    block = dense(BLOCK, 3.0)
    middle = block.triangles.mean(axis=1)
    # Three holes in three walls, the walls being flat: filling gives the block back.
    gone = np.zeros(len(middle), dtype=bool)
    for at in ([0.0, 30.0, 40.0], [20.0, 60.0, 50.0], [20.0, 20.0, 80.0]):
        gone |= np.linalg.norm(middle - at, axis=1) < 3.0
    mesh, report = repaired(raw(block, ~gone))
    assert report.holes == 3
    assert report.large_holes == 0
    assert report.closed
    assert mesh.label_names == ("surface",)
    assert mesh.is_watertight
    np.testing.assert_allclose(mesh.volume, BLOCK.volume, rtol=1e-12, atol=0)
    np.testing.assert_allclose(
        np.linalg.norm(mesh.area_vectors, axis=1).sum(), 2 * (2400 + 3200 + 4800), rtol=1e-12
    )


def test_a_large_hole_is_closed_and_named() -> None:
    """A yoke cut off at its shaft, as when the tube was in the vice."""
    yoke = dense(own_yoke("weld yoke"), 4.0)
    kept = yoke.triangles.mean(axis=1)[:, 0] < 55.0
    mesh, report = repaired(raw(yoke, kept))
    assert report.closed
    assert report.large_holes == 1
    assert 0.05 < report.filled_share < LIMITS.open_share
    assert mesh.is_watertight
    assert FILLED in mesh.label_names
    filled = mesh.triangles[mesh.on(FILLED)]
    assert filled[..., 0].min() > 50.0
    # The end is flat to a triangle, so points just inside it are inside and just outside are not.
    assert holds(mesh, [[50.0, 0.0, 0.0], [60.0, 0.0, 0.0]]).tolist() == [True, False]


def test_a_hole_whose_rim_dents_inward() -> None:
    """Ears are cut off the rim in the right order: the hollow side stays free."""
    middle = BLOCK.triangles.mean(axis=1)
    wall = middle[:, 2] > 79.9
    star = wall & (np.abs(middle[:, 0] - 20.0) < 16.0) & (np.abs(middle[:, 1] - 30.0) < 24.0)
    star &= (np.abs(middle[:, 0] - 20.0) < 4.0) | (np.abs(middle[:, 1] - 30.0) < 6.0)
    assert star.sum() > 20
    mesh, report = repaired(raw(BLOCK, ~star))
    assert report.holes == 1
    top = mesh.triangles.mean(axis=1)[:, 2] > 79.9
    np.testing.assert_allclose(
        np.linalg.norm(mesh.area_vectors[top], axis=1).sum(), 2400.0, rtol=1e-12, atol=0
    )


TWISTED = np.array([[np.cos(t), np.sin(t), 0.0] for t in np.linspace(0, 2 * np.pi, 24)[:-1]])
TILT = np.linspace(0, np.pi, 24)[:-1, None]
BAND = np.concatenate(
    [20 * TWISTED + s * 5 * (np.cos(TILT) * [[0, 0, 1]] + np.sin(TILT) * TWISTED) for s in (1, -1)]
)
LINKS = np.arange(22)
BAND_FACES = np.concatenate(
    [
        np.stack([LINKS, LINKS + 1, LINKS + 23], 1),
        np.stack([LINKS + 1, LINKS + 24, LINKS + 23], 1),
        [[22, 23, 45], [23, 0, 45]],
    ]
)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (raw(BALL, np.arange(len(BALL.faces)) < len(BALL.faces) // 2), "the surface is open over"),
        (RawMesh(BAND, BAND_FACES, source="part.stl"), "only one side"),
        (
            RawMesh(
                BALL.vertices,
                np.concatenate([BALL.faces, BALL.faces[:, ::-1]]),
                source="part.stl",
            ),
            "has a twin back to back",
        ),
        (RawMesh(np.zeros((3, 3)), np.array([[0, 1, 2]]), source="part.stl"), "all its points"),
        (raw(BLOCK, np.arange(len(BLOCK.faces)) % 7 == 0), "separate pieces"),
    ],
    ids=["half missing", "twisted band", "double sheet", "one point", "shreds"],
)
def test_what_cannot_be_repaired_is_told_in_one_line(given: RawMesh, says: str) -> None:
    with pytest.raises(MeshError, match=says) as told:
        repaired(given)
    assert str(told.value).startswith("part.stl: ")
    assert "\n" not in str(told.value)


def test_too_long_a_hole_and_too_many_open_edges(monkeypatch: pytest.MonkeyPatch) -> None:
    from dataclasses import replace

    from geometry.imported import holes

    cut = BALL.triangles.mean(axis=1)[:, 2] < 15.0
    monkeypatch.setattr(holes, "LIMITS", replace(LIMITS, hole_edges=10))
    with pytest.raises(MeshError, match="at most 10 are filled; close it in the scanner"):
        repaired(raw(BALL, cut))
    monkeypatch.setattr(holes, "LIMITS", replace(LIMITS, boundary_edges=10))
    with pytest.raises(MeshError, match="edges of the surface are open, at most 10"):
        repaired(raw(BALL, cut))


def test_a_raw_mesh_is_checked() -> None:
    with pytest.raises(MeshError, match="no triangles in it"):
        RawMesh(np.zeros((3, 3)), np.zeros((0, 3)))
    with pytest.raises(MeshError, match="point outside its 3 points"):
        RawMesh(np.zeros((3, 3)), np.array([[0, 1, 3]]))
    with pytest.raises(MeshError, match="vertices have shape"):
        RawMesh(np.zeros((3, 2)), np.array([[0, 1, 2]]))
    with pytest.raises(MeshError, match="faces have shape"):
        RawMesh(np.zeros((3, 3)), np.array([[0, 1]]))


def test_crossings_of_two_blocks_are_those_of_their_edges() -> None:
    """A bar through a wall: each of its 4 long sides cuts the wall's two faces."""
    wall = box((-10.0, -10.0, -1.0), (10.0, 10.0, 1.0), "wall")
    bar = box((-1.1, -1.2, -5.0), (1.3, 1.4, 5.0), "bar")
    found = crossings_of(both(wall, bar))
    assert found.complete
    assert len(found.faces) >= 8
    assert ((found.faces < 12).sum(axis=1) == 1).all()
    assert not len(crossings_of(wall).faces)
    assert not len(crossings_of(both(wall, bar.moved(np.eye(3), (30.0, 0.0, 0.0)))).faces)


@pytest.mark.slow
def test_crossings_against_asking_every_pair() -> None:
    random = np.random.default_rng(3)
    corners = random.uniform(0.0, 10.0, (150, 1, 3)) + random.normal(0.0, 1.5, (150, 3, 3))
    mesh = Mesh.uniform(corners.reshape(-1, 3), np.arange(450).reshape(-1, 3), "soup")
    found = {tuple(sorted(pair)) for pair in crossings_of(mesh).faces.tolist()}
    assert found == {
        (i, j)
        for i in range(150)
        for j in range(i + 1, 150)
        if cut_each_other(corners[i], corners[j])
    }
    assert len(found) > 50


def cut_each_other(one: np.ndarray, other: np.ndarray) -> bool:
    """By solving for where each edge meets the plane of the other triangle."""
    for first, second in ((one, other), (other, one)):
        for k in range(3):
            p, q = first[k], first[(k + 1) % 3]
            a, b, c = second
            try:
                s, t, u = np.linalg.solve(np.stack([b - a, c - a, p - q], axis=1), p - a)
            except np.linalg.LinAlgError:
                continue
            if s > 0 and t > 0 and s + t < 1 and 0 < u < 1:
                return True
    return False


def test_a_tangle_is_asked_only_in_part(monkeypatch: pytest.MonkeyPatch) -> None:
    from dataclasses import replace

    from geometry.imported import crossings

    monkeypatch.setattr(crossings, "LIMITS", replace(LIMITS, crossing_pairs=100))
    assert not crossings_of(BALL).complete
