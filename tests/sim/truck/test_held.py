"""What was seen on a truck against what is computed, on a demo rig."""

from __future__ import annotations

from math import degrees, radians
from typing import Any

import numpy as np
import pytest

from sim.accuracy.source import SURE
from sim.accuracy.sources import sources_of
from sim.check import check
from sim.derive import vehicle_of
from sim.line import line
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.truck.held import HeldAgainst, chance_of, held_against
from sim.truck.numbers import Numbers
from sim.truck.observed import HEIGHT, observed_of
from tests.kept import kept

WAGON = "long-legged-trail-wagon"


def truck(*seen: dict[str, Any]) -> Rig:
    return changed(load_demo(WAGON), {"seen_on_truck": list(seen)})


@kept
def held(*seen: tuple[tuple[str, str], ...]) -> HeldAgainst:
    rig = truck(*map(dict, seen))
    return held_against(rig, sources_of(rig))


def pinion(at: str, turned: str) -> tuple[tuple[str, str], ...]:
    return (("at", at), ("joint", "pinion"), ("turned", turned))


def test_computed_is_what_check_and_line_tell() -> None:
    rig = truck(
        {"at": "9 in droop", "joint": "pinion", "turned": "touches"},
        {"at": "5 in droop", "right_up": "3 deg", "nose_down": "2 deg", "slip_opened": "1 in"},
        {"at": "4 in bump", "slip_closed": "1 in"},
        {"paint_ran": "1 in"},
        {"paint_ran_in": "1 in"},
        {"at": "9 in droop", "turned": "touches"},
    )
    found = check(rig).found
    vehicle = vehicle_of(rig)
    items = [each.computed for each in held_against(rig).items]
    low = line(vehicle, -228.6, 0.0, 0.0)
    clear = found.joints["pinion"].clear
    assert items[0] == pytest.approx(float(low.pinion_bend) - clear, abs=1e-12)
    posed = line(vehicle, -127.0, radians(-3.0), radians(-2.0))
    assert items[1] == pytest.approx(float(posed.slip), abs=1e-9)
    assert items[2] == pytest.approx(-float(line(vehicle, 101.6, 0.0, 0.0).slip), abs=1e-9)
    assert items[3] == pytest.approx(found.swept.slip.longest.value, abs=1e-9)
    assert items[4] == pytest.approx(-found.swept.slip.shortest.value, abs=1e-9)
    most = max(float(low.bends[j]) - found.joints[j].clear for j in vehicle.joints)
    assert items[5] == pytest.approx(most, abs=1e-12)


def test_spread_is_that_of_draws() -> None:
    """Monte Carlo over everything that may be off, where straight lines hold."""
    rig = truck({"at": "9 in droop", "slip_opened": "1 in"})
    numbers = Numbers(rig, observed_of(rig), sources_of(rig))
    random = np.random.default_rng(3)
    drawn = [numbers.past(random.normal(size=len(numbers.doubtful)))[0] for _ in range(1500)]
    (item,) = held_against(rig, sources_of(rig)).items
    both = float(np.hypot(item.off, item.seen_off)) / SURE
    assert both == pytest.approx(float(np.std(drawn)), rel=0.06)
    # Three standard errors of a mean.
    error = 3.0 * float(np.std(drawn)) / np.sqrt(len(drawn))
    assert item.computed == pytest.approx(float(np.mean(drawn)) + 25.4, abs=error)


def test_chances_are_those_of_the_normal_law() -> None:
    touches, free, reading = observed_of(
        truck(
            {"at": "ride", "turned": "touches"},
            {"at": "ride", "turned": "free"},
            {"at": "ride", "slip_opened": "1 in"},
        )
    )
    assert chance_of(touches, -1.6448536, 1.0) == pytest.approx(0.05, abs=1e-8)
    assert chance_of(free, 1.6448536, 1.0) == pytest.approx(0.05, abs=1e-8)
    assert chance_of(reading, 1.959964, 1.0) == pytest.approx(0.05, abs=1e-7)
    assert chance_of(touches, 0.0, 0.0) == 1.0


def test_what_it_would_have_to_be_makes_it_so_when_it_is_put_in() -> None:
    rig = truck({"at": "9 in droop", "slip_opened": "1 1/2 in"})
    told = held_against(rig, sources_of(rig))
    assert told.disagrees
    named = {each.key: each for each in sources_of(rig)}
    told_of = [each for each in told.alone if each.of.key in named]
    assert told_of
    for each in told_of:
        made = named[each.of.key].put(rig, each.off)
        slip = float(line(vehicle_of(made), -228.6, 0.0, 0.0).slip)
        if abs(each.deviations) < 31.9:
            assert slip == pytest.approx(38.1, abs=0.02), each.of.key
    own = next(each for each in told.alone if each.of.key == "seen_on_truck[1].slip_opened")
    assert own.would_be == pytest.approx(told.items[0].computed, abs=1e-3)
    likelier = [each.unlikely for each in told.alone if each.explains]
    assert likelier == sorted(likelier)


