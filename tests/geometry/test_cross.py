from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.contact.symmetry import is_symmetric
from geometry.cross import CrossShape
from geometry.errors import BindpointError, ShapeError
from tests.geometry.metal import assert_sound

ORDINARY: dict[str, Any] = {
    "name": "plain",
    "cap_diameter": 27.0,
    "span": 82.0,
    "cap_length": 17.0,
    "trunnion_diameter": 16.5,
    "hub_diameter": 22.0,
    "hub_span": 40.0,
    "fitting_length": 10.0,
    "fitting_hexagon": 7.9,
    "fitting_tilt": 0.25,
}


@st.composite
def crosses(draw: st.DrawFn) -> dict[str, Any]:
    cap = draw(st.floats(20.0, 45.0))
    trunnion = cap - draw(st.floats(4.0, 12.0))
    hub = trunnion + draw(st.floats(1.0, 10.0))
    hub_span = 1.2 * hub + draw(st.floats(1.0, 40.0))
    cap_length = cap * draw(st.floats(0.5, 0.7))
    return {
        "name": "random",
        "cap_diameter": cap,
        "span": hub_span + 2.0 * cap_length + draw(st.floats(1.0, 10.0)),
        "cap_length": cap_length,
        "trunnion_diameter": trunnion,
        "hub_diameter": hub,
        "hub_span": hub_span,
        "fitting_length": draw(st.floats(3.0, 20.0)),
        "fitting_hexagon": draw(st.floats(5.0, 10.0)),
        "fitting_tilt": draw(st.floats(-1.1, 1.1)),
    }


@given(crosses())
@settings(max_examples=20, deadline=None)
def test_any_legal_cross_is_sound_and_keeps_out_of_its_caps(dims: dict[str, Any]) -> None:
    cross = CrossShape(**dims).build()
    assert_sound(cross.contact)
    for part in cross.parts.values():
        assert part.is_watertight
        assert part.volume > 0.0
    hub = cross.contact.vertices[np.unique(cross.contact.faces[cross.contact.on("hub")])]
    half = 0.5 * dims["hub_span"]
    np.testing.assert_allclose(np.abs(hub[:, :2]).max(axis=0), half, rtol=1e-12)
    np.testing.assert_allclose(
        np.abs(cross.parts["cross"].vertices[:, :2]).max(axis=0),
        0.5 * dims["span"] - 2.0,
        rtol=1e-12,
    )
    assert cross.dimensions == {key: value for key, value in dims.items() if key != "name"}


@given(crosses(), st.data())
@settings(max_examples=30, deadline=None)
def test_near_any_legal_cross_comes_a_sound_one_or_a_plain_error(
    dims: dict[str, Any], data: st.DataObject
) -> None:
    name = data.draw(st.sampled_from([key for key in dims if key != "name"]))
    try:
        cross = CrossShape(**(dims | {name: dims[name] * data.draw(st.floats(0.3, 2.5))})).build()
    except BindpointError:
        return
    assert cross.contact.is_watertight


def test_the_hub_has_two_arms_alike() -> None:
    cross = CrossShape(**ORDINARY).build()
    arms = cross.parts["cross"]
    assert is_symmetric(arms, np.array([-1.0, -1.0, 1.0]))
    np.testing.assert_allclose(arms.vertices[:, 0].max(), arms.vertices[:, 1].max(), rtol=1e-12)


def test_the_fitting_stands_between_two_arms_and_leans_to_the_driving_shaft() -> None:
    cross = CrossShape(**ORDINARY).build()
    fitting = cross.contact.triangles[cross.contact.on("grease fitting")].mean(axis=1)
    middle = fitting.mean(axis=0)
    np.testing.assert_allclose(middle[0], middle[1], rtol=0.0, atol=0.3)
    assert middle[2] > 0.0
    level = CrossShape(**(ORDINARY | {"fitting_tilt": 0.0})).build().parts["grease fitting"]
    np.testing.assert_allclose(level.bounds[0, 2], -level.bounds[1, 2], rtol=1e-9)


def test_longer_fittings_stand_out_further() -> None:
    radii = [
        CrossShape(**(ORDINARY | {"fitting_length": length})).build().contact.radius
        for length in (8.0, 12.0, 16.0)
    ]
    np.testing.assert_allclose(np.diff(radii), 4.0, rtol=0.0, atol=0.1)


def test_it_is_quick_to_ask() -> None:
    assert len(CrossShape(**ORDINARY).build().contact.faces) < 1500


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"trunnion_diameter": 26.0}, ("trunnion_diameter", "cap_diameter")),
        ({"hub_diameter": 16.0}, ("hub_diameter", "trunnion_diameter")),
        ({"hub_span": 24.0}, ("hub_span", "hub_diameter")),
        ({"hub_span": 48.5}, ("hub_span", "caps")),
        ({"fitting_tilt": 1.5}, ("fitting_tilt", "1.5 rad")),
        ({"fitting_tilt": float("nan")}, ("fitting_tilt", "nan")),
        ({"span": 0.0}, ("span", "more than 0")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, ...]) -> None:
    with pytest.raises(ShapeError) as caught:
        CrossShape(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)
