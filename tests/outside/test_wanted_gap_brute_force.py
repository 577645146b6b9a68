"""Up to which bend a gap is left, against brute force: another library's distances on a grid.

Source: Coal 3, a general collision library, asked for distances of the whole contact meshes.
"""

from math import degrees, pi

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from geometry.joint import driven_in_driving
from geometry.tolerances import TOL
from sim.parts.catalogue import cross_shape, yoke_shape
from tests.cross_poses import cross_in_driven, cross_in_driving
from tests.outside.second_library import coal_distance, coal_mesh

PAIRS = [
    ("weld yoke", "strap yoke", "27 x 82", 1.5875),
    ("deep-throat weld yoke", "deep-throat flange yoke", "35 x 106", 4.0),
]


class Asked:
    """The smallest distance of any two bodies of a joint, by the other library."""

    def __init__(self, parts: JointParts) -> None:
        assert parts.cross is not None
        self.driving, self.driven, self.cross = map(
            coal_mesh, (parts.driving, parts.driven, parts.cross)
        )

    def yokes(self, bend: float, spin: float) -> float:
        return coal_distance(self.driving, self.driven, driven_in_driving(bend, spin))

    def all(self, bend: float, spin: float) -> float:
        return min(
            self.yokes(bend, spin),
            coal_distance(self.driving, self.cross, cross_in_driving(bend, spin)),
            coal_distance(self.driven, self.cross, cross_in_driven(bend, spin)),
        )


@pytest.mark.slow
@pytest.mark.parametrize(("driving", "driven", "cross", "gap"), PAIRS)
def test_the_gap_is_left_up_to_the_certificate_and_less_soon_after(
    driving: str, driven: str, cross: str, gap: float
) -> None:
    one, other = (yoke_shape(kind, cross).build().contact for kind in (driving, driven))
    parts = JointParts(one, other, cross_shape(cross).build().contact)
    asked, curve = Asked(parts), touch_curve(ClosingJoint(parts, gap))
    clear = curve.certified_clear
    assert curve.first is not None
    assert degrees(curve.touch_min - clear) <= degrees(TOL.gap_certificate) + 1e-9
    for spin in np.arange(0.0, 2.0 * pi, np.radians(1.0)):
        assert asked.yokes(clear, spin) >= gap - 1e-6
    for bend in np.arange(0.0, clear, np.radians(4.0)):
        for spin in np.arange(0.0, 2.0 * pi, np.radians(5.0)):
            assert asked.yokes(bend, spin) >= gap - 1e-6
    assert asked.all(curve.touch_min, curve.first.spin) <= gap + TOL.gap
    assert np.linalg.norm(np.subtract(*curve.first.points)) == pytest.approx(gap, abs=0.05)


@pytest.mark.slow
def test_at_each_turn_it_is_the_first_bend_that_leaves_less() -> None:
    """At random spins, on a grid of bends."""
    shape = yoke_shape("weld yoke", "27 x 82").build().contact
    parts, gap = JointParts(shape, shape), 2.0
    curve = touch_curve(ClosingJoint(parts, gap), spins=72)
    a = coal_mesh(shape)
    for i in np.random.default_rng(4).choice(72, 8, replace=False):
        spin = curve.spin[i]
        bends = np.arange(np.radians(15.0), curve.limit, np.radians(0.1))
        gaps = np.array([coal_distance(a, a, driven_in_driving(bend, spin)) for bend in bends])
        less = bends[gaps < gap]
        if not less.size:
            assert np.isnan(curve.touch[i])
            continue
        assert curve.clear[i] == curve.certified_clear <= less[0]
        # Between the last bend of the grid that leaves the gap and the first that does not.
        assert -0.03 <= degrees(less[0] - curve.touch[i]) <= 0.1
