"""Axles on links against a multibody library that shares no formula.

MuJoCo gets the housing on slides and hinges and every link, wishbone, shackle and slide as a body
of its own, tied to the housing by equality constraints. Its own constraint residuals and their
Jacobian bring the bodies together at an imposed height and roll; then the housing is compared.
Sets that bind get their radius arms as free bodies on springs, and the energy in all springs, by
the library's own kinematics, is made least.
"""

import mujoco
import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from sim.suspension.links.bushes import AXIAL_SHARE, SLEEVE
from sim.suspension.links.members import Arm, Link, Wishbone
from tests.sim.linkages import BINDING, EXACT, PARALLEL, RADIUS_ARMS, moved

MASS = '<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'
HOUSING = ("x", "y", "z", "yaw", "roll", "pitch")
"""Its slides and hinges, in the order in which they move it."""
IMPOSED = ("z", "roll")


def words(values):
    return " ".join(repr(float(value)) for value in np.ravel(values))


def body(name, at, joints, inside=""):
    return f'<body name="{name}" pos="{words(at)}">{joints}{MASS}{inside}</body>'


def housing(inside=""):
    axes = {"x": "1 0 0", "y": "0 1 0", "z": "0 0 1"}
    turns = {"yaw": "0 0 1", "roll": "1 0 0", "pitch": "0 1 0"}
    joints = "".join(f'<joint name="{n}" type="slide" axis="{a}"/>' for n, a in axes.items())
    joints += "".join(f'<joint name="{n}" type="hinge" axis="{a}"/>' for n, a in turns.items())
    return body("housing", (0, 0, 0), joints, inside)


def tied(member):
    """A member as bodies in the world, bodies in the housing, and (body, body, point) to tie."""
    name = member.name.replace(" ", "_")
    if isinstance(member, Link):
        rod = body(name, member.chassis, '<joint type="ball"/>')
        return rod, "", (name, "housing", np.subtract(member.axle, member.chassis))
    if isinstance(member, Wishbone):
        one, other = map(np.array, member.bushes)
        axis = (other - one) / np.linalg.norm(other - one)
        frame = body(name, one, f'<joint type="hinge" axis="{words(axis)}"/>')
        tie = (name, "housing" if member.apex_on == "axle" else "world", member.apex - one)
        return (frame, "", tie) if member.apex_on == "axle" else ("", frame, tie)
    if member.held_by == "ball":
        return "", "", ("housing", "world", np.array(member.end))
    if member.held_by == "slide":
        rails = '<joint type="slide" axis="1 0 0"/><joint type="slide" axis="0 1 0"/>'
        return body(name, member.end, rails), "", (name, "housing", np.zeros(3))
    rod = body(name, member.shackle, '<joint type="ball"/>')
    return rod, "", (name, "housing", np.subtract(member.end, member.shackle))


def machine(links):
    world, inside, ties = zip(*(tied(member) for member in links.members), strict=True)
    equality = "".join(
        f'<connect body1="{one}" body2="{other}" anchor="{words(anchor)}"/>'
        for one, other, anchor in ties
    )
    text = (
        '<mujoco><compiler angle="radian" autolimits="false"/><option jacobian="dense"/>'
        f"<worldbody>{''.join(world)}{housing(''.join(inside))}</worldbody>"
        f"<equality>{equality}</equality></mujoco>"
    )
    return mujoco.MjModel.from_xml_string(text)


