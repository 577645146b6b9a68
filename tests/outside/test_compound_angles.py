"""True joint angles from side and plan views, through the line of the shaft.

The numbers were computed apart from this code, from the formula named at each.
"""

import numpy as np
import pytest

from sim.frames import angle_between
from sim.line import line
from sim.suspension.vertical import Vertical
from sim.vehicle import Slip, TravelRegion, Vehicle

STILL = TravelRegion(bump=0.0, droop=0.0, roll=0.0, nose_up=0.0, nose_down=0.0)


def bend(output, shaft):
    """Bend (deg) at the output joint of two parts that point so much up and left, deg."""
    directions = [
        np.array([1.0, np.tan(np.radians(yaw)), np.tan(np.radians(pitch))])
        for pitch, yaw in (output, shaft)
    ]
    vehicle = Vehicle(
        p_C_output=np.zeros(3),
        axis_C_output=-directions[0],
        p_A_pinion=900.0 * directions[1],
        axis_A_pinion=directions[1],
        suspension=Vertical(front=True),
        travel=STILL,
        slip=Slip("shaft", 0.0, 0.0),
        front=True,
    )
    state = line(vehicle, 0.0, 0.0, 0.0)
    assert float(state.pinion_bend) == pytest.approx(0.0, abs=1e-15)
    return float(np.degrees(state.output_bend))


@pytest.mark.parametrize(
    ("side", "plan", "shop_rule", "exact"),
    [
        (3, 4, 5.00000, 4.99417),
        (5, 5, 7.07107, 7.05323),
        (6, 4.5, 7.50000, 7.48040),
        (10, 10, 14.14214, 14.00194),
        (15, 8, 17.00000, 16.83423),
        (20, 15, 25.00000, 24.32124),
    ],
)
def test_a_shaft_seen_in_two_views_against_a_level_output(side, plan, shop_rule, exact):
    """tan^2 = tan^2 side + tan^2 plan; the shop rule sqrt(side^2 + plan^2) reads higher."""
    assert bend((0, 0), (side, plan)) == pytest.approx(exact, abs=5.1e-6)
    assert np.hypot(side, plan) == pytest.approx(shop_rule, abs=5.1e-6)
    assert bend((0, 0), (side, plan)) < shop_rule


@pytest.mark.parametrize(
    ("output", "shaft", "exact"),
    [
        ((-3, 0), (-9, 4.5), 7.46218),
        ((-5, 0), (-20, 12), 18.69899),
        ((2, 0), (-18, 8), 21.34442),
    ],
)
def test_two_shafts_that_both_slope(output, shaft, exact):
    """Angle between the direction vectors, by vector arithmetic."""
    assert bend(output, shaft) == pytest.approx(exact, abs=5.1e-6)


@pytest.mark.parametrize(
    ("side", "plan", "turned"),
    [(3, 4, 4.99854), (5, 5, 7.06657), (10, 10, 14.10604), (20, 15, 24.81422)],
)
def test_two_turns_one_after_the_other_are_another_question(side, plan, turned):
    """cos = cos side cos plan: what two turns give, not two views.

    The last was handed down as 24.81421, cut instead of rounded: it is 24.814217.
    """
    s, p = np.radians([side, plan])
    after_both = np.array([np.cos(s) * np.cos(p), np.cos(s) * np.sin(p), np.sin(s)])
    angle = np.degrees(angle_between([1.0, 0.0, 0.0], after_both))
    assert float(angle) == pytest.approx(turned, abs=5.1e-6)
