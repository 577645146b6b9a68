import tomllib
from importlib.resources import files
from math import radians

import numpy as np
import pytest

from geometry.contact.distance import MeshPair
from geometry.errors import BindpointError, ShapeError
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from geometry.yoke import YOKES
from sim.parts.catalogue import (
    CatalogueError,
    cross_shape,
    cross_sizes,
    dimension_names,
    slip_shape,
    yoke_kinds,
    yoke_shape,
)
from sim.rig import parse_rig
from sim.rig.fitted import fitted_cross, fitted_yoke
from tests.cross_poses import cross_in_driven, cross_in_driving
from tests.sim.rigs import COORDINATES

SIZES = ["27 x 82", "27 x 92", "30 x 92", "30 x 106", "35 x 106"]
KINDS = list(YOKES)
SPINS = np.radians(np.arange(0.0, 180.0, 5.0))


def test_sizes_and_trade_sizes() -> None:
    sizes = cross_sizes()
    assert [size.name for size in sizes] == SIZES
    assert [size.aliases for size in sizes] == [
        ("1310",),
        ("1330",),
        ("1350",),
        ("1410",),
        ("1480",),
    ]
    assert {size.source for size in sizes} == {"common practice, from memory; measure yours"}


def test_the_smallest_cross_as_two_measuring_guides_have_it() -> None:
    """1.062 in over a cap, 3.219 in over the span: the only sizes here that were looked up."""
    cross = cross_shape("1310")
    np.testing.assert_allclose(cross.cap_diameter, 1.062 * 25.4, rtol=0.0, atol=0.01)
    np.testing.assert_allclose(cross.span, 3.219 * 25.4, rtol=0.0, atol=0.01)
    assert "two measuring guides" in cross_sizes()[0].note
    assert all("from memory" in size.note for size in cross_sizes())


def test_a_name_says_its_cap_and_span() -> None:
    for size in cross_sizes():
        cross = cross_shape(size.name)
        cap, span = size.name.split(" x ")
        np.testing.assert_allclose(
            (cross.cap_diameter, cross.span), (float(cap), float(span)), rtol=0.0, atol=0.5
        )


@pytest.mark.parametrize("spelt", ["27 x 82", "27x82", "27 X 82", "27 × 82", " 1310 "])
def test_a_size_may_be_spelt_freely(spelt: str) -> None:
    assert cross_shape(spelt) == cross_shape("27 x 82")


def test_kinds() -> None:
    assert list(yoke_kinds()) == [*KINDS, *(f"deep-throat {kind}" for kind in KINDS)]


@pytest.mark.parametrize("kind", KINDS)
def test_the_data_name_every_dimension_and_no_other(kind: str) -> None:
    file = files("models").joinpath("catalogue", f"{kind.replace(' ', '_')}.toml")
    text = file.read_text(encoding="utf-8")
    data = tomllib.loads(text)
    names = {item.name for item in dimension_names(kind)}
    assert "measure yours" in data["source"]
    assert list(data["ordinary"]) == list(data["deep-throat"]) == SIZES
    for size in SIZES:
        own = set(data["ordinary"][size])
        assert own | {"bore", "cap_span", "cap_length"} == names
        assert set(data["deep-throat"][size]) <= own


@pytest.mark.parametrize("kind", [*KINDS, "deep-throat strap yoke", "cross", "slip"])
def test_dimensions_say_what_to_measure(kind: str) -> None:
    for item in dimension_names(kind):
        assert item.unit in {"length", "angle", "count"}
        assert len(item.about) > 10
    names = [item.name for item in dimension_names(kind)]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", [*KINDS, *(f"deep-throat {kind}" for kind in KINDS)])
def test_every_yoke_is_built_for_every_cross(kind: str, size: str) -> None:
    cross = cross_shape(size)
    yoke = yoke_shape(kind, size).build()
    assert yoke.name == f"{kind} {size}"
    assert yoke.kind == kind.removeprefix("deep-throat ")
    assert yoke.contact.is_watertight
    assert 1000 <= len(yoke.contact.faces) <= 3500
    assert 0.0 < yoke.contact.chord <= TOL.chord
    assert yoke.dimensions["bore"] == cross.cap_diameter
    assert yoke.dimensions["cap_span"] == cross.span
    assert {"body", "caps"} <= set(yoke.parts)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", KINDS)
def test_a_deep_throat_is_more_than_one_number(kind: str, size: str) -> None:
    ordinary, deep = yoke_shape(kind, size), yoke_shape(f"deep-throat {kind}", size)
    assert deep.throat_depth > ordinary.throat_depth + 3.0
    assert deep.saddle_radius < ordinary.saddle_radius
    changed = [
        name
        for name, value in ordinary.dimensions().items()
        if deep.dimensions()[name] != value and name != "throat_depth"
    ]
    assert len(changed) >= 3


