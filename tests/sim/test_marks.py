"""Marks of a demo rig: where the trade says that they are, and back from them to the travel."""

from functools import cache
from math import degrees, isnan, pi, radians

import numpy as np
import pytest

from geometry.clock import apart, clock
from sim.assessment import Assessment, Assessor
from sim.line import line
from sim.marks import Marks, SeenMark, backward, marks_of, overlap
from sim.marks.crosses import crosses_of
from sim.marks.overlap import Cells
from sim.rig.demos import load_demo
from sim.rig.typed_joints import NoSuchJointError

pytestmark = pytest.mark.slow

HOUR = pi / 6.0


@cache
def assessed(name: str) -> Assessment:
    return Assessor().assess(load_demo(name))


@cache
def marks(name: str, joint: str) -> Marks:
    return marks_of(assessed(name), joint)  # type: ignore[arg-type]


def test_tips_at_twelve_and_six_meet_the_other_throat_at_three_and_nine() -> None:
    # Half-moons on two opposite ear tips, mating dents either side of the other throat: common
    # practice, no source.
    found = marks("marsh-runner", "pinion").at_touch
    tips = {round(m.patch.clock / HOUR) % 12 for m in found if m.patch.surface == "ear tip"}
    dents = {
        round(m.patch.clock / HOUR) for m in found if m.patch.surface == "throat" and m.on == "end"
    }
    assert tips == {0, 6}
    assert dents == {3, 9}
    assert all(mark.patch.pair for mark in found)


def test_the_first_to_touch_is_what_the_touch_curve_says() -> None:
    for name, joint in (("marsh-runner", "pinion"), ("long-legged-trail-wagon", "pinion")):
        curve = assessed(name).joints[joint].curve  # type: ignore[index]
        found = marks(name, joint)
        assert found.touch == pytest.approx(curve.touch_min, abs=radians(0.1))
        first = min(found.at_touch, key=lambda mark: mark.bend)
        assert curve.first is not None
        assert {first.patch.surface, first.patch.against} == set(curve.first.surfaces)


def test_no_touch_no_marks() -> None:
    found = marks("goat-path-buggy", "pinion")
    assert not found.touches
    assert not found.reached
    assert found.at_touch == found.forced == ()
    further = marks_of(assessed("goat-path-buggy"), "pinion", bend=found.touch + radians(2.0))
    assert further.touches
    assert not further.reached
    assert all(mark.first is None for mark in further.forced)


def test_marks_where_they_are_computed_speak_for_it_and_elsewhere_against() -> None:
    found = marks("marsh-runner", "pinion")
    there = [SeenMark("shaft", "ear tip", 0.0), SeenMark("end", "throat", 3 * HOUR)]
    away = [SeenMark("shaft", "ear tip", 3 * HOUR), SeenMark("end", "throat", 0.0)]
    assert overlap(there, found).share > 0.8
    assert overlap(there, found).ratio > 5.0
    assert overlap(away, found).share < 0.1
    assert overlap(away, found).ratio < 0.1
    assert overlap([], found).ratio == 1.0


def test_a_mark_seen_where_one_is_computed_is_that_one() -> None:
    found = marks("marsh-runner", "pinion")
    asked = [m for m in found.forced if m.on in ("shaft", "end") and m.patch.clock is not None]
    assert asked
    for mark in asked:
        seen = SeenMark(mark.on, mark.patch.surface, mark.patch.clock)  # type: ignore[arg-type]
        (placed,) = overlap([seen], found).marks
        near = placed.nearest
        assert near is not None
        assert near.on == mark.on
        assert mark.patch.surface in near.patch.surfaces
        assert np.min(apart(clock(near.patch.points), mark.patch.clock)) < radians(5.0)


def test_back_from_a_mark_to_the_bend_that_first_makes_it() -> None:
    found = assessed("marsh-runner")
    made = backward(found, "pinion", SeenMark("shaft", "ear tip", 0.0))
    first = min(
        m.bend for m in marks("marsh-runner", "pinion").forced if m.patch.surface == "ear tip"
    )
    assert degrees(made.low) == pytest.approx(degrees(first), abs=0.1)
    assert made.reached
    assert made.first


def test_a_joint_that_there_is_not() -> None:
    with pytest.raises(NoSuchJointError, match="no middle joint; this shaft has output, pinion"):
        marks("marsh-runner", "middle")


@pytest.mark.parametrize("degrees_past", [1.2, 2.4])
@pytest.mark.parametrize("number", [0, 1, 2])
def test_a_seeded_mark_gives_back_the_pose_that_made_it(degrees_past: float, number: int) -> None:
    """A mark is made by bending the joint so far and no farther; its place and depth then lead back
    to that bend and turn."""
    found = assessed("marsh-runner")
    bend = found.joints["pinion"].curve.touch_min + radians(degrees_past)
    made = [m for m in marks_of(found, "pinion", bend=bend).forced if m.patch.depth > 0.15]
    seed = made[number % len(made)]
    patch = seed.patch
    assert seed.on in {"shaft", "end"}
    mark = SeenMark(seed.on, patch.surface, patch.clock, patch.depth)  # type: ignore[arg-type]
    back = backward(found, "pinion", mark)
    assert degrees(back.high) == pytest.approx(degrees(bend), abs=0.3)
    assert back.low <= bend
    deepest = float(patch.pressed.spin[int(patch.depths.argmax())])
    assert any((deepest - low) % (2 * pi) <= high - low for low, high in back.spins)
    assert back.reached
    assert back.nearest is not None
    there = line(found.vehicle, back.nearest.travel, back.nearest.roll, back.nearest.wrap)
    assert float(there.bends["pinion"]) >= back.low - radians(0.06)


