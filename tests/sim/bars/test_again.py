"""What to read again, against the normal law of a joint that is bent one to one [derivation]."""

from dataclasses import replace
from functools import cache
from math import degrees, hypot, radians, sqrt

import numpy as np
import pytest
from scipy.stats import norm

from sim.accuracy.source import SURE, Source
from sim.accuracy.sources import sources_of
from sim.assessment import Assessment, Assessor
from sim.bars import Again, Bars, bars, first_bars
from sim.bars.again import deciding
from sim.bars.better import better_tool
from sim.bars.drawn import Drawn
from sim.rig import changed, load_demo
from sim.rig.tools import generic_tools
from tests.sim.bars.by_hand import one_throat, source
from tests.sim.bars.test_bars import steep

SHORT_OF = 0.004
OFF = {"output.points_up": radians(1.0), "output.points_left": radians(2.0)}
THROAT = 0.006
"""rad by which the output joint's touch goes up with one deviation of its throat."""


@cache
def found() -> Assessment:
    return steep(SHORT_OF)


@cache
def told(how: str) -> Bars:
    rig = found()
    sources = [source(rig.rig, "output.points_up", OFF["output.points_up"])]
    shapes = {"output": one_throat("output", 0.4, THROAT)}
    if how == "first":
        return first_bars(rig, sources=sources, shapes=shapes)
    return bars(rig, sources=sources, shapes=shapes, draws=64)


def named(how: str, key: str) -> Again:
    return next(each for each in told(how).again if each.key == key)


SLOPE = OFF["output.points_up"] / SURE
WHOLE = hypot(SLOPE, THROAT)
LEVEL = generic_tools()["digital level"].angle or 0.0
BENDS = generic_tools()["angle finder"].angle or 0.0


@pytest.mark.parametrize("how", ["first", "full"])
def test_shares_go_by_squares(how: str) -> None:
    slope, bench = named(how, "output.points_up"), named(how, "shaft.output_end.bench")
    for each, deviation in ((slope, SLOPE), (bench, THROAT)):
        assert each.share == pytest.approx((deviation / WHOLE) ** 2, abs=0.03)
        assert each.total == pytest.approx((deviation / WHOLE) ** 2, abs=0.03)


@pytest.mark.parametrize("how", ["first", "full"])
def test_a_better_tool_leaves_what_the_normal_law_has(how: str) -> None:
    slope, bench = named(how, "output.points_up"), named(how, "shaft.output_end.bench")
    assert (slope.better, slope.better_off) == ("digital level", LEVEL)
    assert slope.narrows == pytest.approx(hypot(LEVEL / SURE, THROAT) / WHOLE, rel=0.03)
    # What was known of the joint and the bend that is read on the bench go together.
    read = BENDS / SURE
    after = THROAT * read / hypot(THROAT, read)
    assert bench.narrows == pytest.approx(hypot(SLOPE, after) / WHOLE, rel=0.03)
    assert bench.better == ""


@pytest.mark.parametrize("how", ["first", "full"])
def test_at_either_end_it_touches_as_the_normal_law_has_it(how: str) -> None:
    slope, bench = named(how, "output.points_up"), named(how, "shaft.output_end.bench")
    off = OFF["output.points_up"]
    # The more the output points up, the less is left.
    for end, left in ((slope.low, SHORT_OF + off), (slope.high, SHORT_OF - off)):
        chance = norm.cdf(-left / hypot(LEVEL / SURE, THROAT))
        assert end.chance == pytest.approx(chance, abs=0.02)
    assert slope.high.value - slope.low.value == pytest.approx(2.0 * off)
    read = BENDS / SURE
    after = hypot(SLOPE, THROAT * read / hypot(THROAT, read))
    for end, sign in ((bench.low, -1.0), (bench.high, 1.0)):
        left = SHORT_OF + sign * SURE * THROAT
        assert end.chance == pytest.approx(norm.cdf(-left / after), abs=0.02)
    clear = found().joints["output"].clear
    assert bench.low.value == pytest.approx(clear - SURE * THROAT, rel=1e-3)


