"""What would mend a shake: tried by brute force, and by rigs that are wrong in one known way."""

from math import inf, radians

import numpy as np
import pytest

from sim.assessment import Assessor
from sim.cures.restate import pinion_turned
from sim.derive import vehicle_of
from sim.line import running
from sim.rig import Rig, changed, load_demo
from sim.speed import RPM, felt, pose_under
from sim.vibration import Mend, Symptom, SymptomError, find_vibration
from sim.vibration.case import ENOUGH, Case
from sim.vibration.mending import mends
from sim.vibration.tubes import stouter
from sim.whirl import SAFE_SHARE
from tests.sim.vibration.rigs import flat

MPH = 1_609_344.0 / 3600.0


def mended(rig: Rig, **said: object) -> dict[str, Mend]:
    case = Case(rig, Symptom(**said), Assessor())  # type: ignore[arg-type]
    return {mend.code: mend for mend in mends(case)}


def left(rig: Rig, load: str) -> float:
    """What is left at the pinion under a load, over the speed squared."""
    vehicle = vehicle_of(rig)
    at = pose_under(vehicle.travel, vehicle.front, load)  # type: ignore[arg-type]
    return running(vehicle, at).greatest_acceleration


@pytest.mark.slow
def test_a_pinion_aimed_too_high_for_its_wrap_is_aimed_down():
    """Common practice: a rumble under load that stops on coast, so the pinion points too high."""
    rig = flat(4.0, 4.0, wrap=8.0)
    aim = mended(rig, shaft=2000.0 * RPM, when="power")["pinion-turn"]
    assert aim.says["way"] == "down"
    assert aim.after.speed > 1.3 * aim.before.speed
    turns = np.radians(np.arange(-8.0, 8.1, 0.5))
    speeds = []
    for turn in turns:
        turned = vehicle_of(pinion_turned(rig, float(turn)) if turn else rig)
        speeds.append(felt(turned, load="power").speed)
    assert aim.after.speed >= 0.95 * max(speeds)
    assert aim.after.speed == pytest.approx(felt(vehicle_of(aim.cured), load="power").speed)


@pytest.mark.slow
@pytest.mark.parametrize(("first", "last"), [(3.0, 6.0), (6.0, 9.0)])
def test_the_aim_leaves_the_least_among_those_as_smooth(first, last):
    """At 6 deg the output joint alone decides from where it is felt, over several aims."""
    rig = flat(first, last)
    aim = mended(rig, shaft=2500.0 * RPM, when="any")["pinion-turn"]
    best = aim.after.speed
    for turn in np.radians(np.arange(-8.0, 8.1, 0.5)):
        other = pinion_turned(rig, float(turn)) if turn else rig
        if felt(vehicle_of(other)).speed >= 0.95 * best:
            assert left(aim.cured, "level") <= left(other, "level") + 1e-12


@pytest.mark.slow
def test_ears_a_quarter_turn_wrong_are_turned_back():
    rig = flat(6.0, 6.0, **{"shaft.phase": "90 deg"})
    found = mended(rig, shaft=2000.0 * RPM, when="any")["phase"]
    assert left(rig, "level") > 0.02
    assert left(found.cured, "level") == pytest.approx(0.0, abs=1e-6)
    assert found.cured.shaft.phase.rad == pytest.approx(0.0, abs=1e-6)
    assert found.enough


@pytest.mark.slow
def test_ears_of_a_shaft_askew_are_turned_to_where_they_leave_least():
    """Every whole degree tried by hand."""
    rig = flat(
        2.0, 2.0, **{"output.joint": ["62 1/2 in", "-3 in", "6 in"], "output.points_left": "3 deg"}
    )
    found = mended(rig, shaft=2000.0 * RPM, when="any")["phase"]
    tried = [left(changed(rig, {"shaft.phase": f"{turn} deg"}), "level") for turn in range(180)]
    assert left(found.cured, "level") <= min(tried) + 1e-12
    assert left(found.cured, "level") < 0.6 * left(rig, "level")
    assert found.cured.shaft.phase.rad > 0.05


