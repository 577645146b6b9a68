import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.head.turning import head_poses
from sim.head.bend import Head
from tests.closed_forms import equal_head, head_axes, head_chain

heads = st.builds(
    lambda span, share: Head(span, share * span, 0.8), st.floats(50.0, 120.0), st.floats(0.45, 0.55)
)
bends = st.floats(0.02, 0.6)


@given(st.floats(50.0, 120.0), bends)
def test_equal_halves_turn_evenly(span: float, bend: float) -> None:
    turning = head_chain(equal_head(span, bend, 0.8), bend)
    np.testing.assert_allclose(turning.speed_ratio, 1.0, rtol=0, atol=1e-12)
    np.testing.assert_allclose(turning.lead, 0.0, rtol=0, atol=1e-12)
    assert np.ptp(turning.speed_ratio) < 2e-12


def test_a_straight_head_turns_evenly() -> None:
    assert np.ptp(head_chain(Head(72.0, 36.6, 0.8), 0.0).speed_ratio) < 1e-12


@given(heads, bends)
def test_what_is_left_is_the_quotient_of_the_two_crosses(head: Head, bend: float) -> None:
    """Closed form: two joints in phase, so the greatest ratio is cos of the one over the other."""
    split = head.split(bend)
    first, second = np.cos(split.fixed), np.cos(split.sliding)
    ratio = head_chain(head, bend).speed_ratio
    np.testing.assert_allclose(
        sorted([ratio.min(), ratio.max()]), sorted([second / first, first / second]), rtol=1e-9
    )


@given(heads, bends)
def test_turned_end_for_end_the_swing_stays(head: Head, bend: float) -> None:
    one, other = (head_chain(head, bend, drives) for drives in (True, False))
    swings = [np.ptp(each.speed_ratio) for each in (one, other)]
    np.testing.assert_allclose(*swings, rtol=1e-9, atol=1e-13)
    np.testing.assert_allclose(one.bends, other.bends[::-1], rtol=0, atol=1e-12)


@given(heads, bends)
def test_the_chain_turns_as_the_posed_parts_do(head: Head, bend: float) -> None:
    """The far yoke's own turn about its axis, from how the parts are placed."""
    turning, split = head_chain(head, bend), head.split(bend)
    at = head_poses(split.fixed, split.sliding, -turning.angle, head.span)
    R = at.X_H_driven[..., :3, :3]
    level = np.array([0.0, 0.0, 1.0])
    across = np.cross(R[..., 0], level)
    turn = np.unwrap(np.arctan2((R[..., 1] * level).sum(-1), (R[..., 1] * across).sum(-1)))
    sense = np.sign(turn[-1] - turn[0])
    lead = sense * turn - turning.angle
    np.testing.assert_allclose(lead - lead.mean(), turning.lead, rtol=0, atol=1e-9)


def test_axes_bend_in_one_plane() -> None:
    axes = head_axes(0.2, 0.3)
    np.testing.assert_allclose(axes[:, 2], 0.0, atol=0)
    np.testing.assert_allclose(axes[0] @ axes[1], np.cos(0.2), rtol=1e-15)
    np.testing.assert_allclose(axes[0] @ axes[2], np.cos(0.5), rtol=1e-15)


@pytest.mark.parametrize(("equal_at", "most"), [(20.0, 0.0006), (28.0, 0.0021)])
def test_a_head_is_nearly_even_all_the_way_to_its_design_bend(equal_at: float, most: float) -> None:
    """Far below one joint at half the bend: 0.03 at 10 deg."""
    head = equal_head(72.0, np.radians(equal_at), 0.8)
    bends = np.radians(np.linspace(0, equal_at, 15))
    swings = [np.ptp(head_chain(head, bend).speed_ratio) for bend in bends]
    assert max(swings) < most
