"""Looks at drawn rigs against whole sweeps of them, and heights against the search for contact."""

import numpy as np
import pytest

from sim.accuracy.sources import sources_of
from sim.assessment import Assessment, Assessor
from sim.bars import Model
from sim.bars.draws import normal_draws
from sim.bars.look import FIRST, VALUE
from sim.bars.poses import ladder
from sim.derive import vehicle_of
from sim.rig import load_demo
from sim.search.first_contact import first_contact
from sim.search.first_past import closest
from sim.travel.region import TravelRegion

DEMOS = (
    "long-legged-trail-wagon",  # leaf springs, touches
    "marsh-runner",  # readings, touches
    "goat-path-buggy",  # front axle, a yoke that slides on the output
    "timber-crew-carrier",  # two pieces
    "short-tailed-scout",  # a head
)


def found_of(name: str) -> tuple[Assessment, Model]:
    found = Assessor().assess(load_demo(name))
    return found, Model(found, sources_of(found.rig), {})


@pytest.mark.slow
@pytest.mark.parametrize("name", DEMOS)
def test_a_look_sees_what_a_whole_sweep_of_the_drawn_rig_finds(name: str) -> None:
    found, model = found_of(name)
    z = normal_draws(len(model.keys), 4, 11)
    told = model.drawn(z)
    for number, draw in enumerate(z):
        if not told.possible[number]:
            continue
        whole = Assessor().assess(model.rigs.drawn(draw))
        for joint, each in whole.joints.items():
            clear = found.joints[joint].room.clear
            left = told.left["joint-bend", joint][number]
            assert left == pytest.approx(clear - each.most, abs=2e-4)
            assert left >= clear - each.most - 1e-9  # a look sees no more than there is
        slip = whole.swept.slip
        for code, left_there in (
            ("slip-closes", slip.closes_left),
            ("slip-opens", slip.opens_left),
            ("slip-comes-apart", slip.apart_left),
        ):
            if (code, "slip") in told.left:
                assert told.left[code, "slip"][number] == pytest.approx(left_there, abs=0.6)
        ride = min(
            found.joints[joint].room.clear - each.ride for joint, each in whole.joints.items()
        )
        assert told.left["turns-at-ride", "axle"][number] == pytest.approx(ride, abs=1e-9)
        reaches = whole.swept.unreachable is None
        assert (told.left["out-of-reach", "axle"][number] > 0.0) == reaches


@pytest.mark.slow
@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "marsh-runner"])
def test_a_height_of_first_contact_is_that_of_the_search(name: str) -> None:
    found, model = found_of(name)
    row = model.looked_at.index(("bend", "pinion"))
    clear = found.joints["pinion"].room.clear
    z = np.concatenate([np.zeros((1, len(model.keys))), normal_draws(len(model.keys), 4, 3)])
    moved = model.moved(z)
    for number, draw in enumerate(z):
        vehicle = vehicle_of(model.rigs.drawn(draw))
        ways = [first_contact(vehicle, "pinion", clear, way).first for way in ("down", "up")]
        first = closest(None if each is None else each.at for each in ways)
        height = moved[number, row, FIRST]
        assert (first is None) == np.isnan(height)
        if first is not None:
            assert height == pytest.approx(first.travel, abs=1.5 if number else 1e-6)
    assert moved[0, row, VALUE] == pytest.approx(found.joints["pinion"].most, abs=1e-12)


@pytest.mark.parametrize(
    "region",
    [
        TravelRegion(0.0, 0.0, 0.0, 0.0, 0.0),
        TravelRegion(100.0, 0.0, 0.1, 0.0, 0.05, 800.0),
        TravelRegion(0.0, 200.0, 0.2, 0.1, 0.0, 800.0, "middle", 0.5),
        TravelRegion(100.0, 200.0, 0.3, 0.1, 0.05, 800.0),
    ],
)
def test_every_pose_of_a_ladder_is_one_that_there_is_and_its_ends_are_among_them(region) -> None:
    made = ladder(region)
    flat = made.poses.reshape(-1, 3)
    assert region.contains(*flat.T).all()
    assert made.heights[made.ride] == 0.0
    assert set(region.kinks) <= set(made.heights.tolist())
    assert (made.poses[:, 0, 1:] == 0.0).all()
    for axis in range(3):
        assert flat[:, axis].min() == pytest.approx(region.low[axis], abs=1e-12)
        assert flat[:, axis].max() == pytest.approx(region.high[axis], abs=1e-12)
