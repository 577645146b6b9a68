"""What was seen and what is computed, weighed together: what follows from how it is put."""

from functools import cache
from typing import Any

import pytest

from sim.assessment import Assessor
from sim.causes import infer, load_graph
from sim.parts.catalogue import yoke_class
from sim.rig.demos import demo_names, load_demo
from sim.rig.typed_joints import typed_joint
from sim.seen import NoSuchJointError, inspection_from_data
from sim.seen.demos import load_demo as seen_demo
from sim.seen.words import CAPS
from sim.vehicle import Joint
from sim.why.asked import marks_seen
from sim.why.case import Case
from sim.why.why import TELLS, Why, priors_of, weigh, why


@cache
def case(name: str, joint: Joint = "pinion") -> Case:
    """A joint of a demo rig."""
    return Case(Assessor().assess(load_demo(name)), joint)


def told(name: str, **seen: Any) -> Why:
    """The answer to an inspection of a demo's pinion joint."""
    data = {"schema": 1, "kind": "inspection", "joint": "pinion", **seen}
    return weigh(case(name), inspection_from_data(data))


def test_the_odds_are_those_of_the_graph_for_all_signs_at_once() -> None:
    """The graph's own inference, which is held elsewhere against hand-worked sums."""
    found = weigh(case("timber-crew-carrier"), seen_demo("timber-crew-carrier"))
    evidence = {each.code: each.says for each in found.computed} | dict(found.seen)
    plain = infer(load_graph(), evidence, priors_of(found.case, None))
    assert {each.code: each.chance for each in found.causes} == dict(plain.odds)
    chances = [each.chance for each in found.causes]
    assert chances == sorted(chances, reverse=True)


def test_a_sign_speaks_for_a_cause_or_against_it_and_never_both() -> None:
    found = weigh(case("long-legged-trail-wagon"), seen_demo("long-legged-trail-wagon"))
    for cause in found.causes:
        for_it = {each.sign for each in cause.speaks_for}
        against = {each.sign for each in cause.against}
        assert not for_it & against
        assert all(each.alone >= TELLS for each in cause.speaks_for)
        assert all(each.alone <= -TELLS for each in cause.against)
        looked = {*found.seen, *(each.code for each in found.computed)}
        assert not {sign for sign, _ in cause.unseen} & looked


@pytest.mark.parametrize(
    ("came", "story"), [("broke", "broke"), ("wore", "wore"), ("runs", "open"), (None, "open")]
)
def test_with_nothing_else_seen_it_ended_as_somebody_told(came: str | None, story: str) -> None:
    seen = {} if came is None else {"came": came}
    assert told("heather-moor-scout", **seen).story == story


def test_a_and_b_of_a_yoke_are_alike() -> None:
    """The joint has no first ear: what is seen on a or on b comes to the same."""
    there: dict[str, Any] = {"seen": ["dry"], "trunnion": ["burned blue"]}
    fine: dict[str, Any] = {"seen": [], "trunnion": []}
    one, other = (
        told("quarry-hauler", came="wore", caps={a: there, b: fine})
        for a, b in (("shaft_a", "shaft_b"), ("shaft_b", "shaft_a"))
    )
    assert dict(one.posterior.odds) == pytest.approx(dict(other.posterior.odds), abs=1e-12)


def test_half_moons_raise_bind_and_clean_yokes_lower_it() -> None:
    chances = [
        told("long-legged-trail-wagon", came="broke", yokes=yokes).posterior.odds["bound"]
        for yokes in (
            {"shaft": {"tips": [], "throat": []}, "end": {"tips": [], "throat": []}},
            {},
            {"shaft": {"tips": ["half-moon"]}},
            {"shaft": {"tips": ["half-moon"]}, "end": {"throat": ["half-moon"]}},
        )
    ]
    assert chances == sorted(set(chances))


