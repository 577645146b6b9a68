"""What it takes to be past a limit, held against plain sampling and limits made up by hand."""

from dataclasses import replace
from math import radians, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sim.line import line
from sim.search.envelope import envelope
from sim.search.what_it_takes import what_it_takes
from sim.search.worst import extreme
from sim.vehicle import Pose, TravelRegion
from tests.sim.vehicles import vehicles

REGION = TravelRegion(100.0, 200.0, radians(8.0), radians(8.0), radians(4.0), stops_apart=800.0)


@pytest.mark.parametrize(
    ("past", "takes", "level"),
    [
        (lambda t, r, w: 0.0 * (t + r + w), "ride height", 0.0),
        (lambda t, r, w: -t - 150.0 + 0.0 * (r + w), "both hanging", -150.0),
        (lambda t, r, w: t - 70.0 + 200.0 * abs(w) + 0.0 * r, "both up", 70.0),
        (lambda t, r, w: abs(r) - radians(7.0) + 0.0 * (t + w), "crossed up", None),
        (lambda t, r, w: w - radians(7.0) + 0.0 * (t + r), "wrap", None),
        (lambda t, r, w: abs(r) + abs(w) - radians(7.5) + 0.0 * t, "crossed up or wrap", None),
        (lambda t, r, w: abs(r) + abs(w) - radians(15.0) + 0.0 * t, "crossed up and wrap", None),
    ],
)
def test_limits_made_up_by_hand(past, takes, level):
    found = what_it_takes(past, REGION)
    assert found.takes == takes
    if level is None:
        assert found.level is None
    else:
        assert found.level.travel == pytest.approx(level, abs=1e-5)
        assert (found.level.roll, found.level.wrap) == (0.0, 0.0)


def test_the_nearer_of_bump_and_droop_is_told():
    found = what_it_takes(lambda t, r, w: np.maximum(-t - 150.0, t - 60.0) + 0.0 * (r + w), REGION)
    assert (found.takes, found.level) == ("both up", Pose(pytest.approx(60.0, abs=1e-5)))


def test_a_roll_that_only_the_strap_forbids_does_not_count():
    """At 150 mm of droop each side may hang 50 mm more: 400 mm sine of the roll."""

    def past(travel, roll, wrap):
        return np.minimum(-travel - 150.0, (np.abs(np.sin(roll)) - 0.13) * 1e3) + 0.0 * wrap

    assert sin(radians(8.0)) > 0.13 > 50.0 / 400.0
    free = replace(REGION, droop_strap="middle")
    assert what_it_takes(past, free).takes == "crossed up"
    closer = replace(REGION, droop=205.0)
    assert what_it_takes(past, closer).takes == "crossed up"  # 55 mm are 0.1375
    assert extreme(past, REGION, "most").value < 0.0


@pytest.mark.slow
@given(data=st.data(), share=st.floats(0.3, 0.95))
@settings(deadline=None, max_examples=12)
def test_of_a_joint_it_is_what_sampling_finds(data, share):
    vehicle = data.draw(vehicles())
    travel = replace(vehicle.travel, stops_apart=data.draw(st.sampled_from([500.0, 1100.0])))
    vehicle = replace(vehicle, travel=travel)
    worst = envelope(vehicle)
    assume(worst.unreachable is None)
    touch = worst.joints["pinion"].ride + share * (
        worst.joints["pinion"].most.value - worst.joints["pinion"].ride
    )
    assume(worst.joints["pinion"].most.value > worst.joints["pinion"].ride + 0.01)

    def past(t, r, w):
        return line(vehicle, t, r, w).pinion_bend - touch

    found = what_it_takes(past, travel)
    t = np.linspace(-travel.droop, travel.bump, 241)[:, None, None]
    r = np.linspace(-travel.roll, travel.roll, 41)[:, None]
    w = np.linspace(-travel.nose_down, travel.nose_up, 41)
    height = 0.5 * travel.stops_apart * np.abs(np.sin(r))
    there = (t - height >= -travel.droop) & (t + height <= travel.bump)
    plain = past(t.ravel(), 0.0, 0.0)
    if (plain > 1e-6).any():
        assert found.takes in ("both hanging", "both up", "ride height")
        first = np.abs(t.ravel()[plain >= 0.0]).min()
        assert abs(found.level.travel) <= first + 1e-6
    elif not (plain > -1e-6).any():
        assert found.level is None
        wrapped = past(t[:, 0], 0.0, w)
        rolled = np.where(there[:, :, 0], past(t[:, :, 0], r[:, 0], 0.0), -1.0)
        if wrapped.max() > 1e-3:
            assert found.takes in ("wrap", "crossed up or wrap")
        elif wrapped.max() < -1e-3:
            assert found.takes in ("crossed up", "crossed up and wrap")
        if rolled.max() > 1e-3:
            assert found.takes in ("crossed up", "crossed up or wrap")
        elif rolled.max() < -1e-3:
            assert found.takes in ("wrap", "crossed up and wrap")
