"""Torque and strength of a rig, held to the formulas worked by hand and to the pure modules."""

from dataclasses import replace
from math import cos, pi, radians

import pytest

from sim.assessment import Assessor
from sim.derive import vehicle_of
from sim.parts.catalogue import cross_shape
from sim.rig import changed
from sim.search.envelope import envelope
from sim.sizing import ShaftTorque
from sim.strength import shaft_strength
from sim.ticket.drive_said import drive_said
from sim.ticket.drive_torque import drive_torque, torque_missing
from sim.ticket.shaft_parts import shaft_parts
from sim.ticket.slip_plan import slip_plan
from sim.ticket.strength_of import StrengthSaid, strength_of
from tests.sim.ticket.rigs import demo_ticket, driven, plain
from viewer.words.remarks import said as words_of

POUND_FOOT = 1355.8179483314004
BENDS = {"output": radians(10.0), "pinion": radians(20.0)}


STRAPS = {"shaft.pinion_end.strap_nuts": "19 lb-ft", "shaft.pinion_end.strap_bolt": "5/16 in"}
"""Figures as a part maker may give them, invented."""


def torque_of(**values: object) -> ShaftTorque:
    return drive_torque(drive_said(driven(**values)))


def strength(torque: float | None, **values: object) -> StrengthSaid:
    rig = driven(**values)
    plan = slip_plan(rig, envelope(vehicle_of(rig)))
    return strength_of(rig, plan, torque, BENDS, BENDS, Assessor())


def test_low_gear_and_wheel_slip_are_those_worked_by_hand() -> None:
    said = torque_of()
    assert said.low_gear is not None
    assert said.wheel_slip is not None
    by_gear = 240.0 * 3.6 * 2.0 * 0.85 * 0.95 * POUND_FOOT
    assert said.low_gear.value == pytest.approx(by_gear, rel=1e-9)
    by_slip = 0.9 * 1900.0 * (16.0 / 12.0) / (4.1 * 0.95) * POUND_FOOT
    assert said.wheel_slip.value == pytest.approx(by_slip, rel=1e-6)
    assert said.governs == "wheel slip"
    assert said.peak == said.steady == said.wheel_slip
    assert not list(torque_missing(drive_said(driven())))


def test_use_and_shock_change_what_governs() -> None:
    trail = torque_of(use="trail")
    assert trail.governs == "low gear"
    assert trail.peak == trail.low_gear
    abrupt = torque_of(comes_on="abruptly")
    assert abrupt.peak is not None
    assert abrupt.steady is not None
    assert abrupt.peak.value == pytest.approx(2.0 * abrupt.steady.value, rel=1e-12)


def test_a_use_that_was_not_said_is_doubted_with_both_torques() -> None:
    """By hand, lb-ft: low gear 1,395, the tyres 585; 2.4 times as much."""
    said = torque_of(use=None)
    assert said.governs == "wheel slip"
    assert said.flags[0].code == "use-not-said"
    words = words_of(said.flags[0])
    assert "585 lb-ft" in words
    assert "1,395 lb-ft" in words
    assert "2.4 times as much" in words
    for use in ("road", "trail"):
        assert "use-not-said" not in {flag.code for flag in torque_of(use=use).flags}
    # Where low gear is the less, it counts for either use.
    weak = torque_of(use=None, engine_torque="60 lb-ft")
    assert "use-not-said" not in {flag.code for flag in weak.flags}


def test_one_side_alone_is_used_where_that_is_safe() -> None:
    no_engine = torque_of(engine_torque=None)
    assert no_engine.governs == "wheel slip"
    (missing,) = torque_missing(drive_said(driven(engine_torque=None)))
    assert missing.key == "drive.engine_torque"
    no_grip = torque_of(axle_load=None)
    assert no_grip.peak == no_grip.low_gear
    # On the trail what the tyres hold is no bound.
    stuck = torque_of(engine_torque=None, use="trail")
    assert (stuck.peak, stuck.governs) == (None, None)


def test_a_share_of_the_case_is_told() -> None:
    said = torque_of(share=0.5)
    assert said.low_gear is not None
    assert said.low_gear.value == pytest.approx(
        0.5 * 240.0 * 3.6 * 2.0 * 0.85 * 0.95 * POUND_FOOT, rel=1e-9
    )
    assert "share-counts" in {flag.code for flag in said.flags}


@pytest.mark.slow
def test_the_trunnion_is_that_of_the_cross_at_its_bend() -> None:
    """Bending at the root by hand: 32 P l d / (pi (d^4 - h^4)) at P = T / (2 R cos b)."""
    torque = 8e5
    found = strength(torque)
    assert found.worst is not None
    cross = cross_shape("27 x 82")
    arm = 0.5 * (cross.span - cross.cap_length)
    force = torque / (2.0 * arm * cos(BENDS["pinion"]))
    d, hole = cross.trunnion_diameter, 3.0
    stress = 32.0 * force * (arm - 0.5 * cross.hub_span) * d / (pi * (d**4 - hole**4))
    (member,) = [
        m for m in found.worst.members if m.name == "pinion joint: trunnion, bending at its root"
    ]
    assert member.stress == pytest.approx(stress, rel=1e-9)


