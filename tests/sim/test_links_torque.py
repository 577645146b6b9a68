"""Links under torque: statics, worked apart with forces and moments."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sim.suspension.base import SuspensionError
from sim.suspension.links.members import Link, TorqueArm, Wishbone
from sim.suspension.links.motion import Links
from sim.suspension.links.torque import under_torque
from tests.sim.linkages import RADIUS_ARMS, SETS, THREE_LINK, TRIANGULATED, WISHBONE, pair

TORQUE, RADIUS = 3.0e6, 400.0

every_set = pytest.mark.parametrize("links", SETS.values(), ids=SETS.keys())


def legs(links):
    """Points on axle and chassis of every leg of a set that has nothing but legs."""
    for member in links.members:
        if isinstance(member, Wishbone):
            assert member.apex_on == "axle"
            yield from ((member.apex, bush) for bush in member.bushes)
        else:
            yield member.axle, member.chassis


@pytest.mark.parametrize("links", [TRIANGULATED, THREE_LINK, WISHBONE, SETS["parallel"]])
@pytest.mark.parametrize(("travel", "roll"), [(0.0, 0.0), (-120.0, 0.0), (60.0, 0.1)])
@pytest.mark.parametrize("torque", [TORQUE, -TORQUE])
def test_the_housing_is_in_balance(links, travel, roll, torque):
    """Forces fore-aft and sideways, moments about the axle's own axis and about the vertical
    through its centre: what the legs pull, the push of the tyres and the torque make zero."""
    told = under_torque(links, torque, RADIUS, travel, roll)
    before = links.poses(travel, roll, 0.0)
    x, y, _ = before.p_C_A + told.shift
    q = links.solved(travel, roll)
    pitch = q[2] / 500.0 + links.nose_up_sense * told.wrap
    yaw = q[3] / 500.0 + told.yaw
    housing = turned(yaw, roll, pitch)
    centre = np.array([x, y, travel])
    axis = housing[:, 1]
    force, moment = np.array([torque / RADIUS, 0.0, 0.0]), -torque * axis
    pulls = told.give.force
    for (p_A, p_C), pull in zip(legs(links), pulls, strict=True):
        arm = housing @ np.array(p_A)
        toward = np.array(p_C) - centre - arm
        f = pull * toward / np.linalg.norm(toward)
        force, moment = force + f, moment + np.cross(arm, f)
    scale = abs(torque) / RADIUS
    np.testing.assert_allclose(force[:2], 0.0, rtol=0, atol=1e-6 * scale)
    np.testing.assert_allclose([moment @ axis, moment[2]], 0.0, rtol=0, atol=1e-4 * scale)
    lengths = [np.linalg.norm(housing @ np.array(a) + centre - c) for a, c in legs(links)]
    ride = [np.linalg.norm(np.subtract(a, c)) for a, c in legs(links)]
    stiffness = 0.5 * links.bush_stiffness
    np.testing.assert_allclose(
        pulls, stiffness * np.subtract(lengths, ride), rtol=0, atol=1e-5 * scale
    )


def turned(yaw, roll, pitch):
    return Rotation.from_euler("ZXY", [float(yaw), roll, float(pitch)]).as_matrix()


def test_level_links_by_hand():
    """Two level links a side, 300 mm apart in height, axle midway: torque M without a push pulls
    the uppers and presses the lowers with M / (2 x 300) each; the housing turns by the stretch
    of both over their distance."""
    links = Links(
        members=(
            *pair(Link(name="upper", chassis=(700.0, 300.0, 150.0), axle=(0.0, 300.0, 150.0))),
            *pair(Link(name="lower", chassis=(700.0, 300.0, -150.0), axle=(0.0, 300.0, -150.0))),
            TorqueArm(name="guide", end=(0.0, 0.0, 0.0), held_by="shackle",
                      shackle=(0.0, 900.0, 0.0)),
        ),
        bush_stiffness=2.0e6,
    )  # fmt: skip
    torque = 3.0e4
    told = under_torque(links, torque)
    by_hand = torque / (2.0 * 300.0)
    np.testing.assert_allclose(
        told.give.force, [by_hand, by_hand, -by_hand, -by_hand, 0.0], rtol=1e-6, atol=1e-6
    )
    stretch = by_hand / 1.0e6
    assert float(told.wrap) == pytest.approx(2.0 * stretch / 300.0, rel=1e-6)
    assert float(told.centre) == pytest.approx(0.0, abs=1e-3)
    np.testing.assert_allclose(told.give.mm[:4], 0.5 * stretch, rtol=1e-6)


def test_driving_lifts_the_nose_in_the_rear_and_lowers_it_in_front():
    front = replace(THREE_LINK, front=True)
    rear_wrap = float(under_torque(THREE_LINK, TORQUE, RADIUS).wrap)
    front_wrap = float(under_torque(front, TORQUE, RADIUS).wrap)
    assert rear_wrap > 0.0
    assert front_wrap == -rear_wrap
    assert float(under_torque(RADIUS_ARMS, TORQUE, RADIUS).wrap) < 0.0
    assert float(under_torque(THREE_LINK, -TORQUE, RADIUS).wrap) < 0.0


@every_set
def test_small_torques_turn_in_proportion_and_stiff_bushes_hardly(links):
    one, two = (float(under_torque(links, load, RADIUS).wrap) for load in (1e3, 2e3))
    assert two == pytest.approx(2.0 * one, rel=1e-3, abs=1e-12)
    stiff = replace(links, bush_stiffness=1e3 * links.bush_stiffness)
    hard = float(under_torque(stiff, 1e6, RADIUS).wrap)
    assert 1e3 * hard == pytest.approx(float(under_torque(links, 1e3, RADIUS).wrap) * 1e3, rel=1e-4)


@every_set
def test_the_centre_stays_put(links):
    """A point so high above the axle's centre does not move fore-aft under the torque."""
    told = under_torque(links, 1e3, RADIUS)
    pitch = links.nose_up_sense * float(told.wrap)
    stays = float(told.shift[0]) + pitch * float(told.centre)
    assert stays == pytest.approx(0.0, abs=1e-12)


def test_nothing_turns_without_torque_and_nothing_out_of_reach():
    told = under_torque(THREE_LINK, 0.0, RADIUS, np.array([0.0, -900.0]), 0.0)
    assert told.wrap[0] == pytest.approx(0.0, abs=1e-12)
    assert np.isnan(told.wrap[1])
    assert np.isnan(told.give.mm[:, 1]).all()
    with pytest.raises(ValueError, match="read-only"):
        told.wrap[0] = 1.0


@pytest.mark.parametrize(("torque", "radius"), [(np.nan, 400.0), (1.0, 0.0), (1.0, -3.0)])
def test_impossible_loads_are_refused(torque, radius):
    with pytest.raises(SuspensionError, match="radius above zero"):
        under_torque(THREE_LINK, torque, radius)
