"""All caps of a rig's joint, from an inspection: what they say of the causes."""

from itertools import pairwise
from math import radians

import numpy as np
import pytest

from sim.bearing import BearingError, Needles
from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked import (
    FAST,
    Row,
    Seat,
    against,
    astray,
    balance,
    cap_axes,
    cocked,
    cross_at,
    stated,
    thrust,
)
from sim.cocked.balance import BalanceError
from sim.cocked.found import seats_of
from sim.cocked.joint import STANDS_IN
from sim.cocked.slices import CLEARANCE
from sim.derive import ride_height_of
from sim.hardware.head import end_hardware
from sim.marks.crosses import crosses_of
from sim.parts.catalogue import cross_shape
from sim.rig.change import changed
from sim.rig.demos import demo_names, load_demo
from sim.rig.typed_joints import NoSuchJointError
from sim.seen.reading import inspection_from_data
from sim.seen.words import CAPS, YOKES, caps_of
from sim.sizing.joint_size import needles_of
from sim.strength import Trunnion
from sim.ticket.drive_said import drive_said
from sim.ticket.drive_torque import drive_torque

RIG = load_demo("timber-crew-carrier")
INCH = 25.4


def seen(**tables):
    data = {"schema": 1, "kind": "inspection", **tables}
    return inspection_from_data(data, "test.toml")


def yokes(name: str, **keys):
    return seen(yokes={name: keys})


def test_nothing_measured_leaves_every_cap_straight_and_says_little():
    found = cocked(RIG, "pinion", seen())
    assert set(found.caps) == set(CAPS)
    for cap in found.caps.values():
        assert not cap.seat.measured
        assert cap.tilt == pytest.approx(0.0, abs=1e-12)
        assert cap.life_ratio == pytest.approx(1.0, rel=1e-12)
    assert found.worn_axis is None
    assert not found.evidence


def test_spread_ears_by_caliper():
    """0.018 in wider at the tips over the ears of the yoke, half for each."""
    shape = cross_at(RIG, "pinion").yokes["shaft"]
    apart = shape.ear_reach[1] + 0.6 * shape.throat_depth
    asked = yokes("shaft", gap_at_tips="2.118 in", gap_at_root="2.100 in")
    seats = seats_of(asked, cross_at(RIG, "pinion"))
    for cap in caps_of("shaft"):
        assert seats[cap].drive == (0.0, pytest.approx(0.018 * INCH / 2.0 / apart, rel=1e-9))
    for cap in caps_of("end"):
        assert not seats[cap].measured


def test_a_bar_that_misses_by_so_much():
    at = cross_at(RIG, "pinion")
    seats = seats_of(yokes("end", bar="does not go through", off="0.020 in"), at)
    assert seats["end_a"].drive[0] == pytest.approx(-0.020 * INCH / (2.0 * at.trunnion.arm))
    assert seats["end_a"].drive == seats["end_b"].drive
    unmeasured = seats_of(yokes("end", bar="does not go through"), at)["end_a"]
    assert 0.0 < -unmeasured.drive[0] < 1e-3
    assert seats_of(yokes("end", bar="drags"), at)["end_a"].tips == ()


def test_one_cap_alone():
    at = cross_at(RIG, "pinion")
    length = at.trunnion.seat_length
    seats = seats_of(
        seen(
            caps={
                "shaft_a": {"gouge": "0.010 in"},
                "shaft_b": {"edge": "0.005 in"},
                "end_a": {"bore": ["1.067 in", "1.064 in"], "cap_diameter": ["1.062 in"]},
                "end_b": {"tilt": "0.2 deg", "end_float": "0.010 in"},
            }
        ),
        at,
    )
    assert seats["shaft_a"].drive == (pytest.approx(-0.010 * INCH / length), 0.0)
    assert seats["shaft_b"].drive == (0.0, pytest.approx(-0.005 * INCH / length))
    assert seats["end_a"].may == pytest.approx((0.002 * INCH / length, 0.005 * INCH / length))
    assert seats["end_a"].loose == pytest.approx(0.005 * INCH / length)
    assert seats["end_b"].drive == (pytest.approx(radians(0.2)), 0.0)
    assert seats["end_b"].out == pytest.approx(0.254)


