"""The region that both sides allow, held against the motion itself and plain sampling.

Outside truth: points fixed to the housing, carried by each suspension's own frames; the two side
heights asked for one pose at a time with `math`; corners of the polygon by hand.
"""

from dataclasses import replace
from math import asin, degrees, radians, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.travel.oversteps import oversteps
from sim.travel.pieces import pieces
from sim.vehicle import Pose, TravelRegion, VehicleError
from tests.sim.vehicles import KINDS, number, vehicles

INCH = 25.4
SMALL = 1e-6

SHOP = TravelRegion(
    bump=4 * INCH,
    droop=9 * INCH,
    roll=radians(8.0),
    nose_up=radians(8.0),
    nose_down=radians(4.0),
    stops_apart=32 * INCH,
)


@st.composite
def regions(draw):
    return TravelRegion(
        bump=draw(st.one_of(st.just(0.0), number(1, 150))),
        droop=draw(st.one_of(st.just(0.0), number(1, 250))),
        roll=draw(st.one_of(st.just(0.0), number(0.01, 0.7))),
        nose_up=draw(st.one_of(st.just(0.0), number(0.01, 0.2))),
        nose_down=draw(st.one_of(st.just(0.0), number(0.01, 0.2))),
        stops_apart=draw(st.one_of(st.just(0.0), number(0.01, 3000))),
        droop_strap=draw(st.sampled_from(["sides", "middle"])),
        wrap_at_droop=draw(st.sampled_from([0.0, 0.35, 1.0])),
    )


def allowed(region, travel, roll, wrap, slack=0.0):
    """What the stops allow, said anew: one pose, side by side."""
    half = region.stops_apart / 2.0
    left, right = travel + half * sin(roll), travel - half * sin(roll)
    hanging = (travel,) if region.droop_strap == "middle" else (travel, left, right)
    fallen = min(1.0, max(0.0, -travel / region.droop)) if region.droop else 0.0
    share = 1.0 - fallen * (1.0 - region.wrap_at_droop)
    return (
        all(height >= -region.droop - slack for height in hanging)
        and all(height <= region.bump + slack for height in (travel, left, right))
        and abs(roll) <= region.roll + slack / 1000.0
        and -region.nose_down * share - slack / 1000.0 <= wrap
        and wrap <= region.nose_up * share + slack / 1000.0
    )


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
@settings(deadline=None, max_examples=40)
def test_side_heights_are_those_of_points_of_the_housing(kind, data):
    """Both ends of a bar across the housing, carried by the suspension's frames."""
    vehicle = data.draw(vehicles(kind))
    suspension = replace(vehicle.suspension, wrap_centre=(0.0, 0.0, 0.0))
    apart = data.draw(number(1, 2000))
    region = replace(vehicle.travel, stops_apart=apart)
    travel, roll, wrap = (
        data.draw(number(low, high)) for low, high in ((-90, 60), (-0.12, 0.12), (-0.1, 0.1))
    )
    poses = suspension.poses(travel, roll, wrap)
    for end, height in zip((0.5, -0.5), region.sides(travel, roll), strict=True):
        assert poses.point((0.0, end * apart, 0.0))[2] == pytest.approx(float(height), abs=1e-9)


@given(
    regions(), st.tuples(*[st.floats(-1.5, 1.5)] * 3), st.sampled_from(["travel", "roll", "wrap"])
)
def test_a_pose_outside_is_held_at_the_edge_and_one_inside_stays(region, shares, first):
    ways = (max(region.bump, region.droop), region.roll, max(region.nose_up, region.nose_down))
    at = Pose(*(share * way for share, way in zip(shares, ways, strict=True)))
    held = region.held(at, first)
    assert allowed(region, held.travel, held.roll, held.wrap, slack=SMALL)
    if allowed(region, at.travel, at.roll, at.wrap, slack=-SMALL):
        for one, other in zip(
            (held.travel, held.roll, held.wrap), (at.travel, at.roll, at.wrap), strict=True
        ):
            assert one == pytest.approx(other, abs=1e-6)


def test_rolling_at_full_droop_lifts_the_axle_off_its_straps():
    at = Pose(-9 * INCH, radians(8.0), 0.0)
    assert SHOP.held(at) == Pose(-9 * INCH, 0.0, 0.0)
    rolled = SHOP.held(at, "roll")
    assert rolled.roll == radians(8.0)
    assert rolled.travel == pytest.approx(-9 * INCH + 16 * INCH * sin(radians(8.0)), abs=1e-6)


@given(regions(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_shorter_straps_leave_the_wrap_at_each_height_as_it_was(region, share, place):
    short = region.strapped(share * region.droop)
    assert short.droop == share * region.droop
    travel = -place * short.droop
    for one, other in zip(short.wrap_limits(travel), region.wrap_limits(travel), strict=True):
        assert float(one) == pytest.approx(float(other), abs=1e-9)


@given(regions(), st.floats(0.0, 1.0), st.tuples(*[st.floats(0.0, 1.0)] * 3))
def test_a_share_of_it_has_its_poses_at_that_share_of_the_way(region, share, point):
    small = region.scaled(share)
    for piece in pieces(region):
        travel, roll, wrap = (float(each) for each in piece.poses(np.array(point)))
        shrunk = (share * travel, asin(share * sin(roll)), share * wrap)
        assert allowed(small, *shrunk, slack=1e-5)


@pytest.mark.parametrize(
    ("at", "ways"),
    [
        (Pose(-9 * INCH, radians(8.0), 0.0), {"right droop": 11.2268}),
        (Pose(-9 * INCH, -radians(8.0), 0.0), {"left droop": 11.2268}),
        (Pose(-9.5 * INCH, 0.0, 0.0), {"droop": 9.5}),
        (Pose(5 * INCH, 0.0, 0.0), {"bump": 5.0}),
        (Pose(3 * INCH, radians(8.0), 0.0), {"left bump": 5.2268}),
        (Pose(0.0, 0.0, 0.0), {}),
    ],
)
def test_what_a_pose_oversteps_is_told_with_how_far(at, ways):
    found = oversteps(SHOP, at)
    assert {each.way: round(each.asked / INCH, 4) for each in found} == ways


def test_angles_overstepped_are_told_too():
    less = replace(SHOP, wrap_at_droop=0.5)
    found = oversteps(less, Pose(-9 * INCH, 0.0, radians(5.0)))
    assert [(each.way, round(degrees(each.limit), 6)) for each in found] == [("nose up", 4.0)]
    found = oversteps(less, Pose(-3 * INCH, radians(9.0), -radians(5.0)))
    assert [each.way for each in found] == ["roll", "nose down"]
    middle = replace(SHOP, droop_strap="middle")
    assert oversteps(middle, Pose(-9 * INCH, radians(8.0), 0.0)) == ()


@pytest.mark.parametrize(
    "change",
    [
        {"stops_apart": -1.0},
        {"stops_apart": float("nan")},
        {"droop_strap": "left"},
        {"wrap_at_droop": 1.1},
        {"wrap_at_droop": -0.1},
        {"lowest": 1.0},
        {"highest": -1.0},
    ],
)
def test_what_cannot_be_is_refused(change):
    with pytest.raises(VehicleError):
        replace(SHOP, **change)
