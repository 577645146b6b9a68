"""How a cap sits from what was measured: against bodies turned and moved in space."""

from math import radians

import numpy as np
import pytest

from sim.cocked import STRAIGHT, Seat, SeatError, stated
from sim.cocked.seat import (
    BAR_PLAY,
    bar_through,
    bed_stiffness,
    edge,
    gouge,
    loose_strap,
    play,
    skewed,
    spread,
)

SHAFT, ROUND, BORE = np.eye(3)
"""Along the yoke's own shaft away from the cross; the way ear a is moved by drive; ear a's bore."""


def turned(axis: np.ndarray, angle: float) -> np.ndarray:
    """A rotation about an axis, right-handed."""
    x, y, z = axis
    K = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.eye(3) + np.sin(angle) * K + (1.0 - np.cos(angle)) * (K @ K)


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_spread_ears_are_a_v(side):
    """An ear turned about its root until its tip has gone out by half of the gap's growth: the
    outer end of its bore leans toward the shaft, in both ears alike."""
    apart, wider = 42.0, 0.5
    bore = side * BORE
    angle = wider / (2.0 * apart)
    # The tip lies away from the shaft; it goes out along the bore.
    axis = np.cross(-SHAFT, bore)
    R = turned(axis, angle)
    assert (R @ (-apart * SHAFT)) @ bore == pytest.approx(0.5 * wider, rel=1e-4)
    leans = R @ bore
    tip = spread(60.0 + wider, 60.0, apart)
    assert tip.drive[1] == pytest.approx((leans @ SHAFT) / (leans @ bore), rel=1e-4)
    assert tip.drive[0] == 0.0
    assert tip.coast == tip.drive


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_skewed_bores_are_a_turn_about_the_shaft(side):
    """Each ear bent the way the trunnions push it on drive, its bore kept square: the line through
    both middles turns, and the trunnion leans in both caps toward the side that it presses."""
    between, off = 64.8, 0.5
    pushed = side * ROUND  # which way the trunnion presses on this ear
    middles = {s: s * (0.5 * between * BORE + 0.5 * off * ROUND) for s in (1.0, -1.0)}
    line = middles[side] - middles[-side]
    bore = side * BORE
    leans = (line @ pushed) / (line @ bore)
    assert -skewed(off, between).drive[0] == pytest.approx(leans, rel=1e-12)
    assert skewed(off, between).drive[1] == 0.0


def test_a_gouge_lets_the_inner_end_down_on_drive_alone():
    """A cap of the seat's length with one end on the sound edge and the other in the gouge."""
    tip = gouge(0.25, 15.0)
    inner, outer = np.array([0.0, 0.25]), np.array([15.0, 0.0])  # along the bore; the way pressed
    along, down = outer - inner
    assert tip.drive[0] == pytest.approx(down / along, rel=1e-12)
    assert tip.coast == (0.0, 0.0)
    assert tip.either


def test_a_mushroomed_edge_holds_the_inner_end_off_the_tip():
    """It pushes the inner end toward the shaft, so the outer end leans away from it."""
    tip = edge(0.125, 15.0)
    assert tip.drive == (0.0, pytest.approx(-0.125 / 15.0, rel=1e-12))
    assert tip.coast == tip.drive


def test_play_rocks_and_does_not_tip():
    tip = play(0.1, 0.03, 15.0)
    assert tip.drive == tip.coast == (0.0, 0.0)
    assert tip.play == (pytest.approx(0.03 / 15.0), pytest.approx(0.1 / 15.0))
    tight = play(-0.02, -0.01, 15.0)
    assert tight.play == (0.0, 0.0)
    assert Seat((tip,)).may == tip.play
    assert Seat((tip,)).tipped == 0.0


def test_a_bar_that_goes_through_rules_out_more_than_its_play():
    assert Seat((bar_through(64.8),)).may == pytest.approx((BAR_PLAY / 64.8,) * 2)
    assert Seat((bar_through(64.8),)).measured


def test_a_loose_strap_lets_the_cap_rock_across_the_load():
    assert loose_strap(15.0).play[0] == 0.0
    assert loose_strap(15.0).play[1] > 0.0


def test_what_tips_a_cap_adds_up():
    seat = Seat((spread(60.5, 60.0, 42.0), skewed(0.3, 60.0), gouge(0.1, 15.0)))
    assert seat.drive == pytest.approx((-0.3 / 60.0 - 0.1 / 15.0, 0.5 / 84.0), rel=1e-12)
    assert seat.coast == pytest.approx((-0.3 / 60.0, 0.5 / 84.0), rel=1e-12)
    assert seat.tipped == pytest.approx(np.hypot(*seat.drive), rel=1e-12)
    assert seat.either
    assert not Seat((spread(60.5, 60.0, 42.0),)).either


def test_nothing_measured_is_straight_and_says_so():
    assert STRAIGHT.drive == STRAIGHT.coast == STRAIGHT.may == (0.0, 0.0)
    assert not STRAIGHT.measured
    assert stated(1e-3).measured


def test_the_bed_is_that_of_an_elastic_foundation():
    """The moment of an even bed under a tilt, summed: k times the second moment of its length."""
    x = (np.arange(20_000) + 0.5) / 20_000 * 15.0 - 7.5
    assert bed_stiffness(15.0) == pytest.approx(1e5 * np.sum(x * x) * 15.0 / 20_000, rel=1e-6)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: stated(radians(6.0)), "does not go over"),
        (lambda: Seat(out=-1.0), "out"),
        (lambda: spread(0.0, 50.0, 40.0), "gap at tips"),
        (lambda: spread(50.0, 50.0, 0.0), "apart"),
        (lambda: skewed(-0.1, 60.0), "off"),
        (lambda: gouge(-0.1, 15.0), "gouge"),
        (lambda: edge(0.1, 0.0), "seat length"),
        (lambda: Seat((spread(70.0, 50.0, 40.0),)), "does not go over"),
    ],
)
def test_readings_that_cannot_be(make, says):
    with pytest.raises(SeatError, match=says):
        make()
