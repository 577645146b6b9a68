from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import TouchCurve, touch_curve
from geometry.errors import MeshError
from geometry.imported import (
    FORMATS,
    LIMITS,
    Fittings,
    ImportedYoke,
    UnitQuestion,
    imported_yoke,
)
from geometry.mesh import Mesh
from sim.parts.catalogue import cross_shape, yoke_kinds, yoke_shape
from tests.geometry.scan_like import dense, off_by, own_yoke, somewhere, write

CROSS = cross_shape("27 x 82")
FITTINGS = Fittings(
    cap_diameter=CROSS.cap_diameter, cap_span=CROSS.span, cap_length=CROSS.cap_length
)
ARM = 30.0
"""mm. Contact is farther than this from the cross centre on every yoke of this size, so a
surface that is d out moves its touch by no more than about d / ARM."""


def touch(yoke: Mesh, mate: Mesh) -> TouchCurve:
    return touch_curve(ClosingJoint(JointParts(yoke, mate, CROSS.build().contact)), spins=36)


@pytest.fixture(scope="module")
def mate() -> Mesh:
    return yoke_shape("weld yoke", "27 x 82").build().contact


@pytest.mark.slow
@pytest.mark.parametrize("ending", FORMATS)
def test_round_trip_through_every_format(tmp_path: Path, ending: str, mate: Mesh) -> None:
    """Out at a random pose in inches, in again: the same surface, the same touch.

    The catalogue's sliding yoke has nothing in its contact that is not in its forging or added.
    """
    shape = yoke_shape("sliding yoke", "27 x 82")
    built = shape.build()
    R, p = somewhere(7)
    path = write(tmp_path / f"yoke{ending}", built.parts["body"].moved(R, p), 1 / 25.4, "inch")
    found = imported_yoke(path, fittings=FITTINGS)
    report = found.report
    assert report.unit.unit == "in"
    degrees, mm = off_by(report.placement.R_YM, report.placement.p_YM_Y, R, p)
    assert degrees < 0.05
    assert mm < 0.05
    assert report.decimation.deviation == 0.0
    assert report.repair.closed
    yoke = found.yoke
    assert yoke.kind == "imported yoke"
    assert yoke.name == "yoke"
    assert yoke.contact.is_watertight
    assert yoke.dimensions["depth_on_axis"] == pytest.approx(shape.throat_depth, abs=0.02)
    assert yoke.dimensions["bore"] == pytest.approx(shape.bore, abs=0.02)
    if ending in (".stl", ".glb"):  # single precision; the rest are the same to the last digit
        original, again = touch(built.contact, mate), touch(yoke.contact, mate)
        np.testing.assert_allclose(again.touch_min, original.touch_min, rtol=0, atol=1e-3)
        np.testing.assert_allclose(again.touch, original.touch, rtol=0, atol=2e-3, equal_nan=True)
        assert set(again.first.surfaces) == set(original.first.surfaces)  # type: ignore[union-attr]


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["weld yoke", "deep-throat weld yoke"])
def test_a_noisy_scan_touches_early_by_its_deviation_at_most(
    tmp_path: Path, kind: str, mate: Mesh
) -> None:
    shape = yoke_shape(kind, "27 x 82")
    R, p = somewhere(8)
    scan = dense(own_yoke(kind), 2.0, 0.03).moved(R, p)
    fittings = replace(
        FITTINGS,
        tube_diameter=shape.dimensions()["tube_diameter"],
        weld_land=shape.dimensions()["weld_land"],
    )
    found = imported_yoke(write(tmp_path / "scan.ply", scan), "mm", fittings=fittings)
    original, again = touch(shape.build().contact, mate), touch(found.yoke.contact, mate)
    deviation = found.report.decimation.deviation
    assert 0.0 < deviation < 0.5
    assert again.chord >= deviation
    assert again.touch_min <= original.touch_min + 0.002
    assert again.touch_min >= original.touch_min - deviation / ARM
    seen = np.isfinite(original.touch)
    assert (again.touch[seen] <= original.touch[seen] + 0.01).all()
    assert any(note.code == "thinned" for note in found.report.notes)


@pytest.mark.slow
@pytest.mark.parametrize("kind", yoke_kinds())
def test_surfaces_are_named_as_on_our_own_yokes(tmp_path: Path, kind: str) -> None:
    shape = yoke_shape(kind, "27 x 82")
    body = own_yoke(kind)
    found = imported_yoke(write(tmp_path / "a.ply", dense(body, 4.0)), "mm").yoke.parts["body"]
    assert {"throat", "ear tip", "ear bore", "ear inside face"} <= set(found.label_names)
    at = {name: found.triangles[found.on(name)].mean(axis=1) for name in found.label_names}
    assert at["ear tip"][:, 0].max() < shape.bore
    assert np.abs(at["throat"][:, 1]).max() < 0.5 * shape.inside_span + 2.0
    assert at["throat"][:, 0].min() > 0.0
    away = np.linalg.norm(at["ear bore"][:, [0, 2]], axis=1)
    np.testing.assert_allclose(away, 0.5 * shape.bore, rtol=0, atol=0.2)
    inside = np.abs(at["ear inside face"][:, 1])
    np.testing.assert_allclose(inside, 0.5 * shape.inside_span, rtol=0, atol=1.4)