def test_a_single_joint_never_went_past_its_ball() -> None:
    assert priors_of(case("quarry-hauler"), None) == {"head-past-its-angle": 0.0}
    assert priors_of(case("short-tailed-scout", "output"), None) == {}
    assert told("quarry-hauler").posterior.odds["head-past-its-angle"] == 0.0


def test_what_was_answered_and_stays_open_is_not_asked_again() -> None:
    found = told("goat-path-buggy", history={"distance": "20000 mi"}, symptoms={"noise": ["clunk"]})
    asked = {sign for each in found.causes for sign, _ in each.unseen}
    assert not {"many-miles", "soon-again"} & (asked | {each.sign for each in found.next})
    assert {"squeak", "failed-before"} <= asked


def test_straps_are_loose_only_where_there_may_be_some() -> None:
    """As the catalogue says of the yokes by their names; full-round ones have none."""
    found = set()
    for name in demo_names():
        for joint in ("output", "pinion"):
            typed = typed_joint(load_demo(name), joint).yokes.values()
            may = any(each.is_own or yoke_class(each.name).strapped for each in typed)
            at = case(name, joint)
            may = may or at.head is not None
            assert (priors_of(at, None).get("loose-straps") == 0.0) is not may
            found.add(may)
    assert found == {True, False}


def test_marks_with_a_place_stand_for_the_words_of_their_yoke() -> None:
    data = {
        "schema": 1,
        "kind": "inspection",
        "yokes": {"shaft": {"tips": ["half-moon"]}, "end": {"throat": ["dent", "rubbed"]}},
        "marks": [{"yoke": "shaft", "surface": "throat", "clock": "3 o'clock"}],
    }
    seen = list(marks_seen(inspection_from_data(data)))
    assert [(mark.yoke, mark.surface) for mark in seen] == [("shaft", "throat"), ("end", "throat")]
    assert seen[0].clock is not None
    assert seen[1].clock is None


def test_marks_out_of_reach_are_held_against_what_would_meet_farther_on() -> None:
    """The quarry hauler's pinion joint clears its travel, so no pose reaches them."""
    marks = case("quarry-hauler").marks
    assert marks is not None
    assert marks.most > marks.touch > case("quarry-hauler").at_joint.most
    assert all(mark.first is None for mark in marks.forced)


def test_a_joint_that_the_rig_does_not_have_is_refused() -> None:
    data = {"schema": 1, "kind": "inspection", "joint": "middle"}
    with pytest.raises(NoSuchJointError, match="middle"):
        why(load_demo("quarry-hauler"), inspection_from_data(data))


@pytest.mark.slow
def test_each_mark_that_was_seen_is_followed_back_to_what_made_it() -> None:
    """The bend that is found for a mark lies within those that the axle has where it is met."""
    found = weigh(case("long-legged-trail-wagon"), seen_demo("long-legged-trail-wagon"))
    lie, marks = found.asked.lie, found.asked.marks
    assert lie is not None
    assert marks is not None
    assert [back.mark for back in found.made] == [each.mark for each in lie.marks]
    for back in found.made:
        assert marks.touch - 1e-9 <= back.low <= back.high <= marks.most
        assert back.reached
        assert 0.0 < back.share < 1.0


@pytest.mark.slow
def test_a_mark_that_the_axle_never_bends_the_joint_to_has_no_pose() -> None:
    found = told(
        "ridge-crawler",
        marks=[{"yoke": "shaft", "surface": "ear tip", "clock": "12 o'clock"}],
    )
    (back,) = found.made
    assert back.possible
    assert not back.reached
    assert back.low > back.most


