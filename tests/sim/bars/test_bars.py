"""Error bars against the normal distribution, and against themselves put another way."""

from functools import cache
from math import radians

import pytest
from scipy.stats import norm

from sim.accuracy.source import SURE
from sim.assessment import Assessment, Assessor
from sim.bars import bars, first_bars
from sim.rig import load_demo
from tests.sim.bars.by_hand import one_throat, source


@cache
def _wagon() -> Assessment:
    """A rig whose pinion joint touches, and whose output joint touches by a little."""
    return Assessor().assess(load_demo("long-legged-trail-wagon"))


SOURCES = (
    ("travel.droop", 6.0),
    ("output.points_down", radians(0.5)),
    ("axle.points_up", radians(0.5)),
    ("travel.nose_up", radians(1.0)),
)


def test_a_chance_is_that_of_the_normal_distribution_where_one_shape_alone_decides() -> None:
    found = _wagon()
    joint = found.joints["output"]
    deviation = radians(1.5)
    shape = {"output": one_throat("output", joint.clear, deviation)}
    told = norm.cdf(-joint.margin / deviation)
    assert 0.5 < told < 0.99
    for made in (first_bars(found, sources=(), shapes=shape), bars(found, 0, 512, (), shape)):
        named = made.named("joint-bend", "output")
        assert named is not None
        assert named.chance == pytest.approx(told, abs=named.chance_off)
        assert named.band is not None
        half = SURE * deviation
        assert radians(named.band.low) == pytest.approx(joint.margin - half, abs=0.05 * half)
        assert radians(named.band.high) == pytest.approx(joint.margin + half, abs=0.05 * half)


def test_nothing_depends_on_the_order_of_the_sources_and_a_seed_says_all() -> None:
    found = _wagon()
    sources = [source(found.rig, key, off) for key, off in SOURCES]
    one, other = bars(found, 3, 64, sources, {}), bars(found, 3, 64, sources[::-1], {})
    assert one == other
    assert one == bars(found, 3, 64, sources, {})
    assert one != bars(found, 4, 64, sources, {})
    assert first_bars(found, sources=sources) == first_bars(found, sources=sources[::-1])


def test_full_bars_are_kept_by_all_that_they_follow_from(monkeypatch: pytest.MonkeyPatch) -> None:
    found = _wagon()
    sources = [source(found.rig, key, off) for key, off in SOURCES]
    made = bars(found, 5, 32, sources, {})
    with monkeypatch.context() as closed:
        closed.setattr("sim.bars.how_sure._in_full", None)
        assert bars(found, 5, 32, sources, {}) == made
        other = [source(found.rig, key, 1.01 * off) for key, off in SOURCES]
        for changed in ((found, 6, 32, sources), (found, 5, 64, sources), (found, 5, 32, other)):
            with pytest.raises(TypeError):
                bars(*changed, {})
