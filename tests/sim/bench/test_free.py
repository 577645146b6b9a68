"""What may be off of a joint's yokes, and the yokes of a draw."""

from importlib.resources import files

import numpy as np
import pytest

from geometry.yoke import YokeShape
from sim.accuracy.source import SURE
from sim.bench.free import Doubt, along, doubt_of, spread
from sim.parts.catalogue import dimension_names, yoke_kinds
from sim.rig import load_demo
from sim.rig.change import changed
from sim.rig.defaults import THROAT_OFF
from sim.rig.tools import usual_tool


def doubt(joint: str = "pinion") -> Doubt:
    """Of a demo with a weld yoke and a strap yoke there."""
    found = doubt_of(load_demo("long-legged-trail-wagon"), joint)  # type: ignore[arg-type]
    assert found is not None
    return found


def test_a_throat_is_as_far_off_as_where_others_of_its_kind_are_tried() -> None:
    """One number for what is one thing."""
    assert spread()["throat_depth"] == THROAT_OFF
    off = {each.name: each.off for each in doubt().free}
    assert off["throat_depth"] == THROAT_OFF


def test_every_spread_is_of_a_dimension_that_there_is() -> None:
    """A slip of the pen in the data is found."""
    known = {each.name for kind in yoke_kinds() for each in dimension_names(kind)}
    assert set(spread()) <= known
    assert set(along()) <= set(spread())
    assert {name for table in along().values() for name in table} <= set(spread())


def test_what_leads_stands_before_what_follows_it() -> None:
    """Else what goes along with what goes along would be lost."""
    leads = list(along())
    for n, table in enumerate(along().values()):
        assert not set(table) & set(leads[: n + 1])


def test_draws_spread_as_said() -> None:
    """One dimension at a time is off by its own; the middle is the catalogue's."""
    found = doubt()
    at = found.dimensions(np.zeros((1, len(found.free))))[0]
    assert at == pytest.approx([each.value for each in found.free], abs=1e-12)
    for i, each in enumerate(found.free):
        z = np.zeros((1, len(found.free)))
        z[0, i] = SURE
        assert found.dimensions(z)[0, i] - each.value == pytest.approx(each.off, abs=1e-12)


def test_a_draw_is_built_with_its_dimensions() -> None:
    """What is told of it is what is built."""
    found = doubt()
    z = 0.3 * np.random.default_rng(3).standard_normal(len(found.free))
    pair, drawn = found.pair_at(z)
    assert np.array_equal(drawn, z)
    by_key = dict(zip(found.yokes, (pair.driving, pair.driven), strict=True))
    for each, value in zip(found.free, found.dimensions(z[None])[0], strict=True):
        assert getattr(by_key[each.yoke], each.name) == pytest.approx(value, abs=1e-9)


def test_what_cannot_be_built_is_pulled_back_and_no_other_yoke_with_it() -> None:
    """A throat through the seal guard makes no yoke; half way there it may."""
    found = doubt()
    z = np.zeros(len(found.free))
    deep = next(
        i for i, each in enumerate(found.free) if each.key.endswith("pinion_yoke.throat_depth")
    )
    other = next(
        i for i, each in enumerate(found.free) if each.key.endswith("shaft_yoke.ear_radius")
    )
    z[deep], z[other] = 9.0, 0.5
    pair, drawn = found.pair_at(z)
    assert 0.0 < drawn[deep] < 9.0
    assert drawn[other] == 0.5
    assert isinstance(pair.driven, YokeShape)
    assert pair.driven.throat_depth == pytest.approx(found.dimensions(drawn[None])[0, deep])


def test_what_was_measured_is_off_by_the_caliper_and_moves_alone() -> None:
    """The shop's own number does not follow a maker's habits."""
    rig = load_demo("long-legged-trail-wagon")
    own = changed(
        rig, {"shaft.pinion_end.shaft_yoke": {"kind": "weld yoke", "ear_radius": "21 mm"}}
    )
    found = doubt_of(own, "pinion")
    assert found is not None
    at = next(i for i, each in enumerate(found.free) if each.key.endswith("shaft_yoke.ear_radius"))
    assert found.free[at].measured
    assert found.free[at].off == usual_tool("part").length
    assert found.free[at].value == 21.0
    assert np.count_nonzero(found.moves[:, at]) == 1
    before = doubt()
    assert np.count_nonzero(before.moves[:, at]) == 2


def test_a_head_has_no_dimension_in_doubt() -> None:
    """What its outer yokes differ by is not known."""
    assert doubt_of(load_demo("short-tailed-scout"), "output") is None


def test_a_yoke_from_a_mesh_file_has_one_side_free() -> None:
    """What was scanned is as it is; the catalogue yoke it faces may be off."""
    scan = files("models").joinpath("scans", "weld-yoke-inches.stl")
    own = {"kind": "own yoke", "file": str(scan), "weld_land": "54 mm"}
    found = doubt_of(
        changed(load_demo("long-legged-trail-wagon"), {"shaft.pinion_end.shaft_yoke": own}),
        "pinion",
    )
    assert found is not None
    assert {each.yoke for each in found.free} == {"pinion_yoke"}
    pair, _ = found.pair_at(np.full(len(found.free), 0.2))
    assert pair.driving is found.pair.driving
    assert pair.closing().turn == found.pair.closing().turn
