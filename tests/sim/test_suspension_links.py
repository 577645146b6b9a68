"""The links suspension: what every suspension owes, and the mechanisms themselves."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from sim.frames import Rx, Ry, Rz
from sim.suspension import KINDS
from sim.suspension.base import SuspensionError
from sim.suspension.links.members import Arm, Link, TorqueArm, Wishbone
from sim.suspension.links.motion import Links
from sim.suspension.links.place import LEVER
from sim.suspension.links.table import LinksTable
from tests.sim.linkages import (
    BINDING,
    EXACT,
    PARALLEL,
    RADIUS_ARMS,
    SETS,
    SYMMETRIC,
    TRACK_BAR,
    TRIANGULATED,
    WISHBONE,
    asked,
    mirror_image,
    moved,
    pair,
    shaken,
)
from tests.sim.vehicles import FLIP

QUIET = settings(deadline=None, max_examples=10)

every_set = pytest.mark.parametrize("links", SETS.values(), ids=SETS.keys())
every_exact = pytest.mark.parametrize("links", EXACT.values(), ids=EXACT.keys())
every_binding = pytest.mark.parametrize("links", BINDING.values(), ids=BINDING.keys())


def test_the_kind_is_named():
    assert KINDS["links"] is LinksTable


@every_set
@given(data=st.data())
@QUIET
def test_ride_height_is_exactly_the_identity(links, data):
    housing = data.draw(shaken(links)).poses(0.0, 0.0, 0.0)
    np.testing.assert_array_equal(housing.R_CA, np.eye(3))
    np.testing.assert_array_equal(housing.p_C_A, np.zeros(3))


@every_set
@given(data=st.data())
@QUIET
def test_poses_are_rotations_at_the_travel_and_roll_asked_for(links, data):
    links = data.draw(shaken(links))
    travel, roll, wrap = data.draw(asked())
    housing = links.poses(travel, roll, wrap)
    np.testing.assert_allclose(housing.R_CA @ housing.R_CA.T, np.eye(3), rtol=0, atol=1e-14)
    assert np.linalg.det(housing.R_CA) > 0.0
    assert housing.p_C_A[2] == (travel if not any(links.wrap_centre) else pytest.approx(
        links.poses(travel, roll, wrap).point(links.wrap_centre)[2]
        - (housing.R_CA @ links.wrap_centre)[2], abs=1e-9))  # fmt: skip
    np.testing.assert_allclose(np.arcsin(housing.R_CA[2, 1]), roll, rtol=0, atol=1e-14)
    p, v = links.carry(travel, roll, wrap, (280.0, 20.0, 30.0), (1.0, 0.0, 0.0))
    np.testing.assert_allclose(p, housing.point((280.0, 20.0, 30.0)), rtol=0, atol=1e-11)
    np.testing.assert_allclose(v, housing.R_CA[:, 0], rtol=0, atol=1e-14)


@every_set
def test_batches_broadcast_and_agree_with_single_poses(links):
    t, r, w = np.linspace(-200, 120, 5), np.linspace(-0.15, 0.15, 3), np.linspace(-0.1, 0.1, 2)
    batch = links.poses(t[:, None, None], r[:, None], w)
    assert batch.R_CA.shape == (5, 3, 2, 3, 3)
    for i, j, k in np.ndindex(5, 3, 2):
        one = links.poses(t[i], r[j], w[k])
        np.testing.assert_allclose(batch.p_C_A[i, j, k], one.p_C_A, rtol=0, atol=1e-9)
        np.testing.assert_allclose(batch.R_CA[i, j, k], one.R_CA, rtol=0, atol=1e-12)


@pytest.mark.slow
@every_set
@given(data=st.data())
@QUIET
def test_a_mirrored_axle_moves_as_the_mirror_shows(links, data):
    links = data.draw(shaken(links))
    travel, roll, wrap = data.draw(asked())
    here = links.poses(travel, roll, wrap)
    there = mirror_image(links).poses(travel, -roll, wrap)
    np.testing.assert_allclose(there.p_C_A, here.p_C_A * FLIP, rtol=0, atol=1e-8)
    image = np.diag(FLIP) @ here.R_CA @ np.diag(FLIP)
    np.testing.assert_allclose(there.R_CA, image, rtol=0, atol=1e-10)


@every_exact
@given(data=st.data())
@QUIET
def test_the_whole_vehicle_put_elsewhere_moves_as_one(links, data):
    """X -> G X G^-1 for a rigid motion G: the same mechanism, asked at that pose's own height
    and roll. Slides are vertical, so with one G keeps the vertical."""
    links = replace(data.draw(shaken(links)), wrap_centre=(0.0, 0.0, 0.0))
    travel, roll, _ = data.draw(asked())
    upright = any(isinstance(m, TorqueArm) and m.held_by == "slide" for m in links.members)
    tilt = 0.0 if upright else 0.2
    G = (
        Rz(data.draw(st.floats(-0.3, 0.3)))
        @ Rx(data.draw(st.floats(-tilt, tilt)))
        @ Ry(data.draw(st.floats(-tilt, tilt)))
    )
    g = np.array([data.draw(st.floats(-40.0, 40.0)) for _ in range(3)])
    here = links.poses(travel, roll, 0.0)
    R = G @ here.R_CA @ G.T
    p = G @ here.p_C_A + g - R @ g
    elsewhere = moved(links, lambda point: tuple((G @ np.array(point) + g).tolist()))
    there = elsewhere.poses(p[2], np.arcsin(R[2, 1]), 0.0)
    np.testing.assert_allclose(there.p_C_A, p, rtol=0, atol=1e-7)
    np.testing.assert_allclose(there.R_CA, R, rtol=0, atol=1e-9)


@every_exact
@given(data=st.data())
@QUIET
def test_every_member_keeps_its_shape(links, data):
    links = replace(data.draw(shaken(links)), wrap_centre=(0.0, 0.0, 0.0))
    travel, roll, _ = data.draw(asked(travel=(-320.0, 250.0), roll=0.3))
    housing = links.poses(travel, roll, 0.0)
    if np.isnan(housing.p_C_A).any():
        return
    for member in links.members:
        for now, ride in _shape(member, housing):
            np.testing.assert_allclose(now, ride, rtol=0, atol=1e-8, err_msg=member.name)


def _shape(member, housing):
    """What a rigid member keeps, now and at ride height."""
    still = np.array
    if isinstance(member, Link):
        yield (
            np.linalg.norm(housing.point(member.axle) - member.chassis),
            np.linalg.norm(still(member.axle) - member.chassis),
        )
    elif isinstance(member, Wishbone):
        on_axle = member.apex_on == "axle"
        apex = housing.point(member.apex) if on_axle else still(member.apex)
        bushes = [still(b) if on_axle else housing.point(b) for b in member.bushes]
        yield _in_triangle(apex, *bushes), _in_triangle(*map(still, (member.apex, *member.bushes)))
    elif member.held_by == "ball":
        yield housing.point(member.end), still(member.end)
    elif member.held_by == "slide":
        yield housing.point(member.end)[2], member.end[2]
    else:
        yield (
            np.linalg.norm(housing.point(member.end) - member.shackle),
            np.linalg.norm(still(member.end) - member.shackle),
        )


def _in_triangle(apex, one, other):
    """Where the apex lies along its hinge, and how far from it."""
    hinge = (other - one) / np.linalg.norm(other - one)
    along = (apex - one) @ hinge
    return np.array([along, np.linalg.norm(apex - one - along * hinge)])


@pytest.mark.parametrize("name", SYMMETRIC)
def test_a_symmetric_axle_goes_straight_up_and_down(name):
    axle = SETS[name].poses(np.linspace(-250.0, 200.0, 91), 0.0, 0.0)
    np.testing.assert_allclose(axle.p_C_A[:, 1], 0.0, rtol=0, atol=1e-9)
    np.testing.assert_allclose(axle.R_CA[:, 1], [[0.0, 1.0, 0.0]] * 91, rtol=0, atol=1e-12)


def test_without_a_track_bar_radius_arms_go_straight_up_and_down():
    arms = Links(members=RADIUS_ARMS.members[:2])
    travel = np.linspace(-200.0, 120.0, 9)
    axle = arms.poses(travel, 0.0, 0.0)
    np.testing.assert_allclose(axle.p_C_A[:, 1], 0.0, rtol=0, atol=1e-9)
    # the pivots stay and nothing gives: the housing turns about the line through both
    np.testing.assert_allclose(
        axle.point((-900.0, 0.0, 40.0)), [[-900.0, 0.0, 40.0]] * 9, rtol=0, atol=1e-8
    )
    np.testing.assert_allclose(arms.give(travel, 0.0).mm, 0.0, rtol=0, atol=1e-8)


def test_a_parallelogram_keeps_its_pinion_angle():
    """Equal parallel links: closed form, on a circle of the links' length."""
    links = Links(
        members=(
            *pair(Link(name="upper", chassis=(700.0, 300.0, 210.0), axle=(0.0, 300.0, 150.0))),
            *pair(Link(name="lower", chassis=(700.0, 450.0, -20.0), axle=(0.0, 450.0, -80.0))),
            TorqueArm(name="guide", end=(0.0, 0.0, 0.0), held_by="shackle",
                      shackle=(0.0, 9.9e6, 0.0)),
        )
    )  # fmt: skip
    travel = np.linspace(-250.0, 200.0, 10)
    axle = links.poses(travel, 0.0, 0.0)
    x = 700.0 - np.sqrt(700.0**2 + 60.0**2 - (60.0 - travel) ** 2)
    np.testing.assert_allclose(axle.p_C_A[:, 0], x, rtol=0, atol=1e-4)
    np.testing.assert_allclose(axle.R_CA, [np.eye(3)] * 10, rtol=0, atol=1e-6)