@pytest.mark.slow
def test_at_either_end_it_comes_to_what_the_rig_typed_anew_does() -> None:
    rig = changed(load_demo("marsh-runner"), {"travel.nose_down": "3 1/2 deg"})
    again = first_bars(Assessor().assess(rig), sources=sources_of(rig), shapes={}).again
    assert len(again) >= 3
    for each in again:
        for end in (each.low, each.high):
            typed = changed(rig, {each.key: f"{degrees(end.value):.9f} deg"})
            sources = [
                replace(one, off=each.better_off) if one.key == each.key else one
                for one in sources_of(typed)
            ]
            came = first_bars(Assessor().assess(typed), sources=sources, shapes={})
            found = came.named(each.code, each.subject)
            assert found is not None
            assert end.chance == pytest.approx(found.chance, abs=0.02)


def test_what_narrows_most_is_first_and_all_are_of_the_joint_in_doubt() -> None:
    for how in ("first", "full"):
        narrows = [each.narrows for each in told(how).again]
        assert narrows == sorted(narrows)
        assert {(each.code, each.subject) for each in told(how).again} == {("joint-bend", "output")}


def test_kept_ones_are_the_same() -> None:
    again = told("full").again
    told.cache_clear()
    assert told("full").again == again
    assert len(again) >= 2


def test_what_hardly_matters_is_not_told() -> None:
    rig = found()
    little = source(rig.rig, "output.points_up", radians(0.01))
    shapes = {"output": one_throat("output", 0.4, THROAT)}
    keys = [each.key for each in first_bars(rig, sources=[little], shapes=shapes).again]
    assert "output.points_up" not in keys
    assert first_bars(rig, sources=[], shapes={}).again == ()


def drawn(left: dict) -> Drawn:
    none = dict.fromkeys(left, np.zeros(4))
    return Drawn(left, none, none, none, none, np.ones(4, dtype=bool))


BEND, SLIP, GAP = ("joint-bend", "pinion"), ("slip-opens", "slip"), ("joint-gap", "pinion")


def test_the_finding_that_is_most_in_doubt_decides() -> None:
    half, quarter = np.array([-1.0, -1.0, 1.0, 1.0]), np.array([-9.0, 9.0, 9.0, 9.0])
    assert deciding(drawn({SLIP: quarter, BEND: half})) == BEND
    assert deciding(drawn({BEND: half, GAP: half})) == BEND


def test_of_those_that_are_sure_it_is_the_one_with_least_left_for_what_it_spreads() -> None:
    bend, slip = np.array([0.1, 0.11, 0.1, 0.11]), np.array([4.0, 8.0, 4.0, 8.0])
    assert deciding(drawn({BEND: bend, SLIP: slip})) == SLIP
    assert deciding(drawn({BEND: np.ones(4), SLIP: np.full(4, np.nan)})) is None


def test_a_rule_reads_no_more_than_it_is_long() -> None:
    rig = load_demo("marsh-runner")
    assert better_tool(rig, 150.0, "mm", 3.175) == ("steel rule", pytest.approx(25.4 / 32.0))
    assert better_tool(rig, 900.0, "mm", 3.175) is None
    assert better_tool(rig, 0.1, "rad", radians(0.2)) is None
    assert better_tool(rig, 30.0, "mm", 3.0, part=True) == ("caliper", pytest.approx(0.254))


def test_what_was_assumed_is_forgotten_for_a_reading() -> None:
    rig = found().rig
    typed = source(rig, "output.points_up", radians(1.0))
    one, other = (_left(replace(typed, why=why)) for why in ("assumed", "usual"))
    assert one == other == pytest.approx(LEVEL / radians(1.0))
    generic = _left(replace(typed, why="generic part"))
    assert generic == pytest.approx(LEVEL / sqrt(LEVEL**2 + radians(1.0) ** 2))


def _left(of: Source) -> float:
    from sim.bars.better import Reading

    return Reading(of, (0,), "digital level", LEVEL).left
