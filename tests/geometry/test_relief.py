"""Grinding on simple shapes: closed forms, what stops it, conservation, monotonicity."""

from functools import cache
from itertools import product

import numpy as np
import pytest

from geometry.contact.first_touch import certify
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.symmetry import MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.contact.touch import TouchCurve, touch_curve
from geometry.errors import ShapeError
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from geometry.relief import HARD, Grindable, Plan, Relief, relief
from geometry.relief.plan import SPARE
from geometry.relief.survey import FINE
from tests.simple_shapes import box, hub

LOW, HIGH = (-20.0, 32.0, -9.0), (10.0, 41.0, 9.0)
EAR = box(LOW, HIGH, "ear tip")
STEM = box((60, -5, -5), (70, 5, 5), "stem")
EARED = Mesh.join([EAR, STEM])
FACE = 34.0
FLOOR = box((FACE, -45, -45), (FACE + 10.0, 45, 45), "throat")
NEVER: dict[str, str] = {}
CLEARANCE = 0.8


def part(mesh: Mesh, hard: dict[str, str] | None = None) -> Grindable:
    return Grindable(mesh, mesh, hard if hard is not None else NEVER)


@cache
def curve_of_ear_and_floor() -> TouchCurve:
    return touch_curve(ClosingJoint(JointParts(FLOOR, EARED)))


@cache
def ear_and_floor(gain: float, least_wall: float = 0.0) -> Relief:
    curve = curve_of_ear_and_floor()
    wanted = curve.certified_clear + np.radians(gain)
    return relief(part(FLOOR), part(EARED), None, wanted, CLEARANCE, least_wall, curve)


def deepest_reach(bend: float) -> float:
    """How far along the driving shaft the corners of the ear come at a bend, at any spin."""
    corners = np.array(list(product(*zip(LOW, HIGH, strict=True))))
    spins = np.linspace(0.0, 2.0 * np.pi, 7201)
    return float(np.einsum("nj,kj->nk", driven_in_driving(bend, spins)[:, 0], corners).max())


def ground_joint(plan: Plan, driving: Mesh, driven: Mesh) -> ClosingJoint:
    meshes = [
        plan.cuts[name].contact if name in plan.cuts else mesh
        for name, mesh in (("driving", driving), ("driven", driven))
    ]
    return ClosingJoint(JointParts(*meshes))


@pytest.mark.slow
def test_a_floor_is_ground_as_deep_as_the_ear_reaches_and_the_clearance() -> None:
    """Closed form: the lowest corner of the ear over all spins, plus what is kept clear."""
    found = ear_and_floor(2.0)
    plan = found.plan("driving")
    assert plan.stop is None
    assert plan.reached == pytest.approx(found.wanted)
    expected = deepest_reach(found.wanted) - FACE + CLEARANCE
    cut = plan.cuts["driving"]
    assert expected - 0.15 <= cut.depth <= expected + SPARE + 0.25
    assert cut.surfaces == ("throat",)
    assert cut.deepest[0] == pytest.approx(FACE + cut.depth, abs=0.01)
    assert set(plan.cuts) == {"driving"}


@pytest.mark.slow
def test_the_rim_of_a_disc_is_turned_to_a_cone() -> None:
    """Closed form: a disc against a wider flat disc loses the metal outside a cone.

    At bend b the flat face passes x cos b = r sin b - s at radius r; what lies beyond it, less
    the clearance, goes: the volume is an integral over the radius.
    """
    s, r = 9.0, 30.0
    driving, driven = hub(s, r, 96, 20.0), hub(s, 60.0, 96, 20.0)
    wanted = 2.0 * np.arctan(s / r) + np.radians(2.0)
    found = relief(part(driving), part(driven), None, wanted, CLEARANCE, 0.0, ways=["driving"])
    plan = found.plan("driving")
    assert plan.stop is None
    volumes = []
    for kept in (CLEARANCE, CLEARANCE + SPARE, CLEARANCE + SPARE + 0.1):
        radius = np.linspace(0.0, r, 20_001)
        high = radius * np.tan(wanted) - (s - kept) / np.cos(wanted) - s
        ring = 2.0 * np.pi * radius * np.maximum(high, 0.0)
        volumes.append(float(np.trapezoid(ring, radius)))
    assert volumes[0] < plan.cuts["driving"].volume < volumes[2]
    assert plan.cuts["driving"].volume == pytest.approx(volumes[1], rel=0.04)


