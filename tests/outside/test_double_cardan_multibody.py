"""The double-Cardan head against a multibody library that shares no formula with it.

MuJoCo gets the head as bodies on hinges and slides: outer yoke, cross, center yoke, cross, outer
yoke, and on the last a slide for the ball. Two of its equality constraints close the loop: the
slide's end is connected to the ball of the first yoke, and a far point of the shaft to a guide
that runs along the shaft's line. Newton steps on the library's own residuals and Jacobian settle
the rest; its null space gives the speeds.
"""

import mujoco
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.head.turning import head_poses
from sim.head.bend import Head
from tests.closed_forms import equal_head, head_chain

FAR = 1000.0
ACROSS = "-1 0 0 0 0 1"
"""Axes of the far yoke at the first cross, straight: x away from the cross, bores from y to z."""

ON = "1 0 0 0 0 -1"
"""The same at the second cross, where the center yoke's own x already points away from it."""

heads = st.builds(
    lambda span, share: Head(span, share * span, 0.9), st.floats(60.0, 110.0), st.floats(0.46, 0.55)
)
bends = st.floats(0.02, np.radians(40.0))


def body(name, inside, joint="hinge", axis="0 1 0", pos="0 0 0", axes="1 0 0 0 1 0"):
    """A body with one hinge or slide of its own name."""
    return (
        f'<body name="{name}" pos="{pos}" xyaxes="{axes}">'
        f'<joint name="{name}" type="{joint}" axis="{axis}"/>'
        f'<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>{inside}</body>'
    )


def machine(head):
    """The head, its carrying yoke turning about x; lengths in mm, angles in rad."""
    reach = head.span - head.ball
    chain = body("socket", "", "slide", "1 0 0", f"{-reach!r} 0 0")
    chain = body("sliding", chain, axes=ON)
    chain = body("cross two", chain, pos=f"{head.span!r} 0 0")
    chain = body("centre", chain, axes=ACROSS)
    chain = body("cross one", chain)
    chain = body("carrying", chain, axis="1 0 0")
    guide = body("guide", "", "slide", "-1 0 0")
    guide = body("tilt", guide, axis="0 0 -1", pos=f"{-head.ball!r} 0 0")
    return mujoco.MjModel.from_xml_string(
        '<mujoco><compiler angle="radian" autolimits="false"/><option jacobian="dense"/>'
        f"<worldbody>{chain}{guide}</worldbody><equality>"
        '<connect body1="socket" body2="carrying" anchor="0 0 0"/>'
        f'<connect body1="sliding" body2="guide" anchor="{FAR} 0 0"/>'
        "</equality></mujoco>"
    )


SET = ("carrying", "tilt")
FREE = ("cross one", "centre", "cross two", "sliding", "socket", "guide")


class Asked:
    def __init__(self, head):
        self.model = machine(head)
        self.data = mujoco.MjData(self.model)
        self.at = {name: self.model.joint(name).dofadr[0] for name in SET + FREE}

    def settle(self, spin, bend):
        self.data.joint("carrying").qpos[0] = spin
        self.data.joint("tilt").qpos[0] = bend
        for _ in range(30):
            mujoco.mj_forward(self.model, self.data)
            off = self.data.efc_pos.copy()
            step = np.linalg.solve(self.jacobian(FREE), -off)
            for name, value in zip(FREE, step, strict=True):
                self.data.joint(name).qpos[0] += value
            if np.abs(step).max() < 1e-13:
                break
        mujoco.mj_forward(self.model, self.data)
        assert np.abs(self.data.efc_pos).max() < 1e-9

    def jacobian(self, names):
        whole = self.data.efc_J.reshape(-1, self.model.nv)
        assert len(whole) == len(FREE)
        return whole[:, [self.at[name] for name in names]]

    def turn(self, name):
        return self.data.body(name).xmat.reshape(3, 3)

    def speed_ratio(self):
        """Speed of the sliding yoke about the shaft's line over that of the carrying yoke."""
        speeds = np.zeros(self.model.nv)
        speeds[self.at["carrying"]] = 1.0
        rest = np.linalg.solve(self.jacobian(FREE), -self.jacobian(("carrying",))[:, 0])
        for name, value in zip(FREE, rest, strict=True):
            speeds[self.at[name]] = value
        turning = np.zeros((3, self.model.nv))
        mujoco.mj_jacBody(self.model, self.data, None, turning, self.model.body("sliding").id)
        spin = turning @ speeds
        axis = self.turn("sliding")[:, 0]
        np.testing.assert_allclose(np.cross(spin, axis), 0.0, rtol=0, atol=1e-9)
        return -spin @ axis


def angle(u, v):
    return np.arctan2(np.linalg.norm(np.cross(u, v)), u @ v)


@given(heads, bends, st.floats(-3.0, 3.0))
@settings(deadline=None, max_examples=25)
def test_the_bend_splits_and_every_part_sits_as_in_the_library(head, bend, spin):
    asked, split = Asked(head), head.split(bend)
    poses = head_poses(split.fixed, split.sliding, spin, head.span)
    ours = {
        "carrying": poses.X_H_driving,
        "centre": poses.X_H_centre,
        "sliding": poses.X_H_driven,
    }
    for share in np.linspace(0.0, 1.0, 9):
        asked.settle(share * spin, bend)
    carrying, centre, sliding = (asked.turn(name)[:, 0] for name in ours)
    np.testing.assert_allclose(angle(-carrying, centre), split.fixed, rtol=0, atol=1e-9)
    np.testing.assert_allclose(angle(centre, sliding), split.sliding, rtol=0, atol=1e-9)
    slid = float(asked.data.joint("socket").qpos[0])
    np.testing.assert_allclose(head.span - head.ball - slid, split.reach, rtol=0, atol=1e-7)
    for name, X_H in ours.items():
        np.testing.assert_allclose(asked.turn(name), X_H[:3, :3], rtol=0, atol=1e-9)
        np.testing.assert_allclose(asked.data.body(name).xpos, X_H[:3, 3], rtol=0, atol=1e-7)
    for name, X_H in (("cross one", poses.X_H_cross), ("cross two", poses.X_H_second_cross)):
        # A cross turns about its y here, along the bores it sits in; ours has x there.
        np.testing.assert_allclose(asked.turn(name)[:, 1], X_H[:3, 0], rtol=0, atol=1e-9)


@given(heads, bends)
@settings(deadline=None, max_examples=10)
def test_the_speed_ratio_is_the_library_s(head, bend):
    """Its velocities come from the Jacobian of its constraints, ours from a chain of bores."""
    asked, turning = Asked(head), head_chain(head, bend)
    for i in range(0, 720, 40):
        # The yoke's own x points against the flow of power, about which the chain counts.
        asked.settle(-turning.angle[i], bend)
        ratio = turning.speed_ratio[i]
        np.testing.assert_allclose(asked.speed_ratio(), ratio, rtol=0, atol=1e-9)


@pytest.mark.parametrize("bend_deg", [10.0, 20.0, 30.0])
def test_a_head_made_for_a_bend_turns_evenly_there_in_the_library_too(bend_deg):
    bend = np.radians(bend_deg)
    asked = Asked(equal_head(74.0, bend, 0.9))
    ratios = []
    for spin in np.linspace(0.0, 2.0 * np.pi, 73):
        asked.settle(spin, bend)
        ratios.append(asked.speed_ratio())
    np.testing.assert_allclose(ratios, 1.0, rtol=0, atol=1e-9)