def test_what_low_gear_alone_passes_is_no_accident() -> None:
    """Common practice, no source: off road a joint is sized on low gear alone."""
    broke: dict[str, Any] = {
        "came": "broke",
        "fracture": {"part": "cross", "face": "rough"},
        "caps": {"shaft_a": {"trunnion": ["broken off"]}},
        "history": {"distance": "9000 mi", "failed_before": 0, "changed": ["gears", "tires"]},
        "symptoms": {"happened": "hard pull"},
    }
    found = told("goat-path-buggy", **broke)
    says = {each.code: each.says for each in found.computed}
    assert says["pull-past-strength"]
    assert says["steady-pull-past"]
    assert found.too_small
    assert not found.right_size
    odds = found.posterior.odds
    assert odds["undersized"] > odds["overload"]


@pytest.mark.parametrize("dry", [["end_a"], ["end_a", "end_b"]])
def test_a_dry_cap_speaks_for_both_ways_to_run_without_grease(dry: list[str]) -> None:
    """Common practice, no source: a technician says grease at once."""
    rest: dict[str, Any] = {} if len(dry) == 1 else {"shaft_a": {"seen": []}}
    plain = told("quarry-hauler", came="wore").posterior.odds
    found = told("quarry-hauler", came="wore", caps={cap: {"seen": ["dry"]} for cap in dry} | rest)
    for code in ("dry-cap", "no-grease"):
        assert found.posterior.odds[code] > 1.3 * plain[code], code
    assert set(found.begun) == {"one-cap-dry", "all-caps-dry"}
    assert found.next[0].sign in found.begun


def test_a_look_at_the_caps_that_is_done_is_not_asked_for_again() -> None:
    caps = {cap: {"seen": ["dry"] if "end" in cap else []} for cap in CAPS}
    found = told("quarry-hauler", came="wore", caps=caps)
    assert not found.begun
    assert not {"a-cap-dry", "one-cap-dry", "all-caps-dry"} & {each.sign for each in found.next}


def test_flakes_on_a_trunnion_whose_corner_is_loaded_are_the_yokes() -> None:
    """Needles that run on their ends spall it; common practice, no source."""
    found = weigh(case("timber-crew-carrier"), seen_demo("timber-crew-carrier"))
    first = found.causes[0]
    assert first.code == "bad-yoke"
    assert "flakes" in {each.sign for each in first.speaks_for}
    assert not found.unexplained


@pytest.mark.parametrize("name", ["timber-crew-carrier", "ridge-crawler", "goat-path-buggy"])
def test_what_speaks_for_a_cause_that_stands_is_explained(name: str) -> None:
    found = weigh(case(name), seen_demo(name))
    stand = {each.sign for cause in found.not_ruled_out for each in cause.speaks_for}
    assert not stand & set(found.unexplained)


@pytest.mark.parametrize(
    ("name", "seen", "little"),
    [
        ("long-legged-trail-wagon", {}, True),
        ("heather-moor-scout", {"came": "broke"}, True),
        ("heather-moor-scout", {"came": "runs", "symptoms": {"noise": ["clunk"]}}, True),
        (
            "long-legged-trail-wagon",
            {"came": "broke", "yokes": {"shaft": {"tips": ["half-moon"]}}},
            False,
        ),
    ],
)
def test_next_to_nothing_seen_puts_no_cause_first(
    name: str, seen: dict[str, Any], little: bool
) -> None:
    assert told(name, **seen).too_little is little


def test_marks_out_of_reach_ask_for_both_witnesses() -> None:
    """Of two yokes that met each has its own mark: one on the tips, one in the throat."""
    tips = {"yoke": "shaft", "surface": "ear tip", "clock": "12 o'clock", "pair": True}
    throat = {"yoke": "end", "surface": "throat", "clock": "3 o'clock", "pair": True}
    chances = []
    for marks in ([tips], [tips, throat]):
        found = told("quarry-hauler", came="broke", marks=marks)
        assert found.out_of_reach
        says = {each.code for each in found.computed}
        assert ("marks-where-computed" in says) is (len(marks) == 2)
        chances.append(found.posterior.odds["bound"])
    assert chances[0] < 0.85
    assert chances[0] < chances[1]
