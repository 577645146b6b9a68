"""Strength of trunnions, ears, tube, weld, spline and clamp: closed forms, limits, flags."""

from dataclasses import replace
from math import cos, inf, pi, radians, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import BindpointError
from geometry.yoke import WeldYoke
from sim.parts.catalogue import cross_shape, yoke_shape
from sim.parts.materials import MaterialError, material, material_names
from sim.parts.tube_section import SectionError, TubeSection
from sim.strength import (
    BoltedCap,
    Ear,
    FlangeBolts,
    Spline,
    StrengthError,
    Trunnion,
    WeldRing,
    buckling_shear,
    clamp_members,
    ear_members,
    flange_members,
    joint_load,
    spline_members,
    trunnion_members,
    tube_members,
    weld_members,
)
from sim.strength.shaft import shaft_strength
from tests.sim.strength.parts import CROSS, FORGED, STRAPS, TUBE, joint, shaft

torques = st.floats(1e5, 5e6)
bends = st.floats(0.0, radians(40.0))
EAR = Ear(27.0, 16.0, 46.0, 18.0, 20.0)
SPLINE = Spline(40.0, 36.0, 16, 2.0, 90.0, 30.0)
STEEL = material("hardened spline steel")


def codes(members):
    return {flag.code for member in members for flag in member.flags}


def every(torque, bend):
    return shaft_strength(shaft(bend=bend), torque)


@given(torque=torques, bend=bends, more=st.floats(1.0, 3.0))
def test_stress_grows_with_torque_as_told(torque, bend, more):
    """In proportion, contacts with the root; so the safety is one of torque."""
    steep = joint(bend=bend)
    parts = replace(shaft(), joints=(replace(steep, bend=bend),))
    one, other = shaft_strength(parts, torque), shaft_strength(parts, more * torque)
    for before, after in zip(one.members, other.members, strict=True):
        assert after.stress == pytest.approx(before.stress * more**before.grows, rel=1e-9)
        if after.stress > 0.0:
            assert after.safety * more == pytest.approx(before.safety, rel=1e-9)
    assert one.holds == pytest.approx(other.holds, rel=1e-9)


@given(bend=st.floats(0.0, 39.0), more=st.floats(0.01, 10.0))
def test_a_larger_bend_never_helps(bend, more):
    for one, other in zip(every(1e6, bend).members, every(1e6, bend + more).members, strict=True):
        assert other.safety <= one.safety * (1.0 + 1e-12)


def test_no_torque_no_stress():
    found = every(0.0, 20.0)
    assert all(member.stress == 0.0 and member.safety == inf for member in found.members)


def test_the_weakest_is_named_and_holds():
    found = every(2e6, 20.0)
    again = every(found.holds, 20.0)
    assert again.weakest.name == found.weakest.name
    assert again.weakest.safety == pytest.approx(1.0, rel=1e-9)


def test_larger_joints_hold_more():
    """Trade sizes in their order (common practice, no source): each holds more than the last."""
    sizes = ("1310", "1330", "1350", "1410", "1480")
    holds = [
        shaft_strength(replace(shaft(spline=False), joints=(joint(size),)), 2e6).holds
        for size in sizes
    ]
    assert holds == sorted(holds)
    assert len(set(holds)) == len(holds)


def test_every_member_says_where_it_is_from():
    for member in every(1e6, 10.0).members:
        assert member.formula
        assert member.source
        assert "from memory" in member.material_source
        assert member.allowable > 0.0


def test_a_solid_trunnion_is_a_cantilever():
    """sigma = 32 P l / (pi d^3)."""
    trunnion = Trunnion(16.0, 10.0, 12.0, 27.0, 15.0, 32.0)
    load = joint_load(1e6, radians(15.0), 32.0)
    bending = trunnion_members(load, trunnion, CROSS, FORGED)[0]
    assert bending.stress == pytest.approx(32.0 * load.cap_force * 10.0 / (pi * 16.0**3))