def test_a_tilt_that_somebody_measured_goes_before_what_it_would_come_to():
    both = seen(
        yokes={"shaft": {"gap_at_tips": "2.118 in", "gap_at_root": "2.100 in"}},
        caps={"shaft_a": {"tilt": "0.1 deg"}},
    )
    seats = seats_of(both, cross_at(RIG, "pinion"))
    assert seats["shaft_a"].drive == (pytest.approx(radians(0.1)), 0.0)
    assert seats["shaft_b"].drive[1] > 0.0
    assert len(seats["shaft_a"].tips) == 2


def test_readings_that_no_cap_can_have_are_left_out_and_said():
    """The rest is still asked; and of a cap that might sit any way nobody says it is straight."""
    odd = seen(
        yokes={"shaft": {"gap_at_tips": "3.1 in", "gap_at_root": "2.1 in"}},
        caps={
            "shaft_a": {"gouge": "0.010 in"},
            "end_a": {"end_float": "0.9 in"},
            "end_b": {"bore": ["1.00 in"], "cap_diameter": ["1.19 in"]},
        },
    )
    found = cocked(RIG, "pinion", odd)
    codes = {cap: [tip.why.code for tip in found.caps[cap].seat.tips] for cap in CAPS}
    assert codes["shaft_a"] == ["reading-not-used", "seat-gouged-by"]
    assert codes["shaft_b"] == ["reading-not-used"]
    assert codes["end_a"] == ["end-float-not-used"]
    assert codes["end_b"] == ["cap-plays-by"]
    assert found.caps["shaft_a"].seat.drive[0] < 0.0 == found.caps["shaft_b"].seat.drive[0]
    assert found.caps["end_a"].seat.out == 0.0
    assert found.evidence["cap-cocked"]
    nothing_else = seen(yokes={"shaft": {"gap_at_tips": "3.1 in", "gap_at_root": "2.1 in"}})
    assert "cap-cocked" not in cocked(RIG, "pinion", nothing_else).evidence


def test_readings_that_only_together_cannot_be_are_all_left_out():
    at = cross_at(RIG, "pinion")
    apart = at.yokes["shaft"].ear_reach[1] + 0.6 * at.yokes["shaft"].throat_depth
    wide = {
        "off": f"{0.044 * 2.0 * at.trunnion.arm:.3f} mm",
        "gap_at_tips": f"{60.0 + 0.044 * 2.0 * apart:.3f} mm",
        "gap_at_root": "60 mm",
    }
    gouged = {"shaft_a": {"gouge": f"{0.044 * at.trunnion.seat_length:.3f} mm"}}
    seats = seats_of(seen(yokes={"shaft": wide}, caps=gouged), at)
    assert {tip.why.code for tip in seats["shaft_a"].tips} == {"reading-not-used"}
    assert seats["shaft_a"].tipped == 0.0
    assert seats["shaft_b"].tipped == pytest.approx(0.044 * 2.0**0.5, rel=1e-3)


def test_needles_that_are_not_where_they_belong():
    at = cross_at(RIG, "pinion")
    caps = {"end_a": {"needles": ["missing"]}, "end_b": {"needles": ["one lay at the bottom"]}}
    seats = seats_of(seen(caps=caps), at)
    assert (seats["end_a"].lost, seats["end_a"].out) == (1, 0.0)
    assert (seats["end_b"].lost, seats["end_b"].out) == (1, at.needles.diameter)
    assert seats_of(seen(caps={"end_a": {"needles": []}}), at)["end_a"].lost == 0


