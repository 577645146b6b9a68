"""What turning does to a rig's shaft, and what its owner heeds."""

from dataclasses import replace
from math import cos, degrees, inf, pi

import numpy as np
import pytest

from sim.balance import OUNCE_INCH
from sim.cardan import chain
from sim.derive import vehicle_of
from sim.line import line, running, shafts
from sim.rig import changed, load_demo
from sim.search.envelope import envelope
from sim.speed import excitation
from sim.ticket.shaft_parts import shaft_parts
from sim.ticket.slip_plan import SIXTEENTH
from sim.ticket.ticket import Ticket, build_ticket
from tests.sim.ticket.rigs import demo_ticket, driven, plain
from viewer.words.build import missing_words

TOP = 70.0 * 1_609_344.0 / 3600.0


def ticket(**values: object) -> Ticket:
    return build_ticket(driven(**values))


@pytest.fixture(scope="module")
def whole() -> Ticket:
    return ticket()


@pytest.mark.slow
def test_the_shaft_turns_as_the_axle_makes_it(whole: Ticket) -> None:
    assert whole.speed.top == pytest.approx(TOP / (16.0 * 25.4) * 4.1, rel=1e-12)
    named = {(g.key, g.ratio, g.low_range): g for g in whole.speed.gears}
    assert set(named) == {
        ("low_gear", 3.6, 1.0), ("low_gear", 3.6, 2.0), ("top_gear", 0.8, 1.0),
        ("top_gear", 0.8, 2.0),
    }  # fmt: skip
    top_gear = named["top_gear", 0.8, 1.0]
    assert top_gear.shaft == pytest.approx(4500.0 * pi / 30.0 / 0.8, rel=1e-12)
    assert top_gear.road == pytest.approx(top_gear.shaft / 4.1 * 16.0 * 25.4, rel=1e-12)


def test_yokes_and_slip_lower_the_whirl_of_a_plain_tube(whole: Ticket) -> None:
    assert whole.speed.whirl.critical is not None
    assert 0.4 * whole.speed.plain < whole.speed.whirl.critical < whole.speed.plain
    assert whole.speed.margin is not None
    assert whole.speed.margin.share == pytest.approx(
        (whole.speed.top or 0.0) / whole.speed.whirl.critical, rel=1e-12
    )


@pytest.mark.slow
def test_a_longer_shaft_whirls_sooner(whole: Ticket) -> None:
    other = build_ticket(changed(driven(), {"output.joint": ["60 in", "1 1/2 in", "9 in"]}))
    assert other.speed.whirl.critical is not None
    assert whole.speed.whirl.critical is not None
    assert other.speed.whirl.critical < whole.speed.whirl.critical


@pytest.mark.slow
def test_a_wider_tube_is_stiffer_but_the_slips_neck_stays_what_bends(whole: Ticket) -> None:
    """The tube alone would whirl later; more tube on the same neck does not help."""
    other = build_ticket(changed(driven(), {"shaft.tube.outside": "3 1/2 in"}))
    assert other.speed.plain > 1.1 * whole.speed.plain
    assert other.speed.whirl.critical is not None
    assert whole.speed.whirl.critical is not None
    assert other.speed.whirl.critical < 1.1 * whole.speed.whirl.critical


@pytest.mark.slow
def test_a_slip_pulled_open_by_the_travel_whirls_sooner(whole: Ticket) -> None:
    speed = whole.speed
    assert speed.whirl.critical is not None
    assert speed.whirl.critical_open is not None
    assert 0.7 * speed.whirl.critical < speed.whirl.critical_open < speed.whirl.critical
    # The less the travel opens it, the nearer to ride height; then there is nothing to tell.
    level = {"travel.droop": "0 in", "travel.bump": "1/1000 in", "travel.roll": "0 deg"}
    level |= {"travel.nose_up": "0 deg", "travel.nose_down": "0 deg"}
    still = build_ticket(changed(driven(), level)).speed
    assert still.whirl.critical_open is None or still.whirl.critical_open == pytest.approx(
        still.whirl.critical, rel=1e-4
    )
    assert demo_ticket("goat-path-buggy").speed.whirl.critical_open is None
    out = {"shaft.slip.opens": "1/8 in", "shaft.slip.comes_apart": "1/8 in"}
    apart = build_ticket(changed(driven(), out))
    assert apart.speed.whirl.critical_open is None
    assert apart.speed.whirl.critical is not None


@pytest.mark.slow
def test_a_slip_of_your_own_whirls_by_its_own_length(whole: Ticket) -> None:
    """Once its length was taken for spline: pushed home longer, it had less of it inside."""
    generic = whole.slip.built_part
    assert generic is not None
    speeds = []
    for more in (-30.0, 0.0, 30.0, 150.0):
        own = {"shaft.slip.pushed_home": f"{generic.pushed_home + more:.6f} mm"}
        found = build_ticket(changed(driven(), own)).speed.whirl.critical
        assert found is not None
        speeds.append(found)
    assert speeds[1] == pytest.approx(whole.speed.whirl.critical, rel=1e-9)
    assert speeds == sorted(speeds, reverse=True)
    assert speeds[3] > 0.5 * speeds[1]


