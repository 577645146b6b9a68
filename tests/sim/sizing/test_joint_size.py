"""Which size a torque and a bend call for."""

from math import inf, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.parts.catalogue import CatalogueError, cross_sizes
from sim.sizing import SizingError, generic_joint, joint_sizes, smallest_joint
from sim.strength import Strength, joint_load, joint_members

MONOTONIC = settings(max_examples=25)


def rank(torque, bend):
    """Place of the smallest that fits in the catalogue; past its end where none does."""
    found = smallest_joint(torque, bend)
    return inf if found is None else cross_sizes().index(found.size)


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
    holds = [found.strength.holds for found in joint_sizes(1e6, radians(10.0))]
    assert holds == sorted(holds)
    assert len(set(holds)) == len(holds)


def test_none_is_large_enough():
    assert smallest_joint(1e8, 0.1) is None
    assert not any(found.fits for found in joint_sizes(1e8, 0.1))


def test_asked_as_a_part_of_a_shaft():
    """The same joint asked by itself names the same member."""
    joint = generic_joint("joint", "1350", 0.2, ("weld yoke",))
    members = list(joint_members(joint, joint_load(1e6, 0.2, joint.trunnion.arm)))
    found = joint_sizes(1e6, 0.2)[2]
    assert "1350" in found.size.aliases
    assert found.strength.weakest.name == Strength(1e6, tuple(members)).weakest.name


def test_refused():
    with pytest.raises(SizingError, match="torque"):
        joint_sizes(0.0, 0.1)
    with pytest.raises(SizingError, match="90 deg"):
        joint_sizes(1.0, 1.6)
    with pytest.raises(CatalogueError, match="no yoke"):
        joint_sizes(1.0, 0.1, kind="spoon")