def test_a_loose_strap():
    seats = seats_of(seen(caps={"end_a": {"strap": ["loose"]}}), cross_at(RIG, "pinion"))
    assert seats["end_a"].loose > 0.0
    assert seats["end_a"].tipped == 0.0


BAD = seen(
    yokes={
        "shaft": {
            "gap_at_tips": "2.106 in",
            "gap_at_root": "2.100 in",
            "bar": "does not go through",
            "off": "0.010 in",
        },
        "end": {"gap_at_tips": "2.100 in", "gap_at_root": "2.100 in", "bar": "goes through"},
    },
    spline={"seen": []},
)


def test_what_a_bad_yoke_does():
    """One axis worn and the other good, corners at both ends, and the next joint no better."""
    found = cocked(RIG, "pinion", BAD)
    assert found.worn_axis == "shaft"
    assert found.axes["shaft"].ends == {"inner", "outer"}
    assert found.axes["shaft"].in_the_yoke
    assert found.axes["end"].life_ratio == pytest.approx(1.0, rel=1e-12)
    assert not found.axes["end"].in_the_yoke
    assert found.axes["shaft"].life_ratio < 0.1
    assert found.evidence["cap-cocked"]


def test_measured_and_found_straight():
    good = {"gap_at_tips": "2.100 in", "gap_at_root": "2.100 in", "bar": "goes through"}
    found = cocked(RIG, "pinion", seen(yokes={"shaft": good, "end": good}))
    assert found.evidence["cap-cocked"] is False
    assert found.evidence["corner-dents"] is False
    assert found.worn_axis is None


def test_half_measured_is_not_found_straight():
    good = {"gap_at_tips": "2.100 in", "gap_at_root": "2.100 in", "bar": "goes through"}
    assert "cap-cocked" not in cocked(RIG, "pinion", seen(yokes={"shaft": good})).evidence


def test_bars_that_go_through_do_not_make_a_loose_cap_straight():
    """It could sit crooked, and nobody saw; so nothing is said of it."""
    through = {"bar": "goes through"}
    loose = {"bore": ["1.070 in"], "cap_diameter": ["1.062 in"]}
    known = seen(yokes={"shaft": through, "end": through}, caps={"end_a": loose})
    assert "cap-cocked" not in cocked(RIG, "pinion", known).evidence
    firm = seen(yokes={"shaft": through, "end": through})
    assert cocked(RIG, "pinion", firm).evidence["cap-cocked"] is False


def test_a_gouged_seat_is_not_a_bad_yoke():
    found = cocked(RIG, "pinion", seen(caps={"shaft_a": {"gouge": "0.010 in"}}))
    assert not found.axes["shaft"].in_the_yoke
    assert found.worn_axis == "shaft"
    assert found.caps["shaft_b"].life_ratio == pytest.approx(1.0, rel=1e-12)


def test_whether_the_slip_sticks_is_told_only_where_somebody_looked():
    told = {
        words: cocked(RIG, "pinion", seen(**spline)).sticks
        for words, spline in {
            "no": {},
            "clean": {"spline": {"seen": []}},
            "stuck": {"spline": {"seen": ["stuck"]}},
            "twisted": {"spline": {"seen": ["twisted"]}},
        }.items()
    }
    assert told == {"no": None, "clean": False, "stuck": True, "twisted": False}
    stuck = cocked(RIG, "pinion", seen(spline={"seen": ["rusty"]}))
    clean = cocked(RIG, "pinion", seen(spline={"seen": []}))
    assert stuck.thrust.force > 3.0 * clean.thrust.force
    assert stuck.evidence["slip-thrust-dents"] == stuck.thrust.dents
    assert not clean.evidence["slip-thrust-dents"]


def test_a_pull_that_nobody_told_says_nothing_of_dents_by_thrust():
    rig = load_demo("heather-moor-scout")
    found = cocked(rig, "pinion", seen(spline={"seen": ["stuck"]}))
    assert not found.torques.pull_known
    assert "slip-thrust-dents" not in found.evidence
    assert {each.code for each in found.assumed} >= {"hardest-pull-assumed", "slices-assumed"}


