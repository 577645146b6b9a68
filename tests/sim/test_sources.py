"""What may be off of a rig: slopes through nothing, wrap worked out, heights, assumed values."""

from math import hypot, radians, sqrt
from typing import Any

import numpy as np
import pytest

from sim.accuracy.source import Source
from sim.accuracy.sources import left_out, rig_with, sources_of
from sim.derive import vehicle_of, wrap_of
from sim.rig import Rig, RigError, changed, demo_names, load_demo, parse_rig
from sim.rig.change import key_path
from sim.rig.defaults import DEFAULTS
from sim.rig.document import rig_text
from sim.units import Angle, Length

LEAST = """
[output]
points_down = "0 deg"
[ride_height]
length = "36 5/16 in"
shaft_points_down = "14 deg"
pinion_left = "0 in"
[axle]
points_up = "1 deg"
[travel]
bump = "0 in"
droop = "8 in"
"""


def by_key(rig: Rig) -> dict[str, Source]:
    return {each.key: each for each in sources_of(rig)}


def test_a_slope_goes_through_nothing_to_its_other_word() -> None:
    rig = parse_rig(LEAST)
    for key, other, size in (
        ("output.points_down", "output.points_up", "1/2 deg"),
        ("ride_height.pinion_left", "ride_height.pinion_right", "1/8 in"),
    ):
        off = Angle.parse(size).rad if size.endswith("deg") else Length.parse(size).mm
        put = vehicle_of(by_key(rig)[key].put(rig, -off))
        typed = vehicle_of(changed(rig, {other: size}))
        np.testing.assert_allclose(put.axis_C_output, typed.axis_C_output, atol=1e-12)
        np.testing.assert_allclose(put.p_C_output, typed.p_C_output, atol=1e-9)


def test_travel_never_ends_on_the_other_side_of_ride_height() -> None:
    rig = parse_rig(LEAST)
    assert vehicle_of(by_key(rig)["travel.bump"].put(rig, -3.0)).travel.bump == 0.0


def test_of_the_heights_of_readings_all_but_ride_may_be_off() -> None:
    rig = load_demo("marsh-runner")
    told = by_key(rig)
    heights = [key for key in told if key.endswith(".at")]
    assert heights == [f"suspension.readings[{n}].at" for n in (1, 3, 4)]
    typed = changed(rig, {"suspension.readings[4].at": "7 in droop +- 1/4 in"})
    found = by_key(typed)["suspension.readings[4].at"]
    assert (found.value, found.off, found.why) == (-177.8, 6.35, "typed")
    before = changed(rig, {"suspension.readings[4].at": "7 in +- 1/4 in droop"})
    assert by_key(before)["suspension.readings[4].at"].off == 6.35
    put = vehicle_of(found.put(typed, -12.7))
    same = vehicle_of(changed(rig, {"suspension.readings[4].at": "7 1/2 in droop"}))
    at = (-100.0, 0.0, 0.0)
    one, other = (
        each.suspension.carry(*at, each.p_A_pinion, each.axis_A_pinion)[0] for each in (put, same)
    )
    np.testing.assert_allclose(one, other, atol=1e-9)


def test_rigs_put_off_are_told_apart() -> None:
    rig = load_demo("long-legged-trail-wagon")
    for each in sources_of(rig):
        assert each.put(rig, each.off) != rig, each.key


@pytest.mark.parametrize("name", demo_names())
def test_nothing_put_off_by_nothing_changes_a_number(name: str) -> None:
    rig = load_demo(name)
    sources = [each for each in sources_of(rig) if each.key.startswith("travel.nose")]
    put = vehicle_of(rig_with(rig, sources, [0.0] * len(sources))).travel
    assert put.nose_up == pytest.approx(vehicle_of(rig).travel.nose_up, abs=1e-12)
    assert put.nose_down == pytest.approx(vehicle_of(rig).travel.nose_down, abs=1e-12)


