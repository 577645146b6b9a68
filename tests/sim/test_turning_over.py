"""What turns a verdict over is what whole checks say that turns it, value by value."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import degrees, inf
from pathlib import Path
from random import Random
from typing import Any

import pytest
import trimesh

from geometry.errors import BindpointError
from geometry.tolerances import TOL
from sim.around.surroundings import keeps_off
from sim.assessment import Assessment, Assessor
from sim.check import Check, check
from sim.cures import find_cures
from sim.cures.first_cure import FirstCure, first_cure, keep_first
from sim.finders import verdict_of
from sim.findings import ORDER, Verdict
from sim.generic_throats import generic_throats, may_turn, throats, tightest
from sim.kept import answers
from sim.rig import Rig, load_demo, load_rig, parse_rig
from sim.rig.change import changed
from sim.rig.content import content_of
from sim.rig.defaults import DEFAULTS
from sim.rig.demos import demo_names
from sim.table.default import Default
from sim.turning_over import LEAST_MOVE, MOST, Turn, kept_turning, strongest, turning_over
from tests.kept import kept
from tests.sim.rigs import PHONE_CALL
from tests.viewer.every.examples import EXAMPLES, told
from viewer.words.verdicts import check_word, verdict_word

BY_KEY = {default.key: default for default in DEFAULTS}

QUICK = ("marsh-runner", "timber-crew-carrier")
"""Demos of which something turns the verdict."""


def others(rig: Rig) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Everything that may as well be typed for each assumed value; what is the same only once."""
    seen: list[Mapping[str, Any]] = []
    for each in rig.assumed:
        for other in BY_KEY[each.key].others:
            tried = other.typed(each.key, rig.typed())
            if tried and tried not in seen:
                seen.append(tried)
                yield each.key, tried