def test_a_torque_of_its_own_and_one_that_cannot_be():
    found = cocked(RIG, "pinion", torque=3e5)
    assert found.torques.everyday == 3e5
    with pytest.raises(BearingError, match="above zero"):
        cocked(RIG, "pinion", torque=0.0)


def test_the_torques_are_those_of_the_drive():
    """Cruise, engine and top gear as the rig file has them; the pull as strength is asked at."""
    rig = load_demo("timber-crew-carrier")
    said = drive_said(rig)
    found = cocked(rig, "pinion").torques
    usual = said.number("cruise") * said.number("engine_torque") * said.number("top_gear")
    assert found.everyday == pytest.approx(usual, rel=1e-12)
    assert found.hardest == drive_torque(said).peak.value
    assert cocked(rig, "pinion", torque=5e6).torques.hardest == 5e6


def test_seats_by_name_leave_the_rest_straight():
    found = cocked(RIG, "pinion", {"end_b": stated(2e-3)})
    assert found.caps["end_b"].life_ratio < 0.2
    assert found.caps["end_a"].life_ratio == pytest.approx(1.0, rel=1e-12)
    forced = cocked(RIG, "pinion", stated(2e-3), held=FAST).caps
    gives = cocked(RIG, "pinion", stated(2e-3)).caps
    for cap in CAPS:
        assert forced[cap].tilt == 2e-3 > gives[cap].tilt > 1e-3
        assert forced[cap].life_ratio == gives[cap].forced_life_ratio < gives[cap].life_ratio


def test_a_joint_that_the_shaft_does_not_have():
    with pytest.raises(NoSuchJointError):
        cocked(load_demo("goat-path-buggy"), "middle")


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_every_demo_rig_has_an_answer_for_each_of_its_joints(name):
    rig = load_demo(name)
    joints = ("output", "pinion") if rig.carrier is None else ("output", "middle", "pinion")
    for joint in joints:
        for which in ("outer", "inner"):
            found = cocked(rig, joint, Seat(), which=which)
            peaks = [cap.peak_mpa for cap in found.caps.values()]
            assert min(peaks) > 100.0
            assert max(peaks) < 4000.0
            assert set(found.at.yokes) == set(YOKES)


def test_the_crosses_of_a_head_share_its_bend():
    """Both make the whole, and the middle yoke stands at the one's shaft and the other's end."""
    rig = load_demo("short-tailed-scout")
    joint = "output" if rig.shaft.output_end.joint == "double" else "pinion"
    outer, inner = (cross_at(rig, joint, which) for which in ("outer", "inner"))
    assert cross_at(rig, joint).bend == outer.bend
    assert outer.bend != inner.bend
    assert outer.bend + inner.bend == pytest.approx(ride_height_of(rig).bends[joint], rel=1e-9)
    assert outer.yokes["shaft"].kind == inner.yokes["end"].kind == STANDS_IN


@pytest.mark.parametrize("joint", ["output", "pinion"])
def test_the_yoke_that_drives_is_the_one_that_drives_the_parts(joint):
    (cross,) = crosses_of(end_hardware(RIG, joint))
    assert cross_at(RIG, joint).drives == cross.side("driving")


def test_where_both_axes_wear_alike_none_is_the_worn_one():
    found = cocked(RIG, "pinion", stated(4e-3))
    assert all(axis.life_ratio < 0.5 for axis in found.axes.values())
    assert found.worn_axis is None


