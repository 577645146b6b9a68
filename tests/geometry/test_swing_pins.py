"""The cross swinging in a yoke: pins that meet at one swing, whichever way and wherever they sit.

They would show an arm shorter than the cross, a swing told the wrong way round or searched too
short, caps that are asked though they are round about the swing, and a cross left partly unasked.
"""

from math import hypot, sqrt

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from geometry.contact.first_touch import first_touches
from geometry.contact.pair import SwingingPair
from geometry.contact.swing import DrivenSwing, DrivingSwing, Swing
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.pins import SIZE, pin
from tests.simple_shapes import TOUCH_GAP, ball, box

SWINGS: list[Swing] = [DrivingSwing(), DrivenSwing()]
CORNER = 2.0 * sqrt(3.0) * SIZE
"""How far apart the middles of two pins may be when they touch, mm."""


def turned(swing: Swing, angle: float) -> np.ndarray:
    """The cross in the yoke after a swing: its rotation when straight, turned right-handed about
    the yoke's bores, which are y; the other way for the driven yoke, which is met face to face."""
    sense = -1.0 if swing.body == "driving" else 1.0
    return Rotation.from_rotvec([0.0, sense * angle, 0.0]).as_matrix() @ swing.rotation(0.0)


@pytest.mark.parametrize("swing", SWINGS)
def test_a_swing_turns_the_cross_about_the_bores(swing: Swing) -> None:
    for angle in (-1.0, -0.2, 0.3, 0.9):
        np.testing.assert_allclose(swing.rotation(angle), turned(swing, angle), atol=1e-15)
    own = [1.0, 0.0, 0.0] if swing.body == "driving" else [0.0, 1.0, 0.0]
    np.testing.assert_allclose(swing.rotation(0.7) @ own, [0.0, 1.0, 0.0], atol=1e-15)


@pytest.mark.slow
@pytest.mark.parametrize("swing", SWINGS)
def test_pins_on_cross_and_yoke_meet_at_their_swing(swing: Swing) -> None:
    """As far out as the cross goes, so nothing comes faster: the first touch is theirs, the way
    they meet, and there is none the other way; past the highest bend there is none at all."""
    rng = np.random.default_rng(3)
    for _ in range(60):
        angle, along, radius = rng.uniform(0.02, 1.2), rng.uniform(-30, 30), rng.uniform(5, 60)
        sign = float(rng.choice([-1.0, 1.0]))
        at, clock = np.full(3, along), rng.uniform(0.0, 2.0 * np.pi)
        about = (1, 2) if swing.body == "driving" else (0, 2)
        at[list(about)] = radius * np.cos(clock), radius * np.sin(clock)
        pair = SwingingPair(pin(turned(swing, sign * angle) @ at), pin(at), swing)
        assert pair.arm == pytest.approx(radius, abs=1.5 * SIZE)
        assert first_touches(pair, [-sign])[0] is None
        touch = first_touches(pair, [sign])[0]
        near = (CORNER + TOUCH_GAP) / radius
        if angle > TOL.bend_limit + near:
            assert touch is None
        elif angle < TOL.bend_limit - near:
            assert touch is not None
            assert angle - near <= touch.clear <= angle
            assert touch.clear <= touch.touch <= touch.clear + 0.5 * TOL.certificate
            assert touch.nearest.distance <= TOUCH_GAP
            seen = pair.nearest_at(touch.clear, sign)
            assert seen.distance == pytest.approx(touch.nearest.distance, abs=1e-12)


