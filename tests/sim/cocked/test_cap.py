"""One cap over a turn: which corners follow from how it sits, dents, life, the map."""

from math import radians

import numpy as np
import pytest

from sim.bearing import Needles
from sim.cocked import FAST, STRAIGHT, CapResult, Held, Row, Seat, balance, reference_life, stated
from sim.cocked.cap import cap_result
from sim.cocked.seat import bed_stiffness, gouge, skewed, spread
from sim.cocked.turned import wrapped
from sim.cocked.turning import cap_turn

NEEDLES = Needles.full(2.4, 11.9, 16.5)
ARM, TORQUE = 32.4, 3.4e5
BED = bed_stiffness(15.3)
SPREAD = Seat((spread(60.17, 60.0, 42.0),))
SKEWED = Seat((skewed(0.13, 64.8),))


def asked(
    seat: Seat,
    bend: float = 10.0,
    far: bool = False,
    driving: bool = True,
    held: Held | None = None,
    row: Row | None = None,
) -> CapResult:
    """A cap at an everyday torque, and at three times that."""
    turn = cap_turn(TORQUE, radians(bend), ARM, driving=driving, far=far)
    made = Row(NEEDLES, 0.02)
    return cap_result(row or made, made, seat, turn, 3.0, held or FAST)


def corners(found: CapResult) -> set[tuple[str, str, str]]:
    """Way, end, and whether it is the same half a turn later."""
    return {(c.way, c.end, "same" if c.again == c.end else "other") for c in found.corners}


def test_a_straight_cap_has_no_corners():
    found = asked(STRAIGHT)
    assert not found.corners
    assert found.tilt == 0.0
    assert found.life_ratio == pytest.approx(1.0, rel=1e-12)
    assert found.corner_ratio == found.straight_ratio
    assert found.peak_mpa == found.straight_mpa


@pytest.mark.parametrize("far", [False, True])
def test_skewed_bores_press_one_end_on_drive_and_the_other_on_coast(far):
    """In both caps alike, in the middle of the loaded side, the same after half a turn."""
    found = asked(SKEWED, far=far)
    assert corners(found) == {("drive", "outer", "same"), ("coast", "inner", "same")}
    by_way = {c.way: c for c in found.corners}
    assert abs(by_way["drive"].angle) < radians(10.0)
    assert abs(by_way["coast"].angle) > radians(170.0)


def test_spread_ears_press_the_corners_of_a_diagonal_that_change_ends():
    """At a bend both ends on drive and on coast, on opposite flanks of the loaded side."""
    found = asked(SPREAD, bend=12.0)
    assert corners(found) == {
        ("drive", "outer", "other"),
        ("drive", "inner", "other"),
        ("coast", "outer", "other"),
        ("coast", "inner", "other"),
    }
    angle = {(c.way, c.end): c.angle for c in found.corners}
    assert angle["drive", "outer"] * angle["drive", "inner"] < 0.0
    # The outer end of the cap leans toward the shaft, so its trunnion's leans away from it there.
    assert angle["drive", "outer"] < 0.0
    assert abs(angle["drive", "outer"]) > radians(10.0)


@pytest.mark.parametrize("bend", [12.0, 25.0])
@pytest.mark.parametrize("driving", [True, False])
def test_a_corner_lies_where_the_map_is_hottest(bend, driving):
    """The map goes over the places of the trunnion, the corner is told by a needle and a moment."""
    found = asked(SPREAD, bend=bend, driving=driving)
    angle, along = found.map.angle, found.map.along
    assert len(found.corners) == 4
    for corner in found.corners:
        ends = (
            along > 0.25 * NEEDLES.length
            if corner.end == "outer"
            else along < -0.25 * NEEDLES.length
        )
        side = (np.abs(angle) < radians(90.0)) == (corner.way == "drive")
        hottest = angle[side][found.map.pressure[side][:, ends].max(axis=1).argmax()]
        assert np.abs(wrapped(hottest - corner.angle)) < radians(3.0)


