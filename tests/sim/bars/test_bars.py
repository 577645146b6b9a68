"""Error bars against the normal distribution, against whole assessments of rigs typed anew, and
against themselves put another way.
"""

from functools import cache
from math import degrees, radians, sqrt

import numpy as np
import pytest
from scipy.stats import norm

from geometry.errors import BindpointError
from sim.accuracy.source import SURE, Source
from sim.assessment import Assessment, Assessor
from sim.bars import Bars, BarsError, bars, first_bars, kept_bars
from sim.bars.kept import place_of, write_bars
from sim.bars.slopes import Slopes
from sim.rig import Rig, changed, load_demo, parse_rig
from tests.sim.bars.by_hand import one_throat, source
from tests.sim.rigs import COORDINATES, PHONE_CALL, spoilt


@cache
def of_demo(name: str) -> Assessment:
    return Assessor().assess(load_demo(name))


def wagon() -> Assessment:
    """A rig whose pinion joint touches, and whose output joint touches by a little."""
    return of_demo("long-legged-trail-wagon")


SOURCES = (
    ("travel.droop", 6.0),
    ("output.points_down", radians(0.5)),
    ("axle.points_up", radians(0.5)),
    ("travel.nose_up", radians(1.0)),
    ("shaft.slip.opens", 4.0),
)


def some(found: Assessment) -> list[Source]:
    return [source(found.rig, key, off) for key, off in SOURCES]


def both(found: Assessment, sources: list[Source], shapes: dict) -> tuple[Bars, Bars]:
    full = bars(found, draws=256, sources=sources, shapes=shapes)
    return first_bars(found, sources=sources, shapes=shapes), full


FLAT = spoilt(
    COORDINATES,
    ('["47 in", "1 1/2 in", "9 in"]', '["47 in", "0 in", "9 in"]'),
    ('points_right = "1 deg"', 'points_right = "0 deg"'),
    ('bump = "4 in"', 'bump = "0 in"'),
    ('droop = "8 in"', 'droop = "0 in"'),
    ('roll = "8 deg"', 'roll = "0 deg"'),
    ('nose_up = "8 deg"', 'nose_up = "0 deg"'),
    ('nose_down = "4 deg"', 'nose_down = "0 deg"'),
)
"""A rig that does not move, with output, shaft and pinion in one upright plane."""


def steep(short_of: float) -> Assessment:
    """That rig with the output pointing up so far that its joint is so far (rad) from touching."""
    rig = parse_rig(FLAT)
    joint = Assessor().assess(rig).joints["output"]
    up = joint.clear - short_of - joint.ride - rig.output.down
    return Assessor().assess(changed(rig, {"output.points_up": f"{degrees(up):.12f} deg"}))


@pytest.mark.parametrize("short_of", [-0.01, 0.004, 0.02])
def test_an_output_that_bends_its_joint_one_to_one_touches_by_the_normal_law(
    short_of: float,
) -> None:
    found, deviation = steep(short_of), 0.01
    assert found.joints["output"].margin == pytest.approx(short_of, abs=1e-9)
    for made in both(found, [source(found.rig, "output.points_up", SURE * deviation)], {}):
        told, turns = made.named("joint-bend", "output"), made.named("turns-at-ride", "axle")
        assert told is not None
        assert told.band is not None
        assert told.chance == pytest.approx(norm.cdf(-short_of / deviation), abs=told.chance_off)
        half = SURE * deviation
        assert radians(told.band.low) == pytest.approx(short_of - half, abs=0.02 * half)
        assert radians(told.band.high) == pytest.approx(short_of + half, abs=0.02 * half)
        # It does not move, so it turns free at ride height just as often.
        assert turns is not None
        assert turns.chance == told.chance
        assert made.chance == pytest.approx(told.chance, abs=1e-12)


def test_a_chance_is_that_of_the_normal_law_where_one_shape_alone_decides() -> None:
    found = wagon()
    joint = found.joints["output"]
    deviation = radians(1.5)
    told = norm.cdf(-joint.margin / deviation)
    assert 0.5 < told < 0.99
    for made in both(found, [], {"output": one_throat("output", joint.clear, deviation)}):
        named = made.named("joint-bend", "output")
        assert named is not None
        assert named.band is not None
        assert named.chance == pytest.approx(told, abs=named.chance_off)
        assert made.unshaped == ("pinion",)
        half = SURE * deviation
        assert radians(named.band.low) == pytest.approx(joint.margin - half, abs=0.02 * half)
        assert radians(named.band.high) == pytest.approx(joint.margin + half, abs=0.02 * half)