def of_throats(found: Assessment) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every other throat of a generic yoke, also where it is held to turn nothing."""
    for throat in throats(found):
        yield from ((throat.key, tried) for tried in throat.tried)


def by_whole_checks(rig: Rig) -> dict[str, list[tuple[Mapping[str, Any], Check]]]:
    """The check of the rig with each of them typed, by key; what is refused is left out."""
    found: dict[str, list[tuple[Mapping[str, Any], Check]]] = {}
    for key, tried in [*others(rig), *of_throats(check(rig).found)]:
        try:
            found.setdefault(key, []).append((tried, check(changed(rig, tried))))
        except BindpointError:
            continue
    return found


def assert_is_that_of_whole_checks(rig: Rig) -> None:
    """The strongest of each value, nothing else, in the order of how far they turn it."""
    result = check(rig)
    base = ORDER.index(result.verdict)
    told = turning_over(result)
    whole = by_whole_checks(rig)
    steps = {
        key: max(abs(ORDER.index(each.verdict) - base) for _, each in tried)
        for key, tried in whole.items()
    }
    turning = {key: far for key, far in steps.items() if far}
    assert len(told.turns) == min(len(turning), MOST)
    assert {turn.key for turn in told.turns} <= set(turning)
    fars = [turning[turn.key] for turn in told.turns]
    assert fars == sorted(turning.values(), reverse=True)[:MOST]
    for turn in told.turns:
        (same,) = (each for tried, each in whole[turn.key] if tried == turn.tried)
        assert same.verdict == turn.verdict
        assert verdict_word(turn.verdict, turn.metal) == check_word(same)
        first = next(t for t, each in whole[turn.key] if each.verdict == turn.verdict)
        assert turn.tried == first, "the milder of two that turn it as far"
        left = same.found.least - result.found.least
        assert turn.moves == pytest.approx(left, abs=1e-9)
    if told.most is not None:
        assert not turning
        assert abs(told.most.moves) > LEAST_MOVE


@pytest.mark.parametrize("name", QUICK)
def test_it_is_what_whole_checks_of_a_demo_say(name: str) -> None:
    rig = load_demo(name)
    assert_is_that_of_whole_checks(rig)
    assert turning_over(check(rig)).turns


PINION = "shaft.pinion_end.pinion_yoke"


def test_the_throat_of_a_yoke_named_by_its_kind_turns_it_as_if_it_were_typed() -> None:
    """The pinion joint bends so far that an eighth of an inch of throat is missing."""
    rig = changed(load_demo("quarry-hauler"), {"travel.droop": "10 in"})
    result = check(rig)
    assert rig.shaft.pinion_end.pinion_yoke.own == {}
    assert PINION not in {each.key for each in rig.assumed}
    (turn,) = (each for each in turning_over(result).turns if each.key.startswith(PINION))
    assert turn.key == f"{PINION}.throat_depth"
    assert turn.assumed == "1.30 in"
    assert turn.tried == {PINION: {"kind": "strap yoke", "throat_depth": "1.17 in"}}
    typed = check(changed(rig, turn.tried))
    assert typed.verdict == turn.verdict != result.verdict


def test_a_throat_that_was_measured_is_not_tried() -> None:
    rig = load_demo("quarry-hauler")
    own = changed(rig, {PINION: {"kind": "strap yoke", "throat_depth": "1.18 in"}})
    keys = [throat.key for throat in throats(check(own).found)]
    assert keys == ["shaft.pinion_end.shaft_yoke.throat_depth"]
    assert generic_throats(rig, "pinion") == ("shaft.pinion_end.shaft_yoke", PINION)


def test_a_throat_that_is_not_tried_could_not_turn_it() -> None:
    found = check(load_demo("long-legged-trail-wagon")).found
    """Two demos whose tightest joints have most and least to spare, by whole checks."""
    for name, tries in (("heather-moor-scout", False), ("quarry-hauler", True)):
        found = check(load_demo(name)).found
        assert [may_turn(found, each) for each in throats(found)] == [tries, tries]
    found = check(load_demo("heather-moor-scout")).found
    joint = tightest(found)
    for _, tried in of_throats(found):
        after = check(changed(found.rig, tried)).found.joints[joint].margin
        assert after >= found.reserve


@pytest.mark.slow
@pytest.mark.parametrize("name", [each for each in demo_names() if each not in QUICK])
def test_it_is_what_whole_checks_of_every_demo_say(name: str) -> None:
    assert_is_that_of_whole_checks(load_demo(name))


def sparse(seed: int) -> Rig:
    """A rig of little more than a telephone call, its numbers at random."""
    draw = Random(seed)
    text = f"""
