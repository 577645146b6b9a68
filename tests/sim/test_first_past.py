"""The first pose past a limit, with limits made up so that the answer has a closed form."""

import numpy as np
import pytest

from sim.search.first_past import STEPS, FirstPast, closest
from sim.vehicle import Pose, TravelRegion

FLAT = TravelRegion(bump=100.0, droop=200.0, roll=0.0, nose_up=0.0, nose_down=0.0)
STEP = 200.0 / STEPS


def test_of_two_humps_between_nodes_the_nearer_is_told():
    """Each is past its limit within the root of 0.1 mm of its top, half way between two nodes."""
    tops = np.array([-32.5, -77.5]) * STEP

    def past(travel, roll, wrap):
        apart = np.asarray(travel)[..., None] - tops
        return np.max(1e-5 - 1e-4 * apart**2, axis=-1) + 0.0 * (roll + wrap)

    assert (past(np.linspace(0.0, -200.0, STEPS + 1), 0.0, 0.0) < 0.0).all()
    (found,) = FirstPast(past, FLAT, "down").at([(0.0, 0.0)])
    assert found is not None
    assert found.travel == pytest.approx(tops[0] + np.sqrt(0.1), abs=1e-5)
    (none,) = FirstPast(past, FLAT, "up").at([(0.0, 0.0)])
    assert none is None


def test_of_poses_as_far_up_or_down_the_one_least_turned_is_nearest():
    """Either way counts: neither a roll nor a wrap is less for being negative."""
    level, other = Pose(-50.0, 0.01, -0.01), Pose(50.0, -0.3, 0.1)
    for poses in ([level, other, None], [other, None, level]):
        assert closest(poses) == level
    assert closest([level, Pose(-50.0, 0.0, -0.03)]) == level
    assert closest([level, Pose(-49.0, 0.3, 0.3)]) == Pose(-49.0, 0.3, 0.3)
    assert closest([None]) is None
