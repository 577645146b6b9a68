from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.head import CentreYoke
from geometry.symmetry import is_symmetric
from tests.geometry.metal import (
    assert_holds_true_surface,
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
    "throat_depth": 27.0,
    "throat_radius": 12.0,
    "saddle_radius": 150.0,
    "ear_radius": 20.0,
    "ear_root_width": 44.0,
    "span": 72.0,
    "ring_width": 75.0,
    "window_diameter": 50.0,
}


@st.composite
def centre_yokes(draw: st.DrawFn) -> dict[str, Any]:
    ears = draw(round_ears())
    ears["saddle_radius"] = ears["bore"] * draw(st.floats(3.0, 12.0))
    window = ears["inside_span"] * draw(st.floats(0.6, 1.0))
    fall = ears["saddle_radius"] - np.sqrt(ears["saddle_radius"] ** 2 - (0.5 * window) ** 2)
    return ears | {
        "span": 2.0 * (ears["throat_depth"] + fall) + draw(st.floats(3.0, 25.0)),
        "ring_width": window + draw(st.floats(6.0, 40.0)),
        "window_diameter": window,
    }


@given(centre_yokes())
@settings(max_examples=12, deadline=None)
def test_any_legal_centre_yoke_is_sound_and_alike_at_both_ends(dims: dict[str, Any]) -> None:
    yoke = built(CentreYoke, dims)
    assert_sound_yoke(yoke)
    about_middle = yoke.contact.moved(np.eye(3), [-0.5 * dims["span"], 0.0, 0.0])
    assert is_symmetric(about_middle, np.array([-1.0, 1.0, 1.0]))
    bounds = yoke.contact.bounds
    np.testing.assert_allclose(bounds[0, 0], -dims["ear_radius"], rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(bounds[1, 0], dims["span"] + dims["ear_radius"], atol=1e-9)


@given(centre_yokes(), st.data())
@settings(max_examples=25, deadline=None)
def test_near_any_legal_centre_yoke_comes_a_sound_one_or_a_plain_error(
    dims: dict[str, Any], data: st.DataObject
) -> None:
    assert_sound_or_refused(CentreYoke, data.draw(nudged(dims)))


def test_the_window_is_a_true_hole_through_the_ring() -> None:
    mesh = CentreYoke(**ORDINARY).build().contact
    turn = np.linspace(-np.pi, np.pi, 48)
    points, out = ring(25.0, [33.0, 36.0, 39.0], turn, "x")
    assert_holds_true_surface(mesh, points, -out)
    on_axis = np.column_stack([np.linspace(-30.0, 102.0, 45), np.zeros((45, 2))])
    np.testing.assert_allclose(winding(mesh, on_axis), 0.0, rtol=0.0, atol=1e-4)


def test_the_surfaces_are_named() -> None:
    assert set(CentreYoke(**ORDINARY).build().contact.label_names) == {
        "ear tip",
        "ear flank",
        "ear root",
        "ear outside face",
        "ear inside face",
        "ring",
        "window",
        "cap",
    }


def test_the_ring_is_what_is_between_the_two_throats() -> None:
    mesh = CentreYoke(**ORDINARY).build().contact
    x = mesh.triangles.mean(axis=1)[mesh.on("ring"), 0]
    assert x.min() > 10.0
    assert x.max() < 62.0
    window = mesh.triangles[mesh.on("window")]
    assert np.hypot(window[..., 1], window[..., 2]).max() == pytest.approx(25.0, abs=1e-9)


def test_the_ring_is_as_thick_as_it_says() -> None:
    """At the sides of the window the metal reaches from saddle to saddle, and no more."""
    shape = CentreYoke(**ORDINARY)
    half, side = 0.5 * shape.ring_thickness, 25.05
    mesh = shape.build().contact
    within = [[36.0 - half + 0.05, 0.0, side], [36.0 + half - 0.05, 0.0, side]]
    np.testing.assert_allclose(winding(mesh, np.array(within)), 1.0, rtol=0.0, atol=1e-4)
    beyond = [[36.0 - half - 1.5, 0.0, side], [36.0 + half + 1.5, 0.0, side]]
    np.testing.assert_allclose(winding(mesh, np.array(beyond)), 0.0, rtol=0.0, atol=1e-4)


def test_what_can_touch_is_of_the_size_that_is_quick_to_ask() -> None:
    assert 1000 <= len(CentreYoke(**ORDINARY).build().contact.faces) <= 3500


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"window_diameter": 55.0}, ("window_diameter", "inside_span")),
        ({"ring_width": 52.0}, ("window_diameter", "ring_width")),
        ({"saddle_radius": 24.0}, ("window_diameter", "saddle_radius")),
        ({"span": 58.0}, ("throat_depth", "span")),
        ({"ear_radius": 15.0}, ("ear_radius", "bore")),
        ({"span": float("nan")}, ("span", "more than 0")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, str]) -> None:
    with pytest.raises(ShapeError) as caught:
        CentreYoke(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)