@pytest.mark.slow
@pytest.mark.parametrize("way", ["driving", "driven", "shared"])
def test_the_ground_yokes_are_certified_and_keep_their_clearance(way: str) -> None:
    plan = ear_and_floor(2.0).plan(way)  # type: ignore[arg-type]
    joint = ground_joint(plan, FLOOR, EARED)
    assert certify(joint.yokes, 0.0, joint.turn.end, plan.reached).hit is None
    spins = np.linspace(0.0, 2.0 * np.pi, 181)
    gaps = [joint.yokes.nearest_at(plan.reached, spin).distance for spin in spins]
    assert min(gaps) >= CLEARANCE - 0.06
    assert plan.gap == pytest.approx(min(gaps), abs=0.05)
    assert touch_curve(joint, spins=24).certified_clear >= plan.reached


@pytest.mark.parametrize("way", ["driving", "driven", "shared"])
def test_what_is_taken_off_and_what_is_left_make_the_old_yoke(way: str) -> None:
    plan = ear_and_floor(2.0).plan(way)  # type: ignore[arg-type]
    for name, old in (("driving", FLOOR), ("driven", EAR)):
        if name not in plan.cuts:
            continue
        cut = plan.cuts[name]
        for mesh in (cut.contact, cut.body, cut.chips):
            assert mesh.is_watertight
            assert mesh.volume > 0.0
        # The stem is a piece of its own, which grinding leaves out.
        assert cut.contact.volume + cut.chips.volume == pytest.approx(old.volume, rel=1e-6)
        assert "ground" in cut.contact.label_names


@pytest.mark.slow
def test_more_bend_takes_more_off() -> None:
    plans = [ear_and_floor(gain).plan("driving") for gain in (1.0, 2.0, 3.0)]
    volumes = [plan.volume for plan in plans]
    depths = [plan.cuts["driving"].depth for plan in plans]
    assert volumes == sorted(volumes)
    assert depths == sorted(depths)
    assert volumes[0] > 0.0


def test_sharing_takes_less_off_each_than_one_alone() -> None:
    found = ear_and_floor(2.0)
    shared = found.plan("shared").cuts
    for name in ("driving", "driven"):
        alone = found.plan(name).cuts[name]  # type: ignore[arg-type]
        assert shared[name].volume < alone.volume
        assert shared[name].depth < alone.depth


def test_nothing_is_ground_where_the_bend_is_clear_already() -> None:
    found = ear_and_floor(-3.0)
    assert found.enough
    for plan in found.plans:
        assert plan.cuts == {}
        assert plan.stop is None
        assert plan.gained == 0.0
        assert plan.volume == 0.0


@pytest.mark.slow
def test_a_bolt_is_never_ground_and_the_other_yoke_may_still_give_way() -> None:
    bolted = Mesh.join([box(LOW, HIGH, "bolt"), STEM])
    curve = curve_of_ear_and_floor()
    wanted = curve.certified_clear + np.radians(2.0)
    joint = ClosingJoint(JointParts(FLOOR, bolted))
    found = relief(
        part(FLOOR), part(bolted, dict(HARD)), None, wanted, CLEARANCE, 0.0, touch_curve(joint)
    )
    for way in ("driven", "shared"):
        plan = found.plan(way)  # type: ignore[arg-type]
        assert plan.cuts == {}
        assert plan.gained == 0.0
        assert plan.stop is not None
        assert (plan.stop.reason, plan.stop.body, plan.stop.surface) == (
            "hardware", "driven", "bolt",
        )  # fmt: skip
    assert found.plan("driving").stop is None


@pytest.mark.slow
def test_it_stops_where_the_wall_would_get_too_thin() -> None:
    """A plate of 4 mm: as deep as the wall allows and not deeper; less is allowed, more is got."""
    plate = box((FACE, -45, -45), (FACE + 4.0, 45, 45), "throat")
    curve = touch_curve(ClosingJoint(JointParts(plate, EARED)))
    wanted = curve.certified_clear + np.radians(4.0)
    reached = []
    for least in (2.6, 1.8):
        found = relief(
            part(plate), part(EARED), None, wanted, CLEARANCE, least, curve, ("driving",)
        )
        plan = found.plan("driving")
        assert plan.stop is not None
        assert plan.stop.reason == "wall"
        assert plan.before < plan.reached < plan.stop.bend <= wanted
        cut = plan.cuts["driving"]
        assert cut.limit == pytest.approx(least)
        assert cut.wall >= least
        assert cut.wall == pytest.approx(4.0 - cut.depth, abs=0.02)
        # One step further it would have been too thin, so it is not far above the limit.
        assert cut.wall < least + 0.4
        reached.append(plan.reached)
    assert reached[1] > reached[0]


