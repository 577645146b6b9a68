"""Marks against the metal that overlaps on a fine grid of bends and turns.

Source: Manifold's booleans of the whole meshes, pose by pose, and distances of Coal 3, a collision
library; neither shares code with what finds the marks.
"""

from functools import cache
from math import pi, radians

import coal
import numpy as np
import pytest

from geometry.contact.first_touch import first_touches
from geometry.contact.joint_parts import JointParts, Turn
from geometry.contact.pair import DRIVING, ClosingPair
from geometry.contact.pressed import Meeting, Pressed
from geometry.joint import driven_in_driving
from geometry.mesh import Floats, Mesh
from geometry.solids import Solid, cylinder, hull
from sim.hardware.joint import joint_hardware
from sim.rig.demos import load_demo
from tests.outside.second_library import coal_cuts, coal_mesh

pytestmark = pytest.mark.slow

CASES = "marsh-runner", "seed 6", "seed 10"


@cache
def case(name: str) -> tuple[JointParts, float, float]:
    """Two yokes without a cross, a bend that is clear, and one some degrees past the touch."""
    if not name.startswith("seed"):
        hardware = joint_hardware(load_demo(name), "pinion")
        curve = hardware.touch()
        parts = JointParts(hardware.parts.driving, hardware.parts.driven)
        return parts, curve.certified_clear, curve.touch_min + radians(3.0)
    rng = np.random.default_rng(int(name.split()[1]))
    parts = JointParts(lumpy(rng), lumpy(rng))
    spins = np.linspace(0.0, 2.0 * pi, 24, endpoint=False).tolist()
    touches = first_touches(ClosingPair(parts.driving, parts.driven), spins)
    touch = min(each.touch for each in touches if each)
    return parts, 0.0, touch + radians(3.0)


def lumpy(rng: np.random.Generator) -> Mesh:
    """A shaft with two lumps where ears would be and one anywhere; nothing of it is symmetric."""
    middles = [rng.uniform([-8, 30 * s - 4, -5], [4, 30 * s + 4, 5]) for s in (-1, 1)]
    middles.append(rng.uniform([30, -15, -15], [45, 15, 15]))
    lumps = [
        hull(middle + rng.uniform(-1, 1, (10, 3)) * rng.uniform(6, 14, 3), f"lump {i}")
        for i, middle in enumerate(middles)
    ]
    shaft = cylinder("x", rng.uniform(22, 30), rng.uniform(14, 20), 60.0, "shaft")
    return Solid.union([shaft, *lumps]).mesh()


@cache
def found(name: str) -> tuple[Pressed, ...]:
    parts, clear, most = case(name)
    meeting = Meeting(parts, clear, most)
    return meeting.whole(meeting.pressed())


def overlap(parts: JointParts, bend: float, spin: float) -> Solid:
    """What the two yokes have in common, in the driving yoke's frame."""
    driving, driven = parts.driving, parts.driven
    R_DN = driven_in_driving(bend, spin)
    one = Solid.of(driving.vertices, driving.faces, "driving")
    return one.common(Solid.of(driven.vertices @ R_DN.T, driven.faces, "driven"))


def distance(body: object, point: Floats) -> float:
    """From a point to the skin of a mesh, mm."""
    at = coal.Transform3s(np.eye(3), point)
    request, result = coal.DistanceRequest(), coal.DistanceResult()
    still = coal.Transform3s.Identity()
    tiny = 1e-7
    return float(coal.distance(body, still, coal.Sphere(tiny), at, request, result)) + tiny


