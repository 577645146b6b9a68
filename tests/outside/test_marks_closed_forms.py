"""Marks of simple shapes against closed forms, worked out without meshes.

A ball on the driving bores, at e, meets a ball on the driven shaft, at d. Up to a bend B the driven
shaft takes every direction within B of the driving one drawn on, and the driving bores every
direction in the plane through the driven yoke's x and z within B of z. So how deep each point of
either ball comes into the other is a distance to a cap of a sphere, or to an arc. Own derivation.
"""

from math import acos, asin, atan2, cos, pi, radians, sin

import numpy as np
import pytest

from geometry.clock import clock
from geometry.contact.joint_parts import JointParts
from geometry.contact.pair import CROSS, DRIVEN, DRIVING
from geometry.contact.patches import Patch, patches
from geometry.contact.pressed import Meeting, Pressed
from geometry.mesh import Floats, Mesh
from tests.simple_shapes import ball, hub

pytestmark = pytest.mark.slow

E, D, R, Q = 35.0, 40.0, 9.0, 11.0
EAR, NECK = ball((0, E, 0), R, "ear"), ball((D, 0, 0), Q, "neck")
TOUCH = asin((E * E + D * D - (R + Q) ** 2) / (2 * E * D))
BEND = TOUCH + radians(4.0)
SLACK = 2.0 * EAR.chord + 2.0 * NECK.chord + 0.02


def found(parts: JointParts, bend: float, clear: float) -> tuple[Meeting, dict[str, Pressed]]:
    meeting = Meeting(parts, clear, bend, spacing=1.0)
    return meeting, {each.body: each for each in meeting.whole(meeting.pressed())}


def marks(parts: JointParts, bend: float, clear: float) -> tuple[Patch, ...]:
    meeting = Meeting(parts, clear, bend, spacing=1.0)
    return patches(meeting, meeting.whole(meeting.pressed()), bend)


@pytest.fixture(scope="module")
def balls() -> dict[str, Pressed]:
    return found(JointParts(EAR, NECK), BEND, TOUCH - radians(1.0))[1]


def ear_depth(points: Floats) -> tuple[Floats, Floats]:
    """Depth in the neck, and the bend that first reaches each point of the ear."""
    far = np.linalg.norm(points, axis=1)
    away = np.arccos(-points[:, 0] / far)
    least = np.maximum(0.0, away - BEND)
    depth = Q - np.sqrt(far**2 + D**2 - 2.0 * far * D * np.cos(least))
    first = away - np.arccos(np.clip((far**2 + D**2 - Q**2) / (2.0 * far * D), -1.0, 1.0))
    return depth, first


def neck_depth(points: Floats) -> Floats:
    turn = np.clip(np.arctan2(points[:, 0], points[:, 2]), -BEND, BEND)
    ears = E * np.stack([np.sin(turn), np.zeros(len(turn)), np.cos(turn)], axis=1)
    return R - np.linalg.norm(points - ears, axis=1)


def test_every_point_of_either_ball_is_as_deep_as_the_closed_form(
    balls: dict[str, Pressed],
) -> None:
    ear, neck = balls[DRIVING], balls[DRIVEN]
    for each, depth in ((ear, ear_depth(ear.skin.points)[0]), (neck, neck_depth(neck.skin.points))):
        near = each.depth > -0.9
        assert near.sum() > 50
        np.testing.assert_allclose(each.depth[near], depth[near], rtol=0.0, atol=SLACK)
        assert (each.met == (each.depth > 0.0)).all()


def test_no_point_that_is_reached_is_left_out(balls: dict[str, Pressed]) -> None:
    for each, mesh, depth in (
        (balls[DRIVING], EAR, ear_depth(EAR.vertices)[0]),
        (balls[DRIVEN], NECK, neck_depth(NECK.vertices)),
    ):
        assert (depth > SLACK).sum() > 10
        for point in mesh.vertices[depth > SLACK]:
            assert np.linalg.norm(each.skin.points[each.met] - point, axis=1).min() < 1e-6


def test_the_first_bend_is_that_of_the_closed_form(balls: dict[str, Pressed]) -> None:
    ear = balls[DRIVING].only(balls[DRIVING].met)
    _, first = ear_depth(ear.skin.points)
    # A mesh that stands off by the chord is reached so much earlier or later; the bend between two
    # steps is read off a straight line, while the depth grows with the sine.
    np.testing.assert_allclose(ear.first, first, rtol=0.0, atol=radians(0.35))
    assert ear.first.min() == pytest.approx(TOUCH, abs=radians(0.1))


def test_each_point_is_deepest_in_the_pose_that_is_told(balls: dict[str, Pressed]) -> None:
    ear = balls[DRIVING].only(balls[DRIVING].met)
    b, s = ear.bend, ear.spin
    necks = D * np.stack([-np.cos(b), np.sin(b) * np.cos(s), -np.sin(b) * np.sin(s)], axis=1)
    there = Q - np.linalg.norm(ear.skin.points - necks, axis=1)
    np.testing.assert_allclose(there, ear.depth, rtol=0.0, atol=SLACK)


