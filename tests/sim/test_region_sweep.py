"""Sweep and first contact between stops, held against plain sampling of both side heights.

The kinematics are said anew here with plain rotations (vertical suspension), and the poses are
sampled with the two side heights as coordinates; neither uses anything of the search.
"""

from dataclasses import replace
from math import asin, hypot, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from sim.line import line
from sim.search.envelope import envelope
from sim.search.first_contact import earliest
from sim.search.worst import NODES, extreme
from sim.vehicle import Slip, TravelRegion
from tests.sim.vehicles import ends, first_contacts, mirrored, plain, vehicles

GRIDS = [NODES, (24, 7, 8), (41, 12, 6)]
STOPS = TravelRegion(100.0, 200.0, 0.15, 0.14, 0.07, stops_apart=800.0)
REGIONS = {
    "both sides": STOPS,
    "middle strap": replace(STOPS, droop_strap="middle"),
    "stops far apart": replace(STOPS, stops_apart=3000.0),
    "stops close": replace(STOPS, stops_apart=100.0),
    "less wrap hanging": replace(STOPS, wrap_at_droop=0.3),
    "no wrap hanging": replace(STOPS, wrap_at_droop=0.0, nose_down=0.2),
    "no bump": replace(STOPS, bump=0.0),
    "no droop": replace(STOPS, droop=0.0),
    "no roll": replace(STOPS, roll=0.0),
}

FINE = 0.02
"""deg and mm that a grid of this fineness may miss of the true extreme."""


def skewed(travel):
    """A vehicle whose pinion stands well to the side, so that rolling moves it much."""
    vehicle = plain(travel=travel)
    return replace(
        vehicle,
        p_A_pinion=np.array([280.0, 150.0, 20.0]),
        p_C_output=np.array([1180.0, -60.0, 230.0]),
    )


def sampled(region, sides=101, wraps=15):
    """Poses (n, 3) that both sides allow, by their heights, and by the wrap there is."""
    low = -region.droop if region.droop_strap == "sides" else -region.droop - 500.0
    heights = np.linspace(low, region.bump, sides)
    left, right = (each.ravel() for each in np.meshgrid(heights, heights))
    travel = 0.5 * (left + right)
    sine = (left - right) / region.stops_apart
    inside = (np.abs(sine) <= sin(region.roll)) & (travel >= -region.droop)
    travel, roll = travel[inside], np.arcsin(sine[inside])
    # The edge of the roll, which a grid of side heights only comes near to.
    edge = np.linspace(-region.droop, region.bump, 4 * sides)
    reach = 0.5 * region.stops_apart * sin(region.roll)
    corners = np.array([region.bump - reach, reach - region.droop])
    edge = np.concatenate([edge, corners[(corners > -region.droop) & (corners < region.bump)]])
    ends = edge + reach <= region.bump + 1e-9
    if region.droop_strap == "sides":
        ends &= edge - reach >= -region.droop - 1e-9
    travel = np.concatenate([travel, edge[ends], edge[ends], edge])
    roll = np.concatenate(
        [roll, np.full(ends.sum(), region.roll), np.full(ends.sum(), -region.roll), 0.0 * edge]
    )
    fallen = np.clip(-travel / region.droop, 0.0, 1.0) if region.droop else 0.0 * travel
    share = 1.0 - fallen * (1.0 - region.wrap_at_droop)
    wrap = np.linspace(-region.nose_down, region.nose_up, wraps)
    return np.stack(
        [
            np.repeat(travel, wraps),
            np.repeat(roll, wraps),
            (share[:, None] * wrap).ravel(),
        ],
        axis=-1,
    )


