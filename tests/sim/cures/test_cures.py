"""Cures do what they promise: each claim checked again by a plain check of the cured rig."""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from sim.assessment import Assessor, JointRoom
from sim.check import check
from sim.cures import REMEDIES, Cures, WeightsError, find_cures, weights
from sim.cures.remedies.longer_shaft import LongerShaft
from sim.cures.remedies.pinion import PinionTurn
from sim.cures.remedy import Dose, Remedy
from sim.cures.search import smallest
from sim.cures.trial import Bench, Goal, reaches
from sim.derive import ride_height_of, vehicle_of
from sim.line import margins
from sim.rig import parse_rig
from sim.rig.change import changed
from sim.rig.demos import load_demo
from sim.rig.document import rig_text
from tests.kept import kept
from tests.sim.cures.cases import case_of
from viewer.words.cures import cost_words, cure_price
from viewer.words.remarks import said

BOUND = ("long-legged-trail-wagon", "marsh-runner", "goat-path-buggy")


@kept
def cures_of(name: str) -> Cures:
    return find_cures(load_demo(name))


@pytest.mark.slow
@pytest.mark.parametrize("name", BOUND)
def test_cures_do_what_they_promise(name: str) -> None:
    """All that is promised of the cures of one rig, which take long to find."""
    a_cure_that_works_passes_a_plain_check_of_its_own_file(name)
    no_pose_of_a_cured_rig_is_worse_than_promised(name)
    a_smaller_dose_does_not_do(name)


def a_cure_that_works_passes_a_plain_check_of_its_own_file(name: str) -> None:
    """The file is written, read again and checked by the command's own way."""
    found = cures_of(name)
    working = [cure for cure in found.cures if cure.works]
    assert working
    for cure in working[:3]:
        again = check(parse_rig(rig_text(cure.rig)))
        codes = {f.code for f in again.findings if f.verdict != "clear"}
        assert codes <= {"surroundings", "beyond-readings"}, cure.says
        for joint, margin in cure.after.margins.items():
            assert again.joints[joint].margin == pytest.approx(margin, abs=1e-5)
        slip = again.found.swept.slip
        assert slip.closes_left == pytest.approx(cure.after.closes_left, abs=0.01)
        assert slip.opens_left == pytest.approx(cure.after.opens_left, abs=0.01)


def no_pose_of_a_cured_rig_is_worse_than_promised(name: str) -> None:
    """Brute force over the cured travel: no pose has less left than the cure says."""
    assessor = Assessor()
    rng = np.random.default_rng(7)
    for cure in cures_of(name).cures[:3]:
        vehicle = vehicle_of(cure.rig)
        clear = {joint: assessor.room(cure.rig, joint).clear for joint in vehicle.joints}
        low, high = vehicle.travel.low, vehicle.travel.high
        poses = low + rng.random((4000, 3)) * (high - low)
        poses = poses[vehicle.travel.contains(*poses.T)]
        assert len(poses) > 100
        left = margins(vehicle, *poses.T, clear)
        for joint, margin in cure.after.margins.items():
            assert np.nanmin(left.joints[joint]) >= margin - 1e-6
        assert np.nanmin(left.closes) >= cure.after.closes_left - 1e-3
        assert np.nanmin(left.opens) >= cure.after.opens_left - 1e-3


def a_smaller_dose_does_not_do(name: str) -> None:
    """The dose before the one that is named fails, in the same series."""
    assessor = Assessor()
    found = cures_of(name)
    for cure in found.cures:
        if not cure.works or len(cure.trials) > 1:
            continue
        trial = cure.trials[0]
        dose = trial.case.dose
        series = next(s for s in trial.remedy.doses(found.rig) if dose in s)
        place = series.index(dose)
        if place > 0:
            less = assessor.could(trial.remedy.applied(found.rig, series[place - 1]))
            assert less is None or not reaches(less.held, found.goal), cure.says


@pytest.mark.slow
def test_cures_are_offered_the_working_ones_first_and_the_cheapest_first() -> None:
    cures = cures_of("goat-path-buggy").cures
    works = [cure.works for cure in cures]
    assert works == sorted(works, reverse=True)
    scores = [cure.score for cure in cures if cure.works]
    assert scores == sorted(scores)
    for cure in cures:
        assert len(cure.says) == len(cure.costs) == len(cure.trials)
        assert all(cure.says)
        assert all(cure.costs)


@pytest.mark.slow
def test_a_clear_rig_needs_no_cure() -> None:
    found = cures_of("quarry-hauler")
    assert found.before.verdict == "clear"
    assert found.cures == ()