def test_one_ball_a_side_leaves_one_mark_each_once_a_turn() -> None:
    one, other = sorted(marks(JointParts(EAR, NECK), BEND, TOUCH - 0.02), key=lambda p: p.body)
    assert (one.body, other.body) == (DRIVEN, DRIVING)
    assert (one.surface, one.against, other.surface, other.against) == (
        "neck", "ear", "ear", "neck",
    )  # fmt: skip
    # Ear a is at 12; the bores of the other yoke lie along the driven yoke's z, at 3.
    assert other.clock == pytest.approx(0.0, abs=1e-9)
    assert one.clock == pytest.approx(0.5 * pi, abs=1e-9)
    assert not one.pair
    assert not other.pair
    reach = acos(sin(TOUCH) / sin(BEND))
    for each in (one, other):
        ((low, high),) = each.spins
        assert low == pytest.approx(2.0 * pi - reach, abs=radians(3.0))
        assert high == pytest.approx(2.0 * pi + reach, abs=radians(3.0))
        assert each.half_turns == (1,)


def test_a_ball_on_either_bore_leaves_a_pair_half_a_turn_apart() -> None:
    ears = Mesh.join([EAR, ball((0, -E, 0), R, "ear")])
    on_ears = [p for p in marks(JointParts(ears, NECK), BEND, TOUCH - 0.02) if p.body == DRIVING]
    assert sorted(round(p.clock or 0.0, 6) for p in on_ears) == [0.0, round(pi, 6)]
    assert all(p.pair for p in on_ears)
    assert sorted(p.half_turns for p in on_ears) == [(1,), (2,)]
    assert on_ears[0].depth == pytest.approx(on_ears[1].depth, abs=1e-9)


def test_no_touch_no_marks_and_none_at_the_very_touch() -> None:
    parts = JointParts(EAR, NECK)
    assert marks(parts, TOUCH - radians(0.3), TOUCH - radians(1.0)) == ()
    grazing = marks(parts, TOUCH, TOUCH - radians(1.0))
    assert all(patch.depth <= SLACK for patch in grazing)


@pytest.mark.parametrize(("face", "radius"), [(20.0, 45.0), (12.0, 38.0)])
def test_two_hubs_meet_on_a_ring_of_their_faces(face: float, radius: float) -> None:
    """At a bend b past 2 atan(s / r) the point at q of a face is q sin b - s (1 + cos b) behind the
    other face and r - s sin b - q cos b under its rim: a ring from s / tan(b / 2) out, all round
    the clock, at every spin."""
    bend = 2.0 * np.arctan(face / radius) + radians(3.0)
    disc = hub(face, radius, 192)
    _, both = found(JointParts(disc, disc), bend, bend - radians(4.0))
    inner = face / np.tan(0.5 * bend)
    for each in both.values():
        met = each.only(each.met)
        level = met.skin.normals[:, 0] < -0.99
        q = np.hypot(met.skin.points[level, 1], met.skin.points[level, 2])
        behind = q * sin(bend) - face * (1.0 + cos(bend))
        depth = np.minimum(behind, radius - face * sin(bend) - q * cos(bend))
        np.testing.assert_allclose(met.depth[level], depth, rtol=0.0, atol=2.0 * disc.chord + 0.03)
        np.testing.assert_allclose(
            met.first[level], 2.0 * np.arctan(face / q), rtol=0.0, atol=radians(0.25)
        )
    for patch in marks(JointParts(disc, disc), bend, bend - radians(4.0)):
        mesh, depth = patch.surface_mesh()
        flat = (np.abs(mesh.triangles[..., 0] - face) < 1e-6).all(axis=1)
        area = float(mesh.areas[flat].sum())
        assert area == pytest.approx(pi * (radius**2 - inner**2), rel=0.02)
        assert depth.min() == pytest.approx(0.0, abs=1e-9)
        assert patch.clock is None
        assert patch.pair
        assert patch.spins == ((0.0, 2.0 * pi),)
        assert patch.half_turns == (1, 2)


def test_a_fitting_swings_into_a_stop() -> None:
    """The fitting on the cross's y at m goes through m (-sin a, 0, cos a) of the driving yoke for
    swings a up to the bend; the stop stands w off z, so they are w - a apart by the centre."""
    m, k, r, q, w, bend = 30.0, 31.0, 5.0, 6.0, radians(60.0), radians(40.0)
    stop = ball((k * sin(w), 0.0, k * cos(w)), q, "stop")
    far = ball((90.0, 0.0, 0.0), 3.0, "far")
    parts = JointParts(stop, far, ball((0.0, m, 0.0), r, "fitting"))
    _, both = found(parts, bend, radians(15.0))
    met = both[DRIVING].only(both[DRIVING].met)
    points = met.skin.points
    turn = np.clip(np.arctan2(points[:, 0], points[:, 2]), -bend, bend)
    fittings = m * np.stack([np.sin(turn), np.zeros(len(turn)), np.cos(turn)], axis=1)
    depth = r - np.linalg.norm(points - fittings, axis=1)
    assert len(met) > 20
    np.testing.assert_allclose(met.depth, depth, rtol=0.0, atol=0.1)
    apart = acos((m * m + k * k - (r + q) ** 2) / (2 * m * k))
    assert met.first.min() == pytest.approx(w - apart, abs=radians(0.5))
    on_cross = both[CROSS].only(both[CROSS].met)
    assert on_cross.depth.max() == pytest.approx(met.depth.max(), abs=0.15)
    assert clock(points[int(met.depth.argmax())]) == pytest.approx(0.5 * pi, abs=0.01)
    assert atan2(*points[int(met.depth.argmax())][[0, 2]]) < w
