"""The course of a touch curve between its samples, against brute force at every quarter degree.

Source: Coal 3, a general collision library, asked yes or no on the whole contact meshes.
"""

from math import radians, tau

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from geometry.head.turning import second_spin
from geometry.joint import driven_in_driving
from geometry.tolerances import TOL
from sim.hardware.head import HeadHardware, end_hardware
from sim.line import limit_by_spin
from sim.parts.catalogue import cross_shape, yoke_shape
from sim.rig.demos import load_demo
from tests.cross_poses import cross_in_driven, cross_in_driving
from tests.outside.second_library import coal_cuts, coal_distance, coal_mesh

PAIRS = [
    ("weld yoke", "strap yoke", "27 x 82"),
    ("weld yoke", "weld yoke", "30 x 106"),
    ("deep-throat weld yoke", "deep-throat flange yoke", "35 x 106"),
    ("sliding yoke", "deep-throat weld yoke", "30 x 92"),
]
SPINS = np.arange(0.0, tau, radians(0.25))
BELOW = (0.0, radians(0.05), radians(0.5))
"""How far under the course it is asked, besides what the course may be off."""


class Asked:
    """Whether any two bodies of a joint cut, by the other library."""

    def __init__(self, parts: JointParts) -> None:
        assert parts.cross is not None
        self.driving, self.driven, self.cross = map(
            coal_mesh, (parts.driving, parts.driven, parts.cross)
        )

    def cut(self, bend: float, spin: float) -> bool:
        return (
            coal_cuts(self.driving, self.driven, driven_in_driving(bend, spin))
            or coal_cuts(self.driving, self.cross, cross_in_driving(bend, spin))
            or coal_cuts(self.driven, self.cross, cross_in_driven(bend, spin))
        )


def parts_of(driving: str, driven: str, cross: str) -> JointParts:
    one, other = (yoke_shape(kind, cross).build().contact for kind in (driving, driven))
    return JointParts(one, other, cross_shape(cross).build().contact)


@pytest.mark.slow
@pytest.mark.parametrize(("driving", "driven", "cross"), PAIRS)
def test_nothing_touches_under_the_course_by_more_than_it_may_be_off(
    driving: str, driven: str, cross: str
) -> None:
    parts = parts_of(driving, driven, cross)
    asked, curve = Asked(parts), touch_curve(ClosingJoint(parts))
    course = limit_by_spin(*curve.course)(SPINS)
    for spin, bend in zip(SPINS, course, strict=True):
        for below in BELOW:
            assert not asked.cut(bend - TOL.course - below, spin)
    assert curve.certified_clear < curve.course[1].min() <= curve.touch_min
    np.testing.assert_array_less(
        course, limit_by_spin(curve.spin, np.nan_to_num(curve.touch, nan=curve.limit))(SPINS) + 1e-9
    )


def test_straight_lines_between_the_samples_alone_would_not_do() -> None:
    """The same question to them; or the test above would hold of anything."""
    parts = parts_of(*PAIRS[-1])
    asked, curve = Asked(parts), touch_curve(ClosingJoint(parts))
    straight = limit_by_spin(curve.spin, np.nan_to_num(curve.touch, nan=curve.limit))(SPINS)
    assert any(
        asked.cut(bend - 3.0 * TOL.course, spin) for spin, bend in zip(SPINS, straight, strict=True)
    )


@pytest.mark.slow
def test_the_course_of_a_head_holds_both_its_crosses() -> None:
    """By the whole bend; there the course of the second cross is off as well."""
    head = end_hardware(load_demo("short-tailed-scout"), "output")
    assert isinstance(head, HeadHardware)
    course = limit_by_spin(*head.touch().course)(SPINS)
    near, far = (Asked(cross.parts) for cross in head.crosses)
    for spin, bend in zip(SPINS, course, strict=True):
        first, second = head.bends(float(bend) - 2.0 * TOL.course)
        assert not near.cut(first, spin)
        assert not far.cut(second, float(second_spin(first, spin)))


def test_the_course_of_a_gap_leaves_the_gap_up_to_its_certificate() -> None:
    parts, gap = parts_of(*PAIRS[0]), 1.5875
    curve = touch_curve(ClosingJoint(parts, gap))
    course = limit_by_spin(*curve.course)(SPINS)[::4]
    a, b = coal_mesh(parts.driving), coal_mesh(parts.driven)
    for spin, bend in zip(SPINS[::4], course, strict=True):
        assert coal_distance(a, b, driven_in_driving(bend - TOL.gap_certificate, spin)) >= gap
