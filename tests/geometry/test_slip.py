from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.slip import SlipShape
from geometry.spline import tooth_outline

ORDINARY: dict[str, Any] = {
    "name": "plain",
    "tube_diameter": 76.2,
    "shoulder": 7.0,
    "pilot_diameter": 72.0,
    "pilot_length": 14.0,
    "spline_diameter": 35.0,
    "spline_teeth": 16,
    "spline_length": 130.0,
    "neck_length": 40.0,
    "sleeve_diameter": 48.0,
    "sleeve_depth": 140.0,
    "boot_diameter": 65.0,
}
HALF_TURN = np.diag([-1.0, -1.0, 1.0])


def test_both_halves_are_sound() -> None:
    slip = SlipShape(**ORDINARY).build()
    for mesh in (slip.sleeve, slip.stub):
        assert mesh.is_watertight
        assert mesh.volume > 0.0
        np.testing.assert_allclose(mesh.bounds[0, 0], -14.0, rtol=1e-12)
    np.testing.assert_allclose(slip.sleeve.bounds[1, 0], slip.shape.sleeve_length, rtol=1e-12)
    np.testing.assert_allclose(slip.stub.bounds[1, 0], slip.shape.stub_length, rtol=1e-12)
    assert "spline" in slip.stub.label_names
    assert "spline" in slip.sleeve.label_names


@given(st.floats(1.0, 139.0))
@settings(max_examples=15, deadline=None)
def test_engagement_places_the_halves(engaged: float) -> None:
    """Put together, the spline's end is `engaged` behind the mouth of the sleeve."""
    shape = SlipShape(**ORDINARY)
    slip = shape.build()
    lands = shape.between_lands(engaged)
    placed = slip.stub.moved(HALF_TURN, (lands, 0.0, 0.0))
    mouth = slip.sleeve.bounds[1, 0]
    np.testing.assert_allclose(mouth - placed.bounds[0, 0], engaged, rtol=0.0, atol=1e-9)


@given(st.floats(5.0, 125.0))
@settings(max_examples=15, deadline=None)
def test_the_boot_reaches_from_the_sleeve_to_the_neck(engaged: float) -> None:
    shape = SlipShape(**ORDINARY)
    boot, start = shape.boot(engaged)
    assert boot.is_watertight
    assert boot.volume > 0.0
    assert start < shape.sleeve_length
    end = start + boot.bounds[1, 0]
    np.testing.assert_allclose(
        end, shape.between_lands(engaged) - shape.shoulder - 18.0, rtol=1e-12
    )
    assert boot.bounds[1, 1] <= 0.5 * ORDINARY["boot_diameter"] + 1.0


def test_the_stubs_teeth_fit_the_sleeves_grooves() -> None:
    stub, sleeve = tooth_outline(35.0, 16), tooth_outline(35.2, 16)
    away = np.hypot(*stub.T), np.hypot(*sleeve.T)
    assert (away[0] < away[1]).all()
    angle = [np.arctan2(outline[:, 1], outline[:, 0]) for outline in (stub, sleeve)]
    np.testing.assert_allclose(angle[0], angle[1], rtol=0.0, atol=1e-12)


@pytest.mark.parametrize("engaged", [0.0, -3.0, 175.0])
def test_a_boot_with_no_place_is_refused(engaged: float) -> None:
    with pytest.raises(ShapeError, match="leaves the boot no place"):
        SlipShape(**ORDINARY).boot(engaged)


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"sleeve_diameter": 38.0}, ("spline_diameter", "sleeve_diameter")),
        ({"boot_diameter": 50.0}, ("boot_diameter", "sleeve_diameter")),
        ({"pilot_diameter": 77.0}, ("pilot_diameter", "tube_diameter")),
        ({"spline_teeth": 4}, ("spline_teeth", "6 or more")),
        ({"sleeve_depth": 180.0}, ("sleeve_depth", "spline_length")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, ...]) -> None:
    with pytest.raises(ShapeError) as caught:
        SlipShape(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)
