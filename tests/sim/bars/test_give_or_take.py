"""How far off numbers of a rig may be to first order: closed forms, and rigs drawn at random."""

from math import degrees, hypot, radians

import numpy as np
import pytest
from scipy.stats import norm

from geometry.errors import BindpointError
from sim.accuracy.source import SURE, Source
from sim.bars.doubts import Doubts
from sim.bars.give_or_take import give_or_take, left_draws, middle_95, pose_off
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.line import line
from sim.rig import Rig, parse_rig
from sim.vehicle import RIDE, Pose
from tests.sim.bars.by_hand import one_throat, source
from tests.sim.rigs import COORDINATES

DROOP = Pose(travel=-50.0)


def rig() -> Rig:
    return parse_rig(COORDINATES)


def at(pose: Pose, rig: Rig) -> FloatArray:
    state = line(vehicle_of(rig), pose.travel, pose.roll, pose.wrap)
    return np.array([*map(float, state.bends.values()), state.length, state.slip])


def test_two_numbers_add_up_by_squares() -> None:
    """The variance of a sum of independent numbers is the sum of theirs."""
    offs = (2.0, 0.7)
    slopes = (3.0, -5.0)

    state = {"value": 0.0}

    def put(slope: float) -> object:
        def shift(rig: Rig, off: float) -> Rig:
            state["value"] = slope * off
            return rig

        return shift

    sources = [
        Source(str(slope), 0.0, "mm", off, "typed", put=put(slope))  # type: ignore[arg-type]
        for slope, off in zip(slopes, offs, strict=True)
    ]

    def numbers(_rig: Rig) -> FloatArray:
        value, state["value"] = state["value"], 0.0
        return np.array([value])

    assert give_or_take(rig(), sources, numbers)[0] == pytest.approx(hypot(6.0, 3.5))


def test_the_pinion_s_slope_moves_its_bend_alone_and_by_as_much() -> None:
    """In the plane of the shaft a slope that is off by so much bends the joint by so much."""
    off = radians(0.5)
    found = give_or_take(rig(), [source(rig(), "axle.points_up", off)], lambda r: at(RIDE, r))
    assert degrees(found[1]) == pytest.approx(0.5, abs=0.02)
    assert found[[0, 2, 3]] == pytest.approx(0.0, abs=1e-9)


def test_a_way_in_which_the_rig_cannot_be_counts_as_the_other_one() -> None:
    def put(rig: Rig, off: float) -> Rig:
        if off < 0.0:
            raise NoRigError
        return rig.model_copy(update={"name": "off"})

    only_up = Source("a", 0.0, "mm", 1.0, "typed", put=put)

    def numbers(rig: Rig) -> FloatArray:
        return np.array([3.0 if rig.name == "off" else 1.0])

    assert give_or_take(rig(), [only_up], numbers)[0] == pytest.approx(2.0)


class NoRigError(BindpointError):
    """Nothing can be made of it."""


def test_a_pose_is_as_far_off_as_rigs_drawn_at_random_are() -> None:
    """First order against whole rigs: their standard deviations agree to some percent."""
    base = rig()
    sources = (
        source(base, "travel.droop", 3.0),
        source(base, "shaft.slip.opens", 3.0),
        *(source(base, f"axle.pinion_joint[{axis}]", 4.0) for axis in (1, 3)),
    )
    state = at(DROOP, base)
    left = {"output": 0.2, "pinion": 0.1}
    found = pose_off(base, DROOP, Doubts(sources), left, (40.0, 40.0))  # type: ignore[arg-type]
    rng = np.random.default_rng(3)
    drawn = []
    for _ in range(400):
        put = base
        for each in sources:
            put = each.put(put, each.deviation * rng.standard_normal())
        drawn.append(at(DROOP, put) - state)
    spread = SURE * np.std(drawn, axis=0)
    told = [found.bends["output"], found.bends["pinion"], found.length, found.slip]
    assert told == pytest.approx(spread, rel=0.12, abs=1e-6)
    assert found.likely == "clear"


def test_what_is_left_has_the_spread_of_bend_and_shape_together() -> None:
    """Two normals: deviations add up by squares, and 95 of 100 lie within 1.96 of them."""
    shape = one_throat("pinion", 0.5, 0.02)
    values = left_draws(shape, 0.03 * SURE)
    assert float(np.std(values)) == pytest.approx(hypot(0.02, 0.03), rel=0.02)
    low, high = middle_95(values)
    assert high == pytest.approx(hypot(0.02, 0.03) * norm.ppf(0.975), rel=0.03)
    assert low == pytest.approx(-high, rel=0.05)
    assert not left_draws(None, 0.0).any()


@pytest.mark.parametrize("left", [-0.05, 0.0, 0.02, 0.06, 0.2])
def test_the_chance_in_a_pose_is_the_tail_of_the_normal_law(left: float) -> None:
    base = rig()
    doubts = Doubts(
        (source(base, "travel.bump", 1.0),), {"pinion": one_throat("pinion", 0.5, 0.03)}
    )
    found = pose_off(base, RIDE, doubts, {"output": 1.0, "pinion": left}, (50.0, 50.0))
    assert found.chance == pytest.approx(norm.cdf(-left / 0.03), abs=0.01)


def test_an_end_of_the_slip_is_held_against_how_far_it_is_off() -> None:
    base = rig()
    doubts = Doubts((source(base, "shaft.slip.closes", 10.0 * SURE),))
    told = {"output": 1.0, "pinion": 1.0}
    found = pose_off(base, RIDE, doubts, told, (5.0, float("inf")))  # type: ignore[arg-type]
    assert found.chance == pytest.approx(norm.cdf(-0.5), abs=1e-6)
    assert found.slip == pytest.approx(0.0, abs=1e-9), "it moves no farther for it"