def test_the_share_of_the_poses_that_reach_a_mark() -> None:
    """Against poses strewn over the travel, each put on the road by the line of the shaft."""
    found = assessed("marsh-runner")
    rng = np.random.default_rng(5)
    region = found.vehicle.travel
    poses = rng.uniform(region.low, region.high, (4000, 3))
    poses = poses[region.contains(*poses.T)]
    bends = line(found.vehicle, *poses.T).bends["pinion"]
    for mark in (SeenMark("shaft", "ear tip"), SeenMark("end", "bolt")):
        back = backward(found, "pinion", mark)
        assert 0.0 < back.share < 1.0
        assert back.share == pytest.approx(float(np.mean(bends >= back.low)), abs=0.05)


def test_a_cross_of_a_head_bends_back_to_its_whole() -> None:
    """From the whole bend to that of either cross and back again; both together are the whole."""
    hardware = assessed("short-tailed-scout").joints["output"].hardware
    one, other = crosses_of(hardware)
    for bend in np.radians([5.0, 15.0, 30.0]).tolist():
        here = [cross.bend(bend) for cross in (one, other)]
        assert here[0] != pytest.approx(here[1], rel=1e-4)
        assert sum(here) == pytest.approx(bend, rel=1e-9)
        assert [cross.whole(b) for cross, b in zip((one, other), here, strict=True)] == (
            pytest.approx([bend, bend], abs=1e-6)
        )


def test_a_mark_that_no_pose_reaches_says_so() -> None:
    found = assessed("goat-path-buggy")
    back = backward(found, "pinion", SeenMark("shaft", "ear tip", 0.0))
    assert back.possible
    assert back.low > back.most
    assert not back.reached
    assert back.takes is None
    assert back.share == 0.0


def test_a_place_that_nothing_reaches_was_made_by_something_else() -> None:
    back = backward(assessed("marsh-runner"), "pinion", SeenMark("shaft", "ear tip", 3 * HOUR))
    assert not back.possible
    assert not back.reached
    assert back.spins == ()


def test_the_chance_is_the_share_of_marks_put_anywhere() -> None:
    """Thousands of marks strewn over the rims by area, each asked as if it were seen."""
    found = marks("marsh-runner", "pinion")
    rng = np.random.default_rng(4)
    shares, areas = [], []
    cells = Cells(found)
    for (number, body), rim in found.rims.items():
        side = found.crosses[number].side(body)
        for i in rng.choice(len(rim), 1500):
            place = SeenMark(side, rim.names[rim.labels[i]], float(clock(rim.points[i])))  # type: ignore[arg-type]
            shares.append(cells.share(place))
            areas.append(rim.areas[i] * len(rim))
    mean = float(np.average(shares, weights=areas))
    assert mean == pytest.approx(cells.chance, abs=0.012)


def test_what_is_symmetric_is_told_symmetrically() -> None:
    """Both yokes are the same after half a turn and in the mirror."""
    found = marks("marsh-runner", "pinion")
    for yoke, surface, hour in (
        ("shaft", "ear tip", 0.4),
        ("end", "throat", 2.7),
        ("end", "bolt", 1),
    ):
        alike = [hour, 12 - hour, 6 - hour, 6 + hour]
        seen = [SeenMark(yoke, surface, h * HOUR % (2 * pi)) for h in alike]  # type: ignore[arg-type]
        shares = [each.share for each in overlap(seen, found).marks]
        assert shares == pytest.approx([shares[0]] * 4, abs=1e-6)
    by_kind: dict[tuple[str, str, float], list[float]] = {}
    for mark in found.forced:
        key = mark.on, mark.patch.surface, round(mark.patch.depth, 6)
        by_kind.setdefault(key, []).append(mark.patch.clock or 0.0)
    for clocks in by_kind.values():
        turned = sorted(round((c + pi) % (2 * pi), 6) for c in clocks)
        assert turned == pytest.approx(sorted(round(c % (2 * pi), 6) for c in clocks), abs=1e-5)


def test_what_nobody_said_of_a_mark_counts_neither_way() -> None:
    found = marks("marsh-runner", "pinion")
    told = overlap([SeenMark("end", "no such surface", 0.0)], found)
    assert isnan(told.share)
    assert told.ratio == 1.0
    anywhere = overlap([SeenMark("shaft"), SeenMark("end")], found)
    assert 0.2 < anywhere.ratio < 5.0


def test_only_at_more_than_the_first_touch() -> None:
    """Bolts reach the throat of this rig only past where the ear tips do."""
    found = marks("marsh-runner", "pinion")
    bolts = [mark for mark in found.forced if mark.patch.surface == "bolt"]
    tips = [mark for mark in found.forced if mark.patch.surface == "ear tip"]
    assert len(bolts) == 4
    assert not any(mark.comes_first for mark in bolts)
    assert all(mark.comes_first for mark in tips)
    assert bolts[0].first is not None
    assert tips[0].first is not None
    assert bolts[0].first.travel < tips[0].first.travel < 0.0
    assert {mark.patch.depth <= 0.5 + 1e-3 for mark in found.at_touch} == {True}
    assert max(mark.patch.depth for mark in found.at_touch) > 0.3


def test_marks_of_a_head_are_on_both_of_its_crosses() -> None:
    found = marks_of(assessed("short-tailed-scout"), "output", bend=radians(34.5))
    assert {mark.cross for mark in found.forced} == {0, 1}
    assert {mark.on for mark in found.forced} == {"shaft", "end", "center"}
    assert found.touch == pytest.approx(radians(32.61), abs=radians(0.1))
    assert all(mark.first is None for mark in found.forced)
    assert min(mark.bend for mark in found.forced) == pytest.approx(found.touch, abs=radians(0.1))
