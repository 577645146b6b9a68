import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.head.bend import Head, HeadError
from tests.closed_forms import equal_head

heads = st.builds(
    lambda span, share, limit: Head(span, share * span, limit),
    st.floats(40.0, 120.0),
    st.floats(0.4, 0.6),
    st.floats(0.3, 0.7),
)
bends = st.floats(0.0, np.radians(50.0))


@given(heads, bends)
def test_the_split_is_the_triangle_of_cross_ball_and_cross(head: Head, bend: float) -> None:
    """Law of sines and of cosines in the triangle, independent of how the split was solved."""
    split = head.split(bend)
    np.testing.assert_allclose(split.fixed + split.sliding, bend, atol=1e-12)
    np.testing.assert_allclose(
        split.reach * np.sin(split.sliding), head.ball * np.sin(split.fixed), atol=1e-9
    )
    np.testing.assert_allclose(
        head.ball * np.cos(split.fixed) + split.reach * np.cos(split.sliding), head.span, atol=1e-9
    )


@given(st.floats(40.0, 120.0), st.floats(0.05, 0.7))
def test_halves_are_equal_at_the_bend_it_was_made_for(span: float, bend: float) -> None:
    head = equal_head(span, bend, 0.7)
    split = head.split(bend)
    np.testing.assert_allclose(split.fixed, split.sliding, atol=1e-9)


def test_a_straight_head_is_straight_at_both_crosses() -> None:
    split = Head(70.0, 35.5, 0.6).split(0.0)
    assert split.fixed == split.sliding == 0.0
    assert split.reach == pytest.approx(34.5)


def test_many_bends_at_once_agree_with_one_at_a_time() -> None:
    head, bends = Head(70.0, 35.5, 0.6), np.linspace(0.0, 0.9, 50)
    together = head.split(bends)
    np.testing.assert_allclose(together.fixed, [head.split(b).fixed for b in bends], rtol=1e-14)
    assert (np.diff(together.fixed) > 0.0).all()
    assert (np.diff(together.sliding) > 0.0).all()


@pytest.mark.parametrize(
    ("span", "ball", "limit"), [(0.0, 1.0, 0.5), (70.0, 5.0, 0.5), (70.0, 35.0, 0.0)]
)
def test_heads_that_cannot_be_are_refused(span: float, ball: float, limit: float) -> None:
    with pytest.raises(HeadError, match="head"):
        Head(span, ball, limit)
