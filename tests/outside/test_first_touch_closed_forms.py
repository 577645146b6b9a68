"""First touch of simple shapes against closed forms, worked out independently of the meshes."""

from math import acos, asin, atan, cos, degrees, hypot, pi, sin

import numpy as np
import pytest
from scipy.optimize import brentq

from geometry.contact.first_touch import first_touches
from geometry.contact.gap import smallest_gap
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from geometry.tolerances import TOL
from tests.simple_shapes import ball, box, hub


@pytest.mark.parametrize(
    ("face", "radius", "printed"), [(20, 45, 47.92498), (15, 60, 28.07249), (12, 38, 35.05114)]
)
def test_two_hubs_touch_where_their_rims_meet(face: float, radius: float, printed: float) -> None:
    """Source: 2 atan(s/r) for coaxial hubs [derivation]; the printed angles computed apart."""
    disc = hub(face, radius, 192)
    curve = touch_curve(ClosingJoint(JointParts(disc, disc)), spins=24)
    assert degrees(2 * atan(face / radius)) == pytest.approx(printed, abs=1e-5)
    # A rim that stands out by the chord touches early, by the chord over the rim's distance.
    early = degrees(2.0 * disc.chord / hypot(face, radius))
    assert printed - early - 0.01 <= degrees(curve.touch_min) <= printed + 0.01
    assert degrees(curve.certified_clear) <= printed


@pytest.mark.parametrize("bend", [20.0, 30.0, 40.0, 45.0, 47.0])
def test_gap_of_two_hubs(bend: float) -> None:
    """Source: 2 hypot(r, s) sin((180 - b)/2 - atan(r/s)), agreed on by two other libraries."""
    table = {20.0: 23.763974, 30.0: 15.343319, 40.0: 6.805892, 45.0: 2.513672, 47.0: 0.794987}
    disc = hub(20.0, 45.0, 192)
    gap = smallest_gap(ClosingJoint(JointParts(disc, disc)), np.radians(bend))
    assert gap.distance == pytest.approx(table[bend], abs=TOL.gap + 2.0 * disc.chord)
    assert gap.distance <= table[bend] + 1e-6


def test_ball_on_the_bores_meets_ball_on_the_other_shaft() -> None:
    """A ball at e along the driving bores and one at d along the driven shaft: the cosine of the
    angle between the two directions is sin(bend) cos(spin), so contact needs
    sin(bend) cos(spin) = (e^2 + d^2 - (r + q)^2) / (2 e d). Law of cosines, own derivation."""
    e, d, r, q = 35.0, 40.0, 9.0, 11.0
    joint = ClosingJoint(JointParts(ball((0, e, 0), r, "ear"), ball((d, 0, 0), q, "neck")))
    need = (e * e + d * d - (r + q) ** 2) / (2 * e * d)
    for spin in np.radians([0.0, 4.0, 8.0, -6.0]):
        touch = first_touches(joint.yokes, [spin])[0]
        expected = asin(min(1.0, need / cos(spin)))
        if expected > TOL.bend_limit:
            assert touch is None
            continue
        assert touch is not None
        chord = 2 * joint.parts.chord
        angle = acos(need)  # angle between the two centres at contact
        slack = chord * (r + q) / (e * d * sin(angle) * cos(expected) * cos(spin))
        assert expected - 1e-4 <= touch.touch <= expected + slack + 2e-4


@pytest.mark.parametrize("floor", [36.0, 42.0, 46.0])
def test_corner_of_a_box_meets_a_flat_floor(floor: float) -> None:
    """At spin 0 the ear's far corner (-t, h) stands t cos(b) + h sin(b) deep along the other
    shaft; it meets a floor at depth D there. Plane geometry, own derivation."""
    t, h = 18.0, 44.0
    ear = box((-t, 30.0, -8.0), (10.0, h, 8.0), "ear")
    plate = box((floor, -80.0, -80.0), (floor + 10.0, 80.0, 80.0), "plate")
    joint = ClosingJoint(JointParts(ear, plate))
    expected = brentq(lambda b: t * cos(b) + h * sin(b) - floor, 0.0, 0.5 * pi - atan(t / h))
    touch = first_touches(joint.yokes, [0.0])[0]
    assert touch is not None
    assert touch.touch == pytest.approx(expected, abs=0.02 * TOL.certificate + 1e-6)
    assert touch.clear <= expected