def test_a_trunnion_of_the_catalogue():
    shape = cross_shape("1310")
    trunnion = Trunnion.of(shape)
    assert trunnion.arm == pytest.approx(0.5 * (81.76 - 17.0))
    assert trunnion.arm - trunnion.lever == pytest.approx(0.5 * shape.hub_span)


def test_ground_ears_are_weaker_and_say_so():
    shape = yoke_shape("weld yoke", "1310")
    load = joint_load(1e6, 0.0, 32.0)
    found = [ear_members(load, Ear.of(shape, ground), FORGED) for ground in (0.0, 2.0, 4.5, 8.0)]
    assert [member[0].safety for member in found] == sorted(
        (member[0].safety for member in found), reverse=True
    )
    assert codes(found[0]) == set()
    assert codes(found[2]) == {"thin-ring"}
    assert codes(found[3]) == {"bore-breaks-out"}
    assert found[3][0].stress == inf
    assert found[3][0].safety == 0.0
    assert isinstance(shape, WeldYoke)


def test_an_open_ear_has_no_ring():
    load = joint_load(1e6, 0.2, 32.0)
    names = [m.name for m in ear_members(load, replace(EAR, ring_radius=None), FORGED)]
    assert len(names) == 2
    assert not any("bore" in name for name in names)


def test_root_of_an_ear_is_a_cantilever():
    load = joint_load(1e6, 0.0, 30.0)
    _, root, shear = ear_members(load, EAR, FORGED)
    force = 1e6 / 60.0
    assert root.stress == pytest.approx(force * 18.0 / (16.0 * 46.0**2 / 6.0), rel=1e-12)
    assert shear.stress == pytest.approx(1.5 * force / (16.0 * 46.0), rel=1e-12)


def test_a_thin_tube_is_a_ring():
    """T / (2 pi r^2 t) in the limit of a thin wall, and the weld likewise."""
    thin = TubeSection.of_wall(80.0, 0.001)
    load = joint_load(1e6, 0.0, 30.0)
    ring = 1e6 / (2.0 * pi * thin.mean_radius**2 * 0.001)
    assert tube_members(load, thin, TUBE)[0].stress == pytest.approx(ring, rel=1e-4)
    weld = weld_members(load, WeldRing(80.0, 0.001, 0.001), TUBE)[0]
    assert weld.stress == pytest.approx(sqrt(3.0) * ring, rel=1e-4)


@given(bend=bends)
def test_bending_of_the_tube_comes_on_top(bend):
    section = TubeSection.of_wall(76.2, 2.1)
    load = joint_load(2e6, bend, 32.0)
    both = tube_members(load, section, TUBE)[1].stress
    shear, bending = section.torsion(2e6), section.bending(load.couple)
    assert both == pytest.approx(sqrt(bending**2 + 3.0 * shear**2), rel=1e-12)
    assert section.bending(1.0) == pytest.approx(2.0 * section.torsion(1.0), rel=1e-12)


def test_a_paper_thin_tube_folds_before_it_yields():
    load = joint_load(2e6, 0.0, 32.0)
    assert codes(tube_members(load, TubeSection.of_wall(76.2, 2.1), TUBE)) == set()
    thin = tube_members(load, TubeSection.of_wall(76.2, 0.5), TUBE)
    assert codes(thin) == {"buckles-before-yield"}


@given(wall=st.floats(0.2, 8.0), more=st.floats(1.01, 1.5))
def test_a_thicker_wall_buckles_later(wall, more):
    one, other = (buckling_shear(TubeSection.of_wall(80.0, w), TUBE) for w in (wall, more * wall))
    assert other > one