@pytest.mark.slow
def test_the_user_can_change_what_comes_first(tmp_path: Path) -> None:
    """With slips dear and travel for nothing the straps are offered first."""
    place = tmp_path / "mine.toml"
    codes = [remedy.code for remedy in REMEDIES]
    dear = ("longer-slip", "slip-in-shaft")
    table = "\n".join(f"[{c}]\nparts = {9 if c in dear else 1}\nhours = 1" for c in codes)
    place.write_text(f"hour = 1\ntravel = 0\n{table}\n", "utf-8")
    found = find_cures(load_demo("goat-path-buggy"), weights(place))
    first = found.cures[0].trials[0].remedy.code
    assert first == "limit-straps"
    assert cures_of("goat-path-buggy").cures[0].trials[0].remedy.code == "longer-slip"


def test_weights_that_cannot_be_used_are_one_line(tmp_path: Path) -> None:
    place = tmp_path / "mine.toml"
    with pytest.raises(WeightsError, match="expected a TOML file"):
        weights(place)
    place.write_text("hour = -1\ntravel = 2\n", "utf-8")
    with pytest.raises(WeightsError, match="hour: came -1, expected a number of zero or more"):
        weights(place)
    place.write_text("hour = 1\ntravel = 2\n[limit-straps]\nparts = 1\n", "utf-8")
    with pytest.raises(WeightsError, match=r"limit-straps\.hours: nothing typed"):
        weights(place)
    place.write_text("[limit-strap]\nparts = 1\nhours = 2\n", "utf-8")
    with pytest.raises(WeightsError, match="limit-strap: came an unknown key, expected limit-stra"):
        weights(place)
    place.write_text("limit-straps = 3\n", "utf-8")
    with pytest.raises(WeightsError, match="came 3, expected a table with parts and hours"):
        weights(place)


def test_what_a_weights_file_leaves_out_stays_as_shipped(tmp_path: Path) -> None:
    place = tmp_path / "mine.toml"
    place.write_text("[limit-straps]\nparts = 7\nhours = 0\n", "utf-8")
    own, shipped = weights(place), weights()
    assert own.remedies["limit-straps"].parts == pytest.approx(7.0, abs=0.0)
    assert own.remedies["two-piece"] == shipped.remedies["two-piece"]
    assert own.hour == shipped.hour


def test_shipped_weights_have_every_remedy() -> None:
    assert {remedy.code for remedy in REMEDIES} <= set(weights().remedies)
    assert "no source" in weights().source


@pytest.mark.parametrize("remedy", REMEDIES, ids=lambda remedy: remedy.code)
def test_doses_rise_and_the_rig_is_never_changed(remedy: Remedy) -> None:
    rig = load_demo("long-legged-trail-wagon")
    before = rig_text(rig)
    for series in remedy.doses(rig):
        sizes = [dose.size for dose in series]
        assert sizes == sorted(sizes)
        remedy.applied(rig, series[0])
    assert rig_text(rig) == before


def test_straps_cost_the_travel_they_take() -> None:
    rig = load_demo("goat-path-buggy")
    cures = cures_of("goat-path-buggy").cures
    cure = next(each for each in cures if each.trials[0].remedy.code == "limit-straps")
    trial = cure.trials[0]
    assert rig.travel.droop.mm - cure.rig.travel.droop.mm == pytest.approx(
        trial.case.dose.size, abs=0.01
    )
    assert "62%" in cost_words(cure.costs[0])


def test_a_shaft_without_wrap_gets_no_bar() -> None:
    rig = changed(
        load_demo("marsh-runner"), {"travel.nose_up": "0 deg", "travel.nose_down": "0 deg"}
    )
    bar = next(remedy for remedy in REMEDIES if remedy.code == "anti-wrap-bar")
    assert bar.doses(rig) == ()


@pytest.mark.slow
def test_a_rig_that_says_nothing_of_its_shaft_is_assessed() -> None:
    """A phone call's worth of numbers has no [shaft] table at all."""
    rig = parse_rig(
        """
        [output]
        points_down = "3 deg"
        [ride_height]
        length = "36 5/16 in"
        shaft_points_down = "14 deg"
        [axle]
        points_up = "1 deg"
        [travel]
        bump = "4 in"
        droop = "8 in"
        """
    )
    assert "shaft" not in rig.typed()
    found, whole = Assessor().assess(rig), check(rig)
    assert found.verdict == whole.verdict == "touches"
    for joint, margin in found.margins.items():
        assert whole.joints[joint].margin == pytest.approx(margin, abs=1e-9)


