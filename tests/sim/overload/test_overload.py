"""What a joint of a rig gets against what it takes, held to the ticket and to itself."""

from dataclasses import replace
from functools import cache
from math import cos, inf, pi, radians, sqrt

import numpy as np
import pytest

from geometry.tolerances import TOL
from sim.assessment import Assessment, Assessor
from sim.line import line
from sim.overload import HowFailed, Train, how_failed, overload
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.rig.typed_joints import NoSuchJointError
from sim.seen import inspection_from_data
from sim.sizing import smallest_joint
from sim.ticket.drive_said import drive_said
from sim.ticket.drive_torque import drive_torque

BUGGY, WAGON, HAULER = "goat-path-buggy", "long-legged-trail-wagon", "quarry-hauler"


@cache
def assessed(name: str) -> Assessment:
    return Assessor().assess(load_demo(name))


def with_drive(rig: Rig, **drive: object) -> Rig:
    return changed(rig, {f"drive.{key}": value for key, value in drive.items()})


def test_it_holds_what_its_weakest_member_holds_and_both_bends_are_told() -> None:
    found = overload(assessed(BUGGY), "pinion")
    joint = assessed(BUGGY).joints["pinion"]
    assert set(found.at) == {"worst", "ride"}
    assert found.at["worst"].bend == joint.most
    assert found.at["ride"].bend == joint.ride
    assert found.at["worst"].holds < found.at["ride"].holds
    worst = found.at["worst"]
    assert found.failed is worst
    assert found.peak is not None
    assert worst.holds == pytest.approx(found.peak.value * worst.weakest.safety, rel=1e-12)
    names = [member.name for member in worst.strength.members]
    assert not any(name.startswith("output") for name in names)
    for part in ("trunnion", "needles", "ear", "tube", "weld"):
        assert any(part in name for name in names), part
    # Its slip is the yoke on the output, whose spline nobody gave; the wagon's is in the shaft.
    assert "output-spline-left-out" in {remark.code for remark in found.assumed}
    other = overload(assessed(WAGON), "pinion")
    names = [member.name for member in other.failed.strength.members]
    for part in ("spline", "stub"):
        assert any(part in name for name in names), part
    assert "output-spline-left-out" not in {remark.code for remark in other.assumed}


def test_the_smallest_cross_that_fits_is_that_of_the_ticket() -> None:
    for name in (BUGGY, WAGON, HAULER):
        found, whole = overload(assessed(name), "pinion"), assessed(name)
        assert found.peak is not None
        fits = smallest_joint(found.peak.value, whole.joints["pinion"].most)
        assert found.fits == (None if fits is None else fits.name)
    assert overload(assessed(BUGGY), "pinion").fits not in (None, found.cross)
    assert overload(assessed("ridge-crawler"), "pinion").fits is None


def test_a_typed_bend_is_asked_for() -> None:
    found = overload(assessed(BUGGY), "pinion", bend=radians(20.0))
    assert found.failed is found.at["typed"]
    assert found.failed.bend == radians(20.0)
    assert found.at["worst"].holds < found.failed.holds < found.at["ride"].holds


def test_more_than_it_holds_at_every_bend_is_past_its_strength() -> None:
    found = overload(assessed(BUGGY), "pinion")
    assert all(at.weakest.safety < 1.0 for at in found.at.values())
    says, why = found.signs["pull-past-strength"]
    assert says is True
    assert why["holds"] == found.at["worst"].holds
    assert why["gets"] == found.peak.value  # type: ignore[union-attr]


def test_enough_to_spare_is_not_past_it_and_between_is_in_doubt() -> None:
    rig = assessed(BUGGY).rig
    for torque, says in (
        ("60 lb-ft", False),
        ("71 lb-ft", None),  # to spare at ride height alone
        ("100 lb-ft", None),
        ("105 lb-ft", None),  # past it at the steepest bend alone
        ("300 lb-ft", True),
    ):
        found = overload(
            replace(assessed(BUGGY), rig=with_drive(rig, engine_torque=torque)), "pinion"
        )
        assert found.evidence.get("pull-past-strength") is says, torque


def test_where_it_failed_settles_what_hangs_on_the_bend() -> None:
    found = replace(assessed(BUGGY), rig=with_drive(assessed(BUGGY).rig, engine_torque="105 lb-ft"))
    for at, says in ((None, None), ("worst", True), ("ride", None)):
        assert (
            overload(found, "pinion", HowFailed(at=at)).evidence.get("pull-past-strength") is says
        )
    found = replace(found, rig=with_drive(found.rig, engine_torque="71 lb-ft"))
    for at, says in ((None, None), ("worst", None), ("ride", False)):
        assert (
            overload(found, "pinion", HowFailed(at=at)).evidence.get("pull-past-strength") is says
        )