@pytest.mark.slow
def test_the_needles_last_as_long_as_a_cruise_lets_them(whole: Ticket) -> None:
    """(C/P)^(10/3) million turns of 1 / (n b) each, worked here in N m, rpm and degrees."""
    torque = 0.4 * 240.0 * 1355.8179483314004 * 0.8
    turns = 0.8 * (whole.speed.top or 0.0) * 30.0 / pi
    ride = {joint: each.ride for joint, each in whole.found.joints.items()}
    parts = shaft_parts(driven(), whole.slip, ride).parts
    assert parts is not None
    for end, joint in zip(parts.joints, whole.speed.joints, strict=True):
        assert joint.life is not None
        assert end.needles is not None
        load = torque / (2.0 * end.trunnion.arm * cos(joint.bend))
        rated = (end.needles.dynamic_rating() / load) ** (10.0 / 3.0)
        hours = 1.5e6 / (turns * degrees(joint.bend)) * rated
        assert joint.life.hours == pytest.approx(hours, rel=1e-9)
    harder = ticket(cruise=0.8).speed.joints[0].life
    assert harder is not None
    eased = whole.speed.joints[0].life
    assert eased is not None
    assert eased.hours / harder.hours == pytest.approx(2.0 ** (10.0 / 3.0), rel=1e-9)
    lost = ticket(top_gear=None)
    assert [joint.life for joint in lost.speed.joints] == [None, None]
    assert "drive.top_gear" in set(lost.missing)


def test_the_shaking_is_that_of_the_exact_chain(whole: Ticket) -> None:
    vehicle = vehicle_of(driven())
    axes, phases = shafts(vehicle)
    assert whole.speed.excitation is not None
    top = whole.speed.top or 0.0
    assert whole.speed.excitation.torsional == pytest.approx(
        top**2 * running(vehicle).greatest_acceleration, rel=1e-9
    )
    assert whole.speed.excitation.drive == pytest.approx(
        top**2 * chain(axes[:2]).greatest_acceleration, rel=1e-6
    )
    assert phases == (vehicle.phase,)


def test_no_phase_shakes_less_than_the_best(whole: Ticket) -> None:
    phase = whole.speed.phase
    assert phase is not None
    axes, _ = shafts(vehicle_of(driven()))
    tried = [excitation(axes, 1.0, (p,)).torsional for p in np.linspace(-pi / 2, pi / 2, 181)]
    assert phase.left_best <= min(tried) + 1e-9
    assert phase.left_now == pytest.approx(excitation(axes, 1.0, phase.now).torsional, rel=1e-9)


@pytest.mark.slow
def test_turning_the_ears_to_the_best_phase_leaves_what_was_told() -> None:
    """A shaft far aside, its ears put where the ticket says: the sign of the turn is right."""
    askew = {"axle.points_left": "8 deg", "output.joint": ["47 in", "6 in", "9 in"]}
    rig = changed(driven(), askew)
    told = build_ticket(rig).speed.phase
    assert told is not None
    assert told.worth_it
    turn = told.best[0] % pi
    again = build_ticket(changed(rig, {"shaft.phase": f"{np.degrees(turn):.9f} deg"})).speed.phase
    assert again is not None
    assert again.left_now == pytest.approx(told.left_best, rel=1e-6)
    assert told.teeth is not None
    assert told.by_teeth == pytest.approx(told.teeth * 2.0 * pi / 16.0, rel=1e-12)
    typed = {"shaft.phase": f"{np.degrees(told.by_teeth % pi):.9f} deg"}
    moved = build_ticket(changed(rig, typed)).speed.phase
    assert moved is not None
    assert moved.left_now == pytest.approx(told.left_by_teeth, rel=1e-6)
    assert moved.left_now >= told.left_best


def test_the_residual_is_the_grades(whole: Ticket) -> None:
    ((name, found),) = whole.speed.balances
    assert name == "shaft"
    assert whole.speed.whirl.mass is not None
    total = 1000.0 * 16.0 * whole.speed.whirl.mass / (whole.speed.top or inf)
    assert found.first + found.last == pytest.approx(total, rel=1e-12)
    # The sleeve's half of the slip is the heavier one, and it is near the output.
    assert 0.52 < found.first / total < 0.65
    assert sum(found.per_plane_oz_in) == pytest.approx(total / OUNCE_INCH, rel=1e-12)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("values", "code"),
    [
        ({"top_speed": "200 mph", "tyre_radius": "10 in"}, "past-whirl"),
        ({"axle_ratio": 90.0}, "absurd-speed"),
        ({"top_gear": 9.0}, "gears-swapped"),
        ({"engine_top": "1000 rpm"}, "top-speed-unreached"),
        ({"engine_top": "20000 rpm"}, "engine-past-whirl"),
        ({"tyre_radius": "16 1/2 ft"}, "odd-tyre-radius"),
        ({"low_gear": 0.36}, "odd-low-gear"),
        ({"engine_torque": "9 lb-ft"}, "odd-engine-torque"),
    ],
)
def test_absurd_numbers_are_said_and_the_ticket_is_made(
    values: dict[str, object], code: str
) -> None:
    made = ticket(**values)
    assert code in {flag.code for flag in made.flags}
    assert made.cuts.cuts[0].cut is not None
    assert made.strength.worst is not None


