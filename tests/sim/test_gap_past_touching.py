"""The least gap over a turn agrees with the certificate on both sides of touching."""

import numpy as np
import pytest

from sim.check import check
from sim.pose import check_pose
from sim.rig import Rig, parse_rig
from sim.rig.demos import demo_text
from sim.vehicle import Pose

WAGON = "long-legged-trail-wagon"


@pytest.fixture(scope="module")
def rig() -> Rig:
    return parse_rig(demo_text(WAGON), WAGON)


def test_a_pose_that_touches_for_part_of_the_turn_only_is_told_to_touch(rig: Rig) -> None:
    """A spin with 0.014 mm of room had stood for the turn; from 15 to 30 deg metal meets."""
    found = check_pose(rig, Pose(travel=-190.5), 0.0).joints["pinion"]
    assert not found.gap.overlaps
    assert found.least.overlaps
    assert found.hardware.gap_at(found.bend, found.least.spin).overlaps


@pytest.mark.slow
@pytest.mark.parametrize("joint", ["output", "pinion"])
def test_on_either_side_of_the_certificate_the_least_gap_says_the_same(rig: Rig, joint) -> None:
    found = check(rig).joints[joint]
    clear, touches = found.curve.certified_clear, found.curve.touch_min
    for past in np.radians([0.002, 0.05, 0.3, 0.77, 0.85, 1.6]):
        assert found.hardware.smallest_gap(touches + past).overlaps
    for short in np.radians([0.0, 0.01, 0.1]):
        assert not found.hardware.smallest_gap(clear - short).overlaps
