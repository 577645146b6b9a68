import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from geometry.head.triangle import Triangle
from geometry.head.turning import head_poses, second_spin

bends = st.floats(0.0, np.radians(30.0))
spins = st.floats(-np.pi, np.pi)
spans = st.floats(50.0, 120.0)


@given(bends, bends, spins, spans)
def test_every_cross_holds_its_two_yokes(
    first: float, second: float, spin: float, span: float
) -> None:
    at = head_poses(first, second, spin, span)
    driving, centre, driven = (X[:3, :3] for X in (at.X_H_driving, at.X_H_centre, at.X_H_driven))
    for bores, other in ((driving, centre), (centre, driven)):
        np.testing.assert_allclose(bores[:, 1] @ other[:, 1], 0.0, rtol=0, atol=1e-12)
    one, two = at.X_H_cross[:3, :3], at.X_H_second_cross[:3, :3]
    np.testing.assert_allclose(one[:, :2], np.stack([driving[:, 1], centre[:, 1]], 1), atol=1e-12)
    np.testing.assert_allclose(two[:, :2], np.stack([centre[:, 1], driven[:, 1]], 1), atol=1e-12)
    there = span * centre[:, 0]
    for X in (at.X_H_second_cross, at.X_H_driven):
        np.testing.assert_allclose(X[:3, 3], there, rtol=0, atol=1e-9)
    np.testing.assert_allclose(-driving[:, 0] @ driven[:, 0], np.cos(first + second), atol=1e-12)


@given(st.floats(0.0, 0.5), spins, spans, st.floats(0.45, 0.55))
def test_the_ball_lies_on_the_axis_of_the_other_yoke(
    carrying: float, spin: float, span: float, share: float
) -> None:
    bent = Triangle.of(span, share * span, carrying)
    at = head_poses(bent.carrying, bent.sliding, spin, span)
    p_H_ball = at.X_H_driving[:3, 0] * -share * span
    to_ball = p_H_ball - at.X_H_driven[:3, 3]
    np.testing.assert_allclose(-to_ball, bent.reach * at.X_H_driven[:3, 0], rtol=0, atol=1e-9)


@given(bends, spins)
def test_equal_bends_make_the_far_bores_the_mirror_image_of_the_near_ones(
    bend: float, spin: float
) -> None:
    """In the plane that halves the head: so it turns evenly whatever the spin."""
    at = head_poses(bend, bend, spin, 72.0)
    near, far = at.X_H_driving[:3, :3], at.X_H_driven[:3, :3]
    normal = near[:, 0] - far[:, 0]
    normal = normal / np.linalg.norm(normal)
    image = near[:, 1] - 2.0 * (near[:, 1] @ normal) * normal
    np.testing.assert_allclose(image, -far[:, 1], rtol=0, atol=1e-12)


@given(bends, spins)
def test_the_centre_yoke_stands_a_quarter_turn_off(first: float, spin: float) -> None:
    """The tan law, counted at the second joint from its own bend plane."""
    turned = second_spin(first, spin) - 0.5 * np.pi
    np.testing.assert_allclose(
        np.sin(turned) * np.cos(spin) * np.cos(first), np.cos(turned) * np.sin(spin), atol=1e-12
    )


def test_many_poses_at_once_agree_with_one_at_a_time() -> None:
    first, spin = np.linspace(0.0, 0.3, 4)[:, None], np.linspace(-3.0, 3.0, 5)
    together = head_poses(first, 0.2, spin, 72.0)
    assert together.X_H_driven.shape == (4, 5, 4, 4)
    alone = head_poses(first[2, 0], 0.2, spin[3], 72.0)
    np.testing.assert_allclose(together.X_H_driven[2, 3], alone.X_H_driven, rtol=0, atol=1e-14)
    np.testing.assert_allclose(together.second_spin[2, 3], alone.second_spin, rtol=0, atol=1e-14)
