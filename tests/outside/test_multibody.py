"""The joints, the shaft and the housing against a multibody library that shares no formula.

MuJoCo gets bodies on hinges and slides: output yoke, cross, shaft, cross, pinion yoke, and a
housing that lifts, rolls and wraps. Its forward kinematics is asked for coordinates that bring
the pinion yoke to the housing (least squares); then every body is compared with our poses.
"""

from dataclasses import replace

import mujoco
import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from sim.frames import unit
from sim.line import turn
from sim.vehicle import Vehicle
from tests.closed_forms import lead as tan_law
from tests.outside.bodies import DRIVEN_FROM_DRIVING, X, Y, Z, body, columns, words
from tests.sim.vehicles import poses, vehicles

QUIET = settings(
    deadline=None, max_examples=25, suppress_health_check=[HealthCheck.filter_too_much]
)


def machine(vehicle: Vehicle):
    """The vehicle's shaft and housing as bodies; lengths in mm, angles in rad."""
    length = float(np.linalg.norm(vehicle.p_A_pinion - vehicle.p_C_output))
    x = vehicle.axis_C_output
    level = unit(np.cross(Z, x))
    # In the shaft's frame, x toward the pinion and y along the near bores, the far yoke has x
    # back along the shaft and its bores turned from the near ones by the phase.
    far = Rotation.from_rotvec(vehicle.phase * X).as_matrix() @ columns(-X, Y, -Z)
    chain = body("pinion yoke", R=DRIVEN_FROM_DRIVING, hinge=Y)
    chain = body("pinion cross", chain, hinge=Y)
    chain = body("pinion shaft yoke", chain, pos=length * X, R=far, slide=-X)
    chain = body("shaft", chain, R=DRIVEN_FROM_DRIVING, hinge=Y)
    chain = body("output cross", chain, hinge=Y)
    chain = body("output yoke", chain, hinge=X)
    chain = body(
        "slider", chain, pos=vehicle.p_C_output, R=columns(x, level, np.cross(x, level)), slide=-X
    )
    housing = f'<body name="pinion" pos="{words(vehicle.p_A_pinion)}"/>'
    housing = body("housing", housing, hinge=Y if vehicle.front else -Y)
    housing = body("travel", body("roll", housing, hinge=X), slide=Z)
    text = (
        '<mujoco><compiler angle="radian" autolimits="false"/>'
        f"<worldbody>{chain}{housing}</worldbody></mujoco>"
    )
    return mujoco.MjModel.from_xml_string(text)


SAME_BODY = {"output shaft yoke": "shaft"}
SLIDES = {"shaft": "pinion shaft yoke", "output": "slider"}


class Asked:
    """Forward kinematics by names of joints and bodies."""

    def __init__(self, vehicle):
        self.vehicle = vehicle
        self.model = machine(vehicle)
        self.data = mujoco.MjData(self.model)

    def set(self, **coordinates):
        for name, value in coordinates.items():
            self.data.joint(name.replace("_", " ")).qpos[0] = value
        mujoco.mj_kinematics(self.model, self.data)

    def pose(self, body):
        found = self.data.body(body)
        return found.xmat.reshape(3, 3).copy(), found.xpos.copy()

    def assemble(self, spin, guess):
        """Coordinates that bring the pinion yoke to the housing: place and axis, no more."""

        def open_by(q):
            cross, shaft, slip, far_cross, far_yoke = q
            self.set(
                output_yoke=spin,
                output_cross=cross,
                shaft=shaft,
                pinion_cross=far_cross,
                pinion_yoke=far_yoke,
                **{SLIDES[self.vehicle.slip.at]: 100.0 * slip},
            )
            R, p = self.pose("pinion yoke")
            R_housing, p_pinion = self.pose("pinion")
            axis = R_housing @ self.vehicle.axis_A_pinion
            return [*(p - p_pinion) / 100.0, *np.cross(R[:, 0], axis)]

        found = least_squares(open_by, guess, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
        assert np.abs(open_by(found.x)).max() < 1e-9
        return found.x


def of_vertical(vehicle):
    """The same vehicle on the one suspension that is plain hinges and a slide."""
    return replace(vehicle, suspension=replace(vehicle.suspension, wrap_centre=(0.0, 0.0, 0.0)))


@pytest.mark.slow
@given(data=st.data(), start=st.floats(-3.0, 3.0))
@QUIET
@pytest.mark.parametrize("at", ["shaft", "output"])
def test_every_part_of_a_random_shaft_sits_where_the_library_puts_it(at, data, start):
    vehicle = of_vertical(data.draw(vehicles("vertical", at=at)))
    travel, roll, wrap = data.draw(poses(vehicle))
    ours = turn(vehicle, travel, roll, wrap, 0.0)
    assume(ours.line.reachable and max(ours.line.output_bend, ours.line.pinion_bend) < 1.2)
    asked = Asked(vehicle)
    asked.set(travel=travel, roll=roll, housing=wrap)
    # Our spin counts from the bend plane, the library's angle from the horizontal; both turn
    # right-handed about the output yoke's axis, so the two differ by one angle.
    level = asked.pose("output yoke")[0][:, 1]
    bores = ours.X_C["output yoke"][:3, 1]
    offset = np.arctan2(np.cross(level, bores) @ vehicle.axis_C_output, level @ bores)
    q = np.zeros(5)
    for share in np.linspace(0.0, 1.0, 9):
        spin = share * start
        q = asked.assemble(spin + offset, q)
        ours = turn(vehicle, travel, roll, wrap, spin)
        for part, X_C in ours.X_C.items():
            R, p = asked.pose(SAME_BODY.get(part, part))
            if part.endswith("cross"):
                R = R @ columns(Y, Z, X)
            np.testing.assert_allclose(X_C[:3, 3], p, rtol=0, atol=1e-6, err_msg=part)
            np.testing.assert_allclose(X_C[:3, :3], R, rtol=0, atol=1e-7, err_msg=part)
        slip = float(asked.data.joint(SLIDES[at]).qpos[0])
        np.testing.assert_allclose(ours.line.slip, slip, rtol=0, atol=1e-6)


@pytest.mark.parametrize("bend_deg", [0.0, 5.0, 20.0, 40.0, 60.0])
def test_one_joint_obeys_the_tan_law(bend_deg):
    """Yoke, cross, yoke with the second axis held: the library's turn of the driven yoke."""
    bend = np.radians(bend_deg)
    joint = body("one", body("cross", body("two", hinge=Z), hinge=Y), hinge=X)
    text = f'<mujoco><compiler angle="radian"/><worldbody>{joint}</worldbody></mujoco>'
    model = mujoco.MjModel.from_xml_string(text)
    data = mujoco.MjData(model)
    axis = np.array([np.cos(bend), np.sin(bend), 0.0])

    def direction(q, spin):
        data.qpos[:] = [spin, *q]
        mujoco.mj_kinematics(model, data)
        return data.body("two").xmat.reshape(3, 3)

    q, lead = np.zeros(2), []
    spins = np.linspace(0.0, 2 * np.pi, 73)
    for spin in spins:
        q = least_squares(
            lambda q, s=spin: np.cross(direction(q, s)[:, 0], axis), q, method="lm", xtol=1e-15
        ).x
        R = direction(q, spin)
        lead.append(np.arctan2(np.cross(Z, R[:, 2]) @ axis, R[:, 2] @ Z))
    turned_by = np.unwrap(lead)
    np.testing.assert_allclose(turned_by, spins + tan_law(spins, bend), rtol=0, atol=1e-7)
