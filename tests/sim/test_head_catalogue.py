import tomllib
from importlib.resources import files
from math import acos, degrees

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint
from geometry.errors import BindpointError, ShapeError
from geometry.head.outer_pair import OuterPair
from geometry.tolerances import TOL
from geometry.yoke import FlangeYoke, WeldYoke
from sim.head.catalogue import (
    head_dimension_names,
    head_kinds,
    head_of,
    head_shape,
    head_yoke_kinds,
)
from sim.parts.catalogue import CatalogueError, cross_shape, cross_sizes, yoke_shape

SIZES = [size.name for size in cross_sizes()]
KINDS = ["ordinary head", "high-angle head"]
OUTER = ("flange yoke", "weld yoke")


def test_kinds() -> None:
    assert list(head_kinds()) == KINDS
    assert head_yoke_kinds() == (
        "weld yoke",
        "flange yoke",
        "sliding yoke",
        "deep-throat weld yoke",
        "deep-throat flange yoke",
        "deep-throat sliding yoke",
    )


def test_the_data_name_every_dimension_and_no_other() -> None:
    text = files("models").joinpath("catalogue", "heads.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    assert "measure yours" in data["source"]
    assert set(data) == {"source", *KINDS}
    for kind in KINDS:
        assert list(data[kind]) == SIZES
        for size in SIZES:
            assert list(data[kind][size]) == [item.name for item in head_dimension_names()]


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", KINDS)
def test_every_head_is_built_for_every_cross(kind: str, size: str) -> None:
    shape = head_shape(kind, size, *OUTER)
    parts = shape.build()
    assert parts.name == f"{kind} {size}"
    for yoke in (parts.carrying, parts.centre, parts.sliding):
        assert yoke.contact.is_watertight
        assert 1000 <= len(yoke.contact.faces) <= 3500
        assert 0.0 < yoke.contact.chord <= TOL.chord
    for joint in parts.joints(True):
        ClosingJoint(joint)
    head = head_of(shape)
    assert (head.span, head.ball, head.limit) == (parts.span, parts.ball, parts.limit)


@pytest.mark.parametrize("size", SIZES)
def test_what_makes_a_high_angle_head(size: str) -> None:
    ordinary, high = (head_shape(kind, size, *OUTER) for kind in KINDS)
    assert high.centring.limit > ordinary.centring.limit + 0.1
    assert high.span > ordinary.span
    assert high.window_diameter > ordinary.window_diameter
    assert high.saddle_radius < ordinary.saddle_radius
    equal = [
        degrees(2.0 * acos(0.5 * each.span / each.ball)) for each in map(head_of, (ordinary, high))
    ]
    assert 15.0 < equal[0] < 25.0
    assert 24.0 < equal[1] < 32.0


@pytest.mark.parametrize("kind", KINDS)
def test_every_outer_yoke_goes_on(kind: str) -> None:
    for carrying in head_yoke_kinds():
        for sliding in head_yoke_kinds():
            shape = head_shape(kind, "27 x 82", carrying, sliding)
            assert shape.carrying.kind == carrying.removeprefix("deep-throat ")
            assert shape.sliding.kind == sliding.removeprefix("deep-throat ")


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("word", ["", "deep-throat "])
def test_the_outer_yokes_keep_off_each_other_up_to_the_limit(
    word: str, kind: str, size: str
) -> None:
    """All but the stalk in its socket, whose limit is in closed form; by sampling."""
    shape = head_shape(kind, size, *(word + outer for outer in OUTER))
    pair, head = OuterPair(shape.build(), without=("stalk",)), head_of(shape)
    for bend in np.linspace(0.0, head.limit, 5):
        split = head.split(bend)
        for spin in np.linspace(0.0, np.pi, 13):
            near = pair.nearest(float(split.fixed), float(split.sliding), spin)
            assert near.distance > 1.0


def test_overrides_reach_the_part() -> None:
    shape = head_shape("ordinary head", "1310", *OUTER, {"stalk_diameter": 8.0})
    assert shape.stalk_diameter == 8.0
    assert shape.centring.limit > head_shape("ordinary head", "1310", *OUTER).centring.limit


def test_a_head_takes_its_caps_from_a_cross_and_yokes_of_ones_own() -> None:
    cross = cross_shape("1310", {"span": 82.5, "cap_diameter": 27.2})
    flange = yoke_shape("flange yoke", cross, {"throat_depth": 31.0})
    shape = head_shape("ordinary head", cross, flange, "weld yoke")
    assert isinstance(shape.carrying, FlangeYoke)
    assert isinstance(shape.sliding, WeldYoke)
    assert shape.carrying.throat_depth == 31.0
    assert shape.sliding.cap_span == shape.centre().cap_span == 82.5
    assert shape.centre().bore == 27.2


def test_unknown_names_list_the_legal_ones() -> None:
    with pytest.raises(CatalogueError, match="no head 'big head'; expected one of ordinary head"):
        head_shape("big head", "1310", *OUTER)
    with pytest.raises(CatalogueError, match="no dimension 'width'; expected one of span, ball"):
        head_shape("ordinary head", "1310", *OUTER, {"width": 3.0})
    with pytest.raises(CatalogueError, match="strap yoke cannot be an outer yoke of a head"):
        head_shape("ordinary head", "1310", "strap yoke", "weld yoke")
    with pytest.raises(BindpointError, match="no cross"):
        head_shape("ordinary head", "1311", *OUTER)
    with pytest.raises(CatalogueError, match="no yoke"):
        head_shape("ordinary head", "1310", "flange joke", "weld yoke")


def test_a_clash_says_of_which_part() -> None:
    with pytest.raises(ShapeError, match=r"^ordinary head 27 x 82: window_diameter 49"):
        head_shape("ordinary head", "1310", *OUTER, {"socket_diameter": 90.0})
    other = yoke_shape("flange yoke", "1410")
    with pytest.raises(ShapeError, match="the carrying yoke takes caps"):
        head_shape("ordinary head", "1310", other, "weld yoke")
