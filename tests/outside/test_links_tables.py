"""A solid axle on four links, and the whole chain to the shaft, against tables computed apart.

Two solvers that share nothing with this program agreed on them to nine digits. The tables take
the rotation as Rz(yaw) Ry(pitch) Rx(roll), pitch positive nose down; here roll is the slope of the
axle tube, so the roll asked for is the one whose tube slopes as that rotation makes it.
"""

import numpy as np
import pytest

from sim.frames import spoken_direction
from sim.line import line
from sim.suspension.links.members import Link, Wishbone
from sim.suspension.links.motion import Links
from sim.vehicle import Slip, TravelRegion, Vehicle

PINION = np.array([200.0, 30.0, 30.0])


def pair(name, chassis, axle):
    left = Link(name=name, chassis=chassis, axle=axle)
    return left, left.mirrored(f"{name} right")


LOWER = ((750.0, 450.0, 20.0), (0.0, 550.0, -80.0))
DOUBLE = Links(
    members=(
        *pair("upper", (600.0, 200.0, 250.0), (0.0, 60.0, 200.0)),
        *pair("lower", *LOWER),
    )
)
PLANAR = Links(
    members=(
        Wishbone(
            name="upper",
            apex=(0.0, 0.0, 200.0),
            bushes=((600.0, 300.0, 250.0), (600.0, -300.0, 250.0)),
        ),
        *pair("lower", (750.0, 500.0, 20.0), (0.0, 500.0, -80.0)),
    )
)
"""The same side view; a wishbone seen from the side is one link."""


def angles(R):
    """Pitch and yaw (deg) of Rz(yaw) Ry(pitch) Rx(roll)."""
    return np.degrees(np.arcsin(-R[2, 0])), np.degrees(np.arctan2(R[1, 0], R[0, 0]))


def housing_at(links, heave, roll_deg):
    """Pose at a roll that stands last in the rotation."""
    roll = target = np.radians(roll_deg)
    for _ in range(60):
        pitch = np.radians(angles(links.poses(heave, roll, 0.0).R_CA)[0])
        roll = np.arcsin(np.cos(pitch) * np.sin(target))
    return links.poses(heave, roll, 0.0)


SIDE_VIEW = [
    (-150.0, 34.7863, 0.76517, 0.234368, -0.117332),
    (-100.0, 19.3113, 0.68837, 0.218936, -0.067599),
    (-50.0, 7.7809, 0.42887, 0.207551, -0.018504),
    (50.0, -4.1540, -0.59425, 0.196146, 0.077924),
    (100.0, -4.7423, -1.35735, 0.195912, 0.125254),
    (150.0, -1.7692, -2.29960, 0.199273, 0.171951),
]


@pytest.mark.parametrize("links", [PLANAR, DOUBLE])
@pytest.mark.parametrize(("heave", "x", "nose_up", "pinion_x", "pinion_z"), SIDE_VIEW)
def test_side_view(links, heave, x, nose_up, pinion_x, pinion_z):
    axle = links.poses(heave, 0.0, 0.0)
    np.testing.assert_allclose(axle.p_C_A, [x, 0.0, heave], rtol=0, atol=5e-5)
    np.testing.assert_allclose(-angles(axle.R_CA)[0], nose_up, rtol=0, atol=5e-6)
    joint = axle.point(PINION) / 1000.0
    np.testing.assert_allclose(joint, [pinion_x, 0.03, pinion_z], rtol=0, atol=5e-7)


def test_the_housing_starts_to_turn_about_its_instant_centre():
    """5.6 m ahead, where the lines of the links meet: -1/5.6 rad of nose up for each m."""
    h = 0.01
    up, down = (PLANAR.poses(sense * h, 0.0, 0.0) for sense in (1.0, -1.0))
    rate = np.radians(angles(up.R_CA)[0] - angles(down.R_CA)[0]) / (2.0 * h)
    assert -rate * 1000.0 == pytest.approx(-0.1785714, abs=5e-8)


def test_lengths():
    upper, _, lower, _ = DOUBLE.members
    for link, length in ((upper, 0.61814238), (lower, 0.76321688)):
        apart = np.linalg.norm(np.subtract(link.chassis, link.axle)) / 1000.0
        assert apart == pytest.approx(length, abs=5e-9)


IN_SPACE = [
    (100.0, 0.0, -4.74226199, 0.0, 1.35734594, 0.0, (0.195912256, 0.03, 0.125253994)),
    (0.0, 5.0, 1.18843355, 17.0568795, -0.328431941, 0.310276354,
     (0.200848237, 0.0454096851, 0.0336464167)),
    (0.0, 10.0, 4.75572654, 33.989278, -1.30334423, 0.48758935,
     (0.203699188, 0.0600180041, 0.0392938238)),
]  # fmt: skip


@pytest.mark.parametrize(("heave", "roll", "x", "y", "pitch", "yaw", "joint"), IN_SPACE)
def test_in_space(heave, roll, x, y, pitch, yaw, joint):
    axle = housing_at(DOUBLE, heave, roll)
    np.testing.assert_allclose(axle.p_C_A, [x, y, heave], rtol=0, atol=5e-8)
    np.testing.assert_allclose(angles(axle.R_CA), [pitch, yaw], rtol=0, atol=5e-9)
    np.testing.assert_allclose(axle.point(PINION) / 1000.0, joint, rtol=0, atol=6e-10)


CHAIN = [
    (-150.0, 1091.741, 9.556, -7.791),
    (-50.0, 1101.194, 4.226, -2.797),
    (0.0, 1103.676, 1.677, -0.677),
    (50.0, 1104.655, -0.817, 1.223),
    (150.0, 1101.952, -5.702, 4.403),
]
SHAFT = Vehicle(
    p_C_output=np.array([1300.0, 0.0, 120.0]),
    axis_C_output=-spoken_direction(forward=False, down=np.radians(3.0)),
    p_A_pinion=np.array([200.0, 0.0, 30.0]),
    axis_A_pinion=-spoken_direction(forward=True, down=-np.radians(4.0)),
    suspension=PLANAR,
    travel=TravelRegion(bump=150.0, droop=150.0, roll=0.0, nose_up=0.0, nose_down=0.0),
    slip=Slip("shaft", closes=30.0, opens=30.0),
    front=False,
)


@pytest.mark.parametrize(("heave", "length", "front", "rear"), CHAIN)
def test_the_whole_chain(heave, length, front, rear):
    """The table's angles are signed in the side view; ours are not."""
    state = line(SHAFT, heave, 0.0, 0.0)
    assert float(state.length) == pytest.approx(length, abs=5e-4)
    assert np.degrees(float(state.output_bend)) == pytest.approx(abs(front), abs=6e-4)
    assert np.degrees(float(state.pinion_bend)) == pytest.approx(abs(rear), abs=6e-4)
    axle = PLANAR.poses(heave, 0.0, 0.0)
    assert front + rear == pytest.approx(1.0 - angles(axle.R_CA)[0], abs=2e-3)


def test_slip_of_the_chain():
    lengths = [float(line(SHAFT, heave, 0.0, 0.0).length) for heave in np.linspace(-150, 150, 301)]
    assert max(lengths) - min(lengths) == pytest.approx(12.9, abs=0.05)
