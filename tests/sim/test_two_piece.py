"""Rigs with a carrier bearing: the front section stands still, the rear one is a shaft."""

from dataclasses import replace

import numpy as np
import pytest

from sim.check import check
from sim.derive import vehicle_of
from sim.line import line, running
from sim.rig import RigError, changed, parse_rig
from sim.rig.demos import demo_text, load_demo
from sim.search.envelope import envelope
from viewer.words.problems import problem_words

NAME = "timber-crew-carrier"


def test_the_rear_section_is_a_shaft_hung_on_the_end_of_the_front_one() -> None:
    """Bends and slip are those of a one-piece shaft with its output at the middle joint."""
    vehicle = vehicle_of(load_demo(NAME))
    section = vehicle.section
    assert section is not None
    alone = replace(
        vehicle, p_C_output=section.p_C_middle, axis_C_output=-section.axis_C, section=None
    )
    poses = (np.linspace(-120.0, 100.0, 9), 0.05, -0.03)
    there, here = line(alone, *poses), line(vehicle, *poses)
    np.testing.assert_allclose(here.output_bend, there.output_bend, atol=1e-12)
    np.testing.assert_allclose(here.pinion_bend, there.pinion_bend, atol=1e-12)
    np.testing.assert_allclose(here.slip, there.slip, atol=1e-9)


@pytest.mark.slow
def test_every_joint_is_checked_and_the_first_one_never_moves() -> None:
    result = check(load_demo(NAME))
    assert list(result.joints) == ["output", "middle", "pinion"]
    still = result.joints["output"].sweep
    assert still.most.value == still.least.value == still.ride
    vehicle = result.derivation.vehicle
    section = vehicle.section
    assert section is not None
    alone = replace(
        vehicle, p_C_output=section.p_C_middle, axis_C_output=-section.axis_C, section=None
    )
    moving = envelope(alone).joints["output"].most.value
    assert result.joints["middle"].sweep.most.value == pytest.approx(moving, abs=1e-9)
    assert result.verdict == "clear"


def test_three_joints_cancel_together() -> None:
    """The exact chain over all three, and with the front section straight only the rear two."""
    vehicle = vehicle_of(load_demo(NAME))
    chain = running(vehicle)
    assert len(chain.bends) == 3
    section = vehicle.section
    assert section is not None
    straight = replace(section, axis_C_output=-section.axis_C)
    rear = running(replace(vehicle, section=None))
    whole = running(replace(vehicle, section=straight))
    assert whole.greatest_acceleration == pytest.approx(rear.greatest_acceleration, rel=1e-6)


@pytest.mark.parametrize(
    ("typed", "instead", "key", "says"),
    [
        ('slip = { at = "shaft"', 'slip = { at = "output"', "shaft.slip.at", "behind the slip"),
        ('bearing = ["57 in"', 'bearing = ["5 m"', "carrier.bearing[1]", "not on the way"),
        ('bearing = ["57 in"', 'bearing = ["-3 in"', "carrier.bearing[1]", "not on the way"),
        ('bearing = ["57 in"', 'bearing = ["5 in"', "carrier.bearing", "behind the pinion joint"),
        ('beyond = "3 1/2 in"', 'beyond = "50 in"', "carrier.bearing", "middle_joint_beyond right"),
        (
            'bearing = ["57 in", "0 in", "9 1/2 in"]',
            'bearing = ["16 in", "0 in", "1 in"]',
            "carrier.bearing",
            "from the pinion joint",
        ),
        ('joint = ["92 in", "0 in", "11 in"]', "", "output.joint", "carrier"),
        ('middle_joint_beyond = "3 1/2 in"', 'middle_joint_beyond = "0 in"', "beyond", "above"),
        ('front_yoke = "flange yoke"', 'front_yoke = "flang yoke"', "front_yoke", "flange yoke"),
    ],
)
def test_impossible_carriers_are_told(typed: str, instead: str, key: str, says: str) -> None:
    text = demo_text(NAME)
    assert typed in text
    with pytest.raises(RigError) as told:
        parse_rig(text.replace(typed, instead, 1))
    lines = map(problem_words, told.value.problems)
    assert any(key in line and says in line for line in lines), told.value


@pytest.mark.parametrize("bearing", ["5 in", "95 in", "-3 in"])
def test_a_bearing_in_the_wrong_place_is_the_only_fault_told(bearing: str) -> None:
    """The joint at the output and its slope are as they were; neither is to blame."""
    with pytest.raises(RigError) as told:
        parse_rig(demo_text(NAME).replace('bearing = ["57 in"', f'bearing = ["{bearing}"', 1))
    assert [problem.key.split("[")[0] for problem in told.value.problems] == ["carrier.bearing"]


def test_a_lower_bearing_bends_the_output_joint() -> None:
    rig = load_demo(NAME)
    lower = changed(rig, {"carrier.bearing": ["57 in", "0 in", "7 in"]})
    bends = [vehicle_of(each).section for each in (rig, lower)]
    assert bends[0] is not None
    assert bends[1] is not None
    assert bends[1].bend > bends[0].bend + 0.02