@pytest.mark.parametrize("front", [False, True])
def test_wrap_lifts_the_nose_of_either_axle_after_the_closure(front):
    links = replace(TRIANGULATED, front=front)
    straight, up = links.poses(80.0, 0.05, 0.0), links.poses(80.0, 0.05, 0.07)
    turn = straight.R_CA.T @ up.R_CA
    np.testing.assert_allclose(turn, Ry(0.07 if front else -0.07), rtol=0, atol=1e-14)
    np.testing.assert_array_equal(straight.p_C_A, up.p_C_A)


def test_a_front_axle_with_its_links_turned_about_moves_in_the_mirror():
    """Rear for front: every point at -x; the same travel and the same roll, seen from behind."""
    back = np.array([-1.0, 1.0, 1.0])
    front = replace(moved(TRIANGULATED, lambda point: tuple((back * point).tolist())), front=True)
    for travel, roll, wrap in ((-150.0, 0.1, 0.05), (90.0, -0.12, -0.03), (40.0, 0.0, 0.0)):
        here, there = TRIANGULATED.poses(travel, roll, wrap), front.poses(travel, roll, wrap)
        np.testing.assert_allclose(there.p_C_A, here.p_C_A * back, rtol=0, atol=1e-9)
        image = np.diag(back) @ here.R_CA @ np.diag(back)
        np.testing.assert_allclose(there.R_CA, image, rtol=0, atol=1e-11)