def test_the_combination_is_as_seen_when_it_is_put_in() -> None:
    rig = truck({"at": "9 in droop", "slip_opened": "1 1/2 in"}, {"paint_ran": "1 3/4 in"})
    numbers = Numbers(rig, observed_of(rig), sources_of(rig))
    told = held_against(rig, sources_of(rig)).together
    assert told is not None
    off = {each.of.key: each.deviations for each in told.parts}
    z = np.array([off.get(each.key, 0.0) for each in numbers.doubtful])
    assert numbers.past(z) == pytest.approx([0.0, 0.0], abs=0.25)
    assert told.squares == pytest.approx(float(z @ z), rel=1e-2)


def test_touching_above_and_free_below_is_told_as_such() -> None:
    found = held(pinion("6 in droop", "touches"), pinion("8 in droop", "free"))
    (pair,) = found.contradictions
    assert (pair.one, pair.other) == (1, 2)
    assert pair.chance < 1e-6
    assert not found.disagrees
    assert not found.alone


def test_free_above_and_touching_below_is_no_contradiction() -> None:
    assert not held(pinion("6 in droop", "free"), pinion("8 in droop", "touches")).contradictions


def test_the_rest_is_held_where_two_contradict() -> None:
    wrong = (("at", "9 in droop"), ("slip_opened", "2 in"))
    found = held(pinion("6 in droop", "touches"), pinion("8 in droop", "free"), wrong)
    assert len(found.contradictions) == 1
    assert found.disagrees
    keys = {each.of.key.split(".")[0] for each in found.alone}
    assert "seen_on_truck[3]" in keys
    assert not keys & {"seen_on_truck[1]", "seen_on_truck[2]"}


def test_one_slip_in_one_pose_at_two_places_contradicts() -> None:
    one, other = (("at", "9 in droop"), ("slip_opened", "1 in")), (
        ("at", "9 in droop"), ("slip_opened", "1 1/2 in"),
    )  # fmt: skip
    assert held(one, other).contradictions
    near = (("at", "9 in droop"), ("slip_opened", "1 1/16 in"))
    assert not held(one, near).contradictions


def test_heights_past_the_travel_and_out_of_reach_are_told() -> None:
    found = held((("at", "12 in droop"), ("slip_opened", "1 in")))
    assert found.items[0].beyond
    found = held((("at", "300 in droop"), ("slip_opened", "1 in")))
    assert not found.items[0].reached
    assert not found.disagrees


def test_a_height_is_as_far_off_as_typed_or_by_its_tool_or_as_is_usual() -> None:
    rig = truck(
        {"at": "9 in droop +- 1/16 in", "slip_opened": "1 in by laser"},
        {"at": "9 in droop", "slip_opened": "1 in", "tool": "steel rule"},
        {"at": "9 in droop", "left_up": "2 deg +- 1/4 deg", "turned": "free"},
    )
    offs = [
        {axis: off for axis, _, _, off in each.offs(rig.measured_with)} for each in observed_of(rig)
    ]
    assert offs[0] == pytest.approx({"at": 25.4 / 16, "seen": 25.4 / 8})
    assert offs[1] == pytest.approx({"at": 25.4 / 32, "seen": 25.4 / 32})
    assert offs[2]["at"] == HEIGHT
    assert degrees(offs[2]["roll"]) == pytest.approx(0.25)


def test_of_trucks_on_which_nothing_is_wrong_5_in_100_disagree() -> None:
    """Made up by their errors: what is seen is computed from a truck that is off as usual."""
    rig = load_demo(WAGON)
    sources = sources_of(rig)
    random = np.random.default_rng(11)
    like = truck(
        {"at": "9 in droop", "slip_opened": "1 in"}, {"at": "4 in bump", "slip_closed": "1 in"}
    )
    numbers = Numbers(like, observed_of(like), sources)
    spread = numbers.slopes @ numbers.slopes.T
    deviations = np.sqrt(np.diag(spread))
    alarms, count = 0, 400
    for _ in range(count):
        past = numbers.past(random.normal(size=len(numbers.doubtful)))
        past = past - numbers.past(np.zeros(len(numbers.doubtful)))
        chances = sorted(
            chance_of(each, float(over), float(deviation))
            for each, over, deviation in zip(numbers.observed, past, deviations, strict=True)
        )
        alarms += chances[0] < 0.05 / 2
    assert alarms / count <= 0.05 + 3.0 * (0.05 * 0.95 / count) ** 0.5
