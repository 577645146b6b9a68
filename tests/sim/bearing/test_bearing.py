"""Needle life: laws, limits, flags."""

from dataclasses import replace
from math import asin, degrees, inf, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.bearing import BearingError, Needles, joint_life, rating_life
from sim.bearing.life import life_hours
from sim.bearing.needles import full_complement

NEEDLES = Needles.full(2.5, 12.0, 17.5)


@given(load=st.floats(10.0, 1e5), more=st.floats(1.0, 10.0))
def test_life_falls_with_the_ten_thirds_power_of_the_load(load, more):
    one, other = rating_life(18_000.0, load), rating_life(18_000.0, more * load)
    assert one / other == pytest.approx(more ** (10.0 / 3.0), rel=1e-12)


@given(load=st.floats(10.0, 1e5), rpm=st.floats(1.0, 6000.0), bend=st.floats(0.1, 40.0))
def test_hours_as_the_handbook_writes_them(load, rpm, bend):
    """1.5e6 / (n b) (C/P)^(10/3) in rpm and deg; and a load of P (b / 90)^0.3 turned round."""
    found = life_hours(18_000.0, load, rpm * pi / 30.0, radians(bend))
    share = (18_000.0 / load) ** (10.0 / 3.0)
    assert found == pytest.approx(1.5e6 / (rpm * bend) * share, rel=1e-12)
    turned = rating_life(18_000.0, load * (bend / 90.0) ** 0.3) / (60.0 * rpm)
    assert found == pytest.approx(turned, rel=1e-12)


@given(bend=st.floats(1.0, 39.0), more=st.floats(0.01, 5.0))
def test_a_larger_bend_and_speed_and_torque_shorten_it(bend, more):
    base = joint_life(NEEDLES, 32.0, 4e5, 200.0, radians(bend)).hours
    assert joint_life(NEEDLES, 32.0, 4e5, 200.0, radians(bend + more)).hours < base
    assert joint_life(NEEDLES, 32.0, 4e5 * (1.0 + more), 200.0, radians(bend)).hours < base
    assert joint_life(NEEDLES, 32.0, 4e5, 200.0 * (1.0 + more), radians(bend)).hours < base


def test_doubling_bend_or_speed_halves_the_life():
    """The rule of thumb of the trade; for load it is less kind: a tenth (common practice)."""
    base = life_hours(18_000.0, 5e3, 200.0, radians(4.0))
    assert life_hours(18_000.0, 5e3, 400.0, radians(4.0)) == pytest.approx(base / 2.0)
    assert life_hours(18_000.0, 5e3, 200.0, radians(8.0)) == pytest.approx(base / 2.0)
    assert life_hours(18_000.0, 1e4, 200.0, radians(4.0)) == pytest.approx(base / 10.08, rel=1e-3)


@pytest.mark.parametrize(
    ("torque", "speed", "bend"), [(0.0, 200.0, 0.1), (4e5, 0.0, 0.1), (4e5, 200.0, 0.0)]
)
def test_what_does_not_move_or_carry_lasts(torque, speed, bend):
    found = joint_life(NEEDLES, 32.0, torque, speed, bend)
    assert found.hours == inf


def test_a_straight_joint_is_flagged():
    found = joint_life(NEEDLES, 32.0, 4e5, 200.0, radians(0.5))
    assert [flag.code for flag in found.flags] == ["needles-do-not-overlap"]
    assert not joint_life(NEEDLES, 32.0, 4e5, 200.0, radians(14.0)).flags


def test_dented_needles_are_flagged():
    found = joint_life(NEEDLES, 32.0, 4e6, 200.0, radians(14.0))
    assert [flag.code for flag in found.flags] == ["needles-dent"]
    assert found.pressure > 4000.0


def test_paths_meet_at_the_swing_told():
    """A needle's middle moves by half of the trunnion's surface; on the inner raceway by the rest.

    Rolling without slip: the trunnion turns by 2b, the needles' circle by 2b Rp', so the paths
    on the trunnion are 2b (1 - share of the circle's turn) long; the next starts a pitch on."""
    needles = replace(NEEDLES, count=20)
    turn = 2.0 * needles.overlap_swing
    circle = 0.5 * turn * (1.0 - needles.gamma)
    assert turn - circle == pytest.approx(2.0 * pi / 20.0, rel=1e-12)
    assert degrees(NEEDLES.overlap_swing) == pytest.approx(12.8, abs=0.05)


@given(needle=st.floats(1.0, 5.0), trunnion=st.floats(8.0, 40.0))
def test_a_full_complement_goes_in_and_no_more(needle, trunnion):
    count = full_complement(needle, trunnion)
    step = 2.0 * asin(needle / (needle + trunnion))
    assert count * step <= 2.0 * pi * (1.0 + 1e-9)
    assert (count + 1) * step > 2.0 * pi
    with pytest.raises(BearingError, match="at most"):
        Needles(needle, 10.0, trunnion, count + 1)


@pytest.mark.parametrize(
    "made",
    [
        lambda: Needles(0.0, 10.0, 16.0, 10),
        lambda: joint_life(NEEDLES, 0.0, 1.0, 1.0, 0.1),
        lambda: joint_life(NEEDLES, 32.0, 1.0, 1.0, 2.0),
        lambda: rating_life(1.0, -1.0),
    ],
)
def test_no_such_bearing(made):
    with pytest.raises(BearingError, match="expected"):
        made()