@pytest.mark.slow
@every_binding
@given(data=st.data())
@QUIET
def test_what_gives_has_the_least_energy(links, data):
    """Every housing nearby, at the same travel and roll, takes more energy in the bushes."""
    links = data.draw(shaken(links, by=10.0))
    travel, roll, _ = data.draw(asked(roll=0.08))
    q = links.solved(travel, roll)
    assert np.isfinite(q).all()
    t, r = np.array([travel]), np.array([roll])

    def energy(q):
        e, _ = links.rows(np.asarray(q).reshape(4, 1), t, r)
        return float(np.sum(links.rows.stiffness * e * e))

    least = energy(q)
    rng = np.random.default_rng(data.draw(st.integers(0, 1000)))
    for size in (1e-3, 0.1, 3.0):
        for _ in range(20):
            step = rng.normal(size=4)
            assert energy(q + size * step / np.linalg.norm(step)) > least - 1e-9


@every_binding
def test_only_the_ratios_of_the_bushes_decide_the_pose(links):
    stiff = replace(links, bush_stiffness=10.0 * links.bush_stiffness)
    np.testing.assert_allclose(
        stiff.solved(-120.0, 0.1), links.solved(-120.0, 0.1), rtol=0, atol=1e-8
    )
    first, *rest = links.members
    uneven = replace(links, members=(replace(first, stiffness=500.0), *rest))
    assert np.abs(uneven.solved(-120.0, 0.1) - links.solved(-120.0, 0.1)).max() > 0.1


