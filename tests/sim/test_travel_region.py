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
from tests.sim.vehicles import number, vehicles

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


@pytest.mark.parametrize("kind", ["vertical", "leaf", "measured"])
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


@given(regions(), st.lists(st.tuples(*[st.floats(-1.2, 1.2)] * 3), min_size=20, max_size=20))
def test_what_it_contains_is_what_both_sides_allow(region, shares):
    ways = (max(region.bump, region.droop), region.roll, max(region.nose_up, region.nose_down))
    for shared in shares:
        pose = [share * way for share, way in zip(shared, ways, strict=True)]
        inside = bool(region.contains(*pose))
        if allowed(region, *pose, slack=-1e-3):
            assert inside
        if not allowed(region, *pose, slack=1e-3):
            assert not inside
        assert inside == (not oversteps(region, Pose(*pose))) or (
            allowed(region, *pose, slack=1e-3) != allowed(region, *pose, slack=-1e-3)
        )


@given(regions(), st.tuples(*[st.floats(0.0, 1.0)] * 3))
def test_every_point_of_every_piece_is_a_pose_that_is_allowed(region, point):
    for piece in pieces(region):
        pose = [float(each) for each in piece.poses(np.array(point))]
        assert allowed(region, *pose, slack=SMALL)


@given(regions(), st.tuples(*[st.floats(-1.0, 1.0)] * 3))
def test_every_pose_that_is_allowed_is_a_point_of_a_piece(region, shares):
    """Sent back by hand: the share of what there is at its height."""
    ways = (max(region.bump, region.droop), region.roll, max(region.nose_up, region.nose_down))
    travel, roll, wrap = (share * way for share, way in zip(shares, ways, strict=True))
    if not allowed(region, travel, roll, wrap, slack=-SMALL):
        return
    spans = [(piece.bottom, piece.top) for piece in pieces(region)]
    (piece,) = [
        piece
        for piece, (bottom, top) in zip(pieces(region), spans, strict=True)
        if bottom <= travel <= top
    ][:1]
    limit = float(region.roll_limit(travel))
    least, most = (float(each) for each in region.wrap_limits(travel))
    point = np.array(
        [
            (travel - piece.bottom) / (piece.top - piece.bottom) if piece.open[0] else 0.5,
            0.5 * (roll / limit + 1.0) if limit > 0.0 else 0.5,
            (wrap - least) / (most - least) if most > least else 0.5,
        ]
    )
    assert (point >= -1e-9).all()
    assert (point <= 1.0 + 1e-9).all()
    np.testing.assert_allclose(piece.poses(point), (travel, roll, wrap), rtol=0, atol=1e-9)


@pytest.mark.slow
@given(regions())
def test_the_sine_of_the_roll_limit_is_straight_within_a_piece(region):
    for piece in pieces(region):
        at = np.linspace(piece.bottom, piece.top, 11)
        for limit in (np.sin(region.roll_limit(at)), region.wrap_limits(at)[1]):
            chord = np.linspace(limit[0], limit[-1], 11)
            np.testing.assert_allclose(limit, chord, rtol=0, atol=1e-9)


def test_the_corners_of_a_rig_are_those_worked_out_by_hand():
    """At 8 deg each side moves 16 in sin 8 deg = 2.2268 in."""
    lift = 16 * INCH * sin(radians(8.0))
    assert lift / INCH == pytest.approx(2.22677, abs=1e-5)
    level = [corner[:2] for corner in SHOP.corners().tolist() if corner[2] == 0.0]
    tops = {(round(t / INCH, 4), round(degrees(r), 6)) for t, r in level}
    assert {
        (-9.0, 0.0), (4.0, 0.0), (-6.7732, 8.0), (-6.7732, -8.0), (1.7732, 8.0), (1.7732, -8.0)
    } <= tops  # fmt: skip
    assert not SHOP.contains(-9 * INCH, radians(0.1), 0.0)
    assert not SHOP.contains(-9 * INCH, radians(8.0), 0.0)
    assert SHOP.contains(-9 * INCH, 0.0, radians(8.0))


def test_a_strap_in_the_middle_leaves_the_roll_free_at_full_droop():
    middle = replace(SHOP, droop_strap="middle")
    assert middle.contains(-9 * INCH, radians(8.0), 0.0)
    assert not middle.contains(-9.01 * INCH, 0.0, 0.0)
    assert not middle.contains(4 * INCH, radians(0.1), 0.0)


