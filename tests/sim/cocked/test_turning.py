"""What a cap gets over a turn, against vector statics and the joint's own rotations."""

from math import radians

import numpy as np
import pytest

from geometry.joint import rotations
from sim.cocked.turning import cap_turn
from sim.strength import joint_load

TORQUE, ARM = 8e5, 32.4


@pytest.mark.parametrize("bend", [0.0, 3.0, 12.0, 28.0])
@pytest.mark.parametrize("driving", [True, False])
def test_the_swing_is_that_of_the_cross_in_the_yoke(bend, driving):
    """The force lies in the plane of the cross, square to the trunnion; its angle from across the
    shaft is read off the rotations of yoke and cross, and the torque it makes is the shaft's."""
    b = radians(bend)
    turn = cap_turn(TORQUE, b, ARM, driving=driving, far=False)
    joint = rotations(np.full_like(turn.spin, b), turn.spin)
    yoke = joint.R_JD if driving else joint.R_JN
    push = joint.R_JX[..., 1] if driving else joint.R_JX[..., 0]  # square to its trunnion
    across = np.cross(yoke[..., 0], yoke[..., 1])
    along = np.einsum("ni,ni->n", push, yoke[..., 0])
    round_it = np.einsum("ni,ni->n", push, across)
    assert np.abs(turn.swing) == pytest.approx(
        np.arctan2(np.abs(along), np.abs(round_it)), abs=1e-12
    )
    torque = 2.0 * ARM * turn.force * np.cos(turn.swing)
    if driving:
        assert torque == pytest.approx(np.full_like(torque, TORQUE), rel=1e-12)
    else:
        ratio = np.cos(b) / (1.0 - (np.sin(b) * np.cos(turn.spin)) ** 2)
        assert torque * ratio == pytest.approx(np.full_like(torque, TORQUE), rel=1e-12)


def test_the_greatest_force_is_that_of_the_strength():
    turn = cap_turn(TORQUE, 0.3, ARM, driving=True, far=False)
    assert turn.force.max() == pytest.approx(joint_load(TORQUE, 0.3, ARM).cap_force, rel=1e-12)


@pytest.mark.parametrize("driving", [True, False])
def test_how_much_it_rolls_is_the_slope_of_the_swing(driving):
    fine = cap_turn(TORQUE, 0.4, ARM, driving=driving, far=False, spins=7200)
    slope = np.abs(np.roll(fine.swing, -1) - np.roll(fine.swing, 1)) / (2.0 * 2.0 * np.pi / 7200)
    assert fine.rolls == pytest.approx(slope, abs=1e-6)


def test_half_a_turn_later_it_swings_the_other_way_and_so_does_the_cap_across():
    near, far = (cap_turn(TORQUE, 0.2, ARM, driving=True, far=far) for far in (False, True))
    half = len(near.spin) // 2
    assert np.roll(near.swing, half) == pytest.approx(-near.swing, abs=1e-15)
    assert far.swing == pytest.approx(-near.swing, abs=0.0)
    assert np.roll(near.force, half) == pytest.approx(near.force, rel=1e-15)


def test_coast_pulls_the_other_way():
    turn = cap_turn(TORQUE, 0.2, ARM, driving=False, far=False)
    assert turn.load(drives=False) == pytest.approx(-turn.load(), abs=0.0)
    assert np.hypot(*turn.load().T) == pytest.approx(turn.force, rel=1e-15)
