"""How many pulls a trunnion root takes: by hand, by order, and at the ends."""

from dataclasses import replace
from math import cos, hypot, inf, log, pi, radians
from typing import get_args

import pytest

from sim.overload.cycles import cycles, pull
from sim.overload.duty import DutyError, duty
from sim.overload.pulls import Pulls, pulls_of
from sim.overload.root import PLASTIC, Root
from sim.overload.steel import SteelLine, steel_line
from sim.parts.catalogue import cross_shape, cross_sizes
from sim.parts.materials import material
from sim.remark import Remark
from sim.seen.words import Use
from sim.sizing import ShaftTorque
from sim.wrap.estimate import Estimate

CORE = material("case-hardened cross steel")
LINE = steel_line()


def torque(peak: float, slips: float | None = None, off: float = 0.1) -> ShaftTorque:
    wheel = None if slips is None else Estimate.share(slips, off)
    return ShaftTorque(Estimate.share(peak, off), wheel, "low gear", Remark("why"), 1.0, ())


def taken(
    peak: float, size: str = "27 x 82", bend: float = 15.0, use: str = "trail",
    slips: float | None = None, line: SteelLine = LINE,
) -> Pulls:  # fmt: skip
    root = Root.of(cross_shape(size), radians(bend))
    found = pulls_of(root, torque(peak, slips), duty(use), line, CORE)
    assert found is not None
    return found


def test_a_pull_by_hand() -> None:
    """No ripple, no coast: one pulsating cycle of 32 P l d / (pi (d^4 - h^4)) times the notch."""
    shape, peak = cross_shape("27 x 82"), 2.2e6
    root = Root.of(shape, 0.0)
    arm = 0.5 * (shape.span - shape.cap_length)
    d, hole, lever = shape.trunnion_diameter, 3.0, arm - 0.5 * shape.hub_span
    local = root.notch() * 32.0 * peak / (2.0 * arm) * lever * d / (pi * (d**4 - hole**4))
    still = replace(duty("street"), coast=0.0, turns=0)
    found = pulls_of(root, torque(peak), still, LINE, CORE)
    assert found is not None
    slope = log(3000.0) / log(2.5)
    assert found.local == pytest.approx(local, rel=1e-12)
    assert found.hardest.value == pytest.approx(3e6 * (1106.0 / local) ** slope, rel=1e-9)


def test_tires_that_never_slip_let_no_more_through_than_low_gear_gives() -> None:
    """The hardest pull of ordinary days is the lesser of the two, so far grip is as none known."""
    assert taken(2.2e6, slips=2.2e7).miles == taken(2.2e6).miles == taken(2.2e6, slips=2.2e6).miles
    assert taken(2.2e6, slips=1.1e6).miles.value > taken(2.2e6).miles.value


def test_the_line_goes_through_its_points() -> None:
    assert LINE.lasts(LINE.endures) == pytest.approx(3e6, rel=1e-12)
    assert LINE.lasts(2.5 * LINE.endures) == pytest.approx(1000.0, rel=1e-9)
    # Under its knee it falls off as Haibach has it, by 2 k - 1.
    step = LINE.lasts(0.5 * LINE.endures) / LINE.lasts(LINE.endures)
    assert log(step) / log(2.0) == pytest.approx(2.0 * LINE.slope - 1.0, rel=1e-9)
    assert LINE.lasts(0.0) == inf


def test_what_a_mean_does() -> None:
    """Pulsating is itself; there and back hurts less than twice it; pressed, less still."""
    assert LINE.pulsating(600.0, 300.0) == pytest.approx(600.0, rel=1e-12)
    assert LINE.pulsating(1200.0, 0.0) == pytest.approx(1200.0 / 1.5, rel=1e-12)
    assert LINE.pulsating(600.0, -300.0) == pytest.approx(200.0, rel=1e-12)
    assert LINE.pulsating(600.0, -900.0) == LINE.pulsating(600.0, -300.0)
    assert LINE.pulsating(600.0, 600.0) > 600.0


def test_a_pull_goes_up_ripples_and_comes_back() -> None:
    peak, bend = 1e6 / cos(0.5), 0.5
    found = pull(1e6, bend, 0.3, 4)
    large = [cycle for cycle in found if cycle.span > 0.5e6]
    small = [cycle for cycle in found if cycle.span <= 0.5e6]
    assert sum(cycle.number for cycle in large) == 1.0
    assert all(cycle.span == pytest.approx(1.3 * peak, rel=1e-12) for cycle in large)
    assert sum(cycle.number for cycle in small) == 8.0
    assert all(cycle.span == pytest.approx(peak - 1e6, rel=1e-9) for cycle in small)


def test_one_way_up_is_half_a_cycle() -> None:
    (only,) = cycles([0.0, 5.0])
    assert only == (5.0, 2.5, 0.5)
    assert cycles([3.0, 3.0]) == cycles([3.0]) == cycles([]) == ()


@pytest.mark.parametrize("bend", [0.0, 20.0])
def test_a_bigger_cross_takes_more(bend: float) -> None:
    lives = [taken(2e6, size.name, bend).hardest.value for size in cross_sizes()]
    stresses = [taken(2e6, size.name, bend).nominal for size in cross_sizes()]
    assert len(lives) > 3
    order = sorted(range(len(lives)), key=lambda i: stresses[i])
    assert [lives[i] for i in order] == sorted(lives, reverse=True)
    assert lives[-1] > lives[0]