@pytest.mark.slow
def test_every_part_of_the_shaft_is_asked() -> None:
    found = strength(5e5, **STRAPS)
    assert found.worst is not None
    names = " ".join(member.name for member in found.worst.members)
    for part in ("output joint", "pinion joint", "output flange yoke", "pinion strap yoke",
                 "shaft's weld yoke at the output", "shaft's weld yoke at the pinion",
                 "bolts of the flange", "bolts of the cap", "tube, torsion", "tube, buckling",
                 "weld, torsion", "spline", "stub", "needles"):  # fmt: skip
        assert part in names
    assert found.worst.weakest.safety == min(
        m.safety for m in found.worst.members if not m.lives_on
    )


@pytest.mark.slow
def test_straps_are_told_of_by_the_part_makers_figures_alone() -> None:
    without = strength(5e5)
    assert without.worst is not None
    assert "of the cap" not in " ".join(member.name for member in without.worst.members)
    keys = {each.key for each in without.missing}
    assert set(STRAPS) <= keys
    assert not set(STRAPS) & {each.key for each in strength(5e5, **STRAPS).missing}
    assert not [each for each in without.assumed if "strap" in words_of(each)]
    # Twice as tight holds the cap twice as well: n M / (K d).
    tight = STRAPS | {"shaft.pinion_end.strap_nuts": "38 lb-ft"}

    def held(figures: dict[str, str]) -> float:
        worst = strength(5e5, **figures).worst
        assert worst is not None
        return next(m.allowable for m in worst.members if "cap on its seat" in m.name)

    assert held(tight) == pytest.approx(2.0 * held(STRAPS), rel=1e-12)


@pytest.mark.slow
def test_a_size_up_takes_more_and_tells_when_it_touches() -> None:
    found = strength(None)
    assert found.worst is None
    assert [up.joint for up in found.sizes_up] == ["output", "pinion"]
    assessor = Assessor()
    for up in found.sizes_up:
        assert (up.size, up.larger) == ("27 x 82", "27 x 92")
        assert up.larger_holds > up.holds
        bigger = changed(driven(), {f"shaft.{up.joint}_end.cross": up.larger})
        assert up.larger_clear == pytest.approx(assessor.room(bigger, up.joint).clear, abs=1e-12)
        assert up.clear == pytest.approx(assessor.room(driven(), up.joint).clear, abs=1e-12)


@pytest.mark.slow
def test_the_smallest_joint_that_fits_grows_with_the_torque() -> None:
    light, heavy, absurd = (strength(t).fits["pinion"] for t in (3e5, 1.6e6, 1e8))
    assert light == "27 x 82"
    assert heavy == "30 x 92"
    assert absurd is None


@pytest.mark.slow
def test_too_weak_is_a_flag() -> None:
    codes = [{flag.code for flag in strength(t).flags} for t in (1e5, 1.3e6, 3e6)]
    assert "too-weak" in codes[2]
    assert "little-safety" in codes[1]
    assert not codes[0] & {"too-weak", "little-safety"}


def test_a_thin_tube_under_its_weld_is_a_flag() -> None:
    rig = changed(driven(), {"shaft.tube.wall": "0.049 in"})
    plan = slip_plan(rig, envelope(vehicle_of(rig)))
    found = strength_of(rig, plan, 3e5, BENDS, BENDS, Assessor())
    assert "weld-thicker-than-wall" in {flag.code for flag in found.flags}


def test_strength_of_a_longer_stroke_counts_the_spline_left() -> None:
    rig = driven()
    plan = slip_plan(rig, envelope(vehicle_of(rig)))
    found = shaft_parts(rig, plan, BENDS)
    assert found.parts.spline is not None
    assert found.parts.spline.least_engaged == pytest.approx(plan.built.engaged or 0.0, abs=1e-9)
    pulled = replace(found.parts, spline=replace(found.parts.spline, opens=1e3))
    assert "spline-shorter-than-stroke" in {f.code for f in shaft_strength(pulled, 1e5).flags}


def test_a_head_has_two_crosses_with_the_bend_between_them() -> None:
    ticket = demo_ticket("short-tailed-scout")
    joints = {joint.joint: joint.bend for joint in ticket.speed.joints}
    outer, inner = joints["output joint, outer cross"], joints["output joint, inner cross"]
    assert outer + inner == pytest.approx(ticket.found.joints["output"].ride, abs=1e-9)


def test_an_unknown_yoke_is_named() -> None:
    ticket_missing = set(demo_ticket("goat-path-buggy").missing)
    assert "drive.axle_load" in ticket_missing
    assert drive_torque(drive_said(plain())).peak is None
