from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.yoke import StrapYoke
from tests.geometry.metal import (
    assert_holds_true_surface,
    assert_sound_or_refused,
    assert_sound_yoke,
    built,
    common,
    nudged,
    ring,
    throat,
)

ORDINARY: dict[str, Any] = {
    "name": "plain",
    "bore": 27.0,
    "cap_span": 82.0,
    "cap_length": 17.0,
    "inside_span": 54.0,
    "ear_thickness": 16.0,
    "ear_edge": 2.5,
    "throat_depth": 30.0,
    "throat_radius": 20.0,
    "saddle_radius": 70.0,
    "saddle_width": 54.5,
    "ear_root_width": 46.5,
    "web": 20.0,
    "hub_diameter": 46.0,
    "nut_well": 38.0,
    "nut": 30.0,
    "strap_width": 11.0,
    "strap_thickness": 2.3,
    "strap_bolt_spacing": 42.0,
    "bolt_head": 11.1,
    "bolt_head_height": 5.0,
    "seal_guard_diameter": 70.0,
    "seal_guard_at": 60.0,
    "housing_diameter": 78.0,
    "housing_at": 72.0,
}


@st.composite
def strap_yokes(draw: st.DrawFn) -> dict[str, Any]:
    ears = draw(common())
    bore = ears["bore"]
    thick, head = draw(st.floats(1.5, 3.0)), draw(st.floats(8.0, 14.0))
    spacing = bore + 2.0 * thick + head + draw(st.floats(-0.9, 4.0))
    width = spacing + 2.0 * head / np.sqrt(3.0) + draw(st.floats(-0.9, 6.0))
    hub = draw(st.floats(42.0, 60.0))
    web, guard_at = draw(st.floats(15.0, 25.0)), draw(st.floats(3.0, 15.0))
    guard_at += ears["throat_depth"] + web
    return ears | {
        "ear_edge": min(ears["ear_edge"], 3.0),
        "saddle_width": width,
        "ear_root_width": width * draw(st.floats(0.7, 1.0)),
        "web": web,
        "hub_diameter": hub,
        "nut_well": hub - draw(st.floats(4.5, 8.0)),
        "nut": (hub - 13.0) * draw(st.floats(0.6, 0.9)),
        "strap_width": min(ears["cap_length"], ears["ear_thickness"]) * draw(st.floats(0.3, 0.9)),
        "strap_thickness": thick,
        "strap_bolt_spacing": spacing,
        "bolt_head": head,
        "bolt_head_height": head * draw(st.floats(0.3, 0.7)),
        "seal_guard_diameter": hub + draw(st.floats(2.0, 30.0)),
        "seal_guard_at": guard_at,
        "housing_diameter": hub + draw(st.floats(2.0, 40.0)),
        "housing_at": guard_at + draw(st.floats(3.5, 20.0)),
    }


@given(strap_yokes())
@settings(max_examples=12, deadline=None)
def test_any_legal_strap_yoke_is_sound_and_holds_its_true_surfaces(dims: dict[str, Any]) -> None:
    yoke = built(StrapYoke, dims)
    assert_sound_yoke(yoke)
    mesh = yoke.contact
    crown = 0.5 * dims["bore"] + dims["strap_thickness"]
    high = 0.8 - dims["strap_thickness"] - dims["bolt_head_height"]
    np.testing.assert_allclose(mesh.bounds[0, 0], min(-crown, high), rtol=0.0, atol=1e-9)
    # The crown of the strap, and of the cap beside it, over the quarter turn on top.
    over = np.pi + np.linspace(-0.25, 0.25, 15) * np.pi
    outer = 0.5 * dims["cap_span"]
    middle = outer - 0.7 - 0.5 * dims["strap_width"]
    straps = np.array([middle - 0.4 * dims["strap_width"], middle + 0.4 * dims["strap_width"]])
    assert_holds_true_surface(mesh, *ring(crown, [*straps, *-straps], over, "y"))
    end = np.array([outer - 0.3])
    assert_holds_true_surface(mesh, *ring(0.5 * dims["bore"], [*end, *-end], over, "y"))
    assert_holds_true_surface(mesh, *throat(dims))
    turn = np.linspace(-np.pi, np.pi, 32)
    hub = np.linspace(dims["throat_depth"] + dims["web"] + 0.1, dims["seal_guard_at"] - 0.1, 2)
    assert_holds_true_surface(mesh, *ring(0.5 * dims["hub_diameter"], hub, turn, "x"))


@given(strap_yokes(), st.data())
@settings(max_examples=25, deadline=None)
def test_near_any_legal_strap_yoke_comes_a_sound_one_or_a_plain_error(
    dims: dict[str, Any], data: st.DataObject
) -> None:
    assert_sound_or_refused(StrapYoke, data.draw(nudged(dims)))


def test_the_saddles_are_open_toward_the_cross() -> None:
    yoke = StrapYoke(**ORDINARY).build()
    body, caps = yoke.parts["body"], yoke.parts["caps"]
    np.testing.assert_allclose(body.bounds[0, 0], 0.8, rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(caps.bounds[0, 0], -13.5, rtol=0.0, atol=1e-9)
    assert set(yoke.parts) == {
        "body",
        "caps",
        "straps",
        "bolts",
        "nut",
        "seal guard",
        "seal housing",
    }


def test_straps_and_bolts_are_named_on_what_touches() -> None:
    names = StrapYoke(**ORDINARY).build().contact.label_names
    assert {"strap", "bolt", "cap", "throat", "hub", "seal guard", "seal housing"} <= set(names)


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"saddle_width": 50.0}, ("saddle_width", "bolt_head", "strap_bolt_spacing")),
        ({"strap_bolt_spacing": 38.0}, ("strap_bolt_spacing", "bore")),
        ({"strap_width": 17.5}, ("strap_width", "cap_length")),
        ({"ear_root_width": 60.0}, ("ear_root_width", "saddle_width")),
        ({"nut_well": 34.0}, ("nut_well", "nut")),
        ({"nut_well": 44.0}, ("nut_well", "hub_diameter")),
        ({"seal_guard_at": 49.0}, ("seal_guard_at", "throat_depth", "web")),
        ({"housing_at": 62.0}, ("housing_at", "seal_guard_at")),
        ({"housing_diameter": 40.0}, ("housing_diameter", "hub_diameter")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, ...]) -> None:
    with pytest.raises(ShapeError) as caught:
        StrapYoke(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)