schema = 1
[output]
points_down = "{draw.randint(0, 5)} deg"
[ride_height]
length = "{draw.randint(28, 46)} in"
shaft_points_down = "{draw.randint(6, 16)} deg"
[axle]
position = "{draw.choice(["front", "rear"])}"
points_up = "{draw.randint(0, 8)} deg"
snout = "{draw.randint(9, 13)} in"
[travel]
bump = "{draw.randint(2, 5)} in"
droop = "{draw.randint(3, 9)} in"
"""
    if draw.random() < 0.5:
        text += f'roll = "{draw.randint(3, 12)} deg"\n'
    if draw.random() < 0.5:
        text += '[shaft.slip]\ncloses = "2 in"\nopens = "2 1/2 in"\n'
    if draw.random() < 0.5:
        text += '[shaft.pinion_end]\ncross = "30 x 92"\n'
    return parse_rig(text)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(14))
def test_it_is_what_whole_checks_of_sparse_rigs_say(seed: int) -> None:
    assert_is_that_of_whole_checks(sparse(seed))


ASKEW = "axle.points_left"


def only_left_out(key: str, **values: Any) -> Rig:
    """The quarry hauler with every assumed value typed but one, and with other values."""
    rig = changed(load_demo("quarry-hauler"), {key: None})
    typed = {each.key: each.value for each in rig.assumed if each.key != key}
    made = changed(rig, typed | {name.replace("__", "."): each for name, each in values.items()})
    assert [each.key for each in made.assumed] == [key]
    return made


def assert_turns(rig: Rig, verdict: Verdict) -> None:
    """Its verdict as it is, turned over, and by what whole checks say."""
    assert check(rig).verdict == verdict
    assert_is_that_of_whole_checks(rig)
    assert turning_over(check(rig)).turns


@pytest.mark.slow
@pytest.mark.parametrize(("more", "verdict"), [(-0.01, "clear"), (0.01, "close")])
def test_an_aim_that_takes_or_gives_the_last_of_the_reserve_is_tried(
    more: float, verdict: Verdict
) -> None:
    """As much reserve as there is is wanted but for a hair, of a shaft askew: 1 deg decides."""
    there = {"surroundings": [], "output__joint": ["62 1/2 in", "6 in", "6 1/4 in"]}
    left = check(only_left_out(ASKEW, **there)).joints["pinion"].margin
    assert_turns(
        only_left_out(ASKEW, **there, wanted__bend=f"{degrees(left) + more:.4f} deg"), verdict
    )


@pytest.mark.slow
def test_what_is_near_the_shaft_is_asked_again_of_another_aim() -> None:
    """All the clearance of the snout but for a little is wanted; it points elsewhere then."""
    box = {"at": ["4 in", "6 in", "0 in"], "size": ["1 in", "1 in", "1 in"]}
    there = {"surroundings": [{"name": "box", "box": box}], "axle__snout_outside": "5 in"}
    (gap,) = check(only_left_out(ASKEW, **there)).found.near
    assert gap.part == "snout"
    wanted = f"{gap.gap_mm - 0.3:.3f} mm"
    assert_turns(only_left_out(ASKEW, **there, wanted__clearance=wanted), "clear")


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(14, 20))
def test_more_travel_never_helps_and_less_never_hurts(seed: int) -> None:
    """What a default says that its others can do, by the least that is left of anything."""
    rig = sparse(seed)
    before = check(rig)
    cans = {
        (each.key, str(other.typed(each.key, rig.typed()))): other.can
        for each in rig.assumed
        for other in BY_KEY[each.key].others
    }
    for key, tried in by_whole_checks(rig).items():
        for typed, after in tried:
            can = cans.get((key, str(typed)), "either")
            if can != "either" and not key.startswith("shaft.slip"):
                sign = 1.0 if can == "help" else -1.0
                assert sign * (after.found.least - before.found.least) >= -1e-6, (key, typed)


@pytest.mark.parametrize("code", EXAMPLES)
def test_the_quick_verdict_is_that_of_all_findings(code: str) -> None:
    result = told(code)
    if code == "surroundings-unfinished":  # its search was made to end early
        return
    verdict, metal = verdict_of(result.found)
    assert verdict == result.verdict
    assert verdict_word(verdict, metal) == check_word(result)


ALONE: Mapping[str, Mapping[str, Any]] = {
    "no room for the slip": {
        "shaft.slip": {"at": "shaft", "closes": "2 in", "opens": "3 in", "pushed_home": "60 in"}
    },
    "little room for the slip": {"shaft.slip": {"at": "shaft", "closes": "40 in", "opens": "3 in"}},
    "the slip parts": {"shaft.slip": {"at": "shaft", "comes_apart": "1/4 in"}},
    "the slip bottoms": {"shaft.slip.closes": "1/2 in"},
    "close to the crossmember": {"wanted.clearance": "1 in"},
    "hits the crossmember": {"surroundings[1].box.at": ["40 in", "0 in", "9 in"]},
}
"""What alone decides the verdict of a shaft that is clear otherwise."""


@pytest.mark.parametrize("alone", ALONE)
def test_the_quick_verdict_is_right_where_one_thing_alone_decides(alone: str) -> None:
    result = check(changed(load_demo("quarry-hauler"), ALONE[alone]))
    vars(result.found).pop("near", None)
    verdict, metal = verdict_of(result.found)
    assert verdict == result.verdict != "clear"
    assert verdict_word(verdict, metal) == check_word(result)


def test_what_lies_well_beyond_its_clearance_is_told_without_its_gap() -> None:
    """And never where the gap is less than wanted, or within what the search may be off."""
    result = told("surroundings")
    whole, (gap,) = result.found, result.found.near
    asked = (result.rig, whole.vehicle, whole.parts)
    within = TOL.clearance
    assert keeps_off(*asked, gap.gap_mm - 4.0 * within)
    for wanted in (gap.gap_mm - 0.5 * within, gap.gap_mm + within, gap.gap_mm + 50.0):
        assert not keeps_off(*asked, wanted)
    bare = changed(result.rig, {"surroundings": None})
    assert keeps_off(bare, whole.vehicle, whole.parts, 1e6)


def test_a_thing_around_the_shaft_is_not_far_from_it(tmp_path: Path) -> None:
    """A closed mesh that holds the whole shaft is nowhere near it, and yet it is hit."""
    trimesh.creation.box((6000.0, 2000.0, 2000.0)).export(tmp_path / "hall.stl")
    mesh = {"file": "hall.stl", "unit": "mm", "at": ["0 in", "0 in", "0 in"]}
    rig = load_demo("quarry-hauler")
    rig = changed(rig, {"surroundings": [{"name": "hall", "mesh": mesh}]})
    rig._folder = tmp_path
    found = Assessor().assess(rig)
    assert not keeps_off(rig, found.vehicle, found.parts, 1.0)


@pytest.mark.parametrize("default", DEFAULTS, ids=lambda each: each.key)
def test_every_default_has_others_or_says_why_there_are_none(default: Default) -> None:
    assert default.because
    if default.key.startswith("wanted."):
        assert not default.others, "a wish turns nothing over"


@kept
def _phone() -> Check:
    return check(parse_rig(f"schema = 1\n{PHONE_CALL}"))


def test_of_every_value_of_a_telephone_call_another_can_be_typed() -> None:
    rig = _phone().rig
    keys = {key for key, tried in others(rig) if changed(rig, tried) != rig}
    # Two keys of one joint size, or of the yokes of one joint, are one thing to measure.
    same = {"shaft.pinion_end.cross", "shaft.output_end.shaft_yoke", "shaft.pinion_end.pinion_yoke"}
    wanted = {each.key for each in rig.assumed if BY_KEY[each.key].others}
    assert keys == wanted - same


def test_every_length_and_angle_that_is_tried_is_in_the_shops_units() -> None:
    """A value that is a unit off reads like any other; no default is in another unit either."""
    typed = [value for _, tried in others(_phone().rig) for value in _numbers(tried)]
    assert len(typed) > 20
    assert {value.rpartition(" ")[2] for value in typed} == {"in", "deg", "%"}


def _numbers(tried: Any) -> Iterator[str]:
    """Every value with a unit, without the springs', which come from a table of their own."""
    if isinstance(tried, str) and tried[:1] in "-0123456789" and "x" not in tried:
        yield tried
    elif isinstance(tried, list):
        for each in tried:
            yield from _numbers(each)
    elif isinstance(tried, Mapping):
        for key, each in tried.items():
            if key != "suspension":
                yield from _numbers(each)