class Mechanism:
    """The bodies, brought together at one height and roll after the other."""

    def __init__(self, links):
        self.model = machine(links)
        self.data = mujoco.MjData(self.model)
        held = [self.model.joint(name).dofadr[0] for name in IMPOSED]
        self.free = np.setdiff1d(np.arange(self.model.nv), held)

    def go(self, travel, roll, steps=12):
        """Newton's method on the library's constraints, in steps from ride height."""
        mujoco.mj_resetData(self.model, self.data)
        for share in np.linspace(0.0, 1.0, steps + 1)[1:]:
            self.data.joint("z").qpos[0] = share * travel
            self.data.joint("roll").qpos[0] = share * roll
            for _ in range(12):
                mujoco.mj_forward(self.model, self.data)
                rows = self.data.efc_type == mujoco.mjtConstraint.mjCNSTR_EQUALITY
                gap = self.data.efc_pos[rows].copy()
                J = self.data.efc_J.reshape(-1, self.model.nv)[rows][:, self.free]
                step = np.zeros(self.model.nv)
                step[self.free] = -np.linalg.lstsq(J, gap, rcond=1e-10)[0]
                mujoco.mj_integratePos(self.model, self.data.qpos, step, 1.0)
                if np.abs(step).max() < 1e-10:
                    break
        mujoco.mj_kinematics(self.model, self.data)
        assert np.abs(gap).max() < 1e-8
        found = self.data.body("housing")
        return found.xmat.reshape(3, 3).copy(), found.xpos.copy()


POSES = [(-150.0, 0.0), (90.0, 0.0), (0.0, 0.12), (-120.0, -0.1), (80.0, 0.15)]


@pytest.mark.parametrize("links", EXACT.values(), ids=EXACT.keys())
def test_every_layout_goes_where_the_library_takes_it(links):
    mechanism = Mechanism(links)
    for travel, roll in POSES:
        R, p = mechanism.go(travel, roll)
        ours = links.poses(travel, roll, 0.0)
        np.testing.assert_allclose(ours.p_C_A, p, rtol=0, atol=1e-6)
        np.testing.assert_allclose(ours.R_CA, R, rtol=0, atol=1e-9)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("name", ["triangulated", "three link", "wishbone", "shackled arm"])
def test_so_do_random_sets(name, seed):
    rng = np.random.default_rng(seed)

    def place(point):
        return tuple((np.array(point) + rng.uniform(-50.0, 50.0, 3)).tolist())

    links = moved(EXACT[name], place)
    travel, roll = rng.uniform(-140.0, 100.0), rng.uniform(-0.12, 0.12)
    ours = links.poses(travel, roll, 0.0)
    assert np.isfinite(ours.p_C_A).all()
    R, p = Mechanism(links).go(travel, roll)
    np.testing.assert_allclose(ours.p_C_A, p, rtol=0, atol=1e-6)
    np.testing.assert_allclose(ours.R_CA, R, rtol=0, atol=1e-9)


class Springs:
    """The same on springs: the library says where points are, least squares settles them."""

    def __init__(self, links):
        self.links = links
        arms = [member for member in links.members if isinstance(member, Arm)]
        text = (
            '<mujoco><compiler angle="radian" autolimits="false"/><worldbody>'
            + housing()
            + "".join(
                body(f"arm{number}", (0, 0, 0), "<freejoint/>") for number in range(len(arms))
            )
            + "</worldbody></mujoco>"
        )
        self.model = mujoco.MjModel.from_xml_string(text)
        self.data = mujoco.MjData(self.model)
        self.arms = {arm.name: f"arm{number}" for number, arm in enumerate(arms)}

    def put(self, unknown, travel, roll):
        x, y, pitch, yaw = unknown[:4] / [1.0, 1.0, 500.0, 500.0]
        for name, value in zip(HOUSING, (x, y, travel, yaw, roll, pitch), strict=True):
            self.data.joint(name).qpos[0] = value
        for number in range(len(self.arms)):
            part = unknown[4 + 6 * number : 10 + 6 * number]
            quat = Rotation.from_rotvec(part[3:] / 500.0).as_quat()
            address = self.model.body(f"arm{number}").jntadr[0]
            start = self.model.jnt_qposadr[address]
            self.data.qpos[start : start + 7] = [*part[:3], *quat[[3, 0, 1, 2]]]
        mujoco.mj_kinematics(self.model, self.data)

    def at(self, body, point):
        found = self.data.body(body)
        return found.xmat.reshape(3, 3) @ np.array(point) + found.xpos

    def gives(self):
        """Give of every spring (mm), and the root of its stiffness."""
        stiffness = self.links.bush_stiffness
        bush = np.sqrt(stiffness * np.array([1.0, AXIAL_SHARE, 1.0]))
        tilt = np.sqrt(2.0 * stiffness * SLEEVE**2 / 12.0)
        R = self.data.body("housing").xmat.reshape(3, 3)
        for member in self.links.members:
            if isinstance(member, Link):
                length = np.linalg.norm(self.at("housing", member.axle) - member.chassis)
                ride = np.linalg.norm(np.subtract(member.axle, member.chassis))
                yield member.name, np.array([length - ride]), np.sqrt(0.5 * stiffness)
                continue
            arm = self.arms[member.name]
            turned = R.T @ self.data.body(arm).xmat.reshape(3, 3)
            yield "pivot", R.T @ (self.at(arm, member.chassis) - member.chassis), bush
            for point in member.axle:
                yield "bush", R.T @ (self.at(arm, point) - self.at("housing", point)), bush
            yield "tilt", Rotation.from_matrix(turned).as_rotvec()[[0, 2]], tilt

    def settle(self, travel, roll):
        def strain(unknown):
            self.put(unknown, travel, roll)
            return np.concatenate([give * root for _, give, root in self.gives()])

        start = np.zeros(4 + 6 * len(self.arms))
        start[:4] = self.links.solved(travel, roll)
        x, y, pitch, yaw = start[:4] / [1.0, 1.0, 500.0, 500.0]
        R = Rotation.from_euler("ZXY", [yaw, roll, pitch])
        for number in range(len(self.arms)):
            start[4 + 6 * number : 7 + 6 * number] = x, y, travel
            start[7 + 6 * number : 10 + 6 * number] = 500.0 * R.as_rotvec()
        found = least_squares(strain, start, method="trf", xtol=1e-14, ftol=1e-14, gtol=1e-12)
        self.put(found.x, travel, roll)
        housing = self.data.body("housing")
        return housing.xmat.reshape(3, 3).copy(), housing.xpos.copy()


