"""The smallest gap over a turn where it is hardest to find: pins that pass once, near by.

They never touch, since each keeps to a sphere of its own, a millimetre apart; at one spin or one
swing they stand straight above each other and nowhere else are they near. A rate of change taken
too low, a stretch of the turn or of the swing left out, would miss them.
"""

from math import sqrt

import numpy as np
import pytest

from geometry.contact.gap import gap_at, smallest_gap
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.swing import DrivenSwing, DrivingSwing, Swing
from geometry.joint import rotations
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.pins import SIZE, meeting, pin
from tests.simple_shapes import ball

RADIUS, LIFT = 50.0, 1.0
CORNER = 2.0 * sqrt(3.0) * SIZE
"""How much nearer two pins may be than their middles, mm."""


def lifted(mesh: Mesh) -> Mesh:
    """A pin as much farther out."""
    middle = mesh.bounds.mean(axis=0)
    return pin(middle * (1.0 + LIFT / np.linalg.norm(middle)))


@pytest.mark.parametrize("seed", range(24))
def test_the_one_spin_at_which_two_pins_pass_is_found(seed: int) -> None:
    rng = np.random.default_rng(seed)
    bend, spin = rng.uniform(0.1, 0.9), (seed + rng.uniform()) * np.pi / 12.0
    pair = meeting((bend, spin + 0.1), (bend, spin), RADIUS, about=rng.uniform(0.0, 6.0))
    joint = ClosingJoint(JointParts(pair.a, lifted(pair.b)))
    found = smallest_gap(joint, bend)
    assert not found.overlaps
    assert not found.points.flags.writeable
    assert LIFT - CORNER <= found.distance <= LIFT + TOL.gap
    assert found.distance == pytest.approx(gap_at(joint, bend, found.spin).distance, abs=1e-12)
    frames = rotations(bend, found.spin)
    for point, R, body in zip(
        found.points, (frames.R_JD, frames.R_JN), (pair.a, joint.parts.driven), strict=True
    ):
        assert np.linalg.norm(point - R @ body.bounds.mean(axis=0)) <= CORNER


@pytest.mark.parametrize("swing", [DrivingSwing(), DrivenSwing()])
@pytest.mark.parametrize("share", [-0.95, -0.4, -0.05, 0.3, 0.7, 0.98])
def test_the_one_swing_at_which_the_cross_passes_a_yoke_is_found(
    swing: Swing, share: float
) -> None:
    """A pin of the cross passes one of a yoke at a share of the bend; whichever yoke it is, the
    gap is told of that pair, where both stand, at a spin that brings the cross there."""
    bend, angle = 0.5, 0.5 * share
    on_cross = np.array([12.0, 17.0, 23.0])
    yoke = lifted(pin(swing.rotation(angle) @ on_cross))
    far = ball((90.0, 0.0, 0.0), 1.0, "far")
    parts = (
        (Mesh.join([yoke, far]), far) if swing.body == "driving" else (far, Mesh.join([yoke, far]))
    )
    joint = ClosingJoint(JointParts(*parts, pin(on_cross)))
    found = smallest_gap(joint, bend)
    assert found.bodies == (swing.body, "cross")
    assert LIFT - CORNER <= found.distance <= LIFT + TOL.gap
    assert swing.angle(bend, found.spin) == pytest.approx(angle, abs=0.02)
    frames = rotations(bend, found.spin)
    R_JA = frames.R_JD if swing.body == "driving" else frames.R_JN
    middle = yoke.bounds.mean(axis=0)
    np.testing.assert_allclose(found.points, [R_JA @ middle, frames.R_JX @ on_cross], atol=CORNER)
    assert smallest_gap(joint, 0.9 * abs(angle)).distance > found.distance


def test_the_nearest_of_all_pairs_is_told_whichever_it_is() -> None:
    """The yokes pass at one millimetre and the cross at another distance, nearer and farther."""
    bend, spin, swing = 0.5, 2.0, DrivingSwing()
    pair = meeting((bend, spin + 0.1), (bend, spin), RADIUS)
    on_cross = np.array([12.0, 17.0, 23.0])
    for room, bodies in ((0.5, ("driving", "cross")), (2.0, ("driving", "driven"))):
        place = swing.rotation(0.3) @ on_cross
        near = pin(place * (1.0 + room / np.linalg.norm(place)))
        joint = ClosingJoint(JointParts(Mesh.join([pair.a, near]), lifted(pair.b), pin(on_cross)))
        found = smallest_gap(joint, bend)
        assert found.bodies == bodies
        assert found.distance == pytest.approx(min(room, LIFT), abs=CORNER + TOL.gap)
        assert gap_at(joint, bend, found.spin).bodies == bodies
