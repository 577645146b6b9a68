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


def lifted(mesh: Mesh, lift: float = LIFT) -> Mesh:
    """A pin so much farther out (mm)."""
    middle = mesh.bounds.mean(axis=0)
    return pin(middle * (1.0 + lift / np.linalg.norm(middle)))


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


@pytest.mark.parametrize("seed", range(8))
def test_of_many_passes_close_together_the_nearest_is_told(seed: int) -> None:
    """Pairs of pins, each on spheres of its own and so no nearer to any other than its own lift.

    Each is nearer than the next by hardly more than a gap has to be true to, in any order.
    """
    rng, count = np.random.default_rng(seed), 24
    bend, lifts = 0.9, 0.4 + 1.5 * TOL.gap * rng.permutation(count)
    spins = rng.uniform(0.0, 6.0) + rng.uniform(0.0, 0.5, count)
    passes = [
        meeting((bend, spin + 0.1), (bend, spin), 40.0 + 3.0 * i, about=rng.uniform(0.0, 6.0))
        for i, spin in enumerate(spins)
    ]
    driving = Mesh.join([each.a for each in passes])
    driven = Mesh.join([lifted(each.b, lift) for each, lift in zip(passes, lifts, strict=True)])
    found = smallest_gap(ClosingJoint(JointParts(driving, driven)), bend)
    assert lifts.min() - CORNER <= found.distance <= lifts.min() + TOL.gap


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


@pytest.mark.parametrize("way", [1.0, -1.0])
@pytest.mark.parametrize(("seen", "hidden"), [(1.0, 0.5), (1.5, 0.5)])
def test_a_nearer_pass_is_found_though_one_the_other_way_is_seen_first(
    way: float, seen: float, hidden: float
) -> None:
    """One pin of the cross passes two of a yoke: where it is looked at first, and in between.

    The yokes pass each other too, so that what is seen of the cross may be no nearer than they.
    """
    bend, on_cross, swing = 0.5, np.array([12.0, 17.0, 23.0]), DrivingSwing()
    yokes = meeting((bend, 2.1), (bend, 2.0), RADIUS)
    passes = ((0.3125 * way, seen), (-0.25 * way, hidden))
    pins = [lifted(pin(swing.rotation(angle) @ on_cross), lift) for angle, lift in passes]
    parts = JointParts(Mesh.join([yokes.a, *pins]), lifted(yokes.b), pin(on_cross))
    found = smallest_gap(ClosingJoint(parts), bend)
    assert hidden - CORNER <= found.distance <= hidden + TOL.gap


@pytest.mark.parametrize("swung", [0.3, 0.25])
def test_the_nearest_of_all_pairs_is_told_whichever_it_is(swung: float) -> None:
    """The yokes pass at one millimetre and the cross at another distance, nearer and farther.

    The cross does so about where it is looked at first, or half way between two such places.
    """
    bend, spin, swing = 0.5, 2.0, DrivingSwing()
    pair = meeting((bend, spin + 0.1), (bend, spin), RADIUS)
    on_cross = np.array([12.0, 17.0, 23.0])
    for room, bodies in ((0.5, ("driving", "cross")), (2.0, ("driving", "driven"))):
        place = swing.rotation(swung) @ on_cross
        near = pin(place * (1.0 + room / np.linalg.norm(place)))
        joint = ClosingJoint(JointParts(Mesh.join([pair.a, near]), lifted(pair.b), pin(on_cross)))
        found = smallest_gap(joint, bend)
        assert found.bodies == bodies
        assert found.distance == pytest.approx(min(room, LIFT), abs=CORNER + TOL.gap)
        assert gap_at(joint, bend, found.spin).bodies == bodies