@pytest.mark.parametrize(("travel", "roll"), POSES)
def test_parallel_links_bind_as_the_library_says(travel, roll):
    springs = Springs(PARALLEL)
    R, p = springs.settle(travel, roll)
    ours = PARALLEL.poses(travel, roll, 0.0)
    np.testing.assert_allclose(ours.p_C_A, p, rtol=0, atol=1e-4)
    np.testing.assert_allclose(ours.R_CA, R, rtol=0, atol=1e-6)
    stretch = np.concatenate([give for _, give, _ in springs.gives()])
    np.testing.assert_allclose(PARALLEL.give(travel, roll).stretch, stretch, rtol=0, atol=1e-4)


@pytest.mark.parametrize("name", ["radius arms", "ladder bars"])
@pytest.mark.parametrize(("travel", "roll"), POSES)
def test_arms_on_bushes_bind_as_free_bodies_do(name, travel, roll):
    """The arm condensed is of second order in its small turns against the housing; the bodies
    turn as far as they like."""
    links = BINDING[name]
    springs = Springs(links)
    R, p = springs.settle(travel, roll)
    ours = links.poses(travel, roll, 0.0)
    np.testing.assert_allclose(ours.p_C_A, p, rtol=0, atol=0.05)
    np.testing.assert_allclose(ours.R_CA, R, rtol=0, atol=5e-4)
    bushes = [np.linalg.norm(give) for kind, give, _ in springs.gives() if kind != "tilt"]
    bushes[-1] /= 2.0  # the track bar's stretch, shared by its two bushes
    mm = links.give(travel, roll).mm
    np.testing.assert_allclose(mm, bushes, rtol=0.03, atol=0.15)


def test_what_the_condensed_arm_leaves_out_goes_with_the_square_of_the_roll():
    """From level: halving the roll leaves about a quarter of the difference."""
    off = []
    for roll in (0.16, 0.08, 0.04):
        R, p = Springs(RADIUS_ARMS).settle(0.0, roll)
        ours = RADIUS_ARMS.poses(0.0, roll, 0.0)
        off.append(np.linalg.norm(ours.p_C_A - p) + 500.0 * np.abs(ours.R_CA - R).max())
    assert off[0] < 0.25
    assert off[1] < off[0] / 3.0
    assert off[2] < off[1] / 3.0
