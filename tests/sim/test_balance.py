"""Balance: scaling, how two planes share, what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.balance import BalanceError, balance

masses, speeds = st.floats(1.0, 40.0), st.floats(10.0, 800.0)


@given(mass=masses, speed=speeds, middle=st.floats(0.0, 1200.0))
def test_planes_share_the_whole(mass, speed, middle):
    found = balance(mass, speed, planes=1200.0, middle=middle)
    assert found.first + found.last == pytest.approx(found.total, rel=1e-12)
    for plane in (found.first, found.last):
        assert 0.3 * found.total <= plane * (1.0 + 1e-9)
        assert plane <= 0.7 * found.total * (1.0 + 1e-9)


@given(mass=masses, speed=speeds, grade=st.floats(1.0, 100.0))
def test_grade_back(mass, speed, grade):
    """U w / m is the grade."""
    found = balance(mass, speed, grade)
    assert found.total * speed / (1e3 * mass) == pytest.approx(grade, rel=1e-12)


def test_the_nearer_plane_gets_more():
    near = balance(10.0, 300.0, planes=1200.0, middle=480.0)
    assert near.first == pytest.approx(0.6 * near.total, rel=1e-12)
    assert balance(10.0, 300.0).first == balance(10.0, 300.0).last


@pytest.mark.parametrize(
    "made",
    [
        lambda: balance(0.0, 300.0),
        lambda: balance(10.0, 0.0),
        lambda: balance(10.0, 300.0, planes=100.0, middle=101.0),
        lambda: balance(10.0, 300.0).weights(0.0),
    ],
)
def test_no_such_balance(made):
    with pytest.raises(BalanceError, match="expected"):
        made()