def test_a_weld_thicker_than_the_wall_counts_as_the_wall():
    load = joint_load(1e6, 0.1, 32.0)
    thick = weld_members(load, WeldRing(76.2, 4.0, 2.1), TUBE)
    even = weld_members(load, WeldRing(76.2, 2.1, 2.1), TUBE)
    assert thick[0].stress == even[0].stress
    assert codes(thick) == {"weld-thicker-than-wall"}
    assert codes(even) == set()
    half = weld_members(load, WeldRing(76.2, 2.1, 2.1, sound=0.5), TUBE)
    assert half[0].stress == pytest.approx(2.0 * even[0].stress, rel=1e-12)


def test_teeth_a_quarter_of_the_diameter_long_are_as_strong_as_the_bar():
    """T = tau pi D^3 / 16 with all of them sharing: an identity."""
    spline = Spline(40.0, 40.0, 16, 2.0, 10.0, sharing=1.0)
    teeth = spline_members(1e6, spline, STEEL, STEEL)[1]
    assert teeth.stress == pytest.approx(16.0 * 1e6 / (pi * 40.0**3), rel=1e-12)


def test_a_spline_shorter_than_its_stroke():
    apart = spline_members(1e6, replace(SPLINE, engaged=30.0), STEEL, STEEL)
    assert codes(apart) == {"spline-shorter-than-stroke"}
    assert apart[0].stress == inf
    assert apart[0].safety == 0.0
    little = spline_members(1e6, replace(SPLINE, engaged=60.0), STEEL, STEEL)
    assert codes(little) == {"spline-little-engaged"}
    assert codes(spline_members(1e6, SPLINE, STEEL, STEEL)) == set()
    assert spline_members(0.0, replace(SPLINE, engaged=0.0), STEEL, STEEL)[0].stress == 0.0


@given(engaged=st.floats(31.0, 200.0), more=st.floats(1.0, 50.0))
def test_more_engagement_never_hurts(engaged, more):
    for one, other in zip(
        spline_members(1e6, replace(SPLINE, engaged=engaged), STEEL, STEEL),
        spline_members(1e6, replace(SPLINE, engaged=engaged + more), STEEL, STEEL),
        strict=True,
    ):
        assert other.safety >= one.safety


def test_what_lifts_a_cap():
    straight = clamp_members(joint_load(2e6, 0.0, 32.0), STRAPS, FORGED)
    assert [member.stress for member in straight] == [0.0, 0.0]
    bent = joint_load(2e6, radians(25.0), 32.0)
    lift, bolts = clamp_members(bent, STRAPS, FORGED)
    assert lift.stress == bent.along
    assert lift.allowable == pytest.approx(2.0 * 25e3 / (0.2 * 7.94), rel=1e-12)
    assert bolts.stress == pytest.approx(bent.along / 2.0 / STRAPS.stress_area, rel=1e-12)


def test_stress_area_of_a_thread():
    """M8: 36.6 mm2, M10: 58.0 mm2 (tables of threads, from memory)."""
    assert BoltedCap(8.0, 1.25, 1.0).stress_area == pytest.approx(36.6, abs=0.05)
    assert BoltedCap(10.0, 1.5, 1.0).stress_area == pytest.approx(58.0, abs=0.05)


def test_bolts_of_a_flange():
    """Six bolts as springs on their circle: moments of a rigid flange about its diameter."""
    flange = FlangeBolts(BoltedCap(10.0, 1.25, 45e3, bolts=6), 90.0)
    load = joint_load(2e6, radians(20.0), 32.0)
    slip, shear, prised = flange_members(load, flange, FORGED)
    assert slip.stress == pytest.approx(2e6 / cos(radians(20.0)) / 45.0, rel=1e-12)
    assert slip.allowable == pytest.approx(6 * 0.15 * 45e3 / 2.0, rel=1e-12)
    assert shear.stress == pytest.approx(slip.stress / 6.0 / flange.bolt.stress_area, rel=1e-12)
    heights = [45.0 * cos(pi * i / 3.0) for i in range(6)]
    outermost = load.couple * heights[0] / sum(h * h for h in heights)
    assert prised.stress == pytest.approx(outermost / flange.bolt.stress_area, rel=1e-12)
    straight = flange_members(joint_load(2e6, 0.0, 32.0), flange, FORGED)
    assert straight[2].stress == 0.0
    loose = replace(flange, bolt=replace(flange.bolt, tightened=0.0))
    assert codes(flange_members(load, loose, FORGED)) == {"flange-loose"}