@pytest.mark.parametrize("joint", ["output", "pinion"])
def test_the_outer_cross_of_a_head_bends_as_the_head_itself_has_it(joint):
    """The head counts its crosses from the engine: the shaft's inner one is the second of the
    output, and the first of the pinion."""
    end = f"shaft.{joint}_end"
    rig = changed(
        load_demo("marsh-runner"), {f"{end}.joint": "double", f"{end}.{joint}_yoke": "flange yoke"}
    )
    first, second = end_hardware(rig, joint).bends(ride_height_of(rig).bends[joint])
    assert first != pytest.approx(second, rel=1e-3)
    outer, inner = (first, second) if joint == "output" else (second, first)
    assert cross_at(rig, joint, "outer").bend == pytest.approx(outer, rel=1e-9)
    assert cross_at(rig, joint, "inner").bend == pytest.approx(inner, rel=1e-9)


@pytest.mark.parametrize("name", ["timber-crew-carrier", "marsh-runner", "goat-path-buggy"])
@pytest.mark.parametrize("joint", ["output", "pinion"])
def test_the_caps_turn_the_shaft_forward(name, joint):
    """Statics on the cross: what the caps push it with balances, and drives the shaft the way
    that a vehicle going forward turns it; both yokes' axes point from the cross."""
    at = cross_at(load_demo(name), joint)
    moment = np.zeros((2, 3))
    for number, yoke in enumerate((at.drives, *(set(YOKES) - {at.drives}))):
        for cap in caps_of(yoke):
            e, d, a = cap_axes(at, cap)
            assert np.abs(np.stack([e, d, a]) @ np.stack([e, d, a]).T - np.eye(3)).max() == 0.0
            moment[number] += np.cross(at.trunnion.arm * e, -d)
    assert moment.sum(axis=0) == pytest.approx(np.zeros(3), abs=1e-12)
    _, _, to_engine = cap_axes(at, caps_of(at.drives)[0])
    rearward = to_engine if at.front else -to_engine
    assert moment[0] @ rearward == pytest.approx(2.0 * at.trunnion.arm, rel=1e-12)


def test_a_smaller_joint_under_the_same_torque():
    sizes = [cross_shape(name) for name in ("1310", "1350", "1480")]
    made = [(needles_of(shape), Trunnion.of(shape).arm) for shape in sizes]
    for (small, arm), (big, long) in pairwise(made):
        found = against(small, arm, big, long, 8e5)
        assert found.peak_mpa > found.other_mpa
        assert found.life_ratio < 1.0
    same = against(*made[0], *made[0], 8e5)
    assert same.life_ratio == 1.0
    assert same.peak_mpa == same.other_mpa


def test_a_needle_at_the_bottom():
    """Hertz the other way: the force that it names presses the needle's line to 4000 MPa."""
    needles = Needles.full(2.4, 11.9, 16.5)
    found = astray(needles, 6000.0)
    assert found.proud == 2.4
    b = np.sqrt(4.0 * found.dents_from * 1.2 / (np.pi * 11.9 * 207e3 / 2.0 / 0.91))
    assert 2.0 * found.dents_from / (np.pi * b * 11.9) == pytest.approx(STATIC_PRESSURE, rel=1e-12)
    assert 1.05 < found.crowded < 1.5


def test_a_slip_that_sticks_presses_front_and_rear():
    """Without friction those faces carry nothing but the torque's own flanks."""
    needles = Needles.full(2.4, 11.9, 16.5)
    none, some, more = (thrust(needles, 32.4, 1e6, 30.0, mu) for mu in (0.0, 0.15, 0.6))
    assert some.force == pytest.approx(2.0 * 0.15 * 1e6 / 30.0, rel=1e-12)
    assert none.faces_mpa < some.faces_mpa < more.faces_mpa
    assert none.load_side_mpa > none.faces_mpa
    alone = balance(Row(needles, CLEARANCE), [[1e6 / 64.8, 0.0]], (0.0, 0.0))
    assert none.load_side_mpa == pytest.approx(
        float(Row(needles, CLEARANCE).pressure(alone.force).max()), rel=1e-9
    )
    with pytest.raises(BalanceError, match="friction"):
        thrust(needles, 32.4, 1e6, 30.0, -0.1)