def test_a_wedged_tire_has_to_be_told_of() -> None:
    found = overload(assessed(WAGON), "pinion")
    assert found.wedged
    assert "pull-past-strength" not in found.evidence
    for hard, says in ((True, True), (False, None)):
        told = overload(assessed(WAGON), "pinion", HowFailed(hard_pull=hard))
        assert told.evidence.get("pull-past-strength") is says


def test_without_a_drive_only_what_it_holds_is_told() -> None:
    name = "ridge-crawler"
    found = overload(assessed(name), "output", HowFailed(play=0.02))
    assert found.peak is None
    assert found.knock is None
    assert found.failed.pulls is None
    assert not found.evidence
    assert found.failed.holds > 0.0
    assert {remark.key for remark in found.missing} >= {"drive.engine_torque", "drive.low_gear"}


def test_few_is_held_against_the_miles_it_went() -> None:
    pulls = overload(assessed(BUGGY), "pinion", HowFailed(use="rocks")).failed.pulls
    assert pulls is not None
    for miles, says in (
        (0.9 * pulls.miles.low, False),
        (1.1 * pulls.miles.low, None),
        (pulls.miles.value, True),
        (0.99 * pulls.miles.value, None),
    ):
        how = HowFailed(use="rocks", miles=miles)
        assert overload(assessed(BUGGY), "pinion", how).evidence.get("pulls-few") is says


def test_a_little_torque_is_endless() -> None:
    rig = with_drive(assessed(BUGGY).rig, engine_torque="1 lb-ft")
    found = overload(replace(assessed(BUGGY), rig=rig), "pinion")
    assert found.failed.pulls is not None
    assert found.failed.pulls.hardest.low > 1e12
    assert found.evidence == {"pull-past-strength": False, "pulls-few": False}


def test_the_knock_grows_with_the_play_and_is_nothing_without() -> None:
    adds = []
    for play in (0.0, 0.01, 0.02, 0.04):
        knock = overload(assessed(WAGON), "pinion", HowFailed(play=play)).knock
        assert knock is not None
        adds.append(knock.adds.value)
        assert knock.adds.low <= knock.adds.value <= knock.adds.high
        assert knock.speed.low <= knock.speed.value <= knock.speed.high
        assert knock.peak.low <= knock.peak.value <= knock.peak.high
    assert adds[0] == 1.0
    assert adds == sorted(set(adds))


def test_the_trains_of_the_knock_by_hand() -> None:
    """J1 by the square of the gears, J2 of the load on the axle, k of tube and axle shafts."""
    found, play = assessed(WAGON), 0.02
    knock = overload(found, "pinion", HowFailed(play=play)).knock
    assert knock is not None
    drive, tube = found.rig.drive, found.rig.shaft.tube
    assert drive is not None
    said = drive_said(found.rig).numbers
    torque = drive_torque(drive_said(found.rig)).steady
    assert torque is not None
    engine = 300.0 * (said["low_gear"] * said["low_range"]) ** 2
    ratio = said["axle_ratio"]
    wheels = said["axle_load"] / 9.80665 * 1e-3 * said["tyre_radius"] ** 2 / ratio**2
    outside, bore = tube.outside.mm, tube.outside.mm - 2.0 * tube.wall.mm
    polar = pi / 32.0 * (outside**4 - bore**4)
    stiff = 206_800.0 / (2.0 * 1.304) * polar / found.swept.length_ride
    soft = 1.0 / (1.0 / stiff + 1.0 / (2.2e7 / ratio**2))
    trains = (
        Train(engine, wheels, sqrt(stiff * soft)),
        Train(2.0 * engine, wheels, soft),
        Train(0.5 * engine, inf, stiff),
    )
    for value, train in zip(
        (knock.peak.value, knock.peak.low, knock.peak.high), trains, strict=True
    ):
        assert value == pytest.approx(train.peak(torque.value, play), rel=1e-9)
    assert knock.speed.value == pytest.approx(trains[0].closing(torque.value, play), rel=1e-9)
    arm, bend = 0.5 * (81.76 - 17.0), found.joints["pinion"].most
    assert knock.force.value == pytest.approx(knock.peak.value / (2.0 * arm * cos(bend)), rel=1e-9)


def test_a_hanging_axle_pushes_by_its_weight_and_one_going_up_by_the_ground() -> None:
    """Virtual work with the travel stepped a tenth of a mm; and no weight where it goes up."""
    found = assessed(WAGON)
    joint, lever = found.joints["pinion"], overload(found, "pinion").lever
    at = joint.first
    assert lever is not None
    assert at is not None
    assert at.travel < 0.0
    low, high = (
        float(line(found.vehicle, at.travel + step, at.roll, at.wrap).bends["pinion"])
        for step in (-0.05, 0.05)
    )
    assert lever.by_weight == pytest.approx(2200.0 * 0.1 / abs(high - low), rel=1e-4)
    assert lever.reached
    assert lever.arm == pytest.approx(
        float(np.linalg.norm(joint.curve.first.points[0])),
        abs=0.1,  # type: ignore[union-attr]
    )
    up = assessed("heather-moor-scout")
    assert up.joints["pinion"].where.travel > 0.0
    lever = overload(up, "pinion").lever
    assert lever is not None
    assert lever.by_weight == inf
    assert not lever.reached