@pytest.mark.slow
def test_three_picks_place_it_without_bores(tmp_path: Path) -> None:
    """A yoke scanned with its caps in, picked in the numbers of the file."""
    built = yoke_shape("weld yoke", "27 x 82").build()
    R, p = somewhere(9)
    path = write(tmp_path / "full.stl", built.contact.moved(R, p), 0.1)
    with pytest.raises(MeshError, match=r"full\.stl: no two round bores"):
        imported_yoke(path, "cm")
    picks = 0.1 * (np.array([[0.0, 43.0, 0.0], [0.0, -43.0, 0.0], [90.0, 0.0, 0.0]]) @ R.T + p)
    found = imported_yoke(path, "cm", list(picks))
    placement = found.report.placement
    assert placement.how == "picks"
    degrees, mm = off_by(placement.R_YM, placement.p_YM_Y, R, p)
    assert degrees < 1e-3
    assert mm < 1e-4
    np.testing.assert_allclose(found.yoke.contact.bounds, built.contact.bounds, rtol=0, atol=1e-4)
    with pytest.raises(MeshError, match="2 picks; expected three"):
        imported_yoke(path, "cm", list(picks[:2]))
    with pytest.raises(MeshError, match="the cross center comes to lie inside the metal"):
        imported_yoke(path, "cm", [picks[0], picks[2], picks[1]])


@pytest.mark.slow
def test_metres_by_the_bores_and_the_unit_that_is_asked_for(tmp_path: Path) -> None:
    path = write(tmp_path / "metres.stl", own_yoke("weld yoke"), 0.001)
    found = imported_yoke(path)
    assert found.report.unit.unit == "m"
    taken = next(note.values for note in found.report.notes if note.code == "unit-taken")
    assert (taken["unit"], taken["mm"]) == ("metres", 1000.0)
    path = write(tmp_path / "which.stl", own_yoke("weld yoke"), 0.07)
    with pytest.raises(UnitQuestion, match=r"which\.stl: the mesh is .* Which unit is it in"):
        imported_yoke(path)
    # What is given always wins, even where it makes no yoke.
    assert imported_yoke(path, "mm").yoke.contact.radius < 10.0
    with pytest.raises(MeshError, match="no unit 'bogus'"):
        imported_yoke(path, "bogus")


@pytest.mark.slow
def test_an_open_scan_says_where_it_guesses(tmp_path: Path) -> None:
    yoke = dense(own_yoke("weld yoke"), 4.0)
    kept = yoke.faces[yoke.triangles.mean(axis=1)[:, 0] < 55.0]
    path = write(tmp_path / "cut.ply", Mesh.uniform(yoke.vertices, kept, "surface"))
    found = imported_yoke(path)
    assert "filled hole" in found.yoke.contact.label_names
    assert found.yoke.contact.is_watertight
    assert any(note.code == "large-holes" for note in found.report.notes)


@pytest.mark.slow
def test_fittings(tmp_path: Path) -> None:
    path = write(tmp_path / "a.ply", own_yoke("weld yoke"))
    bare = imported_yoke(path, fittings=Fittings(caps=False)).yoke
    assert set(bare.parts) == {"body"}
    assert bare.tube_from is None
    own = imported_yoke(path).yoke
    caps = own.parts["caps"]
    np.testing.assert_allclose(caps.bounds[:, 1], [-43.5, 43.5], rtol=0, atol=0.05)
    assert np.abs(caps.vertices[:, 1]).min() == pytest.approx(27.0, abs=0.05)
    tube = imported_yoke(path, fittings=Fittings(tube_diameter=76.2, weld_land=54.0)).yoke
    assert tube.tube_from == 54.0
    assert tube.contact.bounds[1, 0] == 114.0
    assert "tube end" in tube.contact.label_names


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"tube_diameter": 76.2}, "needs a weld_land"),
        ({"cap_length": 20.0}, "needs a cap_span"),
        ({"cap_diameter": -1.0}, "cap_diameter is -1 mm"),
        ({"cap_span": float("nan")}, "cap_span is nan mm"),
    ],
)
def test_fittings_that_clash(values: dict[str, float], says: str) -> None:
    with pytest.raises(MeshError, match=says):
        Fittings(**values)  # type: ignore[arg-type]


@pytest.mark.slow
def test_caps_that_leave_no_room(tmp_path: Path) -> None:
    path = write(tmp_path / "a.ply", own_yoke("weld yoke"))
    with pytest.raises(MeshError, match=r"a\.ply: caps would reach"):
        imported_yoke(path, fittings=Fittings(cap_span=100.0, cap_length=60.0))


@pytest.mark.slow
def test_the_wrong_cross_is_noticed(tmp_path: Path) -> None:
    path = write(tmp_path / "a.ply", own_yoke("weld yoke"))
    notes = imported_yoke(path, "mm", fittings=Fittings(cap_diameter=30.16)).report.notes
    off = next(note.values for note in notes if note.code == "bores-off-caps")
    assert off["wide"] == pytest.approx(26.97, abs=0.005)
    assert off["cap"] == 30.16


@pytest.mark.slow
def test_the_result_is_the_same_every_time(tmp_path: Path) -> None:
    path = write(tmp_path / "a.stl", dense(own_yoke("strap yoke"), 6.0, 0.05))
    one, again = (imported_yoke(path) for _ in range(2))
    assert isinstance(one, ImportedYoke)
    assert one.yoke.contact.key() == again.yoke.contact.key()
    assert one.report.notes == again.report.notes
    assert one.report.source == "a.stl"


@pytest.mark.slow
def test_a_dense_scan_is_placed_and_brought_down(tmp_path: Path) -> None:
    """Not timed: that it comes through, by the bounds in docs/own-yokes.md."""
    scan = dense(own_yoke("weld yoke"), 1.0, 0.02)
    vertices, faces = np.asarray(scan.vertices), np.asarray(scan.faces)
    assert 150_000 < len(faces) < LIMITS.faces
    found = imported_yoke(write(tmp_path / "large.stl", Mesh.uniform(vertices, faces, "s")), "mm")
    assert len(found.yoke.parts["body"].faces) <= LIMITS.kept_faces
    assert found.report.placement.bores is not None
    assert found.report.placement.bores.confidence > 0.9