def plain_line(vehicle, poses):
    """Bends (rad) and slip (mm) of a rear axle that goes straight up and down."""
    travel, roll, wrap = poses.T
    pitch = -wrap  # a rear nose goes up by a turn the other way about y

    def turned(v):
        x = np.cos(pitch) * v[0] + np.sin(pitch) * v[2]
        z = -np.sin(pitch) * v[0] + np.cos(pitch) * v[2]
        return np.stack(
            [x, np.cos(roll) * v[1] - np.sin(roll) * z, np.sin(roll) * v[1] + np.cos(roll) * z], -1
        )

    pinion = turned(vehicle.p_A_pinion) + np.stack([0 * travel, 0 * travel, travel], -1)
    shaft = pinion - vehicle.p_C_output
    length = np.linalg.norm(shaft, axis=-1)
    along = shaft / length[:, None]
    output = np.arccos(np.clip(along @ -vehicle.axis_C_output, -1.0, 1.0))
    driven = np.arccos(np.clip(np.sum(along * turned(vehicle.axis_A_pinion), -1), -1.0, 1.0))
    ride = np.linalg.norm(vehicle.p_A_pinion - vehicle.p_C_output)
    return output, driven, length - ride


def allowed(region, at, slack=1e-6):
    left, right = (at.travel + way * 0.5 * region.stops_apart * sin(at.roll) for way in (1.0, -1.0))
    hanging = (at.travel,) if region.droop_strap == "middle" else (left, right)
    fallen = min(1.0, max(0.0, -at.travel / region.droop)) if region.droop else 0.0
    share = 1.0 - fallen * (1.0 - region.wrap_at_droop)
    return (
        min(hanging) >= -region.droop - slack
        and max(left, right) <= region.bump + slack
        and abs(at.roll) <= region.roll + 1e-9
        and -region.nose_down * share - 1e-9 <= at.wrap <= region.nose_up * share + 1e-9
    )


@pytest.mark.parametrize("name", REGIONS)
def test_the_sweep_finds_what_sampling_both_sides_finds(name):
    vehicle = skewed(REGIONS[name])
    found = envelope(vehicle)
    output, driven, slip = plain_line(vehicle, sampled(vehicle.travel))
    for extremes, values, unit in (
        (found.joints["output"].most, np.degrees(output), np.degrees),
        (found.joints["pinion"].most, np.degrees(driven), np.degrees),
        (found.slip.longest, slip, float),
        (found.joints["output"].least, -np.degrees(output), lambda v: -np.degrees(v)),
        (found.joints["pinion"].least, -np.degrees(driven), lambda v: -np.degrees(v)),
        (found.slip.shortest, -slip, lambda v: -v),
    ):
        assert allowed(vehicle.travel, extremes.at)
        best = float(values.max())
        assert best - 1e-9 <= float(unit(extremes.value)) <= best + FINE


@pytest.mark.parametrize("name", REGIONS)
def test_the_value_is_that_of_its_pose(name):
    vehicle = skewed(REGIONS[name])
    found = envelope(vehicle)
    for extremes, channel in (
        (found.joints["output"].most, 0),
        (found.joints["pinion"].most, 1),
        (found.slip.longest, 2),
    ):
        at = np.array([[extremes.at.travel, extremes.at.roll, extremes.at.wrap]])
        assert float(plain_line(vehicle, at)[channel][0]) == pytest.approx(extremes.value, abs=1e-7)


@pytest.mark.parametrize("name", REGIONS)
def test_no_grid_changes_what_the_sweep_finds(name):
    vehicle = skewed(REGIONS[name])
    first, *others = (envelope(vehicle, grid) for grid in GRIDS)
    for other in others:
        for one, two in (
            (first.joints["output"].most, other.joints["output"].most),
            (first.joints["pinion"].most, other.joints["pinion"].most),
            (first.joints["output"].least, other.joints["output"].least),
            (first.joints["pinion"].least, other.joints["pinion"].least),
        ):
            assert one.value == pytest.approx(two.value, abs=1e-7)
        assert first.slip.longest.value == pytest.approx(other.slip.longest.value, abs=1e-5)
        assert first.slip.shortest.value == pytest.approx(other.slip.shortest.value, abs=1e-5)


