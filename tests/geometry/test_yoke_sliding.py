from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.yoke import SlidingYoke
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
    "web": 15.0,
    "barrel_diameter": 46.0,
    "barrel_end": 150.0,
    "spline_diameter": 35.0,
    "spline_teeth": 28,
}


@st.composite
def sliding_yokes(draw: st.DrawFn) -> dict[str, Any]:
    ears = draw(round_ears())
    web, barrel = draw(st.floats(8.0, 25.0)), draw(st.floats(35.0, 70.0))
    return ears | {
        "web": web,
        "barrel_diameter": barrel,
        "barrel_end": ears["throat_depth"] + web + draw(st.floats(20.0, 200.0)),
        "spline_diameter": barrel - draw(st.floats(5.0, 15.0)),
        "spline_teeth": draw(st.integers(6, 36)),
    }


@given(sliding_yokes())
@settings(max_examples=12, deadline=None)
def test_any_legal_sliding_yoke_is_sound_and_holds_its_true_surfaces(dims: dict[str, Any]) -> None:
    yoke = built(SlidingYoke, dims)
    assert_sound_yoke(yoke)
    assert_round_ears(yoke.contact, dims)
    np.testing.assert_allclose(yoke.contact.bounds[1, 0], dims["barrel_end"], rtol=0.0, atol=1e-9)
    turn = np.linspace(-np.pi, np.pi, 32)
    sleeve = [dims["throat_depth"] + dims["web"] + 1.0, dims["barrel_end"] - 2.0]
    assert_holds_true_surface(yoke.contact, *ring(0.5 * dims["barrel_diameter"], sleeve, turn, "x"))


@given(sliding_yokes(), st.data())
@settings(max_examples=25, deadline=None)
def test_near_any_legal_sliding_yoke_comes_a_sound_one_or_a_plain_error(
    dims: dict[str, Any], data: st.DataObject
) -> None:
    assert_sound_or_refused(SlidingYoke, data.draw(nudged(dims)))


def test_the_spline_is_shown_but_not_touched() -> None:
    yoke = SlidingYoke(**ORDINARY).build()
    assert "spline" in yoke.parts["body"].label_names
    assert "spline" not in yoke.contact.label_names
    assert "sleeve" in yoke.contact.label_names


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"barrel_end": 47.0}, ("barrel_end", "throat_depth", "web")),
        (
            {"web": 4.0, "throat_radius": 2.0},
            ("throat_radius", "throat_depth", "metal in the arms"),
        ),
        ({"spline_diameter": 43.0}, ("spline_diameter", "barrel_diameter")),
        ({"spline_teeth": 5}, ("spline_teeth", "6 or more")),
        ({"spline_teeth": 20.5}, ("spline_teeth", "whole number")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, float], names: tuple[str, ...]) -> None:
    with pytest.raises(ShapeError) as caught:
        SlidingYoke(**(ORDINARY | change))
    for name in names:
        assert name in str(caught.value)