def test_wrap_worked_out_is_off_as_far_as_what_it_is_worked_out_from() -> None:
    """Against first-order propagation by hand: wrap = seen * grip torque / test torque.

    Shares add up by squares; two readings of 1/4 deg are off the worst way at once.
    """
    rig = load_demo("quarry-hauler")
    rig = changed(
        rig,
        {
            "wrap.torque_off": "2 %",
            "wrap.reading_off": "1/100 deg",
            "wrap.drive.engine_torque_off": "0 %",
            "wrap.drive.axle_load_off": "3 %",
            "wrap.drive.friction_off": "4 %",
        },
    )
    found, wrap = by_key(rig)["travel.nose_down"], wrap_of(rig)
    assert wrap is not None
    assert wrap.down_governs == "grip"
    told, test = wrap.nose_down, rig.wrap
    assert test is not None
    readings = sum(
        1
        for key in type(test).model_fields
        if key.endswith(("before", "under_torque")) and getattr(test, key) is not None
    )
    seen = abs(test.measured().wrap.value)  # type: ignore[attr-defined]
    by_hand = told.value * sqrt(
        hypot(0.02, 0.03, 0.04) ** 2 + (readings * radians(0.01) / seen) ** 2
    )
    assert found.off == pytest.approx(by_hand, rel=0.01)
    assert found.value == told.high
    assert found.put(rig, -0.01).wrap is None
    assert vehicle_of(found.put(rig, -0.01)).travel.nose_down == pytest.approx(told.high - 0.01)
    both = rig_with(rig, [found, by_key(rig)["travel.nose_up"]], [-0.01, 0.02])
    assert vehicle_of(both).travel.nose_down == pytest.approx(told.high - 0.01)


def test_every_length_and_angle_nobody_gave_says_how_far_trucks_differ() -> None:
    """And no farther than the farthest of the values that may as well be true, or its own size."""
    lengths = {each.key: each for each in DEFAULTS if each.off is not None}
    for rig in [*map(load_demo, demo_names()), parse_rig(LEAST)]:
        assumed = {each.key for each in rig.assumed}
        for each in sources_of(rig):
            table = each.key.split("[")[0]
            assert (each.why == "assumed") == (table in assumed)
            if table in assumed:
                assert table in lengths


def test_words_and_shares_that_nobody_gave_are_left_out() -> None:
    left = left_out(parse_rig(LEAST))
    assert {"axle.position", "travel.droop_strap", "suspension.kind"} <= set(left)
    assert "travel.wrap_at_droop" in left
    assert not {key for key in left if key.startswith("wanted.")}
    assert not set(left) & {each.key.split("[")[0] for each in sources_of(parse_rig(LEAST))}


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("ride_height.length", "36 in +- 37 in"),
        ("travel.roll", "8 deg +- 9 deg"),
        ("travel.droop", "8 in +- 9 in"),
    ],
)
def test_an_error_larger_than_the_value_is_told(key: str, typed: str) -> None:
    with pytest.raises(RigError) as told:
        changed(parse_rig(LEAST), {key: typed})
    (problem,) = told.value.problems
    assert problem.key == key
    assert "larger than the value" in str(told.value)


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("output.points_down", "1/4 deg +- 1/2 deg"),
        ("ride_height.pinion_left", "1/8 in +- 1/4 in"),
        ("ride_height.pinion_left", "0 in +- 1/4 in"),
        ("axle.wrap_centre", ["0 in", "0 in +- 1 in", "-1 in +- 2 in"]),
    ],
)
def test_where_another_word_says_it_the_other_way_it_is_not(key: str, typed: object) -> None:
    assert changed(parse_rig(LEAST), {key: typed})


def test_an_error_typed_in_the_wrap_table_adds_to_it_by_squares() -> None:
    """Under grip the wrap does not hang on the tire's radius but through the torque: in a line."""
    rig = load_demo("quarry-hauler")
    rig = changed(rig, {"wrap.drive.engine_torque_off": "0 %"})
    before, wrap = by_key(rig)["travel.nose_down"], wrap_of(rig)
    assert wrap is not None
    assert wrap.down_governs == "grip"
    radius = rig.wrap.drive.tyre_radius  # type: ignore[union-attr]
    off = 0.1 * radius.mm
    typed = changed(rig, {"wrap.drive.tyre_radius": f"{radius} +- {off} mm"})
    found = by_key(typed)["travel.nose_down"]
    assert found.off == pytest.approx(hypot(before.off, 0.1 * before.value), rel=1e-6)


@pytest.mark.parametrize("name", demo_names())
def test_an_error_behind_any_number_is_kept_and_changes_none(name: str) -> None:
    rig = load_demo(name)
    typed: dict[str, str] = {}
    for each in sources_of(rig):
        if each.why == "usual":
            held: Any = rig
            for step in key_path(each.key) or ():
                held = held[step] if isinstance(step, int) else getattr(held, step)
            typed[each.key] = f"{held} {'+- 1/16 in' if each.unit == 'mm' else 'by phone'}"
    made = changed(rig, typed)
    back = parse_rig(rig_text(made))
    assert back == made
    told = by_key(back)
    for each in sources_of(rig):
        found = told[each.key]
        assert found.value == each.value
        if each.key in typed:
            assert found.off == (1.5875 if each.unit == "mm" else pytest.approx(radians(1.0)))