@pytest.mark.slow
@given(data=st.data())
@settings(deadline=None, max_examples=10)
def test_on_any_suspension_neither_grid_nor_mirror_changes_it(data):
    vehicle = data.draw(vehicles())
    travel = replace(
        vehicle.travel,
        stops_apart=data.draw(st.sampled_from([10.0, 700.0, 1600.0])),
        droop_strap=data.draw(st.sampled_from(["sides", "middle"])),
        wrap_at_droop=data.draw(st.sampled_from([0.0, 0.4, 1.0])),
    )
    vehicle = replace(vehicle, travel=travel)
    first = envelope(vehicle)
    assume(first.unreachable is None)
    for again in (envelope(vehicle, GRIDS[1]), envelope(mirrored(vehicle))):
        for joint in ("output", "pinion"):
            one, two = first.joints[joint].most, again.joints[joint].most
            assert one.value == pytest.approx(two.value, abs=radians(0.001))
            assert allowed(travel, two.at)
        assert first.slip.longest.value == pytest.approx(again.slip.longest.value, abs=1e-3)


def test_a_hill_on_the_slanting_edge_is_found_to_its_top():
    """Closed form: along the edge the roll is the arc sine of what the strap leaves.

    The top of -(t + 150)^2 + 1e4 roll is where the derivative along the edge vanishes.
    """

    def hill(travel, roll, wrap):
        return -((travel + 190.0) ** 2) / 100.0 + 20.0 * roll + 0.0 * wrap

    def along(travel):
        sine = (travel + 200.0) / 400.0
        return -(travel + 190.0) / 50.0 + 20.0 / 400.0 / np.sqrt(1.0 - sine**2)

    travel = brentq(along, -199.0, -150.0)
    roll = asin((travel + 200.0) / 400.0)
    for grid in GRIDS:
        found = extreme(hill, STOPS, "most", grid)
        assert found.at.travel == pytest.approx(travel, abs=1e-4)
        assert found.at.roll == pytest.approx(roll, abs=1e-6)
        assert found.value == pytest.approx(hill(travel, roll, 0.0), abs=1e-10)


@pytest.mark.parametrize("name", REGIONS)
@pytest.mark.parametrize("share", [0.3, 0.8, 0.99])
@pytest.mark.parametrize("direction", ["down", "up"])
def test_the_first_contact_is_the_nearest_that_sampling_finds(name, share, direction):
    vehicle = skewed(REGIONS[name])
    region = vehicle.travel
    poses = sampled(region, sides=161, wraps=13)
    side = poses[:, 0] <= 0.0 if direction == "down" else poses[:, 0] >= 0.0
    poses = poses[side]
    _, driven, _ = plain_line(vehicle, poses)
    ride = plain_line(vehicle, np.zeros((1, 3)))[1][0]
    touch = ride + share * (driven.max() - ride)
    found = first_contacts(vehicle, ends(np.inf, touch), direction)
    past = driven >= touch
    if not past.any():
        return
    soonest = np.abs(poses[past, 0]).min()
    at = found.first.at
    assert found.first.joint == "pinion"
    assert allowed(region, at)
    assert abs(at.travel) <= soonest + 2e-3
    bend = plain_line(vehicle, np.array([[at.travel, at.roll, at.wrap]]))[1][0]
    assert bend >= touch - 1e-9
    assert line(vehicle, at.travel, at.roll, at.wrap).pinion_bend >= touch
    if at.travel != 0.0:
        assert bend == pytest.approx(touch, abs=1e-7)
        # Nothing between it and ride height touches: a sampling of its own, down to there.
        nearer = poses[np.abs(poses[:, 0]) < abs(at.travel) - 1e-3]
        assert (plain_line(vehicle, nearer)[1] < touch).all()


@pytest.mark.parametrize("name", REGIONS)
def test_every_row_is_the_first_contact_of_its_roll_and_wrap(name):
    """Height by height, at that roll and wrap, as far as the axle has both."""
    vehicle = skewed(REGIONS[name])
    region = vehicle.travel
    worst = envelope(vehicle)
    touch = worst.joints["pinion"].ride + 0.6 * (
        worst.joints["pinion"].most.value - worst.joints["pinion"].ride
    )
    found = first_contacts(vehicle, ends(np.inf, touch))
    assert found.by_wrap
    assert any(row.contact is not None for row in found.by_wrap)
    travel = np.linspace(0.0, -region.droop, 4001)
    for row in found.by_wrap:
        poses = np.stack([travel, 0 * travel + row.roll, 0 * travel + row.wrap], axis=-1)
        touching = plain_line(vehicle, poses)[1] >= touch
        there = np.array([allowed(region, replace(worst.joints["pinion"].most.at, travel=float(t),
                          roll=row.roll, wrap=row.wrap)) for t in travel])  # fmt: skip
        hits = np.abs(travel[touching & there])
        if row.contact is None:
            assert not hits.size or hits.size == 1
            continue
        at = row.contact.at
        assert (at.roll, at.wrap) == (row.roll, row.wrap)
        assert allowed(region, at)
        if hits.size:
            assert abs(at.travel) == pytest.approx(hits.min(), abs=region.droop / 4000.0 + 1e-6)


