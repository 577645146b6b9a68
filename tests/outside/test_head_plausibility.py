"""The generic double-Cardan heads against common practice.

Source: common practice, no published source: an ordinary head touches at 18 to 28 deg, a
high-angle one at 30 to 36 deg, over all.
"""

from math import degrees

import pytest

from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.touch import touch_curve
from sim.hardware.head_touch import HeadTouch, head_touch
from sim.head.catalogue import head_of, head_shape
from sim.parts.catalogue import cross_sizes

SIZES = [size.name for size in cross_sizes()]
RANGES = {"ordinary head": (18.0, 28.0), "high-angle head": (30.0, 36.0)}


def touch_of(
    kind: str, size: str, carrying: str, sliding: str, carrying_drives: bool = True
) -> HeadTouch:
    shape = head_shape(kind, size, carrying, sliding)
    joints = shape.build().joints(carrying_drives)
    curves = [touch_curve(ClosingJoint(joint), spins=36) for joint in joints]
    return head_touch(head_of(shape), curves[0], curves[1], carrying_drives)


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("kind", RANGES)
@pytest.mark.parametrize("word", ["", "deep-throat "])
def test_heads_touch_where_practice_says(word: str, kind: str, size: str) -> None:
    low, high = RANGES[kind]
    found = touch_of(kind, size, f"{word}flange yoke", f"{word}weld yoke")
    assert low <= degrees(found.certified_total) <= degrees(found.touch_total) <= high
    assert degrees(found.touch_total - found.certified_total) <= 0.11


@pytest.mark.slow
@pytest.mark.parametrize("kind", RANGES)
@pytest.mark.parametrize(
    ("carrying", "sliding"),
    [("weld yoke", "weld yoke"), ("sliding yoke", "weld yoke"), ("flange yoke", "flange yoke")],
)
def test_with_other_outer_yokes_too(carrying: str, sliding: str, kind: str) -> None:
    low, high = RANGES[kind]
    found = touch_of(kind, "27 x 82", carrying, sliding)
    assert low <= degrees(found.certified_total) <= degrees(found.touch_total) <= high


@pytest.mark.slow
def test_end_for_end_a_head_touches_at_the_same_bend() -> None:
    one, other = (
        touch_of("ordinary head", "27 x 82", "flange yoke", "weld yoke", drives)
        for drives in (True, False)
    )
    assert degrees(abs(one.touch_total - other.touch_total)) < 0.11
    assert {one.limited_by, other.limited_by} == {"first cross", "second cross"}