@pytest.mark.slow
def test_ears_that_stand_well_are_left_alone():
    assert "phase" not in mended(flat(6.0, 3.0), shaft=2000.0 * RPM, when="any")


@pytest.mark.slow
def test_where_a_joint_is_bent_too_much_by_itself_no_aim_is_called_a_cure():
    """The shaft is turned unevenly by the first joint alone: 11 deg are felt from 1570 rpm."""
    rig = flat(11.0, 11.0)
    found = mended(rig, shaft=2200.0 * RPM, when="power")
    aim = found.get("pinion-turn")
    assert aim is None or not aim.worth_it
    drop = found["output-drop"] if "output-drop" in found else found["double-cardan-head"]
    assert drop.after.speed > 1.2 * drop.before.speed


@pytest.mark.slow
def test_each_cure_is_a_rig_and_what_is_told_of_it_is_that_rigs():
    rig = load_demo("quarry-hauler")
    vibration = find_vibration(rig, Symptom(road=60 * MPH, when="coast", feel="boom"))
    assert vibration.mends
    shaft = vibration.case.turns.shaft
    assert shaft is not None
    for mend in vibration.mends:
        cured = vehicle_of(mend.cured)
        assert mend.after.speed == pytest.approx(felt(cured, load="coast").speed)
        everything = min(felt(cured, load=load).speed for load in ("level", "power", "coast"))
        assert mend.all_after.speed == pytest.approx(everything)
        assert mend.enough == (mend.after.speed >= ENOUGH * shaft)
        assert not mend.binds
        assert mend.gain > 1.05
    enough = [mend.enough for mend in vibration.mends]
    assert enough == sorted(enough, reverse=True)


@pytest.mark.slow
def test_a_smooth_shaft_asks_for_no_cure_of_its_joints():
    found = find_vibration(flat(1.0, 1.0), Symptom(road=70 * MPH, when="any"))
    assert found.mends == ()
    assert found.case.felt.speed > found.case.turns.shaft  # type: ignore[operator]


@pytest.mark.slow
def test_a_straight_shaft_can_be_asked():
    found = find_vibration(flat(0.0, 0.0), Symptom(road=70 * MPH, when="power"))
    assert found.case.felt.speed == inf
    assert found.mends == ()


@pytest.mark.slow
def test_a_thin_tube_that_whirls_is_made_stouter():
    rig = changed(flat(1.0, 1.0), {"shaft.tube.outside": "2 in"})
    case = Case(rig, Symptom(shaft=100.0), Assessor())
    critical = case.whirl.critical
    assert critical is not None
    at_whirl = Case(rig, Symptom(shaft=0.9 * critical), Assessor())
    tube = stouter(at_whirl)
    assert tube is not None
    assert tube.after > tube.before == pytest.approx(critical)
    again = Case(tube.cured, Symptom(shaft=100.0), Assessor()).whirl.critical
    assert again == pytest.approx(tube.after)
    assert tube.enough == (0.9 * critical <= SAFE_SHARE * tube.after)
    smaller = [size for size in (2.5, 3.0, 3.5) if size * 25.4 < tube.outside - 0.1]
    for size in smaller:
        less = changed(rig, {"shaft.tube.outside": f"{size:g} in"})
        speed = Case(less, Symptom(shaft=100.0), Assessor()).whirl.critical
        assert speed is not None
        assert 0.9 * critical > SAFE_SHARE * speed


def test_an_absurd_speed_is_refused_before_anything_is_built():
    with pytest.raises(SymptomError, match="at most 10,000 rpm"):
        find_vibration(flat(2.0, 2.0), Symptom(shaft=11_000.0 * RPM))


def test_radians_are_what_a_turn_is_in():
    assert flat(7.0, 2.0).output.points_down is not None
    assert vehicle_of(flat(7.0, 2.0)).axis_C_output[2] == pytest.approx(
        np.sin(radians(7.0)), rel=1e-9
    )
