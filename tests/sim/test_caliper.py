import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.contact.first_touch import first_touches
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.errors import BindpointError, ShapeError
from geometry.yoke.reading import FLOOR_AT
from geometry.yoke.strap.readings import BESIDE_WELL
from sim.parts.caliper import (
    caliper_form,
    dimensions_read,
    doubts,
    yoke_read,
)
from sim.parts.catalogue import (
    CatalogueError,
    cross_shape,
    cross_sizes,
    dimension_names,
    yoke_kinds,
    yoke_shape,
)
from viewer.words.remarks import said

CROSSES = [size.name for size in cross_sizes()]


@pytest.mark.parametrize("cross", CROSSES)
@pytest.mark.parametrize("kind", yoke_kinds())
def test_the_generic_readings_give_the_generic_yoke(kind: str, cross: str) -> None:
    form = caliper_form(kind, cross)
    shape = yoke_read(kind, cross, {reading.name: reading.generic for reading in form})
    generic = yoke_shape(kind, cross)
    for name, value in generic.dimensions().items():
        np.testing.assert_allclose(shape.dimensions()[name], value, rtol=1e-12, atol=1e-9)
    names = [dimension.name for dimension in dimension_names(kind)]
    assert {reading.dimension for reading in form} <= set(names)
    assert len({reading.name for reading in form}) == len(form) <= 14
    assert all(reading.generic > 0.5 for reading in form)
    assert all(reading.asks.endswith("?") and reading.how for reading in form)


@pytest.mark.parametrize("kind", ["weld yoke", "strap yoke"])
def test_readings_are_what_a_caliper_meets_on_the_built_yoke(kind: str) -> None:
    """Taken again from the mesh: the wall of an ear, the throat, the fall of its floor."""
    shape = yoke_shape(kind, "27 x 82")
    body = shape.build().parts["body"]
    read = {reading.name: reading.generic for reading in caliper_form(kind, "27 x 82")}
    rim = 0.5 * shape.bore

    def floor_at(z: float) -> float:
        """Where a ray along x, in the middle between the ears, meets the body first."""
        a, b, c = (body.triangles[:, k] - [0.0, 1e-4, z] for k in range(3))
        sides = [p[:, 1] * q[:, 2] - p[:, 2] * q[:, 1] for p, q in ((b, c), (c, a), (a, b))]
        total = sum(sides)
        weight = np.stack(sides, axis=1)
        hit = ((weight * np.sign(total)[:, None]) >= 0.0).all(axis=1) & (total != 0.0)
        x = np.einsum("ij,ij->i", weight[hit], body.triangles[hit, :, 0]) / total[hit]
        return float(x.min())

    # The floor is made of flats that lie outside its arc by no more than this.
    flats = 0.4
    if kind == "weld yoke":
        np.testing.assert_allclose(read["ear wall"], -body.bounds[0, 0] - rim, rtol=0, atol=0.05)
        np.testing.assert_allclose(read["throat gap"], floor_at(0.0) - rim, rtol=0, atol=0.01)
        fall = floor_at(FLOOR_AT) - floor_at(0.0)
        np.testing.assert_allclose(read["floor fall"], fall, rtol=0, atol=flats)
    else:
        z = 0.5 * read["nut well"] + BESIDE_WELL
        np.testing.assert_allclose(read["well gap"], floor_at(z) - rim, rtol=0, atol=flats)
        assert floor_at(0.0) > shape.throat_depth + 5.0


def test_a_reading_may_rest_on_another() -> None:
    """With a wider well the same gap beside it means a floor that is less deep in the middle."""
    narrow = dimensions_read("strap yoke", "27 x 82", {"well gap": 20.0, "nut well": 36.0})
    wide = dimensions_read("strap yoke", "27 x 82", {"nut well": 40.0, "well gap": 20.0})
    assert wide["throat_depth"] < narrow["throat_depth"] - 0.3


@settings(max_examples=50, deadline=None)
@given(st.floats(0.97, 1.03), st.sampled_from(["ear wall", "throat gap", "floor fall"]))
def test_readings_and_dimensions_are_each_others_inverse(share: float, name: str) -> None:
    generic = {reading.name: reading.generic for reading in caliper_form("weld yoke", "27 x 82")}
    read = generic[name] * share
    shape = yoke_read("weld yoke", "27 x 82", {name: read})
    again = {
        "ear wall": lambda: shape.dimensions()["ear_radius"] - 0.5 * shape.bore,
        "throat gap": lambda: shape.throat_depth - 0.5 * shape.bore,
        "floor fall": lambda: shape.saddle_radius - np.sqrt(shape.saddle_radius**2 - FLOOR_AT**2),
    }
    np.testing.assert_allclose(again[name](), read, rtol=1e-9, atol=0)


