"""Yokes drawn by a general CAD kernel: placed to what their facets allow, and certified.

The truth is how they were drawn (`tests/outside/drawn`): the cross centre and both axes are known
by construction, and nothing of the program's own shapes is in them.
"""

from math import acos, asin, cos, degrees, radians, sqrt
from pathlib import Path

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import TouchCurve, touch_curve
from geometry.errors import MeshError
from geometry.imported import Fittings, ImportedYoke, imported_yoke
from geometry.imported.placing import witness_of
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from tests.geometry.scan_like import off_by
from tests.outside.drawn.yokes import CONTRADICTING, DRAWN, DrawnYoke
from tests.outside.second_library import coal_cuts, coal_mesh

BY_NAME = {yoke.name: yoke for yoke in (*DRAWN, *CONTRADICTING)}

CURVED = ("curved", "sliding", "drafted", "stated-crown")
"""Makes whose ears have no flat to measure, so that a span is that of the rims."""


def made_of(yoke: DrawnYoke, folder: Path, **more: object) -> ImportedYoke:
    unit = "mm" if yoke.mm == 1.0 else "in"
    return imported_yoke(yoke.write(folder), unit, **more)  # type: ignore[arg-type]


def by_hand(yoke: DrawnYoke) -> Mesh:
    """The triangles of the file, placed as they were drawn and joined at their corners."""
    body = yoke.true()
    body.merge_vertices(digits_vertex=4)
    return Mesh.uniform(body.vertices, body.faces, "drawn")


@pytest.mark.slow
@pytest.mark.parametrize("yoke", DRAWN, ids=[yoke.name for yoke in DRAWN])
def test_a_drawn_yoke_is_placed_where_it_was_drawn(yoke: DrawnYoke, tmp_path: Path) -> None:
    """Cross centre to 0.02 mm, axes to 0.02 deg; bores and ears as drawn; sure of itself."""
    made = made_of(yoke, tmp_path)
    placement = made.report.placement
    turned, shifted = off_by(placement.R_YM, placement.p_YM_Y, *yoke.X)
    assert turned < 0.02
    assert shifted < 0.02
    bores = placement.bores
    assert bores is not None
    np.testing.assert_allclose(bores.diameter, yoke.bore, rtol=0, atol=0.01)
    few = 0.1 if yoke.name.startswith(CURVED) else 0.01
    np.testing.assert_allclose(bores.inside_span, yoke.inside, rtol=0, atol=few)
    np.testing.assert_allclose(bores.outside_span, yoke.outside, rtol=0, atol=few)
    assert bores.confidence > 0.95
    assert bores.spread < 0.01
    assert bores.arc == pytest.approx(0.5 if yoke.half else 1.0, abs=0.03)
    witness = witness_of(placement)
    assert witness is not None
    assert witness.beside < 0.01
    assert max(witness.skew, witness.turn) < radians(0.01)
    assert not {"bores-unsure", "bores-not-round"} & {note.code for note in made.report.checks}


@pytest.mark.slow
def test_each_end_of_an_ear_is_measured_for_itself(tmp_path: Path) -> None:
    """Curved inside and flat outside: the faces of the one kind are known, the others are not."""
    made = made_of(BY_NAME["curved-flat-outside"], tmp_path)
    bores = made.report.placement.bores
    assert bores is not None
    assert np.isnan(bores.inside).all()
    np.testing.assert_allclose(bores.outside, [-46.0, 46.0], rtol=0, atol=1e-3)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "says"), [("beside", r"2\.3 mm beside"), ("leaning", r"3\.0 deg from square")]
)
def test_ears_and_stub_that_contradict_each_other_are_asked_back(
    name: str, says: str, tmp_path: Path
) -> None:
    """In one line, which tells what to do; picks are taken at their word."""
    yoke = BY_NAME[name]
    with pytest.raises(MeshError, match=says) as told:
        made_of(yoke, tmp_path)
    assert len(str(told.value).splitlines()) == 1
    assert "pick three points" in str(told.value)
    R, p = yoke.X
    picks = np.array([[0.0, 38.0, 0.0], [0.0, -38.0, 0.0], [80.0, 0.0, 0.0]]) @ R.T + p
    assert made_of(yoke, tmp_path, picks=list(picks)).report.placement.how == "picks"


