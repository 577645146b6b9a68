"""What the axle has to do to hit something near the shaft, against tubes placed by trigonometry.

The axle goes straight up and down, so without wrap the tube's lowest and highest point over a
place are those of a straight rod between two points that are known.
"""

from math import radians

import numpy as np
import pytest

from sim.around.surroundings import _Asked
from sim.around.things import Thing
from sim.line import line
from sim.travel.region import TravelRegion
from sim.vehicle import RIDE
from tests.sim.test_surroundings import TUBE, box
from tests.sim.vehicles import plain

TRAVEL = TravelRegion(100.0, 200.0, radians(8.0), radians(8.0), radians(4.0), stops_apart=800.0)

VEHICLE = plain(travel=TRAVEL)


def takes(thing: Thing):
    return _Asked(VEHICLE, [TUBE], thing).what_it_takes()


def heights(travel: float, wrap: float = 0.0) -> tuple[float, float]:
    """The lowest and the highest point of the tube's end at the pinion, mm in C."""
    state = line(VEHICLE, travel, 0.0, wrap)
    u = state.shaft_axis_C
    middle = float((state.p_C_pinion - 54.0 * u)[2])
    across = 38.1 * float(np.sqrt(1.0 - u[2] ** 2))
    return middle - across, middle + across


def floor(top: float) -> Thing:
    return box((280.0, 0.0, top - 10.0), (3000.0, 3000.0, 20.0))


def test_a_floor_that_both_wheels_hanging_reach_is_told_with_the_height() -> None:
    found = takes(floor(-140.0))
    assert found is not None
    assert found.takes == "both hanging"
    assert found.level is not None
    assert (found.level.roll, found.level.wrap) == (0.0, 0.0)
    assert heights(found.level.travel)[0] <= -140.0 + 1e-6
    assert heights(found.level.travel + 200.0 / 128.0)[0] > -140.0


def test_a_floor_out_of_reach_of_droop_takes_wrap() -> None:
    """Nose down lowers the pinion, which stands ahead of the axle: by more than level droop."""
    level, wrapped = heights(-200.0)[0], heights(-200.0, -radians(4.0))[0]
    assert wrapped < level - 5.0
    found = takes(floor(0.5 * (level + wrapped)))
    assert found is not None
    assert (found.takes, found.level) == ("wrap", None)


def test_what_is_hit_at_ride_height_is_told_so() -> None:
    found = takes(floor(heights(0.0)[0] + 1.0))
    assert found is not None
    assert (found.takes, found.level) == ("ride height", RIDE)


def test_a_plate_beside_the_tube_takes_crossing_up() -> None:
    """The pinion stands above the axle's line, so that a roll moves it sideways."""
    vehicle = plain(travel=TRAVEL, p_A_pinion=(280.0, 0.0, 300.0))
    rolled = line(vehicle, 0.0, radians(8.0), 0.0)
    aside = abs(float((rolled.p_C_pinion - 54.0 * rolled.shaft_axis_C)[1])) + 38.1
    plate = box((280.0, aside + 8.0, 300.0), (600.0, 20.0, 1200.0))
    found = _Asked(vehicle, [TUBE], plate).what_it_takes()
    assert found is not None
    assert (found.takes, found.level) == ("crossed up", None)


def test_what_is_never_hit_takes_nothing() -> None:
    assert takes(floor(-1000.0)) is None


@pytest.mark.parametrize("closed", ["bump", "droop"])
def test_an_axle_that_goes_one_way_only(closed: str) -> None:
    ways = {"bump": 100.0, "droop": 200.0, closed: 0.0}
    vehicle = plain(travel=TravelRegion(**ways, roll=0.0, nose_up=0.0, nose_down=0.0))
    found = _Asked(vehicle, [TUBE], floor(-140.0)).what_it_takes()
    assert (found is not None and found.takes == "both hanging") == (closed == "bump")
