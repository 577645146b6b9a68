"""Touch by each pair of surfaces, against the touch of the whole and against all that cut there."""

from math import radians

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.surface_touch import (
    FINE,
    PAST,
    SurfaceTouches,
    lines_of,
    seen_touch,
    surface_touches,
)
from geometry.contact.touch import SPINS, touch_curve
from geometry.contact.touching import Closeness
from sim.parts.catalogue import cross_shape, yoke_shape


@pytest.fixture(scope="module")
def joint() -> ClosingJoint:
    one, other = (
        yoke_shape(kind, "27 x 82").build().contact for kind in ("weld yoke", "strap yoke")
    )
    return ClosingJoint(JointParts(one, other))


@pytest.fixture(scope="module")
def found(joint: ClosingJoint) -> SurfaceTouches:
    return surface_touches(joint, lines_of(joint.turn).tolist())


def test_the_least_of_all_surfaces_is_the_touch(joint: ClosingJoint, found: SurfaceTouches) -> None:
    """Also that of the certified curve, whose bracket is half as wide again at most."""
    least = np.fmin.reduce(list(found.by.values()))
    assert np.array_equal(least, found.first)
    curve = touch_curve(joint)
    quarter = curve.touch[: SPINS // 4 + 1]
    assert found.first == pytest.approx(quarter, abs=2.0 * Closeness().fine)
    assert np.array_equal(seen_touch(joint.yokes, lines_of(joint.turn).tolist()), found.first)


def test_surfaces_cut_where_they_are_said_to_and_not_before(
    joint: ClosingJoint, found: SurfaceTouches
) -> None:
    """All that cuts at a pose is listed by another query, of the whole bodies."""
    pair, asked = joint.yokes, 0

    def cutting(bend: float, line: float) -> set[tuple[str, str]]:
        cuts = pair.meshes.all_cuts(pair.at(bend, line), most=100_000)
        return {(pair.a.label_of(a), pair.b.label_of(b)) for a, b in cuts}

    for surfaces, touch in found.by.items():
        for line, bend in list(zip(lines_of(joint.turn).tolist(), touch.tolist(), strict=True))[
            ::5
        ]:
            if np.isfinite(bend):
                asked += 1
                assert surfaces in cutting(bend, line)
                assert surfaces not in cutting(bend - 2.0 * FINE, line)
    assert asked > 20


def test_what_is_asked_as_well_and_is_not_there_is_left_out(joint: ClosingJoint) -> None:
    lines = [0.0, radians(45.0)]
    more = surface_touches(joint, lines, also=[("ear tip", "nowhere"), ("cap", "cap")])
    assert ("ear tip", "nowhere") not in more.by
    touch = more.by["cap", "cap"]
    assert np.all(np.isnan(touch) | (touch <= more.first + PAST))


def test_a_cross_is_a_surface_too() -> None:
    """A grease fitting that is too long touches the throat first, as its curve has it.

    There is one fitting, on one side: of all turns that look alike of the yokes the first counts.
    """
    yoke = yoke_shape("weld yoke", "27 x 82").build().contact
    long = cross_shape("27 x 82", {"fitting_length": 24.0}).build().contact
    joint = ClosingJoint(JointParts(yoke, yoke, long))
    curve = touch_curve(joint)
    assert curve.first is not None
    assert "cross" in curve.first.bodies
    found = surface_touches(joint, lines_of(joint.turn).tolist())
    assert ("driving", "cross") in found.by
    place = np.arange(SPINS // 4 + 1)
    alike = [curve.touch[each % SPINS] for each in (place, -place, place + 72, 72 - place)]
    assert found.first == pytest.approx(np.fmin.reduce(alike), abs=2.0 * Closeness().fine)
    assert np.nanmin(found.first) == pytest.approx(curve.touch_min, abs=0.01)
