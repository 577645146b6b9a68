"""A joint fitted to its readings, from the rig file to the parts that every command uses."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import radians

import numpy as np
import pytest

from sim.accuracy.source import SURE
from sim.bars.give_or_take import left_draws, middle_95
from sim.bench.agreement import Agreement
from sim.bench.curves import library
from sim.bench.evidence import Predict
from sim.bench.fit import fitted_joint
from sim.bench.fitted_shape import FittedShape
from sim.bench.free import doubt_of
from sim.bench.outlook import Outlook
from sim.bench.posterior import band
from sim.bench.readings import Told, told
from sim.bench.shown import _held, shown
from sim.hardware.joint import joint_hardware
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.rig.fitted import fitted_cross, fitted_yoke

KEY = "shaft.pinion_end.bench"


def read(rig: Rig, *readings: dict[str, str], key: str = KEY) -> Rig:
    return changed(rig, {key: list(readings)})


@pytest.mark.parametrize(
    ("joint", "table", "clamped", "driving"),
    [
        ("output", "shaft.output_end", "output yoke", True),
        ("output", "shaft.output_end", "shaft yoke", False),
        ("pinion", "shaft.pinion_end", "shaft yoke", True),
        ("pinion", "shaft.pinion_end", "pinion yoke", False),
    ],
)
def test_the_yoke_nearer_the_engine_drives(
    joint: str, table: str, clamped: str, driving: bool
) -> None:
    rig = load_demo("long-legged-trail-wagon")
    for ears in ("in line", "across"):
        reading = {"clamped": clamped, "ears": ears, "touches_at": "30 deg"}
        (found,) = told(read(rig, reading, key=f"{table}.bench"), joint)  # type: ignore[arg-type]
        assert found.driving is driving
        assert found.turned.word == ears
        assert found.turned.clamped == clamped.replace(" ", "_")


def test_what_a_tape_is_held_to_is_not_moved() -> None:
    """Against the shapes: with each held dimension moved, some face that is measured moves."""
    doubt = doubt_of(load_demo("long-legged-trail-wagon"), "pinion")
    assert doubt is not None
    held = {
        (free.yoke, free.name)
        for free, holds in zip(doubt.free, _held(doubt), strict=True)
        if holds
    }
    assert ("shaft_yoke", "weld_land") in held
    assert ("shaft_yoke", "throat_depth") not in held
    assert ("pinion_yoke", "bolt_head") not in held


READINGS = (
    {"clamped": "pinion yoke", "ears": "in line", "touches_at": "29 deg"},
    {"ears": "in line", "touches_at": "26 deg"},
    {"ears": "any", "touches_at": "25 deg"},
)


@pytest.mark.slow
def test_a_reading_rules() -> None:
    rig = load_demo("long-legged-trail-wagon")
    mine = read(rig, *READINGS)
    done: list[float] = []
    found = fitted_joint(mine, "pinion", done.append)
    assert found is not None
    # It shows what was read, within what readings and forecast are off.
    for each in found.readings:
        assert each.counts
        assert abs(each.fits - each.read) <= np.hypot(each.off, found.forecast_off)
    low, high = found.lowest
    assert low <= found.curve.touch_min <= high
    assert high - low < 0.4 * np.subtract(*found.before[::-1])
    assert (found.low <= found.high).all()
    assert found.contradictions == ()
    assert done == sorted(done)
    assert done[-1] == 1.0
    # What is measured from stays where it was, and the rig's parts are the fitted ones.
    generic = fitted_yoke(
        rig.shaft.pinion_end.shaft_yoke, fitted_cross(rig.shaft.pinion_end.cross), rig.shaft.tube
    )
    driving = found.pair.driving
    assert driving.tube_from == generic.tube_from
    parts = joint_hardware(mine, "pinion")
    assert parts.key == found.pair.key
    assert [note.code for note in parts.notes] == ["fitted"]
    # Kept: the same again, to the bit, whatever the readings are called and however typed.
    again = fitted_joint(read(rig, *({**each, "who": "counter"} for each in READINGS)), "pinion")
    assert again is not None
    assert again.z.tobytes() == found.z.tobytes()
    assert again.low.tobytes() == found.low.tobytes()
    assert again.next == found.next
    # What is worth most next is told best first, and none of it widens the band by much.
    worth = [each.narrows for each in found.next]
    assert worth == sorted(worth)
    assert worth[0] < 1.0
    # Bars have the draws where they are, though the yokes shown are not quite halfway, and all that
    # the readings leave open is in the draws.
    assert band(found.touches) == pytest.approx(found.lowest, abs=radians(0.05))
    assert np.median(found.touches) == pytest.approx(found.curve.touch_min, abs=radians(0.6))
    shape = FittedShape.of(found, 1.0)
    left = np.array(middle_95(left_draws(shape, 0.0))) + found.curve.touch_min
    assert left == pytest.approx(found.lowest, abs=radians(0.06))
    ends = shape.clear(np.array([[-1.96], [0.0], [1.96]]))
    assert ends[1] == pytest.approx(found.curve.certified_clear, abs=radians(0.05))
    assert ends[2] - ends[0] == pytest.approx(high - low, rel=0.15)


class Late(Outlook):
    """An outlook that forecasts every touch 1 deg too late."""

    def readings(self, told: tuple[Told, ...]) -> Predict:
        return lambda z: super(Late, self).readings(told)(z) + radians(1.0)


@pytest.fixture(scope="module")
def outlook() -> Outlook:
    doubt = doubt_of(load_demo("long-legged-trail-wagon"), "pinion")
    assert doubt is not None
    return Outlook.of(library(doubt))


@pytest.mark.slow
def test_yokes_are_sought_anew_where_they_touch_elsewhere_than_was_forecast(
    outlook: Outlook,
) -> None:
    """So that what is shown reads as was read, and is halfway, whatever the forecast is off."""
    late = Late(outlook.known, outlook.lines, outlook.forecast, outlook.off)
    rig = read(load_demo("long-legged-trail-wagon"), READINGS[1])
    by = Agreement(late, told(rig, "pinion"))
    draws = by.agreeing((0,))
    found = shown(by, (0,), draws)
    assert found.curve.touch_min == pytest.approx(np.median(by.lowest(draws)), abs=radians(0.5))


@pytest.mark.slow
def test_each_place_has_the_error_that_is_known_of_it(outlook: Outlook) -> None:
    mine = told(read(load_demo("long-legged-trail-wagon"), *READINGS), "pinion")
    sharp = replace(outlook, known_off={None: radians(0.3), mine[0].place: radians(2.0)})
    by = Agreement(sharp, mine)
    asked = (None, mine[0].place, mine[1].place)
    spread = [SURE * float(by.error(each, by.kind).std()) for each in asked]
    expected = [radians(0.3), radians(2.0), outlook.off]
    assert spread == pytest.approx(expected, rel=0.05)
    # The kind's own band has it too.
    plain = by.outlook.touch(by.shapes(by.kind)).min(axis=1)
    assert np.std(by.before() - plain) * SURE == pytest.approx(radians(0.3), rel=0.05)


@pytest.mark.slow
def test_the_reading_told_as_worth_most_leaves_as_much_as_was_said() -> None:
    """The lowest read to 1/2 deg leaves a band of 1 deg; see `test_foretold` for that it does."""
    found = fitted_joint(read(load_demo("long-legged-trail-wagon"), *READINGS[:2]), "pinion")
    assert found is not None
    best = found.next[0]
    assert best.way == "lowest"
    assert best.band == pytest.approx(radians(1.0), rel=0.08)


@pytest.mark.slow
def test_readings_that_cannot_be_are_told_and_the_rest_is_computed() -> None:
    rig = load_demo("long-legged-trail-wagon")
    wild = {"clamped": "pinion yoke", "ears": "in line", "touches_at": "70 deg"}
    found = fitted_joint(read(rig, wild, *READINGS[1:]), "pinion")
    assert found is not None
    assert [(each.kind, each.numbers) for each in found.contradictions] == [("yoke", (1,))]
    assert [each.counts for each in found.readings] == [False, True, True]
    assert found.contradictions[0].nearest[0] < radians(70.0)
    codes = [note.code for note in joint_hardware(read(rig, wild, *READINGS[1:]), "pinion").notes]
    assert codes == ["fitted", "yoke-fight"]


def test_without_readings_nothing_is_fitted() -> None:
    assert fitted_joint(load_demo("long-legged-trail-wagon"), "pinion") is None


def test_there_is_a_turn_for_every_word() -> None:
    rig = load_demo("long-legged-trail-wagon")
    words = ("in line", "between", "across", "any")
    for clamped, ears in product(("shaft yoke", "pinion yoke"), words):
        reading = {"clamped": clamped, "ears": ears, "touches_at": "30 deg"}
        assert told(read(rig, reading), "pinion")[0].turned.word == ears
    turned = told(read(rig, {"turned": "30 deg", "touches_at": "30 deg"}), "pinion")[0].turned
    assert turned.ears == pytest.approx(radians(30.0))
    assert turned.word == ""
