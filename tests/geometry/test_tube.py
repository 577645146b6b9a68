from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.tube import TubeShape, weld_bead
from tests.geometry.metal import assert_holds_true_surface, assert_sound, ring


@pytest.mark.slow
@given(st.floats(30.0, 120.0), st.floats(0.02, 0.4), st.floats(60.0, 2000.0))
@settings(max_examples=15, deadline=None)
def test_a_tube_holds_its_metal(outside: float, thick: float, cut_length: float) -> None:
    wall = thick * 0.5 * outside
    tube = TubeShape(outside=outside, wall=wall, cut_length=cut_length, weld_bead=6.0).build()
    mesh = tube.parts["tube"]
    assert_sound(mesh)
    assert_sound(tube.contact)
    turn = np.linspace(-pi, pi, 60)
    along = [0.1 * cut_length, 0.8 * cut_length]
    points, out = ring(0.5 * outside, along, turn, "x")
    assert_holds_true_surface(mesh, points, out)
    points, out = ring(0.5 * outside - wall, along, turn, "x")
    assert_holds_true_surface(mesh, points, -out)
    np.testing.assert_allclose(mesh.bounds[:, 0], [0.0, cut_length], rtol=0.0, atol=1e-9)


def test_beads_lie_over_both_ends() -> None:
    tube = TubeShape(outside=76.2, wall=2.1, cut_length=500.0, weld_bead=6.0).build()
    beads = tube.parts["weld beads"]
    assert beads.is_watertight
    assert beads.volume > 0.0
    np.testing.assert_allclose(beads.bounds[:, 0], [-3.0, 503.0], rtol=1e-12)
    assert 38.1 < beads.bounds[1, 1] < 38.1 + 3.0


def test_a_bead_is_rippled_all_round() -> None:
    bead = weld_bead(38.1, 6.0, 0.0)
    away = np.hypot(bead.vertices[:, 1], bead.vertices[:, 2])
    crown = away[away > 38.1 + 1.0]
    assert np.ptp(crown) > 0.2
    np.testing.assert_allclose(bead.vertices.mean(axis=0)[1:], 0.0, rtol=0.0, atol=1e-9)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"wall": 40.0}, "wall 40 mm"),
        ({"weld_bead": 600.0}, "weld_bead 600 mm"),
        ({"outside": 0.0}, "outside is 0"),
    ],
)
def test_what_is_no_tube_is_refused(change: dict[str, float], says: str) -> None:
    given_ = {"outside": 76.2, "wall": 2.1, "cut_length": 500.0, "weld_bead": 6.0}
    with pytest.raises(ShapeError, match=says):
        TubeShape(**(given_ | change))
