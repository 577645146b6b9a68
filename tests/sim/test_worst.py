from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import direct

from sim.line import line
from sim.search.envelope import envelope
from sim.search.worst import NODES, extreme, extremes
from sim.suspension.measured.motion import Measured, Reading
from sim.vehicle import Pose, Slip, TravelRegion
from tests.sim.vehicles import mirrored, plain, vehicles

GRIDS = [NODES, (24, 7, 8), (41, 12, 6), (57, 5, 11)]
BOX = TravelRegion(bump=90.0, droop=210.0, roll=0.1, nose_up=0.2, nose_down=0.05)

HUNDREDTH_OF_A_DEGREE = np.radians(0.01)
FIVE_HUNDREDTHS_OF_A_MILLIMETRE = 0.05
TEN_NANOMETRES = 1e-5
"""mm. The search settles values to about 1e-6 mm, and two vehicles stop at different steps."""


@pytest.mark.slow
@given(
    at=st.tuples(st.floats(-400, 400), st.floats(-0.3, 0.3), st.floats(-0.4, 0.4)),
    skew=st.floats(-0.9, 0.9),
)
@settings(deadline=None, max_examples=60)
@pytest.mark.parametrize("grid", GRIDS)
def test_a_quadratic_is_found_inside_and_on_every_side_of_the_box(grid, at, skew):
    """Closed form: a skewed bowl whose top, where outside of the box, is bounded by it."""
    size = BOX.high - BOX.low

    def bowl(travel, roll, wrap):
        x = (travel - at[0]) / size[0]
        y, z = (roll - at[1]) / size[1], (wrap - at[2]) / size[2]
        return 1.0 - (x * x + y * y + 2.0 * skew * x * y + z * z)

    found = extreme(bowl, BOX, "most", grid)
    inside = np.clip(at, BOX.low, BOX.high)
    if (inside == at).all():
        assert found.value == pytest.approx(1.0, abs=1e-12)
        np.testing.assert_allclose(
            [found.at.travel, found.at.roll, found.at.wrap] / size, at / size, rtol=0, atol=1e-6
        )
    u = np.linspace(0.0, 1.0, 41)
    around = BOX.low + np.stack(np.meshgrid(u, u, u), -1) * size
    assert found.value >= bowl(*np.moveaxis(around, -1, 0)).max() - 1e-12


def test_two_hills_that_differ_little_are_told_apart_by_any_grid():
    """Closed form: the higher of two hills that no node of the grids hits."""

    def hills(travel, roll, wrap):
        one = np.exp(-(((travel + 133.7) / 40) ** 2) - (roll / 0.05) ** 2 - (wrap / 0.07) ** 2)
        two = np.exp(-(((travel - 61.3) / 40) ** 2) - (roll / 0.05) ** 2 - (wrap / 0.07) ** 2)
        return one + 1.001 * two

    for grid in GRIDS:
        found = extreme(hills, BOX, "most", grid)
        assert found.at.travel == pytest.approx(61.3, abs=1e-3)
        assert found.value == pytest.approx(1.001, abs=1e-8)


def test_the_highest_of_many_hills_along_the_travel_is_found_wherever_it_stands():
    """Closed form: seven hills, each in its turn the highest; none is seen from the ends."""
    places = np.linspace(-190.0, 70.0, 7)
    for highest, place in enumerate(places):

        def hills(travel, roll, wrap, highest=highest):
            heights = np.where(np.arange(7) == highest, 1.1, 1.0)
            apart = (np.asarray(travel)[..., None] - places) / 12.0
            return np.sum(heights * np.exp(-(apart**2)), axis=-1) + 0.0 * (roll + wrap)

        found = extreme(hills, BOX, "most")
        assert found.at.travel == pytest.approx(place, abs=0.1)
        assert found.value == pytest.approx(1.1, abs=1e-5)


def test_the_highest_node_need_not_stand_on_the_highest_hill():
    """Closed form: a low hill right on a node, and a higher, narrower one between two nodes."""
    step = 300.0 / (NODES[0] - 1)
    low, high = -210.0 + 16 * step, -210.0 + 26.5 * step

    def hills(travel, roll, wrap):
        one = np.exp(-(((travel - low) / 20.0) ** 2))
        return one + 1.05 * np.exp(-(((travel - high) / 12.0) ** 2)) + 0.0 * (roll + wrap)

    assert hills(high + 0.5 * step, 0.0, 0.0) < 0.95 < hills(low, 0.0, 0.0)
    found = extreme(hills, BOX, "most")
    assert found.at.travel == pytest.approx(high, abs=1e-3)
    assert found.value == pytest.approx(1.05, abs=1e-8)


