"""Up to which bend a gap is left, on simple shapes."""

import numpy as np

from geometry.contact.gap import gap_at
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.simple_shapes import ball, box, hub

EARS = Mesh.join([box((-20, 32, -9), (40, 41, 9), "ear"), box((-20, -41, -9), (40, -32, 9), "ear")])
EARED = JointParts(*[Mesh.join([EARS, hub(34.0, 30.0, 48)])] * 2)


def test_a_gap_is_left_up_to_where_two_balls_come_that_near() -> None:
    """Closed form: the distance of two balls is that of their middles less both radii."""
    radius, gap = 6.0, 3.0
    here, there = np.array([24.0, 28.0, 0.0]), np.array([24.0, 0.0, 28.0])
    meshes = [ball(tuple(middle.tolist()), radius, "ball") for middle in (here, there)]
    curve = touch_curve(ClosingJoint(JointParts(*meshes), gap), spins=24)
    inside = sum(mesh.chord for mesh in meshes)
    step = np.radians(0.05)
    bends = np.arange(0.0, np.radians(60.0), step)
    spins = np.radians(np.arange(0.0, 360.0, 1.0))

    def apart(bend: np.ndarray, spin: np.ndarray) -> np.ndarray:
        far = driven_in_driving(bend, spin) @ there
        return np.asarray(np.linalg.norm(here - far, axis=-1) - 2.0 * radius)

    near = (apart(bends[:, None], spins) < gap).any(axis=1)
    first = bends[np.argmax(near)]
    assert 0.1 < first < bends[-1]
    # Flat faces lie a little inside of the balls, so that the meshes let them bend a little more.
    early = TOL.gap_certificate + step
    assert first - early <= curve.certified_clear <= first + np.radians(0.5)
    assert 0.0 < curve.touch_min - curve.certified_clear <= TOL.gap_certificate
    assert np.isfinite(curve.touch).any()
    for spin, clear, touch in zip(curve.spin, curve.clear, curve.touch, strict=True):
        if np.isfinite(touch):
            assert gap - inside - 1e-6 < apart(np.array(clear), spin)
            assert apart(np.array(touch), spin) < gap + TOL.gap
        else:
            assert apart(bends, spin).min() > gap - inside


def test_a_gap_that_is_not_there_when_straight_is_left_at_no_bend() -> None:
    room = gap_at(ClosingJoint(EARED), 0.0, 0.0).distance
    wide = touch_curve(ClosingJoint(EARED, room + 1.0), spins=24)
    assert wide.certified_clear == 0.0
    assert wide.touch_min <= TOL.certificate


def test_the_wider_the_gap_the_less_bend_is_left() -> None:
    clear = [touch_curve(ClosingJoint(EARED, gap), spins=24).certified_clear for gap in (0, 1, 3)]
    assert clear[0] > clear[1] + 0.005 > clear[2] + 0.01