@pytest.mark.slow
def test_without_a_drive_the_rest_is_told_and_what_is_missing_named() -> None:
    made = build_ticket(plain())
    assert set(made.missing) == {
        "drive.engine_torque", "drive.low_gear", "drive.axle_ratio", "drive.axle_load",
        "drive.tyre_radius", "drive.top_speed", "drive.top_gear",
        "shaft.pinion_end.strap_nuts", "shaft.pinion_end.strap_bolt",
    }  # fmt: skip
    assert all(missing_words(made).values())
    assert made.cuts.cuts[0].cut is not None
    assert made.speed.whirl.critical is not None
    assert (made.speed.top, made.speed.excitation, made.speed.balances) == (None, None, ())
    assert (made.torque.peak, made.strength.worst) == (None, None)
    assert made.strength.sizes_up


@pytest.mark.slow
def test_no_top_speed_is_made_up_from_the_engine() -> None:
    """Once the engine's top in top gear stood in, as "Shaft at top speed: ... at 125 mph"."""
    made = ticket(top_speed=None, engine_top="20000 rpm")
    speed = made.speed
    assert (speed.top, speed.road, speed.margin, speed.excitation) == (None, None, None, None)
    assert (speed.balances, speed.orders) == ((), ())
    assert "drive.top_speed" in made.missing
    # What the engine could make of it is still held against whirl.
    assert {f.code for f in made.flags} & {"past-whirl", "engine-past-whirl"} == {
        "engine-past-whirl"
    }


@pytest.mark.slow
def test_a_gear_that_is_not_said_is_not_told() -> None:
    known = {(g.key, g.ratio) for g in ticket(low_gear=None).speed.gears}
    assert known == {("top_gear", 0.8)}
    assert ticket(low_gear=None, top_gear=None).speed.gears == ()
    off_road = ticket(axle_ratio=None).speed.gears
    assert [g.road for g in off_road] == [None] * 4


@pytest.mark.slow
def test_a_shaft_without_a_tube_does_not_whirl() -> None:
    made = build_ticket(changed(driven(), {"shaft.slip.pushed_home": "35 in"}))
    assert "no-tube" in {flag.code for flag in made.flags}
    whirl = made.speed.whirl
    assert (whirl.critical, made.speed.margin, whirl.mass) == (None, None, None)


def test_no_pose_above_the_straps_takes_a_reserve() -> None:
    made = demo_ticket("long-legged-trail-wagon")
    rig = load_demo("long-legged-trail-wagon")
    limits, vehicle = made.limits, vehicle_of(rig)
    assert limits.straps is not None
    assert 0.0 < limits.straps < limits.free_droop < rig.travel.droop.mm
    assert limits.stopped_by == "pinion joint"
    rng = np.random.default_rng(3)
    box = vehicle.travel
    poses = rng.uniform([-limits.free_droop, *box.low[1:]], [0.0, *box.high[1:]], (20_000, 3))
    poses = poses[replace(box, droop=limits.free_droop).contains(*poses.T)]
    assert len(poses) > 5_000
    state = line(vehicle, *poses.T)
    assert float(state.output_bend.max()) <= limits.bends["output"] + 1e-6
    assert float(state.pinion_bend.max()) <= limits.bends["pinion"] + 1e-6
    # A step further and the reserve is gone.
    lower = replace(vehicle, travel=replace(box, droop=limits.free_droop + SIXTEENTH, bump=0.0))
    assert envelope(lower).joints["pinion"].most.value > limits.bends["pinion"]


def test_the_slip_sets_straps_where_it_runs_out_first() -> None:
    made = demo_ticket("goat-path-buggy")
    limits, vehicle = made.limits, vehicle_of(load_demo("goat-path-buggy"))
    assert limits.stopped_by == "slip"
    cut = replace(vehicle, travel=replace(vehicle.travel, droop=limits.free_droop))
    # The slip opens about 0.4 mm for each mm of droop there, and limits are whole 1/16 in.
    assert 0.75 * 25.4 <= envelope(cut).slip.opens_left < 0.75 * 25.4 + 0.4 * 25.4 / 16.0


@pytest.mark.slow
def test_a_two_piece_shaft_has_both_sections_told() -> None:
    made = demo_ticket("timber-crew-carrier")
    assert [name for name, _ in made.speed.balances] == ["front section", "rear section"]
    assert made.speed.phase is not None
    assert len(made.speed.phase.best) == 2
    without = build_ticket(
        changed(load_demo("timber-crew-carrier"), {"carrier.bearing_stub": None})
    )
    assert without.speed.whirl.critical is None
    why = missing_words(without)["carrier.bearing_stub"]
    assert "cut length" in why
    assert "critical speed" in why
