"""First touch and its certificate on simple shapes, with properties of the curve."""

import numpy as np
import pytest

from geometry.contact.first_touch import certify, first_touches
from geometry.contact.gap import gap_at, smallest_gap
from geometry.contact.joint_parts import ClosingJoint, JointParts, Turn
from geometry.contact.touch import touch_curve
from geometry.errors import ShapeError
from geometry.joint import rotations
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.simple_shapes import ball, box, hub

EARS = Mesh.join([box((-20, 32, -9), (40, 41, 9), "ear"), box((-20, -41, -9), (40, -32, 9), "ear")])
FLOOR = hub(34.0, 30.0, 48)
EARED = JointParts(Mesh.join([EARS, FLOOR]), Mesh.join([EARS, FLOOR]))
LOPSIDED = JointParts(Mesh.join([EARS, FLOOR]), Mesh.join([FLOOR, ball((20, 33, 6), 5, "bolt")]))


@pytest.mark.parametrize("parts", [EARED, LOPSIDED])
def test_certificate_lies_under_the_touch_by_no_more_than_allowed(parts: JointParts) -> None:
    curve = touch_curve(ClosingJoint(parts), spins=36)
    assert 0.0 < curve.touch_min - curve.certified_clear <= TOL.certificate
    assert np.nanmin(curve.touch) >= curve.certified_clear
    touch = np.where(np.isnan(curve.touch), curve.limit, curve.touch)
    assert (curve.clear <= touch).all()
    assert (touch - curve.clear <= TOL.certificate).all()


def test_contact_is_seen_at_the_touch_and_not_at_the_certificate() -> None:
    joint = ClosingJoint(EARED)
    curve = touch_curve(joint, spins=36)
    assert curve.first is not None
    assert joint.yokes.cut(curve.touch_min, curve.first.spin)
    for spin in np.linspace(0.0, 2 * np.pi, 400):
        assert not joint.yokes.cut(curve.certified_clear, spin)


def test_the_answer_does_not_depend_on_the_grid() -> None:
    joint = ClosingJoint(LOPSIDED)
    coarse, fine = touch_curve(joint, spins=12), touch_curve(joint, spins=90)
    assert coarse.touch_min == pytest.approx(fine.touch_min, abs=TOL.certificate)


def test_lopsided_parts_have_no_symmetry_and_even_parts_have_all() -> None:
    assert ClosingJoint(EARED).turn == Turn(half_turn=True, mirror=True)
    assert ClosingJoint(LOPSIDED).turn == Turn(half_turn=False, mirror=False)


@pytest.mark.parametrize("turn", [Turn(a, b) for a in (True, False) for b in (True, False)])
def test_folding_a_spin_keeps_the_gap(turn: Turn) -> None:
    closing = ClosingJoint(EARED).yokes
    for spin in np.linspace(-1.0, 9.0, 23):
        folded, _ = turn.fold(spin)
        assert 0.0 <= folded <= turn.end + 1e-12
        here, there = closing.nearest_at(0.3, spin), closing.nearest_at(0.3, folded)
        assert here.distance == pytest.approx(there.distance, abs=1e-9)


def test_mirrored_contacts_lie_on_both_bodies() -> None:
    """Contacts taken over by symmetry are real ones: a point of each body, close together."""
    joint = ClosingJoint(EARED)
    curve = touch_curve(joint, spins=24)
    for contact in curve.contacts:
        assert contact is not None
        frames = rotations(contact.bend, contact.spin)
        near = joint.yokes.nearest_at(contact.bend, contact.spin)
        assert near.distance == pytest.approx(
            float(np.linalg.norm(contact.points[0] - contact.points[1])), abs=1e-9
        )
        p_D, p_N = contact.points[0] @ frames.R_JD, contact.points[1] @ frames.R_JN
        for body, point in ((EARED.driving, p_D), (EARED.driven, p_N)):
            gap = np.abs(np.einsum("ij,ij->i", *_planes(body, point)))
            assert gap.min() < 1e-6


