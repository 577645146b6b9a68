"""First contact at each roll and wrap that is told, against a walk down in steps of 0.05 mm."""

import numpy as np
import pytest

from sim.frames import FloatArray
from sim.line import line
from sim.search.first_contact import Direction, earliest
from sim.search.first_past import FirstPast
from sim.vehicle import RIDE
from tests.sim.vehicles import ends, first_contacts, plain

TOUCH = 0.36, 0.42
"""Bends (rad) at which the joints of the flat vehicle are taken to touch, output and pinion."""


@pytest.mark.parametrize(("direction", "height"), [("down", 230.0), ("up", -150.0)])
def test_every_row_is_where_a_walk_first_touches(direction: Direction, height: float) -> None:
    """Both ways crossed up and level, from nose down to nose up at their limits, each with the
    joint that touches and the height at which it does; none where the walk is clear."""
    vehicle = plain(p_C_output=np.array([980.0, 60.0, height]))
    found = first_contacts(vehicle, ends(*TOUCH), direction)
    box = vehicle.travel
    assert {row.roll for row in found.by_wrap} == {-box.most_roll, 0.0, box.most_roll}
    wraps = sorted({row.wrap for row in found.by_wrap})
    assert (wraps[0], wraps[-1]) == (-box.nose_down, box.nose_up)
    assert len(wraps) == 9
    assert 0.0 in wraps
    assert len(found.by_wrap) == 27
    end = -box.droop if direction == "down" else box.bump
    travel = np.linspace(0.0, end, round(abs(end) / 0.05) + 1)
    touched = 0
    for row in found.by_wrap:
        state = line(vehicle, travel, row.roll, row.wrap)
        past = [state.output_bend >= TOUCH[0], state.pinion_bend >= TOUCH[1]]
        first = [int(np.argmax(each)) if each.any() else len(travel) for each in past]
        if min(first) == len(travel):
            assert row.contact is None
            continue
        touched += 1
        assert row.contact is not None
        assert row.contact.joint == vehicle.ends[int(np.argmin(first))]
        assert row.contact.at.travel == pytest.approx(travel[min(first)], abs=0.051)
        assert (row.contact.at.roll, row.contact.at.wrap) == (row.roll, row.wrap)
    assert touched > 0


def test_the_nearer_of_two_humps_between_heights_comes_first() -> None:
    """Two humps of under a millimetre, each midway between two of the heights that are asked: the
    first is where the nearer parabola crosses zero."""
    humps = -50.78125, -121.09375

    def past(travel: FloatArray, _roll: FloatArray, _wrap: FloatArray) -> FloatArray:
        return np.stack([0.01 - 0.05 * (travel - middle) ** 2 for middle in humps]).max(axis=0)

    (found,) = FirstPast(past, plain().travel, "down").at([(0.0, 0.0)])
    assert found is not None
    assert found.travel == pytest.approx(humps[0] + np.sqrt(0.2), abs=1e-3)


@pytest.mark.parametrize("direction", ["down", "up"])
def test_what_touches_as_the_vehicle_stands_is_told_there(direction: Direction) -> None:
    """Level and without wrap, not at some roll or wrap at ride height which it touches at too."""
    vehicle = plain(p_C_output=np.array([980.0, 60.0, 230.0]))
    stands = line(vehicle, 0.0, 0.0, 0.0)
    found = first_contacts(vehicle, ends(float(stands.output_bend) - 0.02, TOUCH[1]), direction)
    assert found.first is not None
    assert (found.first.at, found.first.joint) == (RIDE, "output")
    assert earliest([found, found]).first == found.first
