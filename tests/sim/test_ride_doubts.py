"""A joint that touches as the vehicle stands is doubted, by check and before a rig is written."""

from math import radians

import pytest

from sim.check import check
from sim.derive import vehicle_of
from sim.ride_doubts import NEVER, ride_bends, ride_doubts
from sim.rig import load_demo, parse_rig
from tests.sim.rigs import PHONE_CALL, spoilt
from viewer.words.remarks import said

STEEP = spoilt(PHONE_CALL, ('shaft_points_down = "14 deg"', 'shaft_points_down = "31 deg"'))
"""Bends its joints 28 and 30 deg at ride height; both are clear to some 25 deg."""


@pytest.mark.slow
def test_check_and_new_doubt_the_same_joints() -> None:
    rig = parse_rig(STEEP)
    doubts = list(ride_doubts(rig))
    assert [each.key for each in doubts] == ["output", "axle"]
    assert {each.code for each in doubts} == {"touches_at_ride"}
    assert "was the truck measured hanging, is an up a down" in said(doubts[0])
    told = [each for each in check(rig).derivation.notes if each.code == "touches_at_ride"]
    assert told == doubts


def test_bends_at_ride_are_those_of_the_slopes() -> None:
    """By hand: the shaft 31 deg down; the output 3 deg down, the pinion 1 deg up."""
    bends = ride_bends(vehicle_of(parse_rig(STEEP)))
    assert abs(bends["output"] - radians(28.0)) < 1e-9
    assert abs(bends["pinion"] - radians(30.0)) < 1e-9


def test_an_ordinary_rig_is_not_doubted_nor_built() -> None:
    rig = load_demo("quarry-hauler")
    assert max(ride_bends(vehicle_of(rig)).values()) < NEVER
    assert list(ride_doubts(rig)) == []
