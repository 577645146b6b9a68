"""What a rig's own numbers foretell: textbooks, closed forms, Fourier and statics of vectors."""

from collections.abc import Iterator
from dataclasses import replace
from math import degrees, pi, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.assessment import Assessor
from sim.frames import FloatArray
from sim.line import running, shafts, turn
from sim.rig import Rig, changed, load_demo
from sim.speed import RPM, pose_under
from sim.vibration import SUSPECTS, Symptom
from sim.vibration.case import Case
from sim.vibration.suspect import Prediction
from tests.sim.vibration.rigs import flat

POUND = 4.4482216152605


def foretold(rig: Rig, code: str, **said: object) -> Prediction:
    case = Case(rig, Symptom(**said), Assessor())  # type: ignore[arg-type]
    (suspect,) = [each for each in SUSPECTS if each.code == code]
    return suspect.predicted(case)


@pytest.mark.parametrize(("rpm", "alpha"), [(1500.0, 3083.402), (750.0, 770.8505)])
def test_one_joint_shakes_as_in_the_textbook(rpm, alpha):
    """Khurmi and Gupta, ex. 9.2: 20 deg at 1500 rpm, 3080 rad/s2 printed, 3083.40 unrounded."""
    rig = flat(20.0, 0.0)
    found = foretold(rig, "joint-angles", shaft=rpm * RPM, when="any")
    assert found.says == "yes"
    assert found.share == pytest.approx(alpha / 400.0, rel=1e-5)


@given(first=st.floats(0.0, 12.0), last=st.floats(0.0, 12.0), rpm=st.floats(500.0, 4000.0))
@settings(max_examples=20)
def test_the_second_order_of_the_exact_turning_is_what_is_foretold(first, last, rpm):
    """Fourier of the pinion's turning, from the turned joints: nearly all is twice a turn."""
    rig = flat(round(first, 3), round(last, 3))
    case = Case(rig, Symptom(shaft=rpm * RPM, when="any"), Assessor())
    spins = np.arange(256) * (2.0 * pi / 256)
    state = turn(case.vehicle, 0.0, 0.0, 0.0, spins)
    bend = state.line.bends["pinion"]
    far = np.unwrap(
        np.arctan2(np.sin(state.spins["pinion"]), np.cos(state.spins["pinion"]) * np.cos(bend))
    )
    orders = 2.0 * np.abs(np.fft.rfft(far - spins)) / 256
    second = 4.0 * orders[2] * (rpm * RPM) ** 2
    told = running(case.vehicle).greatest_acceleration * (rpm * RPM) ** 2
    assert second == pytest.approx(told, rel=0.02, abs=1e-6 * (rpm * RPM) ** 2)
    assert max(orders[1], orders[3]) <= 1e-9
    assert second == pytest.approx(
        (rpm * RPM) ** 2 * abs(tan(radians(first)) ** 2 - tan(radians(last)) ** 2),
        rel=0.05,
        abs=3.0,
    )


def test_equal_bends_and_none_are_not_foretold():
    for bend in (0.0, 2.0):
        found = foretold(flat(bend, bend), "joint-angles", shaft=1500.0 * RPM)
        assert found.says == "no"
        assert found.share is not None
        assert found.share < 0.05


def test_within_the_doubt_of_the_limit_it_is_near():
    rig = flat(7.0, 7.0)
    at_limit = sqrt(1000.0 / float(np.tan(radians(7.0)) * np.sin(radians(7.0))))
    says = [
        foretold(rig, "joint-angles", shaft=share * at_limit).says
        for share in (0.68, 0.73, 0.98, 1.02)
    ]
    assert says == ["no", "near", "near", "yes"]


def test_wrap_under_power_is_nose_up_and_coasting_nose_down():
    rig = flat(4.0, 4.0, wrap=8.0)
    case = Case(rig, Symptom(shaft=250.0, when="power"), Assessor())
    level, power, coast = (case.bends(load)["pinion"] for load in ("level", "power", "coast"))
    assert degrees(power - level) == pytest.approx(4.0, abs=0.9)
    assert degrees(coast - level) == pytest.approx(-2.0, abs=0.5)
    at = pose_under(case.vehicle.travel, False, "power")
    left = running(case.vehicle, at).greatest_acceleration
    driven = case.bends("power")["output"]
    most = max(left / 400.0, tan(driven) * np.sin(driven) / 1000.0)
    found = foretold(rig, "joint-angles", shaft=250.0, when="power")
    assert found.share == pytest.approx(250.0**2 * most, rel=2e-3)


def test_an_ounce_at_an_inch_pulls_16_pounds_at_3000():
    """Common knowledge of balancing shops: 1 oz at 1 in pulls 16 lb at 3000 rpm."""
    found = foretold(flat(2.0, 2.0), "balance", shaft=3000.0 * RPM)
    assert found.says == "untold"
    assert found.why is not None
    assert found.why["pull"] / POUND == pytest.approx(16.0, abs=0.1)


