"""Shafts with a double-Cardan head at either end."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.head import Head
from sim.line import line
from sim.vehicle import Vehicle
from tests.sim.vehicles import vehicles

HEAD = Head.equal_at(70.0, 0.4, 0.6)


@st.composite
def headed(draw: st.DrawFn) -> Vehicle:
    ends = draw(
        st.sampled_from([("output_head",), ("pinion_head",), ("output_head", "pinion_head")])
    )
    return replace(draw(vehicles()), **dict.fromkeys(ends, HEAD))


@settings(deadline=None, max_examples=40)
@given(headed(), st.lists(st.floats(0.0, 1.0), min_size=3, max_size=3))
def test_the_shaft_between_its_own_crosses_changes_by_the_slip_alone(
    vehicle: Vehicle, share: list[float]
) -> None:
    """Build the head's triangle from the pose: ball, then the shaft's cross along its axis."""
    pose = vehicle.travel.low + np.array(share) * (vehicle.travel.high - vehicle.travel.low)
    here, ride = line(vehicle, *pose), line(vehicle, 0.0, 0.0, 0.0)
    if not bool(here.reachable):
        return

    def own(state) -> float:
        length = float(state.length)
        for head, bend in (
            (vehicle.output_head, state.output_bend),
            (vehicle.pinion_head, state.pinion_bend),
        ):
            if head is not None:
                length -= float(head.split(bend).reach)
        return length

    expected = float(here.slip) if vehicle.slip.at == "shaft" else 0.0
    assert own(here) - own(ride) == pytest.approx(expected, abs=1e-6)
    assert float(ride.slip) == pytest.approx(0.0, abs=1e-9)


@settings(deadline=None, max_examples=20)
@given(vehicles(at="shaft"))
def test_a_head_bends_about_its_ball_like_a_single_joint(vehicle: Vehicle) -> None:
    plain, headed_too = (
        line(vehicle, 30.0, 0.0, 0.0),
        line(replace(vehicle, output_head=HEAD), 30.0, 0.0, 0.0),
    )
    np.testing.assert_array_equal(plain.output_bend, headed_too.output_bend)
    np.testing.assert_array_equal(plain.length, headed_too.length)
