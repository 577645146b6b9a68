from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.yoke import WeldYoke
from tests.geometry.metal import (
    assert_holds_true_surface,
    assert_round_ears,
    assert_sound_or_refused,
    assert_sound_yoke,
    built,
    nudged,
    ring,
    round_ears,
    winding,
)

ORDINARY: dict[str, Any] = {
    "name": "plain",
    "bore": 27.0,
    "cap_span": 82.0,
    "cap_length": 17.0,
    "inside_span": 54.0,
    "ear_thickness": 16.5,
    "ear_edge": 3.5,
    "throat_depth": 30.0,
    "throat_radius": 20.0,
    "saddle_radius": 70.0,
    "ear_radius": 20.0,
    "ear_root_width": 46.0,
    "tube_diameter": 76.2,
    "weld_land": 54.0,
    "shoulder": 7.0,
    "weld_bead": 6.0,
    "pilot_diameter": 72.0,
    "pilot_length": 14.0,
}


@st.composite
def weld_yokes(draw: st.DrawFn) -> dict[str, Any]:
    ears = draw(round_ears())
    tube = draw(st.floats(50.0, 115.0))
    shoulder = draw(st.floats(4.0, 12.0))
    return ears | {
        "tube_diameter": tube,
        "shoulder": shoulder,
        "weld_land": ears["throat_depth"] + shoulder + draw(st.floats(2.5, 30.0)),
        "weld_bead": shoulder * draw(st.floats(0.3, 0.95)),
        "pilot_diameter": tube - draw(st.floats(3.0, 8.0)),
        "pilot_length": draw(st.floats(5.0, 25.0)),
    }


@given(weld_yokes())
@settings(max_examples=12, deadline=None)
def test_any_legal_weld_yoke_is_sound_and_holds_its_true_surfaces(dims: dict[str, Any]) -> None:
    yoke = built(WeldYoke, dims)
    assert_sound_yoke(yoke)
    assert_round_ears(yoke.contact, dims)
    land, half = dims["weld_land"], 0.5 * dims["weld_bead"]
    turn = np.linspace(-np.pi, np.pi, 32)
    tube = [land + half + 0.01, land + 59.0]
    assert_holds_true_surface(yoke.contact, *ring(0.5 * dims["tube_diameter"], tube, turn, "x"))
    assert yoke.weld_land == land
    assert yoke.dimensions == {key: value for key, value in dims.items() if key != "name"}


@given(weld_yokes(), st.data())
@settings(max_examples=25, deadline=None)
def test_near_any_legal_weld_yoke_comes_a_sound_one_or_a_plain_error(
    dims: dict[str, Any], data: st.DataObject
) -> None:
    assert_sound_or_refused(WeldYoke, data.draw(nudged(dims)))


def test_the_surfaces_are_named() -> None:
    assert set(WeldYoke(**ORDINARY).build().contact.label_names) == {
        "ear tip",
        "ear flank",
        "ear root",
        "ear outside face",
        "ear inside face",
        "throat",
        "cap",
        "weld shoulder",
        "tube end",
    }


def test_the_surfaces_are_where_their_names_say() -> None:
    mesh = WeldYoke(**ORDINARY).build().contact
    middle = mesh.triangles.mean(axis=1)
    out = mesh.area_vectors / np.linalg.norm(mesh.area_vectors, axis=1, keepdims=True)
    assert (middle[mesh.on("ear tip"), 0] < 0.0).all()
    assert (middle[mesh.on("throat"), 0] > 0.0).all()
    assert (middle[mesh.on("tube end"), 0] > 54.0).all()
    inside = mesh.on("ear inside face")
    np.testing.assert_allclose(np.abs(middle[inside, 1]), 27.0, rtol=0.0, atol=1e-9)
    assert (out[inside, 1] * middle[inside, 1] < 0.0).all()
    np.testing.assert_allclose(
        np.abs(middle[mesh.on("ear outside face"), 1]).max(), 43.5, rtol=0.0, atol=1e-9
    )


def test_what_can_touch_is_of_the_size_that_is_quick_to_ask() -> None:
    assert 1000 <= len(WeldYoke(**ORDINARY).build().contact.faces) <= 3500


def test_the_throat_floor_is_at_its_depth() -> None:
    mesh = WeldYoke(**ORDINARY).build().contact
    across = np.array([[30.0 - 1e-6, 0.0, 0.0], [30.0 + 1e-6, 0.0, 0.0]])
    np.testing.assert_allclose(winding(mesh, across), [0.0, 1.0], rtol=0.0, atol=1e-4)


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"ear_radius": 15.0}, ("ear_radius", "bore")),
        ({"ear_root_width": 39.0}, ("ear_root_width", "ear_radius")),
        ({"ear_root_width": 90.0}, ("ear_root_width", "throat_depth")),
        ({"ear_thickness": 12.0}, ("ear_thickness", "cap_span")),
        ({"cap_length": 13.0}, ("cap_length", "inside_span")),
        ({"cap_length": 36.0}, ("cap_length", "cap_span")),
        ({"throat_radius": 28.0}, ("throat_radius", "inside_span")),
        ({"throat_depth": 15.0}, ("throat_depth", "bore")),
        ({"throat_depth": 46.0}, ("throat_depth", "weld_land")),
        ({"ear_edge": 8.0}, ("ear_edge", "ear_thickness")),
        ({"pilot_diameter": 80.0}, ("pilot_diameter", "tube_diameter")),
        ({"weld_bead": 9.0}, ("weld_bead", "shoulder")),
        ({"bore": -27.0}, ("bore", "more than 0")),
        ({"bore": float("nan")}, ("bore", "more than 0")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, str]) -> None:
    with pytest.raises(ShapeError) as caught:
        WeldYoke(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)


def test_every_dimension_says_what_to_measure() -> None:
    described = WeldYoke.described()
    assert [item.name for item in described] == [key for key in ORDINARY if key != "name"]
    assert all(item.about and item.unit == "length" for item in described)
