from math import cos, degrees, hypot, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.head.travel import BallAndSocket
from geometry.head.triangle import Triangle

centrings = st.builds(
    lambda span, share, radius, thin, hold: BallAndSocket(
        span=span,
        ball=share * span,
        ball_radius=radius,
        stalk_radius=thin * radius,
        mouth=(1.0 - share) * span + hold * radius,
    ),
    st.floats(60.0, 110.0),
    st.floats(0.45, 0.55),
    st.floats(6.0, 12.0),
    st.floats(0.3, 0.8),
    st.floats(0.4, 2.0),
)


def room_at_the_rim(centring: BallAndSocket, bent: Triangle) -> float:
    """From the stalk's surface to the rim's nearest point, mm, by plane geometry."""
    hold = centring.mouth - bent.reach
    away = centring.ball_radius * cos(bent.bend) - hold * sin(bent.bend)
    return away - centring.stalk_radius


@given(st.floats(60.0, 110.0), st.floats(0.4, 0.6), st.floats(0.001, 0.6))
def test_the_triangle_obeys_the_laws_of_sines_and_cosines(
    span: float, share: float, carrying: float
) -> None:
    ball = share * span
    bent = Triangle.of(span, ball, carrying)
    np.testing.assert_allclose(bent.reach * sin(bent.sliding), ball * sin(carrying), atol=1e-9)
    np.testing.assert_allclose(bent.reach * sin(bent.bend), span * sin(carrying), atol=1e-9)
    np.testing.assert_allclose(
        bent.reach**2, span**2 + ball**2 - 2.0 * span * ball * cos(carrying), rtol=1e-12
    )


@given(centrings)
def test_at_the_limit_the_stalk_meets_the_rim_or_the_ball_leaves_its_bore(
    centring: BallAndSocket,
) -> None:
    limit = centring.limit
    bends = [
        Triangle.of(centring.span, centring.ball, carrying)
        for carrying in np.linspace(0.0, radians(60.0), 2000)
    ]
    before = [bent for bent in bends if bent.bend < limit]
    assert all(room_at_the_rim(centring, bent) > 0.0 for bent in before)
    assert all(bent.reach < centring.mouth for bent in before)
    first = next(bent for bent in bends if bent.bend >= limit)
    slack = 0.05
    assert room_at_the_rim(centring, first) < slack or first.reach > centring.mouth - slack


def test_a_limit_worked_by_hand() -> None:
    """With the ball in the middle of a long span hardly anything slides: a plain socket.

    R 8, s 4, m 8: atan(8 / 8) - asin(4 / sqrt(128)) = 45 - 20.705 deg.
    """
    far = 1e6
    centring = BallAndSocket(far, 0.5 * far, 8.0, 4.0, 0.5 * far + 8.0)
    straight = Triangle.of(far, 0.5 * far, 0.0)
    assert degrees(centring.room(straight)) == pytest.approx(24.295, abs=1e-3)


def test_what_gives_the_stalk_room() -> None:
    def limit(**changed: float) -> float:
        plain = {
            "span": 72.0,
            "ball": 36.5,
            "ball_radius": 8.0,
            "stalk_radius": 4.5,
            "mouth": 43.5,
        }
        return BallAndSocket(**(plain | changed)).limit

    assert limit(stalk_radius=4.0) > limit() > limit(stalk_radius=5.0)
    assert limit(mouth=42.5) > limit() > limit(mouth=45.0)


def test_a_mouth_that_barely_holds_lets_the_ball_out() -> None:
    """Law of cosines: the ball is at its mouth when the reach has grown by what it is held."""
    centring = BallAndSocket(72.0, 36.5, 8.0, 2.0, 36.0)
    limit = centring.limit
    bent = min(
        (Triangle.of(72.0, 36.5, carrying) for carrying in np.linspace(0.0, 0.3, 30001)),
        key=lambda bent: abs(bent.bend - limit),
    )
    np.testing.assert_allclose(bent.reach, 36.0, rtol=0.0, atol=1e-3)
    assert hypot(centring.ball_radius, 0.0) > centring.stalk_radius


def test_a_stalk_as_thick_as_its_ball_has_no_travel() -> None:
    assert BallAndSocket(72.0, 36.5, 8.0, 8.0, 43.5).limit == pytest.approx(0.0, abs=1e-9)
