"""The split of the slip, against trying every set point and random poses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.derive import vehicle_of
from sim.line import line
from sim.rig import Rig, changed, demo_names, load_demo, parse_rig, rig_from_data
from sim.search.envelope import envelope
from sim.ticket.slip_plan import SIXTEENTH, Need, SlipPlan, slip_plan
from sim.ticket.slips import GOOD_DIAMETERS, LEAST_DIAMETERS, slip_parts
from tests.sim.ticket.rigs import demo_ticket, plain


def plan_of(rig: Rig) -> SlipPlan:
    return slip_plan(rig, envelope(vehicle_of(rig)))


def without_slip() -> Rig:
    text = plain().typed()
    del text["shaft"]["slip"]
    return rig_from_data(text)


@given(closing=st.floats(0.0, 120.0), opening=st.floats(0.0, 200.0), usable=st.floats(5.0, 300.0))
def test_no_set_point_keeps_more(closing: float, opening: float, usable: float) -> None:
    """Every 1/16 in over the whole slip is tried."""
    best = Need(closing, opening, 19.05).best_set("slip", usable, None)
    tried = np.arange(0.0, usable + 1e-9, SIXTEENTH)
    least = np.minimum(tried - closing, usable - tried - opening)
    assert best.least >= float(least.max()) - 1e-9
    assert best.closes + best.opens == pytest.approx(usable, abs=1e-9)


@pytest.mark.parametrize("name", demo_names())
def test_no_pose_closes_or_opens_it_further(name: str) -> None:
    rig, plan = load_demo(name), demo_ticket(name).slip
    vehicle = vehicle_of(rig)
    rng = np.random.default_rng(5)
    poses = rng.uniform(vehicle.travel.low, vehicle.travel.high, (20_000, 3))
    poses = poses[vehicle.travel.contains(*poses.T)]
    assert len(poses) > 5_000
    slip = line(vehicle, *poses.T).slip
    assert np.nanmax(slip) <= plan.opening + 1e-6
    assert -np.nanmin(slip) <= plan.closing + 1e-6
    # The extremes are reached, too.
    for at, value in ((plan.at_longest, plan.opening), (plan.at_shortest, -plan.closing)):
        there = float(line(vehicle, at.travel, at.roll, at.wrap).slip)
        assert there == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize("name", demo_names())
def test_the_shortest_slip_that_fits_is_chosen(name: str) -> None:
    plan = demo_ticket(name).slip
    fitting = [split for split in plan.choices if split.fits]
    assert plan.chosen == (fitting[0] if fitting else None)
    wanted = plan.closing + plan.opening + 2.0 * plan.reserve + plan.wanted
    assert plan.stroke == pytest.approx(wanted, abs=1e-9)
    for split in fitting:
        assert split.engaged is not None
        assert split.engaged >= plan.wanted + plan.reserve - 1e-6


def test_slips_grow_and_their_shapes_are_sound() -> None:
    parts = slip_parts(plain())
    strokes = [part.stroke for part in parts]
    assert strokes == sorted(strokes)
    for part in parts:
        built = part.shape.build()
        # Weld land to weld land, pushed home, as the meshes have it.
        sleeve = float(built.sleeve.bounds[1, 0])
        stub = float(built.stub.bounds[1, 0])
        assert sleeve + stub - part.stroke == pytest.approx(part.pushed_home, abs=1e-6)
        assert part.usable == pytest.approx(
            part.stroke - GOOD_DIAMETERS * part.spline_diameter, abs=1e-9
        )


def test_the_rigs_own_slip_is_built_where_it_is_given() -> None:
    plan = plan_of(plain())
    assert plan.by_rig
    assert plan.built.closes == pytest.approx(1.25 * 25.4, abs=1e-9)
    assert plan.built.engaged == pytest.approx(4.0 * 25.4 - plan.opening, abs=1e-9)


def test_a_slip_is_chosen_where_none_is_given() -> None:
    plan = plan_of(without_slip())
    assert not plan.by_rig
    assert plan.chosen is not None
    assert plan.built == plan.chosen
    assert plan.built_part is not None
    assert plan.built_part.name == plan.chosen.name


@pytest.mark.parametrize(
    ("values", "codes"),
    [
        ({"shaft.slip.closes": "1/4 in"}, {"slip-bottoms"}),
        ({"shaft.slip.opens": "1/4 in"}, {"slip-runs-out"}),
        ({"shaft.slip.opens": "1/4 in", "shaft.slip.comes_apart": "1/2 in"}, {"slip-parts"}),
        ({"shaft.slip.opens": "2 in", "shaft.slip.comes_apart": "2 in"}, {"slip-little-engaged"}),
        ({"wanted.slip": "5 in"}, {"slip-little-reserve", "slip-no-choice"}),
    ],
)
def test_what_is_wrong_with_a_slip_is_said(values: dict[str, str], codes: set[str]) -> None:
    assert codes <= {flag.code for flag in plan_of(changed(plain(), values)).flags}


def test_a_yoke_that_slides_on_the_output_has_its_barrel() -> None:
    text = plain().typed()
    text["shaft"]["output_end"]["output_yoke"] = "sliding yoke"
    text["shaft"]["slip"] = {"at": "output", "closes": "1 in", "opens": "2 in"}
    plan = plan_of(rig_from_data(text))
    assert (plan.at, plan.choices, plan.built_part) == ("output", (), None)
    assert plan.least == pytest.approx(LEAST_DIAMETERS * plan.spline, abs=1e-9)
    assert plan.spline > 20.0


def test_a_phone_call_is_enough() -> None:
    rig = parse_rig(
        """
        [output]
        points_down = "3 deg"
        [ride_height]
        length = "40 in"
        shaft_points_down = "12 deg"
        [axle]
        points_up = "2 deg"
        [travel]
        bump = "3 in"
        droop = "4 in"
        """
    )
    assert not plan_of(rig).by_rig