@pytest.mark.slow
def test_the_cross_stops_it_whatever_the_yokes_give_way_by() -> None:
    """Closed form: a block on the cross comes up to the floor where 28 cos + 19.5 sin is 34."""
    cross = box((-1.5, -19.5, 20.0), (1.5, 19.5, 28.0), "grease fitting")
    joint = ClosingJoint(JointParts(FLOOR, EARED, cross))
    swings = np.radians(np.linspace(0.0, 60.0, 60_001))
    up = 28.0 * np.cos(swings) + 19.5 * np.sin(swings) >= FACE
    crossed = float(swings[np.argmax(up)])
    curve = touch_curve(joint)
    assert curve.touch_min < crossed - 0.05
    found = relief(
        part(FLOOR), part(EARED), cross, crossed + 0.1, CLEARANCE, 0.0, curve, ["driven"]
    )
    assert not found.enough
    plan = found.plan("driven")
    assert plan.stop is not None
    assert (plan.stop.reason, plan.stop.surface) == ("cross", "grease fitting")
    assert plan.stop.bend == pytest.approx(crossed, abs=1e-3)
    assert plan.reached == pytest.approx(crossed, abs=1e-3)


@pytest.mark.slow
def test_even_yokes_stay_even_and_share_alike() -> None:
    """Two like yokes about one cross: each gives the same, mirror images stay exact."""
    ears = [EAR, box((-20, -41, -9), (10, -32, 9), "ear tip")]
    yoke = Mesh.join([*ears, hub(FACE, 40.0, 64, 12.0)])
    joint = ClosingJoint(JointParts(yoke, yoke))
    curve = touch_curve(joint)
    assert joint.turn.mirror
    wanted = curve.certified_clear + np.radians(1.5)
    found = relief(part(yoke), part(yoke), None, wanted, CLEARANCE, 0.0, curve, ["shared"])
    shared = found.plan("shared").cuts
    volumes = [shared[name].volume for name in ("driving", "driven")]
    assert volumes[0] == pytest.approx(volumes[1], rel=0.02)


@pytest.mark.slow
def test_ground_meshes_of_even_parts_are_exactly_even() -> None:
    s, r = 9.0, 30.0
    disc, wide = hub(s, r, 48, 20.0), hub(s, 60.0, 48, 20.0)
    wanted = 2.0 * np.arctan(s / r) + np.radians(1.0)
    found = relief(part(disc), part(wide), None, wanted, CLEARANCE, 0.0, ways=["driving"])
    mesh = found.plan("driving").cuts["driving"].contact
    for flip in (MIRROR_Y, MIRROR_Z):
        assert is_symmetric(mesh, flip)


@pytest.mark.parametrize(
    ("wanted", "clearance", "wall", "says"),
    [(0.0, 0.8, 4.0, "0 deg"), (1.2, 0.8, 4.0, "60 deg"), (0.5, -1.0, 4.0, "clearance"),
     (0.5, 9.0, 4.0, "clearance"), (0.5, 0.8, -1.0, "least wall")],
)  # fmt: skip
def test_what_cannot_be_wanted_is_refused(
    wanted: float, clearance: float, wall: float, says: str
) -> None:
    with pytest.raises(ShapeError, match=says):
        relief(part(FLOOR), part(EARED), None, wanted, clearance, wall)


def test_too_fine_a_mesh_is_refused_before_any_work() -> None:
    faces = np.tile(EARED.faces, (5000, 1))
    dense = Mesh.uniform(EARED.vertices, faces, "scan")
    with pytest.raises(ShapeError, match="triangles"):
        relief(part(FLOOR), part(dense), None, 0.5)


def test_the_net_is_fine_enough_for_what_is_promised() -> None:
    assert FINE <= 1.0
    assert SPARE < CLEARANCE