def _planes(mesh: Mesh, point: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    normal = mesh.area_vectors / np.linalg.norm(mesh.area_vectors, axis=1, keepdims=True)
    return normal, point - mesh.triangles[:, 0]


def test_parts_that_overlap_when_straight_are_refused_by_name() -> None:
    deep = Mesh.join([EARS, hub(15.0, 38.0, 48)])
    with pytest.raises(ShapeError, match="ear of the"):
        ClosingJoint(JointParts(deep, deep))


def test_a_part_inside_another_is_refused() -> None:
    with pytest.raises(ShapeError, match="wholly inside"):
        ClosingJoint(JointParts(ball((0, 0, 0), 30.0, "shell"), ball((1, 0, 0), 3.0, "pea")))


def test_nothing_to_touch_gives_a_clear_turn() -> None:
    small = JointParts(hub(40.0, 5.0, 24), hub(40.0, 5.0, 24))
    curve = touch_curve(ClosingJoint(small), spins=12)
    assert np.isnan(curve.touch).all()
    assert curve.touch_min == np.inf
    assert curve.first is None
    assert curve.certified_clear == TOL.bend_limit


def test_a_thin_wire_is_not_jumped_over() -> None:
    """Conservative advancement sees a wire that a 1 deg grid of bends would step across."""
    wire = box((25.0, 30.0, -0.05), (25.1, 30.1, 0.05), "wire")
    blade = box((-26.0, 28.0, -0.05), (-25.9, 28.1, 0.05), "blade")
    away = box((80, -1, -1), (90, 1, 1), "stem")
    joint = ClosingJoint(JointParts(Mesh.join([wire, away]), Mesh.join([blade, away])))
    closing = joint.yokes
    seen = [
        closing.cut(b, s)
        for b in np.radians(np.arange(0.0, 60.0))
        for s in np.radians(np.arange(0.0, 360.0, 5.0))
    ]
    curve = touch_curve(joint, spins=24)
    assert not any(seen)
    if np.isfinite(curve.touch_min):
        assert curve.first is not None
        assert closing.cut(curve.touch_min, curve.first.spin)


def test_certify_finds_a_touch_between_its_ends() -> None:
    closing = ClosingJoint(EARED).yokes
    low = first_touches(closing, [0.0])[0]
    assert low is not None
    assert certify(closing, -0.3, 0.3, low.clear - 1e-3).hit is None
    hit = certify(closing, -0.3, 0.3, low.touch + 0.05).hit
    assert hit is not None
    assert closing.cut(hit[1].touch, hit[0])


@pytest.mark.slow
def test_smallest_gap_is_under_every_sampled_gap() -> None:
    joint = ClosingJoint(LOPSIDED)
    bend = 0.15
    smallest = smallest_gap(joint, bend)
    sampled = [gap_at(joint, bend, s).distance for s in np.linspace(0, 2 * np.pi, 181)]
    assert smallest.distance <= min(sampled) + TOL.gap
    assert smallest.distance >= min(sampled) - 0.5
    apart = float(np.linalg.norm(smallest.points[0] - smallest.points[1]))
    assert apart == pytest.approx(smallest.distance, abs=1e-9)


def test_gap_says_overlap_when_one_body_swallows_the_other() -> None:
    """Turned past its contact, a pea can sit wholly inside the other body's shell."""
    shell, pea = ball((0, 30, 0), 8.0, "shell"), ball((30, 0, 0), 2.0, "pea")
    joint = ClosingJoint(JointParts(shell, pea))
    inside = gap_at(joint, np.radians(89.0), 0.0)
    assert inside.overlaps
    assert inside.distance == 0.0
    assert not gap_at(joint, 0.2, 0.0).overlaps


def test_room_is_asked_of_the_whole_bodies() -> None:
    """What is nearest may lie beyond the reach of touching: two balls, by the law of cosines."""
    joint = ClosingJoint(JointParts(ball((0, 35, 0), 5.0, "ear"), ball((46, 0, 0), 5.0, "neck")))
    chord = joint.parts.chord
    for bend in np.radians([0.0, 20.0, 45.0]):
        apart = np.sqrt(35.0**2 + 46.0**2 - 2.0 * 35.0 * 46.0 * np.sin(bend)) - 10.0
        assert gap_at(joint, bend, 0.0).distance == pytest.approx(apart, abs=2.0 * chord)
        assert smallest_gap(joint, bend).distance == pytest.approx(apart, abs=2.0 * chord + TOL.gap)


@pytest.mark.slow
@pytest.mark.parametrize("room", [0.001, 0.01])
def test_bodies_that_graze_for_the_whole_bend_come_to_an_end(room: float) -> None:
    """A ball about the centre beside a plate square to it: the gap hardly changes at any bend."""
    near = ball((0, 0, 0), 20.0, "ball")
    plate = box((20.0 + room, -30.0, -30.0), (30.0, 30.0, 30.0), "plate")
    curve = touch_curve(ClosingJoint(JointParts(near, plate)), spins=12)
    if curve.first is not None:
        assert curve.touch_min - curve.certified_clear <= TOL.certificate
