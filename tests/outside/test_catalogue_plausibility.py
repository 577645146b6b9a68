"""The generic catalogue against common practice.

Source: common practice, no published source: ordinary yokes touch between about 20 and 32 deg,
deep-throat ones between about 30 and 40 deg, and a deeper throat touches later.
"""

from math import degrees

import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from sim.parts.catalogue import cross_shape, cross_sizes, yoke_shape

SIZES = [size.name for size in cross_sizes()]
PAIRS = [
    ("weld yoke", "flange yoke"),
    ("weld yoke", "strap yoke"),
    ("sliding yoke", "weld yoke"),
]


def touches_at(one: str, other: str, cross: str) -> float:
    parts = JointParts(
        yoke_shape(one, cross).build().contact,
        yoke_shape(other, cross).build().contact,
        cross_shape(cross).build().contact,
    )
    return degrees(touch_curve(ClosingJoint(parts), spins=36).touch_min)


@pytest.mark.slow
@pytest.mark.parametrize("cross", SIZES)
@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_pairs_touch_where_practice_says(one: str, other: str, cross: str) -> None:
    assert 20.0 <= touches_at(one, other, cross) <= 32.0
    assert 30.0 <= touches_at(f"deep-throat {one}", f"deep-throat {other}", cross) <= 40.0


@pytest.mark.slow
def test_touch_grows_with_throat_depth() -> None:
    """Between two weld yokes, only the depth changing."""
    cross = cross_shape("27 x 82").build().contact
    base = yoke_shape("weld yoke", "27 x 82")
    bends = []
    for deeper in (0.0, 2.0, 4.0):
        changed = {
            "throat_depth": base.throat_depth + deeper,
            "weld_land": base.weld_land + deeper,
        }
        shape = yoke_shape("weld yoke", "27 x 82", changed).build().contact
        joint = ClosingJoint(JointParts(shape, shape, cross))
        bends.append(touch_curve(joint, spins=36).touch_min)
    assert bends[0] < bends[1] < bends[2]