@pytest.mark.parametrize("swing", SWINGS)
def test_a_touch_is_seen_and_what_lies_before_is_not(swing: Swing) -> None:
    """A ball on the cross and one on the yoke: the law of cosines says where they meet."""
    fitting = np.array([3.0, 2.0, 25.0])
    about = np.delete(fitting, 0 if swing.body == "driving" else 1)
    met = 0.7 - 2.0 * np.arcsin(3.5 / np.hypot(*about))
    for sign in (1.0, -1.0):
        stop = ball(tuple(turned(swing, sign * 0.7) @ fitting), 4.0, "stop")
        pair = SwingingPair(stop, ball(tuple(fitting), 3.0, "fitting"), swing)
        touch = first_touches(pair, [sign])[0]
        assert touch is not None
        assert met <= touch.touch <= met + 2.0 * stop.chord / 20.0 + TOL.certificate
        assert 0.0 <= touch.touch - touch.clear <= 0.5 * TOL.certificate
        for share in np.linspace(0.0, 1.0, 60):
            spin = swing.spin(share * sign * touch.clear, touch.clear)
            assert pair.cut_triangles(touch.clear, spin) is None
            assert pair.meshes.nearest(pair.rotation(touch.clear, spin)).distance > 0.0
        there = touch.touch, swing.spin(sign * touch.touch, touch.touch)
        assert pair.cut_triangles(*there) is not None


def test_a_swing_within_a_graze_touches_where_it_is() -> None:
    """Round about the bores, half a graze off a wall: it touches at once, and twice it never."""
    for room, touches in ((0.5, True), (2.0, False)):
        wall = box((9.0 + room * TOL.graze, -3.0, -3.0), (12.0, 3.0, 3.0), "wall")
        pair = SwingingPair(wall, ball((0.0, 0.0, 0.0), 9.0, "hub"), DrivingSwing())
        touch = first_touches(pair, [1.0])[0]
        assert (touch is not None) is touches
        if touch is not None:
            assert touch.clear == touch.touch == 0.0


def test_the_arm_is_that_of_the_farthest_corner() -> None:
    """A bar across the cross: about its own driving bores, x, and about its driven ones, y."""
    bar = box((-7.0, -11.0, -3.0), (9.0, 12.0, 5.0), "bar")
    wall = box((40.0, -1.0, -1.0), (42.0, 1.0, 1.0), "wall")
    assert SwingingPair(wall, bar, DrivingSwing()).arm == pytest.approx(hypot(12.0, 5.0))
    assert SwingingPair(wall, bar, DrivenSwing()).arm == pytest.approx(hypot(9.0, 5.0))


def test_caps_are_left_out_and_nothing_else() -> None:
    """A cap that the cross would run into is not asked; the ear beside it is; a yoke of nothing
    but caps keeps them."""
    cap = box((-3.0, 20.0, -3.0), (3.0, 26.0, 3.0), "cap")
    ear = box((-8.0, 27.0, -8.0), (8.0, 30.0, 8.0), "ear")
    cross = box((-1.0, 18.0, -1.0), (1.0, 19.0, 1.0), "trunnion")
    both = SwingingPair(Mesh.join([cap, ear]), cross, DrivingSwing())
    assert both.whole.a.label_of(0) == "ear"
    assert len(both.whole.a.faces) == len(ear.faces)
    assert len(both.a.faces) <= len(ear.faces)
    lone = SwingingPair(cap, cross, DrivingSwing())
    assert len(lone.whole.a.faces) == len(cap.faces)


def test_a_straight_joint_has_no_swing() -> None:
    for swing in SWINGS:
        assert swing.angle(0.0, 1.0) == 0.0
        assert swing.angle(0.0, swing.spin(0.0, 0.0)) == 0.0
        for angle in (0.4, -0.4):
            assert swing.angle(0.4, swing.spin(angle, 0.4)) == pytest.approx(angle, abs=1e-9)
            for spin in np.linspace(0.0, 2.0 * np.pi, 73).tolist():
                bend = swing.bend(angle, spin)
                if bend < 1.5:
                    assert swing.angle(bend, spin) == pytest.approx(angle, abs=1e-9)
                elif np.isnan(bend):
                    highest = swing.angle(1.5, spin)
                    assert highest * angle <= 0.0 or abs(highest) < abs(angle)
