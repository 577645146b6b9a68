"""Where to aim the pinion."""

from math import radians

import pytest

from sim.cures.aim import STEP, aim_curve
from sim.derive import ride_height_of, vehicle_of
from sim.line import line
from sim.rig.change import changed
from sim.rig.demos import load_demo


@pytest.mark.slow
def test_with_single_joints_the_smoothest_aim_is_that_of_equal_bends() -> None:
    """Published rule for two joints in phase: the pinion turns evenly where both bend alike.

    The equivalent angle of [AE-7] is then nought. The curve is sampled every half degree, so the
    least lies within one step.
    """
    curve = aim_curve(load_demo("long-legged-trail-wagon"))
    smooth = min(curve.aims, key=lambda aim: aim.uneven)
    rig = load_demo("long-legged-trail-wagon")
    wanted = -ride_height_of(rig).output_points[2] / abs(ride_height_of(rig).output_points[0])
    assert smooth.pinion_up == pytest.approx(wanted, abs=1.1 * STEP)


@pytest.mark.slow
def test_the_aim_as_it_is_says_what_the_rig_comes_to() -> None:
    rig = load_demo("marsh-runner")
    curve = aim_curve(rig)
    here = next(aim for aim in curve.aims if abs(aim.turn) < 1e-12)
    state = line(vehicle_of(rig), 0.0, 0.0, 0.0)
    bends = float(state.output_bend), float(state.pinion_bend)
    assert here.outcome.bend_at_ride == pytest.approx(max(bends), abs=1e-9)
    best = curve.best
    order = ("clear", "close", "touches")
    assert all(
        order.index(best.outcome.verdict) <= order.index(aim.outcome.verdict) for aim in curve.aims
    )


@pytest.mark.slow
def test_more_wrap_wants_a_lower_pinion() -> None:
    """Under power the nose comes up, so the smoothest driven aim lies lower by about that."""
    rig = load_demo("long-legged-trail-wagon")
    soft = changed(rig, {"travel.nose_up": "8 deg"})
    stiff = changed(rig, {"travel.nose_up": "0 deg"})
    aims = [min(aim_curve(r).aims, key=lambda aim: aim.uneven_driven) for r in (soft, stiff)]
    assert aims[0].turn == pytest.approx(aims[1].turn - radians(4.0), abs=1.1 * STEP)