def test_a_contact_only_between_the_heights_of_a_grid_is_found():
    """It lies between two nodes of the way, where rolled just so far, and nowhere else."""
    vehicle = skewed(STOPS)
    worst = envelope(vehicle)
    touch = worst.joints["pinion"].most.value - 1e-7
    found = first_contacts(vehicle, ends(np.inf, touch))
    assert found.first is not None
    assert found.first.at.travel == pytest.approx(worst.joints["pinion"].most.at.travel, abs=1e-2)
    assert first_contacts(vehicle, ends(np.inf, touch + 2e-7)).first is None


def test_two_joints_together_touch_where_the_sooner_does():
    vehicle = skewed(STOPS)
    worst = envelope(vehicle)
    touch = [joint.ride + 0.5 * (joint.most.value - joint.ride)
             for joint in worst.joints.values()]  # fmt: skip
    one = first_contacts(vehicle, ends(touch[0], np.inf))
    other = first_contacts(vehicle, ends(np.inf, touch[1]))
    both, sooner = first_contacts(vehicle, ends(*touch)), earliest([one, other])
    assert both.first.joint == sooner.first.joint
    assert both.first.at.travel == pytest.approx(sooner.first.at.travel, abs=2e-3)
    assert abs(both.first.at.travel) == pytest.approx(
        min(abs(each.first.at.travel) for each in (one, other)), abs=2e-3
    )
    for row, a, b in zip(sooner.by_wrap, one.by_wrap, other.by_wrap, strict=True):
        there = [each.contact for each in (a, b) if each.contact is not None]
        if not there:
            assert row.contact is None
        else:
            assert row.contact in there
            assert abs(row.contact.at.travel) == min(abs(each.at.travel) for each in there)


@pytest.mark.slow
@pytest.mark.parametrize("grid", GRIDS)
def test_the_nearest_pose_out_of_reach_has_a_closed_form(grid):
    """A yoke sliding on the output ends its way where the pinion is a shaft length off its axis."""
    vehicle = plain(
        slip=Slip("output", 40.0, 80.0), travel=TravelRegion(100.0, 1400.0, 0.1, 0.14, 0.07)
    )
    outward = -vehicle.axis_C_output
    ride = np.linalg.norm(vehicle.p_A_pinion - vehicle.p_C_output)
    size = np.array([1500.0, 0.2, 0.21])

    def missing(travel, wrap):
        x, z = 280.0 * np.cos(wrap), 280.0 * np.sin(wrap) + travel
        apart = np.array([x, 0.0, z]) - vehicle.p_C_output
        return hypot(*(apart - (apart @ outward) * outward)[[0, 2]]) - ride

    def away(slope):
        travel = brentq(lambda t: missing(t, slope * t), -1400.0, -10.0)
        return hypot(travel / size[0], slope * travel / size[2])

    # Along the straight way from ride height at each slope of wrap against travel.
    flattest = minimize_scalar(
        away, bounds=(-1e-4, 5e-5), method="bounded", options={"xatol": 1e-12}
    )
    best = float(flattest.fun)
    found = envelope(vehicle, grid).unreachable
    assert found is not None
    assert abs(found.roll) < 1e-6
    assert hypot(found.travel / size[0], found.wrap / size[2]) == pytest.approx(best, abs=1e-6)
    assert not bool(line(vehicle, found.travel, found.roll, found.wrap).reachable)
    nearer = [0.999999 * way for way in (found.travel, found.roll, found.wrap)]
    assert bool(line(vehicle, *nearer).reachable)
