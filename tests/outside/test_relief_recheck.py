"""Ground yokes put together again, and asked by another library whether they touch.

Source: Coal 3, a general collision library, asked yes or no on the whole ground meshes at every
pose of a grid; it shares nothing with the fields and sweeps that the grind was found by.
"""

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from geometry.joint import driven_in_driving
from geometry.mesh import Mesh
from geometry.relief import Grindable, Plan, Relief, grindable, relief
from sim.parts.catalogue import cross_shape, yoke_shape
from tests.outside.second_library import coal_cuts, coal_distance, coal_mesh
from tests.simple_shapes import box

CASES = [
    ("weld yoke", "weld yoke", "27 x 82", 2.0, 0.8, 3.0),
    ("weld yoke", "strap yoke", "30 x 92", 2.0, 0.8, 3.0),
]


def ground(plan: Plan, parts: tuple[Mesh, Mesh]) -> list[Mesh]:
    return [
        plan.cuts[name].contact if name in plan.cuts else mesh
        for name, mesh in zip(("driving", "driven"), parts, strict=True)
    ]


def recheck(found: Relief, parts: tuple[Mesh, Mesh], spin_step: float) -> int:
    """Ask at every spin of the bend reached, and coarser below; return the plans that ground."""
    ways = 0
    for plan in found.plans:
        if not plan.cuts:
            continue
        ways += 1
        a, b = (coal_mesh(mesh) for mesh in ground(plan, parts))
        spins = np.arange(0.0, 2.0 * np.pi, np.radians(spin_step))
        for spin in spins:
            assert not coal_cuts(a, b, driven_in_driving(plan.reached, spin))
        for bend in np.linspace(plan.before - 0.05, plan.reached, 12):
            for spin in spins[::5]:
                assert not coal_cuts(a, b, driven_in_driving(bend, spin))
        gaps = [coal_distance(a, b, driven_in_driving(plan.reached, s)) for s in spins[::3]]
        assert min(gaps) >= found.clearance - 0.1
        old = [coal_mesh(mesh) for mesh in parts]
        touched = [coal_cuts(*old, driven_in_driving(plan.reached, spin)) for spin in spins]
        assert any(touched)
    return ways


@pytest.mark.slow
def test_a_box_ear_clears_the_floor_it_was_ground_for() -> None:
    """Every 1 deg of spin, each way of grinding."""
    floor = box((34, -45, -45), (44, 45, 45), "throat")
    ear = Mesh.join([box((-20, 32, -9), (10, 41, 9), "ear"), box((60, -5, -5), (70, 5, 5), "stem")])
    curve = touch_curve(ClosingJoint(JointParts(floor, ear)))
    parts = Grindable(floor, floor, {}), Grindable(ear, ear, {})
    wanted = curve.certified_clear + np.radians(3.0)
    found = relief(*parts, None, wanted, 0.8, 0.0, curve)
    assert all(plan.stop is None for plan in found.plans)
    assert recheck(found, (floor, ear), 1.0) == 3


@pytest.mark.slow
@pytest.mark.parametrize(("driving", "driven", "cross", "gain", "clearance", "wall"), CASES)
def test_catalogue_yokes_turn_free_at_the_bend_they_were_ground_for(
    driving: str, driven: str, cross: str, gain: float, clearance: float, wall: float
) -> None:
    """Every 0.5 deg of spin at the bend reached, coarser below; the same before it cuts."""
    one, other = (yoke_shape(kind, cross).build() for kind in (driving, driven))
    middle = cross_shape(cross).build().contact
    curve = touch_curve(ClosingJoint(JointParts(one.contact, other.contact, middle)))
    wanted = curve.certified_clear + np.radians(gain)
    found = relief(grindable(one), grindable(other), middle, wanted, clearance, wall, curve)
    assert recheck(found, (one.contact, other.contact), 0.5) >= 1
    for plan in found.plans:
        for cut in plan.cuts.values():
            assert cut.wall >= cut.limit
            for mesh in (cut.contact, cut.body, cut.chips):
                assert mesh.is_watertight