def turn(key: str, verdict: Verdict, moves: float, tried: str = "x") -> Turn:
    return Turn(key, "0", {key: tried}, verdict, metal=True, moves=moves)


def test_the_furthest_comes_first_then_what_moves_most() -> None:
    tried = [
        turn("a", "close", 0.5),
        turn("b", "touches", -0.2),
        turn("c", "close", -0.9),
        turn("d", "clear", 3.0),
        turn("b", "close", -0.1, "milder, but it turns it less"),
        turn("c", "close", -2.0, "no milder"),
    ]
    found = strongest("clear", tried)
    assert [each.key for each in found.turns] == ["b", "c", "a"]
    assert [each.tried[each.key] for each in found.turns] == ["x", "x", "x"]
    assert found.most is None
    many = [turn(str(i), "close", float(-i)) for i in range(9)]
    assert [each.key for each in strongest("clear", many).turns] == ["8", "7", "6", "5", "4"]


def test_where_nothing_turns_it_the_one_that_moves_it_most_that_way_is_told() -> None:
    for verdict, way in (("clear", -1.0), ("touches", 1.0)):
        same: Verdict = "clear" if verdict == "clear" else "touches"
        tried = [turn("a", same, -way * 9.0), turn("b", same, way), turn("c", same, way * 2.0)]
        assert strongest(same, tried).most == tried[2]
        assert strongest(same, tried[:1]).most is None, "the other way it tells nothing"
        assert strongest(same, [turn("d", same, way * inf)]).most is None
        assert strongest(same, [turn("e", same, 0.5 * way * LEAST_MOVE)]).most is None


