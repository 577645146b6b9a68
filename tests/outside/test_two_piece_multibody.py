"""A two-piece shaft against a multibody library that shares no formula with it.

MuJoCo gets output yoke, cross, front section, cross, rear section with its slip, cross and pinion
yoke as bodies on hinges and one slide. The output yoke is turned by its own hinge, which starts
with the bores in the plane of the two axes that meet at the output; least squares on the library's
forward kinematics then brings the front section into its bearing and the pinion yoke to the axle.
"""

from dataclasses import replace

import mujoco
import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from sim.derive import vehicle_of
from sim.frames import spoken_direction, unit
from sim.line import running, turn
from sim.rig.demos import load_demo
from tests.outside.bodies import DRIVEN_FROM_DRIVING, X, Y, Z, body, columns, words

SAME_BODY = {"middle shaft yoke": "shaft"}
FREE = (
    "output cross",
    "front section yoke",
    "middle cross",
    "shaft",
    "pinion shaft yoke",
    "pinion cross",
    "pinion yoke",
)


def carried(front_phase, phase):
    """The demo with a carrier bearing, bent aside at the output and with its ears turned."""
    vehicle = vehicle_of(load_demo("timber-crew-carrier"))
    section = replace(
        vehicle.section,
        axis_C_output=-spoken_direction(forward=False, down=0.13, left=0.07),
        phase=front_phase,
    )
    return replace(vehicle, section=section, phase=phase)


def far_end(phase):
    """Yoke at the far end of a piece in the frame of its near one: ears turned by the phase."""
    return Rotation.from_rotvec(phase * X).as_matrix() @ columns(-X, Y, -Z)


def machine(vehicle):
    section = vehicle.section
    length = float(np.linalg.norm(vehicle.p_A_pinion - vehicle.p_C_output))
    chain = body("pinion yoke", R=DRIVEN_FROM_DRIVING, hinge=Y)
    chain = body("pinion cross", chain, hinge=Y)
    chain = body("pinion shaft yoke", chain, pos=length * X, R=far_end(vehicle.phase), slide=-X)
    chain = body("shaft", chain, R=DRIVEN_FROM_DRIVING, hinge=Y)
    chain = body("middle cross", chain, hinge=Y)
    chain = body("middle yoke", chain, pos=section.length * X, R=far_end(section.phase))
    chain = body("front section yoke", chain, R=DRIVEN_FROM_DRIVING, hinge=Y)
    chain = body("output cross", chain, hinge=Y)
    chain = body("output yoke", chain, hinge=X)
    x = section.axis_C_output
    in_plane = unit(section.axis_C - (section.axis_C @ x) * x)
    frame = columns(x, in_plane, np.cross(x, in_plane))
    x_axis, y_axis = words(frame[:, 0]), words(frame[:, 1])
    start = f'<body name="case" pos="{words(section.p_C_output)}" xyaxes="{x_axis} {y_axis}">'
    return mujoco.MjModel.from_xml_string(
        '<mujoco><compiler angle="radian" autolimits="false"/>'
        f"<worldbody>{start}{chain}</body></worldbody></mujoco>"
    )


class Asked:
    def __init__(self, vehicle, X_CA):
        self.vehicle, self.X_CA = vehicle, X_CA
        self.model = machine(vehicle)
        self.data = mujoco.MjData(self.model)

    def pose(self, name):
        found = self.data.body(name)
        return found.xmat.reshape(3, 3).copy(), found.xpos.copy()

    def assemble(self, spin, guess):
        """Front section in its bearing, pinion yoke at the axle: places and axes, no more."""
        section = self.vehicle.section
        pinion = self.X_CA[:3, :3] @ self.vehicle.p_A_pinion + self.X_CA[:3, 3]
        axis = self.X_CA[:3, :3] @ self.vehicle.axis_A_pinion

        def open_by(q):
            self.data.joint("output yoke").qpos[0] = spin
            for name, value in zip(FREE, q, strict=True):
                self.data.joint(name).qpos[0] = value * (100.0 if "pinion shaft" in name else 1.0)
            mujoco.mj_kinematics(self.model, self.data)
            _, middle = self.pose("middle yoke")
            R, p = self.pose("pinion yoke")
            return [
                *(middle - section.p_C_middle) / 100.0,
                *(p - pinion) / 100.0,
                *np.cross(R[:, 0], axis),
            ]

        found = least_squares(open_by, guess, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
        assert np.abs(open_by(found.x)).max() < 1e-9
        return found.x


@pytest.mark.parametrize(("front_phase", "phase"), [(0.0, 0.0), (0.4, -0.25), (-0.7, 0.3)])
def test_every_part_sits_where_the_library_puts_it_at_the_turn_of_the_output_yoke(
    front_phase, phase
):
    vehicle = carried(front_phase, phase)
    at = (-90.0, 0.04, -0.03)
    state = turn(vehicle, *at, 0.0)
    asked = Asked(vehicle, state.X_C["housing"])
    q = np.zeros(len(FREE))
    for spin in np.linspace(0.0, 2.5, 8):
        q = asked.assemble(spin, q)
        ours = turn(vehicle, *at, spin)
        assert float(ours.spins["output"]) == spin
        for part, X_C in ours.X_C.items():
            if part == "housing":
                continue
            R, p = asked.pose(SAME_BODY.get(part, part))
            if part.endswith("cross"):
                R = R @ columns(Y, Z, X)
            np.testing.assert_allclose(X_C[:3, 3], p, rtol=0, atol=1e-6, err_msg=part)
            np.testing.assert_allclose(X_C[:3, :3], R, rtol=0, atol=1e-7, err_msg=part)


@pytest.mark.slow
@pytest.mark.parametrize(("front_phase", "phase"), [(0.0, 0.0), (0.4, -0.25), (-0.7, 0.3)])
def test_the_pinion_leads_and_lags_as_in_the_library(front_phase, phase):
    """Both phases count with their signs: the chain of all three joints over half a turn."""
    vehicle = carried(front_phase, phase)
    asked = Asked(vehicle, np.eye(4))
    q, turned = np.zeros(len(FREE)), []
    spins = np.linspace(0.0, np.pi, 181)
    start = None
    for spin in spins:
        q = asked.assemble(spin, q)
        R, _ = asked.pose("pinion yoke")
        start = R if start is None else start
        turned.append(np.arctan2(R[:, 1] @ start[:, 2], R[:, 1] @ start[:, 1]))
    lead = np.abs(np.unwrap(turned)) - spins
    amplitude = running(vehicle).lead_amplitude
    assert amplitude > np.radians(0.1)
    # A hundred and eighty samples of two swings a turn miss the top by at most (pi / 180)^2 / 2.
    np.testing.assert_allclose(0.5 * np.ptp(lead), amplitude, rtol=2e-4, atol=0)