def test_slopes_add_up_by_squares_as_whole_assessments_of_rigs_typed_anew_say() -> None:
    """First-order propagation [derivation: the variance of a sum], by another way to every rig."""
    found = wagon()
    squares = dict.fromkeys(("joint-bend", "slip-opens"), 0.0)
    for key, off in SOURCES:
        was = source(found.rig, key, off)
        unit = "mm" if was.unit == "mm" else "rad"
        more, less = (
            Assessor().assess(changed(found.rig, {key: f"{was.value + way * off:.12f} {unit}"}))
            for way in (0.25, -0.25)
        )
        squares["joint-bend"] += (2.0 * (more.margins["pinion"] - less.margins["pinion"])) ** 2
        squares["slip-opens"] += (2.0 * (more.opens_left - less.opens_left)) ** 2
    for made in both(found, some(found), {}):
        bend, opens = made.named("joint-bend", "pinion"), made.named("slip-opens", "slip")
        assert bend is not None
        assert opens is not None
        for told, half in ((bend, degrees(sqrt(squares["joint-bend"]))),
                           (opens, sqrt(squares["slip-opens"]))):  # fmt: skip
            assert told.band is not None
            assert 0.5 * (told.band.high - told.band.low) == pytest.approx(half, rel=0.03)


def test_a_band_lies_about_what_the_check_says() -> None:
    found = wagon()
    for made in both(found, some(found), {}):
        for joint in ("output", "pinion"):
            told = made.named("joint-bend", joint)
            assert told is not None
            assert told.band is not None
            assert told.worst is not None
            margin, most = degrees(found.joints[joint].margin), degrees(found.joints[joint].most)
            assert told.band.low < margin < told.band.high
            assert told.worst.low < most < told.worst.high
            assert told.worst.high - most == pytest.approx(margin - told.band.low, rel=0.02)
        pinion = made.named("joint-bend", "pinion")
        assert pinion is not None
        assert pinion.first is not None
        first = found.joints["pinion"].first
        assert first is not None
        assert pinion.first.low < first.travel < pinion.first.high
        assert pinion.at is not None
        assert pinion.at.travel.low < found.joints["pinion"].where.travel < pinion.at.travel.high


def test_twice_the_draws_and_another_seed_come_to_the_same_within_what_is_stated() -> None:
    found = steep(0.004)
    doubts = [source(found.rig, "output.points_up", SURE * 0.01)]
    told = [
        bars(found, seed, draws, doubts, {})
        for seed, draws in ((0, 128), (0, 256), (1, 128), (2, 64))
    ]
    for one in told:
        for other in told:
            apart = abs(one.chance - other.chance)
            assert apart <= one.chance_off + other.chance_off


def test_nothing_depends_on_the_order_of_the_sources_and_a_seed_says_all() -> None:
    found = wagon()
    sources = some(found)
    one, other = bars(found, 3, 64, sources, {}), bars(found, 3, 64, sources[::-1], {})
    assert one == other
    assert one == bars(found, 3, 64, sources, {})
    assert one != bars(found, 4, 64, sources, {})
    assert first_bars(found, sources=sources, shapes={}) == first_bars(
        found, sources=sources[::-1], shapes={}
    )


def test_full_bars_are_kept_by_all_that_they_follow_from(monkeypatch: pytest.MonkeyPatch) -> None:
    found, seen = wagon(), of_demo("short-tailed-scout")
    sources = some(found)
    made = bars(found, 5, 32, sources, {})
    with monkeypatch.context() as closed:
        closed.setattr("sim.bars.how_sure._in_full", None)
        assert bars(found, 5, 32, sources, {}) == made
        other = [source(found.rig, key, 1.01 * off) for key, off in SOURCES]
        shape = {"output": one_throat("output", found.joints["output"].clear, 0.01)}
        for asked in (
            (found, 6, 32, sources, {}),
            (found, 5, 64, sources, {}),
            (found, 5, 32, other, {}),
            (found, 5, 32, sources[1:], {}),
            (found, 5, 32, sources, shape),
            (seen, 5, 32, sources, {}),
        ):
            with pytest.raises(TypeError):
                bars(*asked)