def test_spread_ears_do_less_than_skewed_ones_of_the_same_tilt():
    """Across the load a tilt costs less than along it."""
    assert SPREAD.tipped == pytest.approx(SKEWED.tipped, rel=0.02)
    assert asked(SPREAD).life_ratio > 3.0 * asked(SKEWED).life_ratio
    assert asked(SPREAD).corner_ratio < asked(SKEWED).corner_ratio


def test_a_gouge_marks_on_drive_alone():
    assert corners(asked(Seat((gouge(0.03, 15.3),)))) == {("drive", "outer", "same")}


def test_a_tilt_the_other_way_swaps_the_ends():
    one, other = asked(stated(2e-3)), asked(stated(-2e-3))
    assert one.corner_ratio == pytest.approx(other.corner_ratio, rel=1e-9)
    assert one.life_ratio == pytest.approx(other.life_ratio, rel=1e-9)
    swapped = {"inner": "outer", "outer": "inner"}
    assert {(c.way, swapped[c.end]) for c in one.corners} == {(c.way, c.end) for c in other.corners}
    assert one.map.pressure == pytest.approx(other.map.pressure[:, ::-1], rel=1e-6, abs=1e-3)


def test_both_caps_of_spread_ears_are_mirror_images():
    """What one sees at a moment the other sees half a turn later, and over a turn they are one."""
    near, far = asked(SPREAD), asked(SPREAD, far=True)
    assert near.corner_ratio == pytest.approx(far.corner_ratio, rel=1e-9)
    assert near.life_ratio == pytest.approx(far.life_ratio, rel=1e-9)
    assert near.map.pressure == pytest.approx(far.map.pressure, rel=1e-6, abs=1e-3)


def test_life_falls_and_the_corner_grows_with_the_tilt():
    found = [asked(stated(mrad * 1e-3)) for mrad in (0.0, 0.25, 0.5, 1.0, 2.0, 4.0)]
    lives = [each.life_ratio for each in found]
    ratios = [each.corner_ratio for each in found]
    assert lives == sorted(lives, reverse=True)
    assert ratios == sorted(ratios)
    assert lives[-1] < 0.02


@pytest.mark.parametrize("tilt", [0.5e-3, 1e-3, 2e-3])
def test_relieved_ends_make_a_tilt_less_severe(tilt):
    """The trend in print: crowning makes misalignment less severe [HARRIS]."""
    ratios = []
    for ends in ("relieved", "straight"):
        row = Row(NEEDLES, 0.0, ends)
        straight, tilted = (
            reference_life(row, balance(row, [[6000.0, 0.0]], [lean, 0.0]).force)
            for lean in (0.0, tilt)
        )
        ratios.append(tilted / straight)
    assert 0.0 < ratios[1] < ratios[0] < 1.0


def test_moments_count_by_how_much_the_cap_rolls():
    """Three moments of one kind and one of another are the two, weighed three to one."""
    row = Row(NEEDLES, 0.02)
    force = balance(row, [[6000.0, 0.0], [2000.0, 0.0]], [1e-3, 0.0]).force
    weighed = reference_life(row, force, np.array([3.0, 1.0]))
    assert weighed == pytest.approx(reference_life(row, force[[0, 0, 0, 1]]), rel=1e-12)
    still = reference_life(row, force, np.zeros(2))
    assert still == pytest.approx(reference_life(row, force), rel=1e-12)


def test_an_ear_that_gives_lets_the_needles_bring_the_cap_back():
    """And what nothing gives to is told beside it, as a bound."""
    held = asked(SKEWED)
    gives = asked(SKEWED, held=Held(BED))
    assert gives.tilt < held.tilt == pytest.approx(SKEWED.tipped, rel=1e-12)
    assert gives.life_ratio > held.life_ratio
    assert held.life_ratio == held.forced_life_ratio == gives.forced_life_ratio
    assert held.corner_ratio == held.forced_ratio == gives.forced_ratio


def test_it_dents_by_tilt_where_a_straight_cap_would_not():
    found = asked(stated(4e-3))
    assert found.straight_hard_mpa < 4000.0 < found.hard_mpa
    assert found.dents
    assert found.dents_by_tilt
    assert not asked(STRAIGHT).dents


