"""Shaft speed, limits of bend and speed, shaking, best phase: against tables and worked numbers."""

from math import atan2, cos, degrees, inf, pi, radians, sin, tan

import numpy as np
import pytest

from sim.speed import (
    INERTIA,
    TORSIONAL,
    Gearing,
    bend_limit,
    best_phase,
    cancelling_phase,
    excitation,
    vibrations,
)

RPM = pi / 30.0
MPH = 1609344.0 / 3600.0


def in_a_plane(*slopes):
    return [[cos(radians(s)), 0.0, sin(radians(s))] for s in slopes]


@pytest.mark.parametrize(
    ("rpm", "bends"),
    [
        (1500.0, (7.3, 7.4, 7.6, 7.9, 8.3, 8.9, 9.5, 10.1, 10.8, 11.6)),
        (1600.0, (6.9, 6.9, 7.1, 7.5, 7.9, 8.5, 9.1, 9.8, 10.5)),
        (1700.0, (6.5, 6.5, 6.8, 7.1, 7.6, 8.2, 8.8)),
    ],
)
def test_second_bend_of_a_published_table(rpm, bends):
    """A general reference page quoting [AE-7]: greatest second bend for the first, 0 to 9 deg:
    400 rad/s2 lie within half of the last printed digit, and what its own rounding leaves."""
    for first, second in enumerate(bends):
        less, more = (
            excitation(in_a_plane(0.0, first, first - second - off), rpm * RPM).torsional
            for off in (-0.07, 0.07)
        )
        assert 0.99 * less < TORSIONAL < 1.01 * more


@pytest.mark.parametrize(
    ("rpm", "bend"),
    [(5000, 3.25), (4500, 3.67), (4000, 4.25), (3500, 5.0), (3000, 5.83), (2500, 7.0),
     (2000, 8.67), (1500, 11.5)],
)  # fmt: skip
def test_bend_against_speed_of_the_trade(rpm, bend):
    """A page of the trade; its bends come to 880 to 1020 rad/s2, so 1000 gives them within 7 %."""
    assert degrees(bend_limit(rpm * RPM, INERTIA)) == pytest.approx(bend, rel=0.07)


@pytest.mark.parametrize(
    ("limit", "product"),
    [(1000.0, 17_301.9), (500.0, 12_234.3), (400.0, 10_942.7), (300.0, 9_476.6), (100.0, 5_471.3)],
)
def test_speed_times_bend(limit, product):
    """Worked apart, rpm x deg, small bends."""
    assert degrees(bend_limit(5000.0 * RPM, limit)) * 5000.0 == pytest.approx(product, rel=2e-3)


@pytest.mark.parametrize(
    ("slopes", "phase", "left"),
    [
        ((0.0, 8.0, 3.0), 0.0, 0.011935),
        ((0.0, 10.0, 3.0), 0.0, 0.015655),
        ((0.0, 20.0, 5.0), 0.0, 0.055117),
        ((0.0, 25.0, 1.0), 0.0, 0.015910),
        ((0.0, 8.0, 3.0), 90.0, 0.027190),
        ((0.0, 10.0, 0.0), 5.0, 0.0053373),
        ((0.0, 10.0, 0.0), 22.5, 0.0234383),
    ],
)
def test_shaking_of_two_joints(slopes, phase, left):
    """Exact chains worked apart, over speed squared, at 3000 rpm."""
    speed = 3000.0 * RPM
    found = excitation(in_a_plane(*slopes), speed, [radians(phase)])
    digit = 10.0 ** -(len(str(left)) - 2)
    assert found.torsional / speed**2 == pytest.approx(left, abs=0.51 * digit)


def test_shaking_of_one_joint():
    """[KHURMI-GUPTA, ex. 9.2]: 20 deg, 1500 rpm: 3083.402 rad/s2; drive and coast alike."""
    found = excitation(in_a_plane(0.0, 20.0, 20.0), 1500.0 * RPM)
    assert found.drive == pytest.approx(3083.402, abs=5e-4)
    found = excitation(in_a_plane(0.0, 20.0, 0.0), 1500.0 * RPM)
    assert (found.drive, found.coast) == pytest.approx((3083.402, 3083.402), abs=5e-4)
    assert found.torsional == pytest.approx(0.0, abs=1e-4)


def test_best_phase_of_a_shaft_askew():
    """Worked apart: (-3, 0), (-12, 4), (2, 0) deg: bend planes 171.998 deg apart; 0.0375772 with
    ears in line. At best what two joints in one plane leave."""
    axes = [
        [1.0, tan(radians(yaw)), tan(radians(pitch))]
        for pitch, yaw in ((-3.0, 0.0), (-12.0, 4.0), (2.0, 0.0))
    ]
    closed, (searched,) = cancelling_phase(axes), best_phase(axes)
    assert abs(degrees(closed)) == pytest.approx(180.0 - 171.998, abs=5e-4)
    assert excitation(axes, 1.0).torsional == pytest.approx(0.0375772, abs=5e-8)
    assert searched == pytest.approx(closed, abs=1e-5)
    flat = excitation(in_a_plane(0.0, 9.80736, 9.80736 - 14.52599), 1.0)
    left = excitation(axes, 1.0, [searched]).torsional
    assert left == pytest.approx(flat.torsional, rel=1e-5)


def test_how_often_a_shaft_shakes():
    """Numbers of the trade: 35 in tyre, 4.56, 65 mph: 2850 rpm, 47 and 95 Hz; 45 mph: 33 and 66."""
    gearing = Gearing(17.5 * 25.4, 4.56)
    assert gearing.shaft_speed(65.0 * MPH) / RPM == pytest.approx(2850.0, abs=5.0)
    for mph, once, twice in ((65.0, 47.0, 95.0), (45.0, 33.0, 66.0)):
        shaft = [v.frequency for v in vibrations(gearing, mph * MPH)][:2]
        assert shaft == pytest.approx([once, twice], abs=0.5)


def test_shaking_by_hand():
    """One joint's turn by the tan law alone, twice differenced, at a steep bend."""
    bend, speed = radians(30.0), 200.0
    s = np.linspace(0.0, 2.0 * pi, 20_001)
    turn = np.unwrap(np.array([atan2(sin(a), cos(a) * cos(bend)) for a in s]))
    step = s[1] - s[0]
    shakes = np.abs(np.diff(turn, 2)).max() / step**2 * speed**2
    found = excitation(in_a_plane(0.0, 30.0, 30.0), speed)
    assert found.drive == pytest.approx(shakes, rel=1e-5)
    assert found.drive < inf