def test_kept_bars_are_asked_for_without_making_anything(monkeypatch: pytest.MonkeyPatch) -> None:
    """A check asks for them before it has any others: no library of shapes is made for that."""
    found = steep(0.004)
    made = bars(found, 9, 16, shapes={})
    monkeypatch.setattr("sim.bars.doubts.shape_of", None)
    monkeypatch.setattr("sim.bars.how_sure._in_full", None)
    assert kept_bars(found, 9, 16) is None  # those had no shapes
    write_bars(place_of(found, 9, 16), made)
    assert kept_bars(found, 9, 16) == made
    assert bars(found, 9, 16) == made
    assert kept_bars(found, 10, 16) is None


def _only_longer(rig: Rig, off: float) -> Rig:
    if off < 0.0:
        raise _CannotBeError
    return rig


class _CannotBeError(BindpointError, ValueError):
    """No such rig."""


def test_a_rig_that_cannot_be_is_counted_and_in_no_chance() -> None:
    found = steep(0.004)
    sources = [
        source(found.rig, "output.points_up", SURE * 0.01),
        Source("travel.bump", 0.0, "mm", 1.0, "typed", put=_only_longer),
    ]
    made = bars(found, draws=128, sources=sources, shapes={})
    assert made.impossible == pytest.approx(64, abs=2)
    assert made.draws == 128
    told = made.named("joint-bend", "output")
    assert told is not None
    assert told.chance == pytest.approx(norm.cdf(-0.4), abs=0.04)


def test_rigs_of_which_none_can_be_have_no_bars() -> None:
    found = steep(0.004)

    def never(_rig: Rig, off: float) -> Rig:
        if off != 0.0:
            raise _CannotBeError
        return _rig

    sources = [Source("travel.bump", 0.0, "mm", 1.0, "typed", put=never)]
    with pytest.raises(BarsError, match=r"came 32 rigs .* none can be, expected some"):
        bars(found, 1, 32, sources, {})


def test_a_slip_that_nobody_measured_is_not_judged() -> None:
    found = Assessor().assess(parse_rig(PHONE_CALL))
    for made in both(found, [source(found.rig, "travel.droop", 6.0)], {}):
        assert not [each for each in made.findings if each.subject == "slip"]


def test_a_joint_that_touches_at_ride_height_first_touches_there() -> None:
    found = steep(-0.05)
    for made in both(found, [source(found.rig, "output.points_up", 0.01)], {}):
        told = made.named("joint-bend", "output")
        assert told is not None
        assert told.chance == 1.0
        assert told.likely == "touches"
        assert told.first is not None
        assert (told.first.low, told.first.high) == (0.0, 0.0)
        assert told.level is not None
        assert (told.level.low, told.level.high) == (0.0, 0.0)


def test_without_anything_that_may_be_off_the_chance_is_what_the_check_says() -> None:
    for found, chance in ((wagon(), 1.0), (steep(0.004), 0.0)):
        for made in both(found, [], {}):
            assert made.chance == chance
            assert made.keys == ()
            bend = made.named("joint-bend", "output")
            assert bend is not None
            assert bend.band is not None
            margin = degrees(found.joints["output"].margin)
            assert (bend.band.low, bend.band.high) == pytest.approx((margin, margin), abs=1e-9)


def test_a_first_contact_is_of_those_that_touch_and_lies_in_the_travel() -> None:
    """The output joint's touch in doubt by 3 deg: many trucks clear, whose height would lie beyond.

    Straight lines give each draw a height; a whole truck has none unless it touches.
    """
    found = wagon()
    shapes = {"output": one_throat("output", 0.4, radians(1.5))}
    first, full = both(found, [source(found.rig, "output.points_down", radians(0.5))], shapes)
    travel = found.vehicle.travel
    one, other = (
        next(
            each for each in made.findings if (each.code, each.subject) == ("joint-bend", "output")
        )
        for made in (first, full)
    )
    assert 0.05 < one.chance < 0.95
    assert one.first is not None
    assert other.first is not None
    assert -travel.droop <= one.first.low < one.first.high < 0.0
    assert -travel.droop <= other.first.low
    assert one.first.low == pytest.approx(other.first.low, abs=0.02 * travel.droop)


def test_straight_lines_lead_no_height_out_of_the_travel() -> None:
    """Of one thing looked at: value, pose and both heights, 100 mm more for each deviation."""
    middle, more = np.full((1, 6), -50.0), np.full((1, 1, 6), 100.0)
    lines = Slopes(middle, (-120.0, 80.0), more, -more)
    (up,), (down,) = lines.moved(np.array([[2.0], [-2.0]]))
    assert up == pytest.approx([150.0, 150.0, 150.0, 150.0, 80.0, 80.0])
    assert down == pytest.approx([-250.0, -250.0, -250.0, -250.0, -120.0, -120.0])