def test_exact_sets_give_nothing():
    for links in EXACT.values():
        give = links.give(np.array([-150.0, 90.0]), 0.1)
        assert not links.binds
        np.testing.assert_allclose(give.most, 0.0, rtol=0, atol=1e-9)
        np.testing.assert_allclose(give.force, 0.0, rtol=0, atol=1e-5)


def test_radius_arms_bind_when_the_axle_rolls_and_say_how_much():
    arms = RADIUS_ARMS
    assert arms.binds
    roll = np.radians([0.0, 3.0, 6.0, 12.0])
    give = arms.give(0.0, roll)
    assert (np.diff(give.most) > 0.0).all()
    pivot = [name for name in give.bushes if "pivot" in name]
    axle = [name for name in give.bushes if "axle bushing" in name]
    assert (len(pivot), len(axle)) == (2, 4)
    by_name = dict(zip(give.bushes, give.mm[:, 3], strict=True))
    assert min(by_name[name] for name in axle) > 2.0 * max(by_name[name] for name in pivot)
    # rolled the other way, the mirrored set gives the same everywhere
    mirrored = mirror_image(arms).give(0.0, -roll)
    np.testing.assert_allclose(np.sort(mirrored.mm, axis=0), np.sort(give.mm, axis=0), atol=1e-6)


def test_a_pose_that_asks_too_much_of_the_bushes_is_out_of_reach():
    most = float(RADIUS_ARMS.give(0.0, 0.15).most)
    spared = replace(RADIUS_ARMS, most_give=1.01 * most)
    strained = replace(RADIUS_ARMS, most_give=0.99 * most)
    assert np.isfinite(spared.poses(0.0, 0.15, 0.0).p_C_A).all()
    assert np.isnan(strained.poses(0.0, 0.15, 0.0).p_C_A).any()
    assert float(strained.give(0.0, 0.15).most) == pytest.approx(most, rel=1e-12)


def test_out_of_reach_is_not_a_number_and_stays_in_its_own_pose():
    axle = WISHBONE.poses(np.array([-900.0, -50.0, 900.0]), 0.0, 0.0)
    assert np.isnan(axle.p_C_A[[0, 2]]).any(axis=-1).all()
    np.testing.assert_array_equal(axle.p_C_A[1], WISHBONE.poses(-50.0, 0.0, 0.0).p_C_A)
    assert np.isnan(WISHBONE.poses(np.nan, 0.0, 0.0).p_C_A).any()


def test_nothing_happens_at_the_edge_of_the_chart():
    """Just inside poses are closed from the polynomial, just outside followed from its edge."""
    for links in (TRIANGULATED, PARALLEL, SETS["sliding arm"]):
        edge = links._chart.travel
        inside, outside = (links.solved(-edge * (1.0 + s * 1e-9), 0.02) for s in (-1.0, 1.0))
        np.testing.assert_allclose(inside, outside, rtol=0, atol=1e-5)


IN_LINE = (
    Link(name="upper", chassis=(600.0, 0.0, 200.0), axle=(0.0, 0.0, 150.0)),
    Link(name="lower", chassis=(700.0, 0.0, -50.0), axle=(0.0, 0.0, -80.0)),
    Link(name="bar", chassis=(0.0, 450.0, 0.0), axle=(0.0, -450.0, 0.0)),
)
"""All on the middle of the vehicle, and a track bar through it."""