def test_more_torque_and_more_bend_take_less() -> None:
    by_torque = [taken(t).hardest.value for t in (1e6, 1.5e6, 2e6, 2.5e6, 3e6)]
    by_bend = [taken(2e6, bend=b).hardest.value for b in (0.0, 10.0, 20.0, 30.0)]
    for lives in (by_torque, by_bend):
        assert lives == sorted(lives, reverse=True)
        assert len(set(lives)) == len(lives)


def test_the_band_holds_the_value_and_is_of_about_a_power_of_ten() -> None:
    found = taken(2.2e6)
    for band in (found.hardest, found.miles):
        assert band.low < band.value < band.high
        assert 3.0 < band.high / band.value < 30.0
        assert 3.0 < band.value / band.low < 30.0


def test_each_doubt_widens_the_band_by_itself() -> None:
    """Powers of e add as squares: torque to the slope, fillet by its notch, steel by its scatter.

    Without coast and ripple life goes as the local stress to the slope, so each is known by hand.
    """
    root = Root.of(cross_shape("27 x 82"), 0.0)
    still = replace(duty("street"), coast=0.0, turns=0, pulls=((1.0, 0.01),))
    usual, sharp, blunt = (root.notch(fillet) for fillet in (0.08, 0.05, 0.15))
    for off in (0.0, 0.2):
        found = pulls_of(root, torque(2.2e6, off=off), still, LINE, CORE)
        assert found is not None
        for band, often in ((found.hardest, 1.0), (found.miles, 3.0)):
            for life, notch, most in ((band.low, sharp, 1.0 + off), (band.high, blunt, 1.0 - off)):
                stress = hypot(log(notch / usual), log(most), log(1.2))
                power = hypot(LINE.slope * stress, log(often))
                # Where the line bends under its knee, it is less steep than that.
                expected = pytest.approx(power, rel=1e-9 if life < band.value else 0.2)
                assert abs(log(life / band.value)) == expected


def test_lesser_pulls_hurt_less() -> None:
    root = Root.of(cross_shape("27 x 82"), 0.2)
    only = replace(duty("street"), pulls=((0.5, 1.0),), off=1.0)
    half = pulls_of(root, torque(2e6), only, LINE, CORE)
    whole = pulls_of(root, torque(1e6), only, LINE, CORE)
    assert half is not None
    assert whole is not None
    assert half.miles.value == pytest.approx(whole.hardest.value, rel=1e-12)


def test_shock_comes_on_top_of_tires_that_slip() -> None:
    root, steady = Root.of(cross_shape("27 x 82"), 0.2), torque(3e6, slips=1e6)
    one, two = (
        pulls_of(root, replace(steady, shock=shock), duty("street"), LINE, CORE)
        for shock in (1.0, 2.0)
    )
    direct = pulls_of(root, torque(2e6), duty("street"), LINE, CORE)
    assert one is not None
    assert two is not None
    assert direct is not None
    assert two.miles.value == direct.miles.value
    assert one.miles.value > two.miles.value


def test_a_pull_past_the_core_is_the_last() -> None:
    root = Root.of(cross_shape("27 x 82"), 0.3)
    breaks = root.breaks_at(CORE)
    assert root.nominal(breaks / cos(0.3)) == pytest.approx(PLASTIC * CORE.breaks, rel=1e-12)
    for share, at_once in ((0.99, False), (1.0, True), (1.5, True)):
        found = taken(share * breaks, bend=17.188733853924695)
        assert found.at_once is at_once
        assert (found.hardest.value == 0.0) is at_once


def test_near_its_end_a_weaker_core_is_already_past_it() -> None:
    """With the torque sure, steel off by 1.2 breaks at once from 1/1.2 of that torque on."""
    root = Root.of(cross_shape("27 x 82"), 0.3)
    for share, none in ((0.82, False), (0.84, True)):
        sure = torque(share * root.breaks_at(CORE), off=0.0)
        found = pulls_of(root, sure, duty("street"), LINE, CORE)
        assert found is not None
        assert found.hardest.value > 0.0
        assert (found.hardest.low == 0.0) is none


def test_tires_that_slip_spare_the_joint() -> None:
    """Street never wedges a tire: its miles are those of the slip. Rocks do."""
    wedged, spared = taken(3e6, use="street"), taken(3e6, use="street", slips=1e6)
    assert spared.miles.value > 1e3 * wedged.miles.value
    assert spared.miles.value == taken(1e6, use="street").miles.value
    assert spared.hardest == wedged.hardest
    rocks = taken(3e6, use="rocks", slips=1e6)
    assert rocks.miles.value < rocks.hardest.value / duty("rocks").wedged
    assert rocks.miles.value == pytest.approx(rocks.hardest.value / duty("rocks").wedged, rel=0.05)


def test_every_use_is_a_duty() -> None:
    for use in get_args(Use):
        found = duty(use)
        assert found.pulls[0][0] == 1.0
        assert all(0.0 < share <= 1.0 and number > 0.0 for share, number in found.pulls)
        assert 0.0 <= found.coast < 1.0
        assert "no source" in found.source
    with pytest.raises(DutyError, match="got 'race', expected one of street"):
        duty("race")
