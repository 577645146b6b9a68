"""Where a slip begins to fail: no pose of the axle nearer to ride height does, sampled densely."""

from math import isfinite

import numpy as np
import pytest

from sim.check import check
from sim.pose import pose_of
from sim.rig import load_demo
from sim.rig.change import changed
from sim.vehicle import Pose

CASES = (
    ("goat-path-buggy", {}, "slip-opens"),
    ("long-legged-trail-wagon", {"shaft.slip.closes": "3/4 in"}, "slip-closes"),
    ("goat-path-buggy", {"shaft.slip.comes_apart": "2 1/2 in"}, "slip-comes-apart"),
)


@pytest.mark.parametrize(("name", "typed", "code"), CASES)
def test_it_is_the_true_first_over_roll_and_wrap(
    name: str, typed: dict[str, str], code: str
) -> None:
    result = check(changed(load_demo(name), typed))
    (finding,) = (each for each in result.findings if each.code == code)
    first = finding.detail["first"]
    has, region = finding.limit.value, result.found.vehicle.travel
    sense = -1.0 if code == "slip-closes" else 1.0

    def opened(at: Pose) -> float:
        return sense * float(pose_of(result, at, 0.0).state.line.slip)

    assert opened(first) == pytest.approx(has, abs=0.01)
    nearer = abs(first.travel) - 0.5
    most = -np.inf
    for travel in np.linspace(-nearer, nearer, 9):
        far = float(region.roll_limit(travel))
        down, up = map(float, region.wrap_limits(travel))
        for roll in np.linspace(-far, far, 5):
            most = max(most, *(opened(Pose(float(travel), float(roll), w)) for w in (down, 0, up)))
    assert isfinite(most)
    assert most < has