def test_stops_in_the_middle_leave_a_box():
    box = replace(SHOP, stops_apart=0.0)
    assert len(pieces(box)) == 1
    for travel in (box.low[0], 0.0, box.high[0]):
        for roll in (box.low[1], box.high[1]):
            assert box.contains(travel, roll, box.high[2])


def test_stops_far_apart_allow_less_roll_than_the_rig_says():
    wide = replace(SHOP, stops_apart=120 * INCH)
    most = asin(13.0 / 120.0)
    assert wide.most_roll == pytest.approx(most, abs=1e-12)
    assert wide.high[1] == wide.most_roll
    assert wide.contains(-2.5 * INCH, most, 0.0)
    assert not wide.contains(-2.5 * INCH, most + 1e-4, 0.0)
    assert not wide.contains(-2.4 * INCH, most, 0.0)


def test_without_bump_the_axle_cannot_roll_at_ride_height():
    """The higher side would have to go up past its stop."""
    flat = replace(SHOP, bump=0.0)
    assert not flat.contains(0.0, 0.01, 0.0)
    assert flat.contains(-16 * INCH * sin(0.01), 0.01, 0.0)
    still = replace(SHOP, bump=0.0, droop=0.0)
    assert not still.contains(0.0, 0.01, 0.0)
    assert still.contains(0.0, 0.0, radians(8.0))


def test_wrap_falls_in_a_straight_line_to_its_share_at_full_droop():
    less = replace(SHOP, wrap_at_droop=0.4)
    for travel, share in ((40.0, 1.0), (0.0, 1.0), (-4.5 * INCH, 0.7), (-9 * INCH, 0.4)):
        least, most = less.wrap_limits(travel)
        assert float(most) == pytest.approx(share * radians(8.0), abs=1e-12)
        assert float(least) == pytest.approx(-share * radians(4.0), abs=1e-12)
    low, high = less.travel_limits(0.0, radians(0.7 * 8.0))
    assert float(low) == pytest.approx(-4.5 * INCH, abs=1e-6)
    assert float(high) == pytest.approx(4 * INCH, abs=1e-6)


@given(regions(), st.data())
def test_the_heights_of_a_roll_and_a_wrap_are_all_there_are(region, data):
    roll = data.draw(st.floats(-1.1, 1.1)) * region.roll
    wrap = data.draw(st.floats(-1.1, 1.1)) * max(region.nose_up, region.nose_down)
    low, high = (float(each) for each in region.travel_limits(roll, wrap))
    heights = np.linspace(-region.droop, region.bump, 201)
    inside = [t for t in heights if allowed(region, t, roll, wrap, slack=-SMALL)]
    if np.isnan(low):
        assert not inside
        return
    assert -region.droop <= low <= high <= region.bump
    assert all(low - 1e-5 <= t <= high + 1e-5 for t in inside)
    for travel in (low, high):
        assert allowed(region, travel, roll, wrap, slack=1e-5)


@given(regions(), st.lists(st.tuples(*[st.floats(-1.3, 1.3)] * 2), min_size=3, max_size=3))
def test_a_box_it_excludes_has_none_of_its_poses(region, sides):
    ways = (max(region.bump, region.droop, 1.0), max(region.roll, 0.1), 0.2)
    low, high = (
        np.array([way * pick(side) for side, way in zip(sides, ways, strict=True)])
        for pick in (min, max)
    )
    u = np.linspace(0.0, 1.0, 7)
    grid = low + np.stack(np.meshgrid(u, u, u), -1).reshape(-1, 3) * (high - low)
    any_inside = any(allowed(region, *pose) for pose in grid.tolist())
    excluded = bool(region.excludes(low, high))
    assert not (excluded and any_inside)
    # And it is no looser than it must be: the corner nearest to no roll and no wrap decides.
    roll, wrap = (float(np.clip(0.0, low[i], high[i])) for i in (1, 2))
    there = any(
        allowed(region, t, roll, wrap, slack=2e-6) for t in np.linspace(low[0], high[0], 2001)
    )
    if not excluded:
        least, most = (float(each) for each in region.travel_limits(roll, wrap))
        assert there or most - least < (high[0] - low[0]) / 1000.0


def test_boxes_are_judged_many_at_a_time():
    low = np.array([[-9 * INCH, 0.1, 0.0], [-9 * INCH, -0.1, 0.0]])
    high = np.array([[-8.9 * INCH, 0.13, 0.0], [-8.9 * INCH, 0.1, 0.0]])
    assert SHOP.excludes(low, high).tolist() == [True, False]


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