@pytest.mark.parametrize("name", CASES)
def test_no_metal_that_overlaps_goes_unmarked(name: str) -> None:
    """Every piece of either skin that lies in the other body at some pose of the grid has a mark
    next to it that is as deep, but for the way between: a distance never changes faster."""
    parts, _, most = case(name)
    marks = {each.body: each.only(each.met) for each in found(name)}
    skins = {"driving": coal_mesh(parts.driving), "driven": coal_mesh(parts.driven)}
    asked = 0
    for bend in (most, most - radians(1.0)):
        for spin in np.radians(np.arange(0.0, 360.0, 7.0)).tolist():
            R_DN = driven_in_driving(bend, spin)
            if not coal_cuts(skins["driving"], skins["driven"], R_DN):
                continue
            mesh = overlap(parts, bend, spin).mesh()
            for body, other in (("driving", "driven"), ("driven", "driving")):
                if body not in mesh.label_names:
                    continue
                here = mesh.triangles[mesh.on(body)].mean(axis=1)
                here = here[:: 1 + len(here) // 12]
                own = here if body == DRIVING else here @ R_DN
                into = here @ R_DN if body == DRIVING else here
                for p, q in zip(own, into, strict=True):
                    away = np.linalg.norm(marks[body].skin.points - p, axis=1)
                    nearest = int(away.argmin())
                    depth = distance(skins[other], q)
                    assert away[nearest] <= 1.6
                    assert marks[body].depth[nearest] >= depth - away[nearest] - 0.02
                    asked += 1
    assert asked > 100


@pytest.mark.parametrize("name", CASES)
def test_no_mark_is_made_up(name: str) -> None:
    """In the pose that a point is told to be deepest in, it lies on the skin of what both bodies
    have in common, and as far as told from the skin of the other."""
    parts, _, _ = case(name)
    assert {each.body for each in found(name)} == {"driving", "driven"}
    for each in found(name):
        met = each.only(each.met & (each.depth > 0.01))
        assert len(met)
        other = coal_mesh(parts.driven if each.body == DRIVING else parts.driving)
        for i in np.linspace(0, len(met) - 1, 12).astype(int):
            bend, spin = float(met.bend[i]), float(met.spin[i])
            R_DN, p = driven_in_driving(bend, spin), met.skin.points[i]
            in_driving = p if each.body == DRIVING else R_DN @ p
            in_other = R_DN.T @ p if each.body == DRIVING else R_DN @ p
            common = overlap(parts, bend, spin).mesh()
            assert distance(coal_mesh(common), in_driving) < 1e-4
            depth = distance(other, in_other)
            assert met.depth[i] == pytest.approx(min(depth, 7.0), abs=1e-5)


@pytest.mark.parametrize("name", CASES[:1])
def test_a_part_that_speaks_for_the_whole_says_what_the_whole_would(name: str) -> None:
    """Both yokes are the same after half a turn and in the mirror; searched without that, every
    point is as deep."""
    parts, clear, most = case(name)
    whole = JointParts(parts.driving, parts.driven)
    vars(whole)["turn"] = Turn(half_turn=False, mirror=False)
    apart = {each.body: each for each in Meeting(whole, clear, most).pressed()}
    for each in found(name):
        met, other = each.only(each.met), apart[each.body]
        for i in range(0, len(met), 5):
            away = np.linalg.norm(other.skin.points - met.skin.points[i], axis=1)
            j = int(away.argmin())
            # The triangles of a flat face may be cut another way on either side.
            assert away[j] <= 1.5
            assert other.depth[j] == pytest.approx(met.depth[i], abs=away[j] + 0.03)


@pytest.mark.parametrize("name", CASES)
def test_marks_do_not_hang_on_how_finely_they_are_asked(name: str) -> None:
    parts, clear, most = case(name)
    meeting = Meeting(parts, clear, most, spacing=0.8)
    fine = {each.body: each.only(each.met) for each in meeting.whole(meeting.pressed())}
    for each in found(name):
        met, finer = each.only(each.met), fine[each.body]
        assert finer.depth.max() == pytest.approx(met.depth.max(), abs=0.2)
        assert finer.skin.areas.sum() == pytest.approx(met.skin.areas.sum(), rel=0.06, abs=3.0)
        # Where two sharp edges cross, the first to touch lies between points 1.5 mm apart.
        assert finer.first.min() == pytest.approx(met.first.min(), abs=radians(0.7))
        assert 0.0 <= finer.spin.min() <= finer.spin.max() <= 2.0 * pi