def test_bad_readings() -> None:
    with pytest.raises(CatalogueError, match="no reading 'web' on a weld yoke; there are: inside"):
        dimensions_read("weld yoke", "27 x 82", {"web": 3.0})
    with pytest.raises(ShapeError, match="ear wall is -1 mm; expected more than 0"):
        dimensions_read("weld yoke", "27 x 82", {"ear wall": -1.0})
    with pytest.raises(ShapeError, match="ear wall is nan mm"):
        dimensions_read("weld yoke", "27 x 82", {"ear wall": float("nan")})
    with pytest.raises(ShapeError, match="inside_span"):
        yoke_read("weld yoke", "27 x 82", {"inside span": 10.0})
    with pytest.raises(CatalogueError):
        caliper_form("bent yoke", "27 x 82")


@pytest.mark.parametrize("kind", yoke_kinds())
@pytest.mark.parametrize("cross", ["27 x 82", "35 x 106"])
def test_ears_too_far_apart_for_their_cross_are_refused_in_one_line(kind: str, cross: str) -> None:
    """Half of a cap at least sits in its ear: 64 mm apart for caps of 18 mm over 82 mm."""
    shape = yoke_shape(kind, cross)
    widest = shape.cap_span - shape.cap_length
    yoke_read(kind, cross, {"inside span": widest - 0.01})
    for wide in (widest + 0.01, shape.cap_span, shape.cap_span + 30.0):
        with pytest.raises(ShapeError, match="is too wide for a cross") as told:
            yoke_read(kind, cross, {"inside span": wide})
        assert len(str(told.value).splitlines()) == 1
        assert f"{wide:.4g} mm" in str(told.value)


def test_doubts() -> None:
    kind, cross = "weld yoke", "27 x 82"
    assert doubts(kind, cross, {"ear thickness": 16.0, "ear wall": 7.0}) == ()
    (inch,) = doubts(kind, cross, {"ear thickness": 0.65})
    assert "Was it 0.65 in?" in said(inch)
    (mm,) = doubts(kind, cross, {"ear thickness": 16.5 * 25.4})
    assert "Was it 16.5 mm, entered as inches?" in said(mm)
    (odd,) = doubts(kind, cross, {"ear thickness": 40.0})
    assert "Measure it again" in said(odd)


SPINS = np.radians(np.arange(0.0, 180.0, 15.0))
"""Spins at which the yokes are closed: enough to feel a change, whatever the lowest touch is."""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("kind", "mate"),
    [
        ("weld yoke", "deep-throat weld yoke"),
        ("flange yoke", "deep-throat weld yoke"),
        ("deep-throat strap yoke", "deep-throat weld yoke"),
        ("deep-throat sliding yoke", "deep-throat weld yoke"),
    ],
)
def test_every_dimension_that_moves_the_touch_is_asked_for(kind: str, mate: str) -> None:
    """Or comes with the cross. Told by a change of 1 mm and more than 0.1 deg of touch."""
    cross = cross_shape("27 x 82").build().contact
    other = yoke_shape(mate, "27 x 82").build().contact
    generic = yoke_shape(kind, "27 x 82").dimensions()

    def touch(overrides: dict[str, float]) -> float:
        contact = yoke_shape(kind, "27 x 82", overrides).build().contact
        joint = ClosingJoint(JointParts(contact, other, cross))
        first = [first_touches(joint.yokes, [spin])[0] for spin in SPINS]
        swung = [first_touches(pair, [sign])[0] for pair in joint.swings for sign in (1.0, -1.0)]
        return min(abs(touch.touch) for touch in (*first, *swung) if touch is not None)

    asked = {reading.dimension for reading in caliper_form(kind, "27 x 82")}
    asked |= {"bore", "cap_span", "cap_length"}
    usual = touch({})
    for dimension in dimension_names(kind):
        if dimension.unit != "length" or dimension.name in asked:
            continue
        for step in (1.0, -1.0):
            try:
                moved = touch({dimension.name: generic[dimension.name] + step})
            except BindpointError:  # no sound yoke that way: the generic ones are close-fitting
                continue
            assert abs(np.degrees(moved - usual)) < 0.1, dimension.name
            break
