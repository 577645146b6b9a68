from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.yoke import FlangeYoke
from tests.geometry.metal import (
    assert_holds_true_surface,
    assert_round_ears,
    assert_sound_or_refused,
    assert_sound_yoke,
    built,
    nudged,
    ring,
    round_ears,
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
    "flange_face": 46.0,
    "flange_diameter": 108.0,
    "flange_thickness": 10.0,
    "pilot_diameter": 57.0,
    "pilot_height": 3.0,
    "bolt_circle": 85.0,
    "bolts": 4,
    "bolt_head": 14.3,
    "bolt_head_height": 6.5,
    "mate_thickness": 11.0,
}


@st.composite
def flange_yokes(draw: st.DrawFn) -> dict[str, Any]:
    ears = draw(round_ears())
    head = draw(st.floats(10.0, 20.0))
    corner = head / np.sqrt(3.0)
    circle = 2.0 * np.sqrt(2.0) * (ears["ear_radius"] + corner + draw(st.floats(0.6, 8.0)))
    rim = max(circle + 2.0 * corner, ears["ear_root_width"]) + draw(st.floats(0.5, 10.0))
    thick = draw(st.floats(6.0, 15.0))
    return ears | {
        "flange_face": ears["throat_depth"] + thick + draw(st.floats(0.5, 12.0)),
        "flange_diameter": rim,
        "flange_thickness": thick,
        "pilot_diameter": circle * draw(st.floats(0.4, 0.8)),
        "pilot_height": draw(st.floats(1.0, 4.0)),
        "bolt_circle": circle,
        "bolts": 4,
        "bolt_head": head,
        "bolt_head_height": head * draw(st.floats(0.3, 0.8)),
        "mate_thickness": draw(st.floats(5.0, 15.0)),
    }


@given(flange_yokes())
@settings(max_examples=12, deadline=None)
def test_any_legal_flange_yoke_is_sound_and_holds_its_true_surfaces(dims: dict[str, Any]) -> None:
    yoke = built(FlangeYoke, dims)
    assert_sound_yoke(yoke)
    assert_round_ears(yoke.contact, dims)
    end = dims["flange_face"] + dims["mate_thickness"]
    np.testing.assert_allclose(yoke.contact.bounds[1, 0], end, rtol=0.0, atol=1e-9)
    turn = np.linspace(-np.pi, np.pi, 32)
    rim = [dims["flange_face"] - dims["flange_thickness"] + 0.3, dims["flange_face"]]
    assert_holds_true_surface(yoke.contact, *ring(0.5 * dims["flange_diameter"], rim, turn, "x"))
    assert yoke.weld_land is None


@given(flange_yokes(), st.data())
@settings(max_examples=25, deadline=None)
def test_near_any_legal_flange_yoke_comes_a_sound_one_or_a_plain_error(
    dims: dict[str, Any], data: st.DataObject
) -> None:
    assert_sound_or_refused(FlangeYoke, data.draw(nudged(dims)))


def test_the_bolts_straddle_the_ears_and_stand_out() -> None:
    yoke = FlangeYoke(**ORDINARY)
    places = np.array(yoke.bolt_places())
    np.testing.assert_allclose(np.abs(places), 42.5 * np.sqrt(0.5), rtol=1e-12)
    mesh = yoke.build().contact
    heads = mesh.triangles[mesh.on("bolt")]
    np.testing.assert_allclose(heads[..., 0].min(), 36.0 - 6.5, rtol=0.0, atol=1e-9)


@pytest.mark.parametrize("bolts", [4, 6, 8])
def test_more_bolts_find_their_room_or_say_why_not(bolts: int) -> None:
    dims = ORDINARY | {"bolts": bolts}
    if bolts == 4:
        assert len(FlangeYoke(**dims).bolt_places()) == 4
    else:
        with pytest.raises(ShapeError, match="bolt_circle"):
            FlangeYoke(**dims)
        wide = dims | {"bolt_circle": 170.0, "flange_diameter": 190.0}
        assert len(FlangeYoke(**wide).bolt_places()) == bolts


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"throat_depth": 37.0}, ("throat_depth", "flange_face", "flange_thickness")),
        ({"flange_diameter": 95.0}, ("flange_diameter", "bolt_circle")),
        ({"bolt_circle": 80.0}, ("bolt_circle", "ear_radius")),
        ({"bolts": 4.5}, ("bolts", "whole number")),
        ({"bolts": 1}, ("bolts", "2 or more")),
        ({"pilot_diameter": 90.0}, ("pilot_diameter", "bolt_circle")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, ...]) -> None:
    with pytest.raises(ShapeError) as caught:
        FlangeYoke(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)