def test_it_is_tried_once_and_kept_by_what_the_rig_says(monkeypatch: pytest.MonkeyPatch) -> None:
    result = check(load_demo("marsh-runner"))
    found = turning_over(result)

    def never(*_: object) -> None:
        raise AssertionError

    with monkeypatch.context() as patch:
        patch.setattr(Assessor, "assess", never)
        again = turning_over(result)
    assert again == found == kept_turning(load_demo("marsh-runner"))
    assert kept_turning(changed(result.rig, {"travel.bump": "3 7/8 in"})) is None
    with monkeypatch.context() as patch:
        patch.setattr(answers, "code_key", lambda _: "another program")
        assert kept_turning(result.rig) is None


def test_a_cache_that_cannot_be_written_costs_no_answer(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("no folder")
    result = check(load_demo("marsh-runner"))
    monkeypatch.setenv(answers.FOLDER_VARIABLE, str(tmp_path / "file"))
    assert turning_over(result).turns


def test_content_is_all_that_is_typed_and_all_that_is_in_its_files(tmp_path: Path) -> None:
    mesh = 'mesh = { file = "t.stl", unit = "mm", at = ["20 in", "0 in", "20 in"] }'
    text = f'schema = 1\n{PHONE_CALL}\n[[surroundings]]\nname = "tank"\n{mesh}\n'
    places = [tmp_path / name for name in ("a", "b")]
    for place in places:
        place.mkdir()
        (place / "rig.toml").write_text(text)
        (place / "t.stl").write_text("solid\n")
    one, other = (load_rig(place / "rig.toml") for place in places)
    assert content_of(one) == content_of(other)
    (places[1] / "t.stl").write_text("solid other\n")
    assert content_of(one) != content_of(other)
    assert content_of(changed(one, {"travel.bump": "5 in"})) != content_of(one)
    (places[1] / "t.stl").unlink()
    with pytest.raises(OSError, match=r"t\.stl"):
        content_of(other)
    assert kept_turning(other) is None


@pytest.mark.slow
def test_the_first_cure_is_kept_until_the_rig_is_another_one() -> None:
    rig = load_demo("marsh-runner")
    found = find_cures(rig)
    keep_first(found)
    cure = found.cures[0]
    assert first_cure(rig) == FirstCure(cure.says, cure.after.verdict)
    helps = replace(found, cures=tuple(replace(each, works=False) for each in found.cures))
    keep_first(helps)
    nothing = FirstCure((), found.before.verdict)
    assert first_cure(rig) == nothing, "what helps and is not enough is no fix"
    other = changed(rig, {"travel.bump": "3 5/8 in"})
    assert first_cure(other) is None
    without = find_cures(other, without=("pinion-turn",))
    keep_first(without)
    assert first_cure(other) is None, "what was ruled out by one is not by all"