PAIRS = [
    ("curved-leaning", "curved-leaning"),
    ("curved-coarse", "ring-grooves"),
    ("lightened", "bolted-caps"),
]


def curve_of(one: DrawnYoke, other: DrawnYoke, folder: Path) -> TouchCurve:
    bare = Fittings(caps=False)
    meshes = [made_of(yoke, folder, fittings=bare).yoke.contact for yoke in (one, other)]
    return touch_curve(ClosingJoint(JointParts(*meshes)))


@pytest.mark.slow
@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_the_certificate_holds_on_the_file_itself(one: str, other: str, tmp_path: Path) -> None:
    """Brute force by Coal 3 on the file's own triangles, placed as they were drawn.

    Nothing cuts up to the certificate; something does 0.1 deg beyond the touch.
    """
    drawn = BY_NAME[one], BY_NAME[other]
    curve = curve_of(*drawn, tmp_path)
    assert curve.first is not None
    assert degrees(curve.touch_min - curve.certified_clear) <= 0.05
    a, b = (coal_mesh(by_hand(yoke)) for yoke in drawn)
    clear = curve.certified_clear
    for spin in np.radians(np.arange(0.0, 360.0, 0.5)):
        assert not coal_cuts(a, b, driven_in_driving(clear, spin))
    for bend in np.arange(0.0, clear, radians(2.0)):
        for spin in np.radians(np.arange(0.0, 360.0, 3.0)):
            assert not coal_cuts(a, b, driven_in_driving(bend, spin))
    around = curve.first.spin + np.radians(np.arange(-1.0, 1.01, 0.1))
    beyond = curve.touch_min + radians(0.1)
    assert any(coal_cuts(a, b, driven_in_driving(beyond, spin)) for spin in around)


def least_bend(floor: float, edge: np.ndarray) -> float:
    """Least bend, rad, at which an ear's edge meets a flat floor square to the other shaft.

    edge : (n, 3) points of it: toward the floor, along the other yoke's bores, along its own.
    With the turns u about the other yoke's bores and v about its own, the bend is
    acos(cos u cos v) and the height of a point cos u (x cos v + y sin v) + z sin u [derivation].
    """
    least = np.inf
    x, y, z = edge.T
    for v in np.radians(np.arange(-40.0, 40.0, 0.02)):
        level = x * np.cos(v) + y * np.sin(v)
        u = np.arcsin(np.minimum(1.0, floor / np.hypot(level, z))) - np.arctan2(level, z)
        least = min(least, acos(cos(float(u.min())) * cos(float(v))))
    return least


def test_the_plain_case_of_the_stated_angle() -> None:
    """Turned about the one pair of bores alone: asin(30 / hypot(20, 44)) - atan(20 / 44)."""
    edge = np.array([[20.0, 0.0, 44.0]])
    plain = asin(30.0 / sqrt(20.0**2 + 44.0**2)) - np.arctan2(20.0, 44.0)
    assert least_bend(30.0, edge) == pytest.approx(plain, abs=1e-9)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "floor", "edge"),
    [
        ("stated-angle", 30.0, [[20.0, y, 44.0] for y in (-19.0, 19.0)]),
        (
            "stated-crown",
            34.0,
            [[18.0, y, 14.0 + sqrt(30.0**2 - y**2)] for y in np.linspace(-20.0, 20.0, 401)],
        ),
    ],
)
def test_a_joint_drawn_for_a_stated_angle_touches_there(
    name: str, floor: float, edge: list[list[float]], tmp_path: Path
) -> None:
    """Flat floor; ears with a straight edge, and crowned ones, whose edge is round."""
    yoke = BY_NAME[name]
    curve = curve_of(yoke, yoke, tmp_path)
    stated = degrees(least_bend(floor, np.array(edge)))
    # Facets inside the crown touch late by their chord, 0.01 mm at 48 mm.
    assert degrees(curve.touch_min) == pytest.approx(stated, abs=0.03)
    assert degrees(curve.certified_clear) <= stated + 0.015
    assert degrees(curve.certified_clear) >= stated - 0.08
