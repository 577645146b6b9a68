"""Slips in the shaft and at the output: what moves, what gets longer, what is told."""

import numpy as np
import pytest

from sim.assessment import Assessor
from sim.cures.remedies.slip import LongerSlip, ResetSlip, barrel_of
from sim.cures.remedies.slip_in_shaft import SlipInShaft
from sim.cures.remedy import Dose
from sim.derive import ride_height_of, vehicle_of
from sim.rig.demos import load_demo
from sim.rig.fitted import fitted_cross, fitted_yoke

GOAT = "goat-path-buggy"

NEAR = 8e-3
"""mm. Three roundings of what is written into a rig."""


@pytest.mark.parametrize("way", ["longer", "shorter"])
def test_another_tube_under_a_sliding_yoke_slides_its_joint_along(way: str) -> None:
    """The shaft is longer by just what was said; the joint stays on the output's own line."""
    rig = load_demo(GOAT)
    dose = Dose(12.7, way)
    cured = ResetSlip().applied(rig, dose)
    was, now = ride_height_of(rig), ride_height_of(cured)
    sign = 1.0 if way == "longer" else -1.0
    assert now.length - was.length == pytest.approx(sign * 12.7, abs=NEAR)
    moved = now.p_C_output - was.p_C_output
    out = float(moved @ was.output_points)
    np.testing.assert_allclose(moved, out * was.output_points, rtol=0.0, atol=NEAR)
    assert -sign * out > 12.7, "askew to the shaft it slides farther than the tube grows"
    slip, before = cured.shaft.slip, rig.shaft.slip
    assert slip.closes.mm - before.closes.mm == pytest.approx(out, abs=NEAR)
    assert slip.opens.mm - before.opens.mm == pytest.approx(-out, abs=NEAR)
    np.testing.assert_allclose(now.p_C_pinion, was.p_C_pinion, rtol=0.0, atol=NEAR)


def test_another_tube_with_a_slip_in_the_shaft_moves_no_joint() -> None:
    rig = load_demo("marsh-runner")
    cured = ResetSlip().applied(rig, Dose(12.7, "longer"))
    assert ride_height_of(cured).length == pytest.approx(ride_height_of(rig).length, abs=1e-9)
    assert cured.shaft.slip.closes.mm == pytest.approx(rig.shaft.slip.closes.mm - 12.7, abs=NEAR)


@pytest.mark.parametrize(("way", "out"), [("opens", 0.0), ("closes", 50.8), ("both", 25.4)])
def test_a_sliding_yoke_with_more_stroke_has_a_longer_barrel(way: str, out: float) -> None:
    """Both ends of the stroke are where the barrel puts them: it reaches as far into the case when
    bottomed, and parts a barrel's length from there."""
    rig = load_demo(GOAT)
    cured = LongerSlip().applied(rig, Dose(50.8, way))
    barrel, longer = barrel_of(rig), barrel_of(cured)
    assert barrel is not None
    assert longer is not None
    assert longer - barrel == pytest.approx(50.8, abs=NEAR)
    was, now = ride_height_of(rig), ride_height_of(cured)
    drawn = float((now.p_C_output - was.p_C_output) @ was.output_points)
    assert drawn == pytest.approx(out, abs=NEAR)
    bottomed = [drawn - cured.shaft.slip.closes.mm, -rig.shaft.slip.closes.mm]
    assert bottomed[0] == pytest.approx(bottomed[1], abs=NEAR)
    apart = [rig_.shaft.slip.comes_apart for rig_ in (rig, cured)]
    assert apart[0] is not None
    assert apart[1] is not None
    parts = drawn + apart[1].mm
    assert parts - apart[0].mm == pytest.approx(50.8, abs=NEAR)


def test_a_longer_slip_in_the_shaft_changes_no_yoke_and_no_joint() -> None:
    rig = load_demo("marsh-runner")
    cured = LongerSlip().applied(rig, Dose(50.8, "both"))
    assert cured.shaft.output_end == rig.shaft.output_end
    assert ride_height_of(cured).length == pytest.approx(ride_height_of(rig).length, abs=1e-9)
    assert barrel_of(rig) is None


def test_a_sliding_yoke_gives_way_to_a_slip_in_the_shaft() -> None:
    """The joint stays, the stroke is the catalogue's, and each side has as much left."""
    rig, remedy, assessor = load_demo(GOAT), SlipInShaft(), Assessor()
    series = remedy.doses(rig)[0]
    sizes = [dose.size for dose in series]
    assert sizes == sorted(sizes)
    cured = remedy.applied(rig, series[-1])
    slip = cured.shaft.slip
    assert slip.at == "shaft"
    assert slip.comes_apart is not None
    assert slip.closes.mm + slip.comes_apart.mm == pytest.approx(sizes[-1], abs=NEAR)
    np.testing.assert_allclose(
        vehicle_of(cured).p_C_output, vehicle_of(rig).p_C_output, rtol=0.0, atol=NEAR
    )
    end = cured.shaft.output_end
    assert end.output_yoke.name == "deep-throat flange yoke"
    assert fitted_yoke(end.output_yoke, fitted_cross(end.cross), cured.shaft.tube)
    found = assessor.assess(cured)
    assert found.closes_left == pytest.approx(found.opens_left, abs=2.5)


@pytest.mark.parametrize("name", ["marsh-runner", "timber-crew-carrier"])
def test_only_a_sliding_yoke_is_replaced_by_a_slip_in_the_shaft(name: str) -> None:
    assert SlipInShaft().doses(load_demo(name)) == ()