@pytest.mark.parametrize(
    ("members", "says"),
    [
        (PARALLEL.members[:4], "free: sideways .needs a track bar"),
        (TRIANGULATED.members[:3], "leaves the axle free"),
        ((TRACK_BAR,), "leaves the axle free: .*; .*; "),
        ((), "free: .*; .*; .*; "),
        ((*PARALLEL.members[2:],), "nose up and down"),
        (IN_LINE, "free: steering, one wheel ahead of the other .needs a link on each side"),
        ((*TRIANGULATED.members[:3], TRIANGULATED.members[0]), "'upper' is given twice"),
    ],
)
def test_sets_that_leave_a_motion_free_are_refused_by_its_name(members, says):
    with pytest.raises(SuspensionError, match=says):
        Links(members=members)


def test_the_worst_held_motion_comes_first_and_has_words():
    worst, *others = TRIANGULATED.held
    assert worst.parts == ("y",)
    assert worst.says == "sideways"
    assert all(worst.hold <= other.hold for other in others)


POINT = (700.0, 300.0, 20.0)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Link(name="a", chassis=POINT, axle=POINT), "a: its ends are one point"),
        (lambda: Link(name="a", chassis=POINT, axle=(0.0, np.nan, 0.0)), "three finite numbers"),
        (lambda: Link(name="a", chassis=POINT, axle=(0.0, 0.0)), "three finite numbers"),
        (lambda: Link(name="a", chassis=POINT, axle=(0.0, 0.0, 0.0), stiffness=0.0),
         "a stiffness: got 0.0, expected a number above zero"),
        (lambda: Wishbone(name="w", apex=POINT, bushes=((0.0, 0.0, 0.0),) * 2), "its bushings are"),
        (lambda: Wishbone(name="w", apex=POINT, bushes=(POINT, (0.0, 0.0, 0.0))), "apex and a"),
        (lambda: Wishbone(name="w", apex=(0.0, 0.0, 0.0),
                          bushes=((0.0, 100.0, 0.0), (0.0, -100.0, 0.0))), "in line"),
        (lambda: Arm(name="r", chassis=POINT, axle=((0.0, 1.0, 2.0),) * 2), "one point"),
        (lambda: Arm(name="r", chassis=POINT, axle=((0.0, 300.0, 0.0), (0.0, 400.0, 0.0))),
         "side by side"),
        (lambda: TorqueArm(name="t", end=POINT, held_by="shackle"), "chassis end of the shackle"),
        (lambda: TorqueArm(name="t", end=POINT, shackle=(0.0, 0.0, 0.0)), "chassis end of the"),
        (lambda: TorqueArm(name="t", end=POINT, held_by="shackle", shackle=POINT), "one point"),
        (lambda: replace(TRIANGULATED, bush_stiffness=-1.0), "bush_stiffness: got -1.0"),
        (lambda: replace(TRIANGULATED, most_give=np.inf), "most_give: got inf"),
    ],
)  # fmt: skip
def test_impossible_members_are_refused_by_name(make, says):
    with pytest.raises(SuspensionError, match=says):
        make()


def test_the_arrays_are_read_only():
    q = TRIANGULATED.solved(np.zeros(3), 0.0)
    with pytest.raises(ValueError, match="read-only"):
        q[0] = 1.0
    give = PARALLEL.give(np.zeros(3), 0.1)
    for array in (give.mm, give.stretch, give.force):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 1.0


def test_the_unknowns_are_those_of_the_pose():
    x, y, pitch, yaw = TRIANGULATED.solved(-80.0, 0.1)
    axle = TRIANGULATED.poses(-80.0, 0.1, 0.0)
    R = Rotation.from_euler("ZXY", [yaw / LEVER, 0.1, pitch / LEVER]).as_matrix()
    np.testing.assert_allclose(axle.R_CA, R, rtol=0, atol=1e-14)
    np.testing.assert_array_equal(axle.p_C_A, [x, y, -80.0])