def test_a_torque_four_times_as_great_presses_less_than_twice_as_hard():
    """Pressure grows with the root of the load; a straight cap's load spreads besides."""
    turn = cap_turn(TORQUE, 0.1, ARM, driving=True, far=False)
    row = Row(NEEDLES, 0.02)
    found = cap_result(row, row, STRAIGHT, turn, 4.0, FAST)
    assert found.peak_mpa < found.hard_mpa < 2.0 * found.peak_mpa
    assert found.hard_mpa > 1.7 * found.peak_mpa


def test_the_map_shows_what_the_needles_carried():
    """The greatest pressure of the map is that of the turn; the needles' places are on it."""
    found = asked(SKEWED)
    assert found.map.pressure.max() == pytest.approx(found.peak_mpa, rel=5e-3)
    places, force = found.needles
    assert force.max() == found.everyday.greatest
    worst = int(np.argmax(force.max(axis=1)))
    at = int(np.argmin(np.abs(wrapped(found.map.angle - places[worst]))))
    assert found.map.pressure[at].max() == pytest.approx(found.peak_mpa, rel=0.02)


@pytest.mark.parametrize("bend", [0.3, 4.0, 9.0])
def test_a_small_bend_leaves_places_between_the_needles_untouched(bend):
    """Each needle comes by twice (1 + g) / 2 of the bend either way, to two places of the map."""
    found = asked(STRAIGHT, bend=bend).map
    gamma = NEEDLES.gamma
    swept = NEEDLES.count * (1.0 + gamma) * radians(bend) / (2.0 * np.pi)
    assert swept < 1.0
    assert found.passed.mean() == pytest.approx(swept, abs=NEEDLES.count * 2.01 / 360.0)
    assert not found.pressure[~found.passed].any()


def test_past_the_overlap_every_place_is_run_over():
    bend = np.degrees(NEEDLES.overlap_swing)
    assert asked(STRAIGHT, bend=1.02 * bend).map.passed.all()
    assert not asked(STRAIGHT, bend=0.8 * bend).map.passed.all()


def test_needles_roll_back_on_the_trunnion_as_it_swings():
    """Rolling without slip: by (1 + g) / 2 of the swing, whatever the load."""
    found = asked(SPREAD, bend=20.0).everyday
    swing = found.turn.swing[:, None]
    for way in found.ways.values():
        back = way.angle - swing - found.row.angles
        assert back == pytest.approx(
            -0.5 * (1.0 + NEEDLES.gamma) * np.broadcast_to(swing, back.shape)
        )


def test_no_needle_presses_harder_than_the_map_says_where_it_is():
    """Every needle that is pressed hard at any moment, each way, against the map's place under it,
    to the degree."""
    found = asked(SPREAD, bend=20.0)
    row, turn = found.everyday.row, found.everyday.turn
    for way in found.everyday.ways.values():
        places = wrapped(way.angle - turn.swing[:, None])
        at = np.floor((places + np.pi) / (2.0 * np.pi) * len(found.map.angle)).astype(int) % 360
        here = np.max([found.map.pressure[(at + by) % 360] for by in (-1, 0, 1)], axis=0)
        pressed = row.pressure(way.force)
        hard = pressed > 0.6 * found.peak_mpa
        assert hard.sum() > 1000
        assert (pressed[hard] <= 1.01 * here[hard]).all()


def test_a_lost_needle_costs_life_and_presses_its_neighbours():
    lacking = asked(STRAIGHT, row=Row(NEEDLES, 0.02, lost=(0, 1)))
    assert lacking.corner_ratio > 1.4 * lacking.straight_ratio
    assert lacking.life_ratio < 1.0
    assert not lacking.corners
    assert lacking.peak_mpa > lacking.straight_mpa


def test_a_cap_that_is_not_home_costs_life():
    lives = [
        asked(STRAIGHT, row=Row(NEEDLES, 0.02, bare=out)).life_ratio for out in (0.0, 1.0, 2.4)
    ]
    assert lives == sorted(lives, reverse=True)
    assert lives[-1] < 0.7