def test_dents_and_slips_are_told_apart_from_what_gives():
    found = every(2e6, 10.0)
    assert not found.weakest.lives_on
    assert found.marked_first.kind in ("contact", "slip")
    gives = [member.safety for member in found.members if not member.lives_on]
    assert found.weakest.safety == min(gives)
    assert replace(found, members=(found.weakest,)).marked_first is None
    with pytest.raises(StrengthError, match="no members"):
        _ = replace(found, members=(found.marked_first,)).weakest


def test_loose_and_overtightened_bolts():
    load = joint_load(1e6, 0.2, 32.0)
    loose = clamp_members(load, replace(STRAPS, tightened=0.0), FORGED)
    assert codes(loose) == {"bolts-loose"}
    assert loose[0].safety == 0.0
    tight = clamp_members(load, replace(STRAPS, tightened=90e3), FORGED)
    assert codes(tight) == {"bolts-overtightened"}


@pytest.mark.parametrize(
    "made",
    [
        lambda: Trunnion(16.0, 10.0, 12.0, 27.0, 15.0, 32.0, grease_hole=16.0),
        lambda: Trunnion(16.0, 0.0, 12.0, 27.0, 15.0, 32.0),
        lambda: replace(EAR, thickness=-1.0),
        lambda: Spline(40.0, 41.0, 16, 2.0, 90.0),
        lambda: replace(SPLINE, sharing=0.0),
        lambda: WeldRing(76.0, 0.0, 2.0),
        lambda: WeldRing(76.0, 2.0, 2.0, sound=1.1),
        lambda: BoltedCap(8.0, 5.0, 1.0),
        lambda: FlangeBolts(BoltedCap(8.0, 1.25, 1.0), 90.0),
        lambda: FlangeBolts(BoltedCap(8.0, 1.25, 1.0, bolts=4), 0.0),
        lambda: replace(shaft(), joints=()),
        lambda: replace(shaft(), stub=None),
        lambda: replace(joint().yokes[0], cap=STRAPS),
    ],
)
def test_no_such_part(made):
    with pytest.raises(StrengthError, match="got"):
        made()


def test_no_such_tube():
    for outside, wall in ((76.0, 40.0), (76.0, 0.0), (-1.0, 0.5)):
        with pytest.raises(SectionError, match="expected"):
            TubeSection.of_wall(outside, wall)
    with pytest.raises(SectionError, match="smaller"):
        TubeSection(20.0, 20.0)


def test_materials():
    for name in material_names():
        made_of = material(name)
        assert made_of.yields < made_of.breaks
        assert made_of.shears == pytest.approx(made_of.yields / sqrt(3.0))
        assert "from memory" in made_of.source
    assert material("drawn steel tube").shear_modulus == pytest.approx(79_300.0, rel=1e-3)
    own = material("drawn steel tube", yields=500.0)
    assert own.yields == 500.0
    assert own.source.startswith("yields: as given")


@pytest.mark.parametrize(
    ("name", "numbers", "says"),
    [
        ("unobtainium", {}, "there are: drawn steel tube"),
        ("bolt 8.8", {"colour": 1.0}, "has no number 'colour'"),
        ("bolt 8.8", {"yields": -1.0}, "above zero"),
        ("bolt 8.8", {"poisson": 0.5}, "under 0.5"),
    ],
)
def test_no_such_material(name, numbers, says):
    with pytest.raises(MaterialError, match=says):
        material(name, **numbers)
    assert issubclass(MaterialError, BindpointError)
