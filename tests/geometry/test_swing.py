import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.contact.first_touch import first_touches
from geometry.contact.gap import gap_at, smallest_gap
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.swing import DrivenSwing, DrivingSwing, Swing
from geometry.contact.touch import touch_curve
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.cross_poses import cross_in_driven, cross_in_driving
from tests.simple_shapes import TOUCH_GAP, box, hub

bends = st.floats(0.0, np.radians(80.0))
spins = st.floats(-6.0, 6.0)
BOTH = [(DrivingSwing(), cross_in_driving), (DrivenSwing(), cross_in_driven)]

PLATE = hub(30.0, 30.0, 24)
FITTED = Mesh.join([box((-6, -6, -9), (6, 6, 9), "hub"), box((2, 10, 14), (4, 12, 28), "fitting")])
FITTED_JOINT = ClosingJoint(JointParts(PLATE, PLATE, FITTED))


@given(bends, spins)
def test_one_angle_is_enough_for_the_cross(bend: float, spin: float) -> None:
    for swing, full in BOTH:
        angle = swing.angle(bend, spin)
        np.testing.assert_allclose(swing.rotation(angle), full(bend, spin), atol=1e-9)
        assert abs(angle) <= bend + 1e-12


@given(st.floats(0.05, 1.3), st.floats(-1.0, 1.0))
def test_bend_and_spin_follow_from_the_swing(bend: float, share: float) -> None:
    for swing, _ in BOTH:
        angle = share * bend
        spin = swing.spin(angle, bend)
        assert swing.angle(bend, spin) == pytest.approx(angle, abs=1e-9)
        if abs(angle) > 1e-3:
            assert swing.bend(angle, spin) == pytest.approx(bend, rel=1e-6)


@pytest.mark.parametrize("swing", [DrivingSwing(), DrivenSwing()])
def test_a_swing_that_is_never_reached(swing: Swing) -> None:
    away = swing.spin(-0.4, 0.4)
    assert np.isnan(swing.bend(0.3, away))
    assert swing.spin(0.0, 0.0) in (0.0, pytest.approx(0.5 * np.pi))


def test_a_fitting_that_touches_first_sets_the_curve() -> None:
    """The full joint, asked by bend and spin, agrees with the swing worked out by one angle."""
    curve = touch_curve(FITTED_JOINT, spins=36)
    assert curve.first is not None
    assert "fitting" in curve.first.surfaces
    assert curve.touch_min - curve.certified_clear <= TOL.certificate
    for spin, clear, touch, contact in zip(
        curve.spin, curve.clear, curve.touch, curve.contacts, strict=True
    ):
        if contact is None or "cross" not in contact.bodies:
            continue
        assert not gap_at(FITTED_JOINT, clear - 1e-6, spin).overlaps
        seen = gap_at(FITTED_JOINT, touch + 1e-6, spin)
        assert seen.overlaps or seen.distance <= TOUCH_GAP


def test_smallest_gap_knows_the_fitting() -> None:
    bend = 0.9 * touch_curve(FITTED_JOINT, spins=12).touch_min
    smallest = smallest_gap(FITTED_JOINT, bend)
    sampled = [gap_at(FITTED_JOINT, bend, s).distance for s in np.linspace(0, 2 * np.pi, 181)]
    assert min(sampled) - 0.2 <= smallest.distance <= min(sampled) + TOL.gap
    assert gap_at(FITTED_JOINT, bend, smallest.spin).distance == pytest.approx(
        smallest.distance, abs=1e-6
    )


def test_a_cross_too_small_to_reach_the_yoke_leaves_it_clear() -> None:
    small = JointParts(PLATE, PLATE, box((-2, -2, -2), (2, 2, 2), "hub"))
    joint = ClosingJoint(small)
    assert touch_curve(joint, spins=12).first is None
    assert all(touch is None for pair in joint.swings for touch in first_touches(pair, (-1.0, 1.0)))