def test_a_narrow_slanted_valley_is_followed_to_its_lowest_point():
    def valley(travel, roll, wrap):
        return 1000 * (travel / 300 - 2 * wrap) ** 2 + 0.5 * (wrap - 0.03) ** 2 + roll**2

    for grid in GRIDS:
        found = extreme(valley, BOX, "least", grid)
        assert found.value == pytest.approx(0.0, abs=1e-8)


@pytest.mark.parametrize("closed", [(0,), (1,), (2,), (0, 1), (0, 1, 2)])
def test_closed_sides_of_the_box_are_no_trouble(closed):
    sides = [(90.0, 210.0), (0.1, 0.1), (0.2, 0.05)]
    for i in closed:
        sides[i] = (0.0, 0.0)
    (bump, droop), (roll, _), (nose_up, nose_down) = sides
    box = TravelRegion(bump, droop, roll, nose_up, nose_down)
    found = extreme(lambda t, r, w: t / 100 + r - w, box, "most")
    assert found.value == pytest.approx(bump / 100 + roll + nose_down, abs=1e-12)
    assert found.at == Pose(bump, roll, -nose_down)


def test_a_constant_has_its_value_anywhere():
    assert extreme(lambda t, r, w: 0.0 * (t + r + w) + 3.0, BOX, "least").value == 3.0


def test_poses_without_a_value_are_passed_over():
    def partly(travel, roll, wrap):
        return np.where(travel > 50.0, np.nan, travel + roll + wrap)

    found = extreme(partly, BOX, "most")
    assert found.value == pytest.approx(50.3, abs=1e-6)
    nowhere = extreme(lambda t, r, w: np.full(np.shape(t + r + w), np.nan), BOX, "most")
    assert np.isnan(nowhere.value)
    assert nowhere.at == Pose()


def values(vehicle):
    def of(travel, roll, wrap):
        state = line(vehicle, travel, roll, wrap)
        return np.stack([state.output_bend, state.pinion_bend, state.slip])

    return of


@pytest.mark.slow
@given(data=st.data())
@settings(deadline=None, max_examples=25)
def test_worst_values_do_not_depend_on_the_grid(data):
    vehicle = data.draw(vehicles())
    first = envelope(vehicle)
    assume(first.unreachable is None)
    for grid in GRIDS[1:]:
        again = envelope(vehicle, grid)
        for one, other, tolerance in pairs(first, again):
            assert one.value == pytest.approx(other.value, abs=tolerance)


def pairs(one, other):
    angle, length = HUNDREDTH_OF_A_DEGREE, FIVE_HUNDREDTHS_OF_A_MILLIMETRE
    return [
        (one.joints["output"].most, other.joints["output"].most, angle),
        (one.joints["output"].least, other.joints["output"].least, angle),
        (one.joints["pinion"].most, other.joints["pinion"].most, angle),
        (one.joints["pinion"].least, other.joints["pinion"].least, angle),
        (one.slip.shortest, other.slip.shortest, length),
        (one.slip.longest, other.slip.longest, length),
    ]


@pytest.mark.slow
@given(data=st.data())
@settings(deadline=None, max_examples=8)
def test_an_independent_global_optimiser_finds_nothing_worse(data):
    """scipy.optimize.direct (dividing rectangles), an algorithm of another kind."""
    vehicle = data.draw(vehicles())
    found = envelope(vehicle)
    assume(found.unreachable is None)
    ours = [found.joints["output"].most, found.joints["pinion"].most, found.slip.longest]
    least = [found.joints["output"].least, found.joints["pinion"].least, found.slip.shortest]
    of = values(vehicle)
    bounds = list(zip(vehicle.travel.low, vehicle.travel.high, strict=True))
    for channel in range(3):
        for sign, mine in ((1.0, ours[channel]), (-1.0, least[channel])):
            theirs = direct(
                lambda x, c=channel, s=sign: float(-s * of(*x)[c]),
                bounds,
                maxfun=2000,
                locally_biased=True,
            )
            tolerance = HUNDREDTH_OF_A_DEGREE if channel < 2 else FIVE_HUNDREDTHS_OF_A_MILLIMETRE
            assert sign * mine.value >= -theirs.fun - 1e-9
            assert sign * mine.value == pytest.approx(-theirs.fun, abs=20 * tolerance)
            at = (mine.at.travel, mine.at.roll, mine.at.wrap)
            assert of(*at)[channel] == pytest.approx(mine.value, abs=1e-7)


