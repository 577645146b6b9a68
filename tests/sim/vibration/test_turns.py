"""What turns how fast: formulas and tables of the trade."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.rig import load_demo
from sim.speed import RPM, Gearing
from sim.vibration import Symptom, SymptomError, find_vibration
from sim.vibration.symptom import turns_of

MPH = 1_609_344.0 / 3600.0


def test_turns_of_a_35_inch_tire_at_65():
    """A sum of the trade: 35 in, 4.56, 65 mph: some 2850 rpm, 47 Hz once a turn; at 45 33 Hz."""
    gearing = Gearing(tyre_radius=17.5 * 25.4, axle_ratio=4.56)
    turns = turns_of(Symptom(road=65.0 * MPH), gearing)
    assert turns.shaft / RPM == pytest.approx(2850.0, rel=2e-3)
    assert turns.shaft / (2.0 * pi) == pytest.approx(47.0, abs=0.6)
    slower = turns_of(Symptom(road=45.0 * MPH), gearing)
    assert slower.shaft / (2.0 * pi) == pytest.approx(33.0, abs=0.3)


@given(diameter=st.floats(28.0, 60.0), ratio=st.floats(2.0, 6.0), mph=st.floats(1.0, 90.0))
def test_by_the_trades_constant_of_336(diameter, ratio, mph):
    """Shaft rpm = mph x axle ratio x 336 / tire diameter in inches; 336.13 unrounded."""
    gearing = Gearing(0.5 * diameter * 25.4, ratio)
    turns = turns_of(Symptom(road=mph * MPH), gearing)
    assert turns.shaft / RPM == pytest.approx(mph * ratio * 336.0 / diameter, rel=5e-4)
    revolutions_a_mile = 63_360.0 / (pi * diameter)
    assert turns.wheel / RPM == pytest.approx(mph * revolutions_a_mile / 60.0, rel=1e-9)


def test_from_the_engine_and_its_gear():
    turns = turns_of(Symptom(engine=2400.0 * RPM, gear=1.5), None)
    assert turns.shaft / RPM == pytest.approx(1600.0)
    assert (turns.road, turns.wheel) == (None, None)


def test_each_speed_gives_the_others_back():
    gearing = Gearing(400.0, 4.1, 0.8)
    road = turns_of(Symptom(road=20_000.0), gearing, 0.8)
    for symptom in (
        Symptom(shaft=road.shaft),
        Symptom(engine=road.engine, gear=0.8),
    ):
        turns = turns_of(symptom, gearing, 0.8)
        for name in ("road", "shaft", "wheel", "engine"):
            assert getattr(turns, name) == pytest.approx(getattr(road, name), rel=1e-12)


def test_without_gears_a_road_speed_tells_nothing_of_the_shaft():
    turns = turns_of(Symptom(road=20_000.0), None)
    assert (turns.shaft, turns.wheel, turns.engine) == (None, None, None)


@pytest.mark.parametrize(
    "values",
    [
        {"road": 0.0},
        {"shaft": -1.0},
        {"road": float("nan")},
        {"road": 1.0, "shaft": 1.0},
        {"engine": 200.0},
        {"road": 1.0, "per_turn": 3},
    ],
)
def test_what_cannot_be_is_refused(values):
    with pytest.raises(SymptomError, match="got"):
        Symptom(**values)


def test_no_shaft_turns_so_fast():
    with pytest.raises(SymptomError, match=r"expected at most 10,000 rpm"):
        turns_of(Symptom(shaft=10_001.0 * RPM), None)
    rig = load_demo("quarry-hauler")
    with pytest.raises(SymptomError, match="rpm"):
        find_vibration(rig, Symptom(shaft=20_000.0 * RPM, when="power"))
