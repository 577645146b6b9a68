"""Shafts with a double-Cardan head at either end."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.line import line, running, turn
from sim.suspension.vertical import Vertical
from sim.travel.region import TravelRegion
from sim.vehicle import Pose, Slip, Vehicle
from tests.closed_forms import equal_head
from tests.sim.vehicles import plain, vehicles

HEAD = equal_head(70.0, 0.4, 0.6)


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
    assert own(here) - own(ride) == pytest.approx(expected, abs=1e-8)
    assert float(ride.slip) == pytest.approx(0.0, abs=1e-9)


def steep() -> Vehicle:
    """The output 41 deg from the shaft: the ball's slide and the head's reach chase each other,
    and each round of that leaves a fifth of the error."""
    suspension = Vertical(front=True, wrap_centre=(0.0, 0.0, 0.0))
    return Vehicle(
        p_C_output=[-700.0, 0.0, 350.0],
        axis_C_output=[-1.0, 0.0, 0.0],
        p_A_pinion=[-294.0, 0.0, 0.0],
        axis_A_pinion=[1.0, 0.0, 0.0],
        suspension=suspension,
        travel=TravelRegion(bump=61.0, droop=71.0, roll=0.0, nose_up=0.0, nose_down=0.0),
        slip=Slip("output", 40.0, 80.0),
        front=True,
        output_head=HEAD,
        pinion_head=HEAD,
    )


def test_a_steep_output_settles_too() -> None:
    vehicle = steep()

    def own(travel: float) -> float:
        state = line(vehicle, travel, 0.0, 0.0)
        bends = (state.output_bend, state.pinion_bend)
        return float(state.length) - sum(float(HEAD.split(bend).reach) for bend in bends)

    for travel in (-71.0, -30.0, 61.0):
        assert own(travel) == pytest.approx(own(0.0), abs=1e-9)


def test_a_slide_that_does_not_settle_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Cut off after three rounds, when it still moves by some hundredths of a millimetre."""
    monkeypatch.setattr("sim.line.single.HEAD_STEPS", 3)
    assert not bool(line(steep(), -71.0, 0.0, 0.0).reachable)
    assert bool(line(steep(), 0.0, 0.0, 0.0).reachable)


@settings(deadline=None, max_examples=20)
@given(vehicles(at="shaft"))
def test_a_head_bends_about_its_ball_like_a_single_joint(vehicle: Vehicle) -> None:
    plain, headed_too = (
        line(vehicle, 30.0, 0.0, 0.0),
        line(replace(vehicle, output_head=HEAD), 30.0, 0.0, 0.0),
    )
    # The same sums, which may differ in the last place with where they lie in memory.
    np.testing.assert_allclose(plain.output_bend, headed_too.output_bend, rtol=0.0, atol=1e-15)
    np.testing.assert_allclose(plain.length, headed_too.length, rtol=1e-15, atol=0.0)


@settings(deadline=None, max_examples=30)
@given(headed(), st.floats(-3.0, 3.0))
def test_the_parts_of_a_head_hang_together(vehicle: Vehicle, spin: float) -> None:
    """Ball, crosses and shaft as the triangle says, each yoke's bores along its cross."""
    state = turn(vehicle, 20.0, 0.02, 0.01, spin)
    if not bool(state.line.reachable):
        return
    X = state.X_C
    u = state.line.shaft_axis_C
    for end, head, ball in (
        ("output", vehicle.output_head, state.line.p_C_output),
        ("pinion", vehicle.pinion_head, state.line.p_C_pinion),
    ):
        if head is None:
            continue
        first, second = X[f"{end} cross"][:3, 3], X[f"{end} second cross"][:3, 3]
        assert np.linalg.norm(second - first) == pytest.approx(head.span, abs=1e-9)
        fixed, own = (first, second) if end == "output" else (second, first)
        assert np.linalg.norm(fixed - ball) == pytest.approx(head.ball, abs=1e-9)
        np.testing.assert_allclose(np.cross(own - ball, u), 0.0, atol=1e-7)
        centre = X[f"{end} center yoke"]
        np.testing.assert_allclose(
            np.abs(centre[:3, 1] @ X[f"{end} second cross"][:3, :2]), [1.0, 0.0], atol=1e-9
        )
    yoke, pinion = X["output shaft yoke"], X["pinion shaft yoke"]
    np.testing.assert_allclose(yoke[:3, 0], u, atol=1e-9)
    np.testing.assert_allclose(pinion[:3, 0], -u, atol=1e-9)
    assert yoke[:3, 1] @ pinion[:3, 1] == pytest.approx(np.cos(vehicle.phase), abs=1e-9)


@settings(deadline=None, max_examples=25)
@given(headed(), st.lists(st.floats(0.0, 1.0), min_size=3, max_size=3))
def test_the_turn_and_the_chain_tell_the_same_unevenness(
    vehicle: Vehicle, share: list[float]
) -> None:
    """The pinion yoke as it is posed, part by part, against the chain of joints with its phases:
    a head counts twice, in its own place on the way, its two crosses in phase."""
    low, high = vehicle.travel.low, vehicle.travel.high
    at = Pose(*(low + np.array(share) * (high - low)).tolist())
    spin = np.linspace(0.0, 2.0 * np.pi, 1441)
    state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
    if not state.line.reachable.all():
        return
    y, z = (state.X_C["pinion yoke"][..., :3, column] for column in (1, 2))
    lead = np.abs(np.unwrap(np.arctan2(y @ z[0], y @ y[0]))) - spin
    chain = running(vehicle, at)
    heads = (vehicle.output_head is not None) + (vehicle.pinion_head is not None)
    assert len(chain.bends) == 2 + heads
    np.testing.assert_allclose(0.5 * np.ptp(lead), chain.lead_amplitude, rtol=1e-4, atol=1e-11)


@pytest.mark.parametrize("ends", [("output_head",), ("pinion_head",)])
def test_a_straight_head_turns_evenly_and_the_joint_beyond_as_alone(ends: tuple[str, ...]) -> None:
    """Both shaft axes of a straight head are one, and so is that of its center yoke."""
    straight = plain(
        p_C_output=np.array([1180.0, 0.0, 0.0]),
        axis_C_output=np.array([np.cos(0.2), 0.0, np.sin(0.2)]),
        axis_A_pinion=np.array([-1.0, 0.0, 0.0]),
    )
    if ends == ("output_head",):
        straight = replace(
            straight,
            axis_C_output=np.array([1.0, 0.0, 0.0]),
            axis_A_pinion=np.array([-np.cos(0.2), 0.0, np.sin(0.2)]),
        )
    alone, headed_too = running(straight), running(replace(straight, **dict.fromkeys(ends, HEAD)))
    assert alone.lead_amplitude > 1e-3
    assert headed_too.lead_amplitude == pytest.approx(alone.lead_amplitude, rel=1e-9)
    np.testing.assert_allclose(np.sort(headed_too.bends), [0.0, 0.0, 0.2], rtol=0.0, atol=1e-9)