@pytest.mark.slow
def test_whirl_is_held_to_the_speed_the_beam_whirls_at():
    rig = flat(2.0, 2.0)
    case = Case(rig, Symptom(shaft=100.0), Assessor())
    critical = case.whirl.critical
    assert critical is not None
    says = {
        share: foretold(rig, "whirl", shaft=share * critical)
        for share in (0.3, 0.5, 0.65, 0.72, 0.84, 0.86)
    }
    assert [each.says for each in says.values()] == ["no", "near", "no", "near", "near", "yes"]
    assert says[0.5].why is not None
    assert says[0.5].why.code == "whirl-at-half"


def test_wound_up_is_as_uneven_as_one_joint():
    """Straight but for the wrap: the pinion joint alone bends, by the wrap and what it lifts."""
    found = foretold(flat(0.0, 0.0, wrap=7.0), "wind-up", when="takeoff")
    assert found.why is not None
    case = Case(flat(0.0, 0.0, wrap=7.0), Symptom(when="takeoff"), Assessor())
    bends = case.bends("takeoff")
    like = sqrt(abs(bends["pinion"] ** 2 - bends["output"] ** 2))
    assert found.why["like"] == pytest.approx(like, rel=5e-3)
    assert found.says == "yes"
    assert foretold(flat(0.0, 0.0, wrap=2.0), "wind-up", when="takeoff").says == "no"


def test_the_push_on_a_carrier_bearing_is_that_of_the_crosses():
    """Statics of vectors: a cross passes a moment along its normal only; the greatest of a turn."""
    rig = load_demo("timber-crew-carrier")
    case = Case(rig, Symptom(when="takeoff"), Assessor())
    found = foretold(rig, "carrier", when="takeoff")
    axes, _ = shafts(case.vehicle, pose_under(case.vehicle.travel, False, "takeoff"))
    output, front, rear = axes[:3]
    # Both for a torque of one in the front section: bending that it gets at either end.
    at_output = max(
        np.linalg.norm(moment / (moment @ front) - front) for moment in moments(output, front)
    )
    at_middle = max(
        np.linalg.norm(moment / (moment @ front) - front) for moment in moments(front, rear)
    )
    section = case.vehicle.section
    assert section is not None
    assert found.why is not None
    # For a torque of one before the output joint the bending behind it is sin(b), not tan(b).
    bent = case.bends("takeoff")["output"]
    assert at_output == pytest.approx(tan(bent), rel=1e-5)
    pushes = (at_middle + at_output * np.cos(bent)) / section.to_bearing
    assert found.why["push"] == pytest.approx(pushes, rel=1e-5)


def moments(driving: FloatArray, driven: FloatArray) -> Iterator[FloatArray]:
    """Normal of the cross (3,) at many spins of a joint between two axes."""
    across = np.cross(driving, driven)
    across = across / np.linalg.norm(across)
    for spin in np.linspace(0.0, pi, 1441):
        bores = np.cos(spin) * np.cross(across, driving) + np.sin(spin) * across
        other = np.cross(bores, driven)
        yield np.cross(bores, other / np.linalg.norm(other))


def test_without_a_speed_angles_are_told_and_not_weighed():
    rig = changed(flat(7.0, 7.0), {"drive": None})
    found = foretold(rig, "joint-angles", road=20_000.0, when="power")
    assert found.says == "untold"
    assert found.why is not None
    assert found.share is None
    assert replace(found, why=None) == Prediction("untold")


@pytest.mark.parametrize(
    ("rig", "governs", "joint", "bend"),
    [
        (flat(9.0, 8.0), "drive", "output", 9.0),
        (flat(8.0, 9.0), "coast", "pinion", 9.0),
        (flat(2.0, 7.0), "torsional", "pinion", 7.0),
        (flat(7.0, 2.0), "torsional", "output", 7.0),
    ],
)
def test_the_joint_that_shakes_is_named(rig, governs, joint, bend):
    case = Case(rig, Symptom(shaft=200.0, only="drooped"), Assessor())
    level = Case(changed(rig, {"travel.droop": "0 in"}), case.symptom, Assessor())
    named, bent = level.to_blame
    assert (level.felt.governs, named) == (governs, joint)
    assert degrees(bent) == pytest.approx(bend, abs=0.01)


def test_a_head_is_not_named_where_another_joint_shakes():
    case = Case(load_demo("short-tailed-scout"), Symptom(shaft=200.0, when="coast"), Assessor())
    named, bent = case.to_blame
    assert named == "pinion"
    assert degrees(bent) < 4.0 < degrees(case.bends("coast")["output"])