@pytest.mark.slow
@given(droop=st.floats(365, 500), data=st.data())
@settings(deadline=None, max_examples=4, derandomize=True)
def test_neither_do_the_most_where_the_springs_reach_ends_within_the_box(droop, data):
    """At the edge of the reach the seat swings infinitely fast; the worst bends lie there."""
    vehicle = data.draw(vehicles("leaf", at="shaft"))
    leaf = replace(
        vehicle.suspension,
        fixed_eye=(460.0, 500.0, 50.0),
        seat=(0.0, 480.0, 50.0),
        shackled_eye=data.draw(st.sampled_from([None, (-560.0, 480.0, 50.0)])),
    )
    vehicle = replace(
        vehicle, suspension=leaf, travel=replace(vehicle.travel, droop=round(droop, 1))
    )
    first = envelope(vehicle)
    assert first.unreachable is not None
    for grid in GRIDS[1:]:
        again = envelope(vehicle, grid)
        for joint in ("output", "pinion"):
            one, other = first.joints[joint].most, again.joints[joint].most
            assert one.value == pytest.approx(other.value, abs=HUNDREDTH_OF_A_DEGREE)


def test_a_hill_between_the_last_reading_and_the_end_of_travel_is_not_overlooked():
    """Past the last reading the motion goes on straight; the hill there is sharper than the grid.

    scipy.optimize.direct found 65.7387 mm where a grid without the readings had found 65.703 mm.
    """
    p_C_output, p_A_pinion = (-847.4868, 0.0, 179.9288), (-347.0794, -198.5207, 0.0)
    read = [
        (-135.0, 611.8640989501943, 0.0462),
        (-90.0, 602.1822031669766, 0.0403),
        (-45.0, 580.1704109018563, 0.0292),
        (0.0, 567.6199497662939, 0.04),
        (135.0, 539.6054794713634, 0.0694),
    ]
    vehicle = replace(
        plain(),
        p_C_output=np.array(p_C_output),
        axis_C_output=np.array([-1.0, 0.0, 0.0]),
        p_A_pinion=np.array(p_A_pinion),
        axis_A_pinion=np.array([1.0, 0.0, 0.0]),
        front=True,
        suspension=Measured(
            front=True,
            wrap_centre=(0.0, 0.0, 0.0),
            p_C_output=p_C_output,
            p_A_pinion=p_A_pinion,
            readings=tuple(Reading(*numbers) for numbers in read),
        ),
        travel=TravelRegion(86.2373, 145.1995, 0.1138, 0.125, 0.0547),
        slip=Slip("shaft", 40.0, 80.0, None),
    )
    for grid in GRIDS:
        longest = envelope(vehicle, grid).slip.longest
        assert longest.value == pytest.approx(65.73886, abs=1e-4)
        assert longest.at.travel == pytest.approx(-133.884, abs=0.01)


def test_many_extremes_at_once_are_those_one_by_one():
    of = values(plain())
    wanted = [(0, "most"), (1, "least"), (2, "most")]
    together = extremes(of, BOX, wanted)
    for (channel, kind), found in zip(wanted, together, strict=True):
        alone = extreme(lambda t, r, w, c=channel: of(t, r, w)[c], BOX, kind)
        assert alone.value == pytest.approx(found.value, abs=1e-9)


@pytest.mark.slow
@given(data=st.data())
@settings(deadline=None, max_examples=20)
def test_a_mirrored_vehicle_has_the_same_worst(data):
    vehicle = data.draw(vehicles())
    here, there = envelope(vehicle), envelope(mirrored(vehicle))
    for one, other, _ in pairs(here, there):
        assert one.value == pytest.approx(other.value, abs=TEN_NANOMETRES)
