"""Which size a torque and a bend call for."""

from math import inf, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.parts.catalogue import cross_sizes
from sim.sizing import SizingError, joint_strength, smallest_joint
from sim.sizing.joint_size import WANTED

MONOTONIC = settings(max_examples=25)


def rank(torque, bend):
    """Place of the smallest that fits in the catalogue; past its end where none does."""
    found = smallest_joint(torque, bend)
    return inf if found is None else cross_sizes().index(found)


@MONOTONIC
@given(
    torque=st.floats(1e5, 4e6), more=st.floats(1.0, 3.0), bend=st.floats(0.0, 30.0),
    further=st.floats(0.0, 10.0),
)  # fmt: skip
def test_more_torque_or_bend_never_takes_a_smaller_one(torque, more, bend, further):
    least = rank(torque, radians(bend))
    assert rank(more * torque, radians(bend)) >= least
    assert rank(torque, radians(bend + further)) >= least


def test_larger_sizes_hold_more():
    """The order of the trade sizes (common practice, no source)."""
    holds = [joint_strength(size.name, 1e6, radians(10.0)).holds for size in cross_sizes()]
    assert holds == sorted(holds)
    assert len(set(holds)) == len(holds)


def test_none_is_large_enough():
    assert smallest_joint(1e8, 0.1) is None
    assert joint_strength(cross_sizes()[-1].name, 1e8, 0.1).weakest.safety < WANTED


def test_refused():
    with pytest.raises(SizingError, match="torque"):
        smallest_joint(0.0, 0.1)
    with pytest.raises(SizingError, match="90 deg"):
        smallest_joint(1.0, 1.6)