@pytest.mark.slow
def test_too_small_a_gap_is_close_as_the_check_has_it() -> None:
    """Bend to spare and yet less gap than wanted: an outcome and a check say the same."""
    rig = load_demo("quarry-hauler")
    whole, assessor = check(rig), Assessor()
    gaps = {joint: found.gap.distance for joint, found in whole.joints.items()}
    least, most = sorted(gaps.values())
    # The bend that keeps a gap is known to 0.1 deg, at an ear some 60 mm out to 0.1 mm of gap.
    for wanted, tight in ((least - 0.1, 0), (0.5 * (least + most), 1), (most + 0.1, 2)):
        asked = changed(rig, {"wanted.gap": f"{wanted:.6f} mm"})
        found = assessor.assess(asked)
        assert len(found.tight) == tight
        assert set(found.tight) == {joint for joint, gap in gaps.items() if gap < wanted}
        told = [each.subject for each in check(asked).findings if each.code == "joint-gap"]
        assert set(found.tight) == set(told)
        assert found.verdict == ("close" if tight else "clear")


def test_a_head_that_nothing_touches_in_is_held_to_how_far_it_was_searched() -> None:
    """No joint has endless room: the certified bend counts where no metal was seen to meet."""
    rig = load_demo("quarry-hauler")
    assessor = Assessor()
    for joint in ("output", "pinion"):
        room = assessor.room(rig, joint)
        curve = room.touch
        untouched = SimpleNamespace(touch=lambda found=curve: replace(found, first=None))
        held = JointRoom(cast(Any, untouched), rig.wanted)
        assert held.clear == pytest.approx(curve.certified_clear, abs=0.0)
        assert held.verdict(curve.certified_clear) == "touches"


def test_a_head_on_a_front_axle_is_aimed_high() -> None:
    """Driving forward lowers the nose of a front pinion, so it has to start above the line."""
    head = next(remedy for remedy in REMEDIES if remedy.code == "double-cardan-head")
    for name, way in (("heather-moor-scout", -1.0), ("long-legged-trail-wagon", 1.0)):
        rig = load_demo(name)
        dose = head.doses(rig)[0][0]
        ride = ride_height_of(head.applied(rig, dose))
        to_head = -ride.shaft
        points_at = np.arctan2(to_head[2], abs(to_head[0]))
        low = way * np.radians(2.0)
        assert points_at - ride.pinion_up == pytest.approx(low, abs=1e-3)
        driven = ride.pinion_up + way * np.radians(2.0)
        assert driven == pytest.approx(points_at, abs=1e-3)


def test_only_a_pinion_that_ends_up_far_up_wants_more_oil() -> None:
    """The marsh runner's is turned from 2 deg down to 2 deg up, the wagon's up to 9 deg."""
    turn, assessor = PinionTurn(), Assessor()
    for name, up, far in (("marsh-runner", 4.0, False), ("long-legged-trail-wagon", 8.0, True)):
        rig = load_demo(name)
        before = assessor.assess(rig)
        trial = Bench(turn, rig, before, assessor).trial(Dose(np.radians(up), "up"))
        assert trial is not None
        assert ("oil" in cost_words(turn.costs(trial.case))) == far


def test_words_fit_the_axle_and_what_holds_it() -> None:
    """A front axle is set forward; where the springs are not known every way is named."""
    words = {
        cure.codes[0]: (said(cure.says[0]), cure_price(cure))
        for cure in cures_of("goat-path-buggy").cures
        if len(cure.trials) == 1
    }
    assert "longer arms, or cut and turn the perches, since no shim" in words["pinion-turn"][0]
    assert "hakes sooner: at ride height felt above" in words["pinion-turn"][1]
    assert "he slip then bottoms out, 1/8 in" in words["reset-slip"][1]
    longer = case_of(LongerShaft(), "goat-path-buggy", Dose(25.4))
    assert "the axle set forward" in said(LongerShaft().says(longer))
    assert "setting the axle forward" in cost_words(LongerShaft().costs(longer))


@pytest.mark.slow
def test_a_remedy_that_works_over_a_few_doses_only_is_found() -> None:
    """With so little slip a tube 3/8 in longer keeps both reserves; 1/4 and 1/2 in do not."""
    slip = {"at": "shaft", "closes": "1.60 in", "opens": "0.80 in", "comes_apart": "2.30 in"}
    rig = changed(load_demo("heather-moor-scout"), {"shaft.slip": slip})
    tube = next(each for each in REMEDIES if each.code == "reset-slip")
    assessor = Assessor()
    bench = Bench(tube, rig, assessor.assess(rig), assessor)
    found = smallest(bench, Goal("clear"))
    assert found is not None
    assert abs(found.case.dose.size) == pytest.approx(0.375 * 25.4, abs=0.01)
    assert check(found.case.cured).verdict == "clear"
    around = {
        dose.size for series in bench.series for dose in series if bench.works(dose, Goal("clear"))
    }
    assert len(around) <= 2, "narrower than any stride"
