"""A hill that starts low and ends highest must not be given up for one that is high at once."""

import numpy as np
import pytest

from sim.frames import FloatArray
from sim.search.worst import Kind, extreme, extremes
from sim.travel.region import TravelRegion


@pytest.mark.parametrize("along", [0.5, 0.7])
def test_a_low_start_on_a_curved_ridge_overtakes_a_broad_hill(along: float) -> None:
    """A broad hill of height 1 at one roll, at the other a sharp ridge along a parabola of travel
    and wrap, of height 1.3 at its top: no node of the grid stands high on it, and the way up is
    many steps long. Closed form: the top of the ridge."""

    def hills(travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        x, y, z = (travel + 60.0) / 150.0, roll / 0.1, (wrap - 0.075) / 0.125
        broad = np.exp(-(((y - 0.8) / 0.2) ** 2) - (x / 0.6) ** 2 - (z / 0.6) ** 2)
        off = 600.0 * (z - 2.0 * x * x + 0.6) ** 2
        ridge = 1.3 * np.exp(-off - ((x - along) / 0.5) ** 2 - ((y + 0.8) / 0.15) ** 2)
        return np.asarray(broad + ridge)

    region = TravelRegion(bump=90.0, droop=210.0, roll=0.1, nose_up=0.2, nose_down=0.05)
    found = extreme(hills, region, "most")
    assert found.value == pytest.approx(1.3, abs=1e-9)
    at = found.at.travel, found.at.roll, found.at.wrap
    top = 150.0 * along - 60.0, -0.08, 0.125 * (2.0 * along**2 - 0.6) + 0.075
    np.testing.assert_array_less(np.abs(np.subtract(at, top)), [0.01, 1e-5, 1e-5])


def test_knots_beyond_the_ends_of_travel_are_not_asked() -> None:
    """A curve may be read farther than the axle goes: what rises past its ends ends at them."""
    region = TravelRegion(bump=90.0, droop=210.0, roll=0.1, nose_up=0.2, nose_down=0.05)

    def height(travel: FloatArray, _roll: FloatArray, _wrap: FloatArray) -> FloatArray:
        return travel[None]

    wanted: list[tuple[int, Kind]] = [(0, "most"), (0, "least")]
    most, least = extremes(height, region, wanted, knots=(-300.0, -250.0, 20.0, 120.0, 200.0))
    assert (least.value, most.value) == (-210.0, 90.0)
    assert (least.at.travel, most.at.travel) == (-210.0, 90.0)
