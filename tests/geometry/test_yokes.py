"""What is asked of every kind of yoke; what one kind has of its own is in its own file."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import ShapeError
from tests.geometry.metal import (
    assert_sound_or_refused,
    assert_sound_yoke,
    built,
    nudged,
    winding,
)
from tests.geometry.yoke_samples import SAMPLES, Clash

KINDS = pytest.mark.parametrize("kind", SAMPLES)
CLASHES = [(kind, clash) for kind, sample in SAMPLES.items() for clash in sample.clashes]
COUNTS = {"bolts", "spline_teeth"}


@pytest.mark.slow
@KINDS
@given(data=st.data())
@settings(max_examples=12, deadline=None)
def test_any_legal_yoke_is_sound_and_holds_its_true_surfaces(
    kind: str, data: st.DataObject
) -> None:
    sample = SAMPLES[kind]
    dims = data.draw(sample.legal())
    yoke = built(sample.shape, dims)
    assert_sound_yoke(yoke)
    sample.holds(yoke, dims)
    assert yoke.tube_from == dims.get("weld_land")
    assert yoke.dimensions == {key: value for key, value in dims.items() if key != "name"}


@pytest.mark.slow
@KINDS
@given(data=st.data())
@settings(max_examples=25, deadline=None)
def test_near_any_legal_yoke_comes_a_sound_one_or_a_plain_error(
    kind: str, data: st.DataObject
) -> None:
    sample = SAMPLES[kind]
    assert_sound_or_refused(sample.shape, data.draw(nudged(data.draw(sample.legal()))))


@KINDS
def test_the_surfaces_are_named(kind: str) -> None:
    sample = SAMPLES[kind]
    names = set(sample.shape(**sample.ordinary).build().contact.label_names)
    assert names == sample.surfaces


@KINDS
def test_what_can_touch_is_of_the_size_that_is_quick_to_ask(kind: str) -> None:
    sample = SAMPLES[kind]
    assert 1000 <= len(sample.shape(**sample.ordinary).build().contact.faces) <= 3500


@KINDS
def test_every_dimension_says_what_to_measure(kind: str) -> None:
    sample = SAMPLES[kind]
    described = sample.shape.described()
    assert [item.name for item in described] == [k for k in sample.ordinary if k != "name"]
    for item in described:
        assert item.about
        assert item.unit == ("count" if item.name in COUNTS else "length")


@pytest.mark.parametrize("kind", ["weld yoke", "flange yoke", "sliding yoke"])
def test_the_throat_floor_is_at_its_depth(kind: str) -> None:
    sample = SAMPLES[kind]
    floor = sample.ordinary["throat_depth"]
    across = np.array([[floor - 1e-6, 0.0, 0.0], [floor + 1e-6, 0.0, 0.0]])
    mesh = sample.shape(**sample.ordinary).build().contact
    np.testing.assert_allclose(winding(mesh, across), [0.0, 1.0], rtol=0.0, atol=1e-4)


@pytest.mark.parametrize(("kind", "clash"), CLASHES)
def test_a_clash_names_the_dimensions(kind: str, clash: Clash) -> None:
    sample, (change, names) = SAMPLES[kind], clash
    with pytest.raises(ShapeError) as caught:
        sample.shape(**(sample.ordinary | change))
    for name in names:
        assert name in str(caught.value)


@KINDS
def test_what_can_touch_alone_is_what_can_touch_of_the_whole(kind: str) -> None:
    """Triangle by triangle, so that no touch depends on which of them was asked."""
    sample = SAMPLES[kind]
    shape = sample.shape(**sample.ordinary)
    assert shape.touching().key() == shape.build().contact.key()