def test_a_joint_that_the_axle_does_not_bend_is_not_pried() -> None:
    found = assessed("timber-crew-carrier")
    assert overload(found, "output").lever is None
    assert overload(found, "middle").lever is not None


@pytest.mark.slow
def test_a_head_has_two_crosses_and_is_not_pried() -> None:
    found = overload(assessed("short-tailed-scout"), "output")
    assert found.lever is None
    names = {member.name.split(":")[0] for member in found.failed.strength.members}
    assert {"output joint, outer cross", "output joint, inner cross"} <= names


def test_a_bend_that_no_joint_has_bears_nothing_and_is_no_error() -> None:
    found = overload(assessed(BUGGY), "pinion", bend=radians(89.99))
    assert (
        found.failed.holds == overload(assessed(BUGGY), "pinion", bend=TOL.bend_limit).failed.holds
    )


def test_only_what_is_missing_of_this_joint_is_told() -> None:
    keys = {remark.key for remark in overload(assessed(BUGGY), "output").missing}
    assert not any(key.startswith("shaft.pinion_end") for key in keys)
    keys = {remark.key for remark in overload(assessed(BUGGY), "pinion").missing}
    assert "shaft.pinion_end.strap_bolt" in keys


def test_the_lever_is_the_least_of_its_limits() -> None:
    found = overload(assessed(WAGON), "pinion").lever
    assert found is not None
    assert found.limit == "weight"
    assert found.moment == min(found.by_shaft, found.by_weight, found.by_tube)
    assert found.prying == pytest.approx(found.moment / found.arm, rel=1e-12)
    assert found.cap_force == pytest.approx(0.5 * found.prying, rel=1e-12)
    # To lower it by a mm takes the weight and gives the moment its bend.
    assert found.by_weight < found.by_shaft


def test_a_trunnion_bent_by_the_lever_is_as_bent_as_by_torque() -> None:
    """The same cap force from torque in a straight joint bends it as much."""
    found = overload(assessed(WAGON), "pinion")
    lever = found.lever
    assert lever is not None
    (bent,) = [
        m for m in lever.strength.members if "bending at its root" in m.name and "trun" in m.name
    ]
    (straight,) = [m for m in found.at["ride"].strength.members if m.name == bent.name]
    assert found.peak is not None
    arm = 0.5 * (81.76 - 17.0)
    by_torque = found.peak.value / (2.0 * arm * cos(found.at["ride"].bend))
    assert bent.stress / lever.cap_force == pytest.approx(straight.stress / by_torque, rel=1e-9)


def test_a_head_and_a_joint_that_is_not_there() -> None:
    with pytest.raises(NoSuchJointError):
        overload(assessed(BUGGY), "middle")


def test_what_an_inspection_tells() -> None:
    told = inspection_from_data(
        {
            "schema": 1,
            "kind": "inspection",
            "play": {"at_tube": "1 1/2 deg"},
            "history": {"distance": "3000 mi", "use": "rocks"},
            "symptoms": {"happened": "hard pull"},
        },
        "test",
    )
    how = how_failed(told)
    assert how == HowFailed(None, True, pytest.approx(3000.0), "rocks", pytest.approx(radians(1.5)))
    blank = inspection_from_data({"schema": 1, "kind": "inspection"}, "test")
    assert how_failed(blank) == HowFailed()
    for happened, at, hard in (
        ("droop", "worst", None),
        ("highway", "ride", None),
        ("reverse or braking", None, None),
        ("slow and steady", "ride", False),
        (["highway", "droop", "hard pull"], "worst", True),
    ):
        data = {"schema": 1, "kind": "inspection", "symptoms": {"happened": happened}}
        how = how_failed(inspection_from_data(data, "test"))
        assert (how.at, how.hard_pull) == (at, hard)


def test_a_pull_that_is_no_accident_needs_no_shock_and_no_wedged_tire() -> None:
    found = overload(assessed(BUGGY), "pinion")
    assert found.evidence["steady-pull-past"] is True
    wedged = overload(assessed(WAGON), "pinion", HowFailed(hard_pull=True))
    assert wedged.evidence["steady-pull-past"] is False
    assert "steady-pull-past" not in overload(assessed("ridge-crawler"), "output").evidence
    mild = replace(assessed(BUGGY), rig=with_drive(assessed(BUGGY).rig, engine_torque="80 lb-ft"))
    found = overload(mild, "pinion")
    assert "steady-pull-past" not in found.evidence, "nothing passes what it holds"
    jolt = replace(found, torque=replace(found.torque, shock=2.0))
    assert jolt.peak is not None
    assert jolt.peak.value > jolt.failed.holds