def touches(a: Mesh, b: Mesh, bend: float) -> bool:
    pair = MeshPair(a, b)
    return any(pair.cut(R) for R in driven_in_driving(np.full(len(SPINS), bend), SPINS))


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    ("word", "clear", "touching"), [("", 20.0, 32.0), ("deep-throat ", 30.0, 41.0)]
)
def test_any_two_kinds_touch_where_practice_says(
    size: str, word: str, clear: float, touching: float
) -> None:
    """Common practice, no source: about 20 to 32 deg, and about 30 to 40 with deep throats."""
    meshes = [yoke_shape(word + kind, size).build().contact for kind in KINDS]
    for one in meshes:
        for other in meshes:
            assert not touches(one, other, 0.0)
            assert not touches(one, other, radians(clear))
            assert touches(one, other, radians(touching))


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("word", ["", "deep-throat "])
def test_the_cross_never_stops_a_joint_first(size: str, word: str) -> None:
    cross = cross_shape(size).build().contact
    bends = np.radians([0.0, 10.0, 20.0, 30.0, 41.0])[:, None]
    for kind in KINDS:
        pair = MeshPair(yoke_shape(word + kind, size).build().contact, cross)
        for poses in (cross_in_driving, cross_in_driven):
            for R in poses(bends, np.concatenate([SPINS, SPINS + np.pi])).reshape(-1, 3, 3):
                assert not pair.cut(R)


def test_overrides_reach_the_part() -> None:
    shape = yoke_shape("weld yoke", "1310", {"throat_depth": 34.0, "tube_diameter": 50.8})
    assert shape.throat_depth == 34.0
    built = shape.build()
    tube = built.contact.triangles[built.contact.on("tube end")]
    np.testing.assert_allclose(tube[..., 1].max(), 25.4, rtol=1e-12)
    assert cross_shape("1310", {"span": 82.5}).span == 82.5
    assert slip_shape("1310", 76.2, 2.1, {"spline_teeth": 20}).spline_teeth == 20


def test_a_yoke_takes_its_caps_from_a_cross_of_ones_own() -> None:
    cross = cross_shape("1310", {"span": 82.5, "cap_diameter": 27.2})
    shape = yoke_shape("strap yoke", cross)
    assert shape.cap_span == 82.5
    assert shape.bore == 27.2


@pytest.mark.parametrize("tube", [50.8, 63.5, 76.2, 88.9, 101.6])
@pytest.mark.parametrize("size", SIZES)
def test_a_weld_yoke_goes_on_any_usual_tube(size: str, tube: float) -> None:
    shape = yoke_shape("weld yoke", size, {"tube_diameter": tube})
    np.testing.assert_allclose(tube - shape.dimensions()["pilot_diameter"], 4.2, rtol=1e-9)
    assert shape.build().contact.is_watertight


def test_the_slip_goes_with_the_tube() -> None:
    shape = slip_shape("30 x 92", 88.9, 2.1)
    np.testing.assert_allclose(shape.pilot_diameter, 84.7, rtol=1e-12)
    assert shape.name == "slip 30 x 92"


def test_unknown_names_list_the_legal_ones_and_the_nearest() -> None:
    with pytest.raises(CatalogueError, match=r"no cross '1311'; did you mean '1310'\? There are"):
        cross_shape("1311")
    with pytest.raises(CatalogueError, match=r"did you mean 'weld yoke'\?"):
        yoke_shape("weld joke", "1310")
    with pytest.raises(CatalogueError, match=r"no dimension 'throat'; did you mean 'throat_depth'"):
        yoke_shape("weld yoke", "1310", {"throat": 30.0})
    with pytest.raises(CatalogueError, match="There are: weld yoke, flange yoke"):
        dimension_names("zzz")
    with pytest.raises(BindpointError, match="no cross"):
        yoke_shape("weld yoke", "nothing")


def test_a_clash_says_of_which_part() -> None:
    with pytest.raises(ShapeError, match=r"^weld yoke 27 x 82: ear_radius 14 mm leaves"):
        yoke_shape("weld yoke", "1310", {"ear_radius": 14.0})


def test_a_wide_tube_leaves_the_pilot_of_a_flange_alone() -> None:
    rig = parse_rig(COORDINATES.replace('outside = "3 in"', 'outside = "3 1/2 in"'))
    end = rig.shaft.output_end
    flange = fitted_yoke(end.output_yoke, fitted_cross(end.cross), rig.shaft.tube)
    assert flange.dimensions() == yoke_shape("flange yoke", "27 x 82").dimensions()
