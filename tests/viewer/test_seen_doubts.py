"""What is odd about an inspection is told, each kind once, and never of a sound one."""

from pathlib import Path
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, given, settings

from sim.rig import Rig, changed, load_demo
from sim.seen import NoSuchJointError, demand_joint, doubts, inspection_from_data, load_inspection
from sim.seen.words import CAPS, CapWord, TrunnionWord
from sim.why.why import why
from tests.sim.seen.inspections import INSPECTIONS
from viewer.why.told import told_of
from viewer.words.remarks import said
from viewer.words.seen import SEEN

DEMOS = Path(__file__).parents[2] / "models" / "inspections"
SINGLE = "long-legged-trail-wagon"


def odd(data: dict[str, Any], rig: Rig | None = None) -> dict[str, str]:
    """Sentences by code."""
    whole = {"schema": 1, "kind": "inspection", "joint": "pinion", "came": "wore", **data}
    found = doubts(inspection_from_data(whole), rig)
    return {remark.code: said(remark) for remark in found}


ALL_WRONG: dict[str, Any] = {
    "came": "broke",
    "caps": {
        cap: {
            "seen": [each for each in get_args(CapWord) if each != "dry"],
            "trunnion": [each for each in get_args(TrunnionWord) if each != "broken off"],
            "needles": ["broken", "missing"],
            "seat": ["gouged", "egg-shaped"],
            "ear": ["spread", "cracked", "hammer marks"],
        }
        for cap in CAPS
    },
    "cross": {"seen": ["cracked", "fitting snapped off"]},
    "spline": {"seen": ["dry", "galled", "twisted", "bottomed mark"]},
    "tube": {"seen": ["twisted", "dented", "rubbed", "weight missing", "weld cracked"]},
    "ball": {"seen": ["broken", "worn"]},
    "history": {"failed_before": 2, "greased": "never", "water": "often", "changed": ["lift"]},
    "symptoms": {"noise": ["squeak", "clunk", "rattle", "shudder"], "per_turn": 1},
}

EXAMPLES: dict[str, dict[str, Any]] = {
    "seen-nothing": {"came": None},
    "seen-everything": ALL_WRONG,
    "seen-no-joint": {"joint": None, "tube": {"seen": []}},
    "seen-whole-yet-broken": {"cross": {"seen": ["broken at the root"]}},
    "seen-broken-yet-clean": {
        "came": "broke",
        "fracture": {"part": "cross"},
        "cross": {"seen": []},
    },
    "seen-bore-under-cap": {"caps": {"end_a": {"bore": ["1.05 in"], "cap_diameter": ["1.06 in"]}}},
    "seen-trunnion-over-cap": {
        "caps": {"end_a": {"trunnion_diameter": ["1.06 in"], "cap_diameter": ["0.65 in"]}}
    },
    "seen-readings-far-apart": {"caps": {"end_a": {"bore": ["1.06 in", "10.6 in"]}}},
    "seen-through-yet-off": {"yokes": {"end": {"bar": "goes through", "off": "0.02 in"}}},
    "seen-through-yet-egged": {
        "yokes": {"end": {"bar": "goes through"}},
        "caps": {"end_b": {"seat": ["egg-shaped"]}},
    },
    "seen-ears-closed": {"yokes": {"end": {"gap_at_tips": "2.0 in", "gap_at_root": "2.1 in"}}},
    "seen-spread-yet-square": {
        "yokes": {"end": {"gap_at_tips": "2.1 in", "gap_at_root": "2.1 in"}},
        "caps": {"end_b": {"ear": ["spread"]}},
    },
    "seen-deep-yet-clean": {"caps": {"end_b": {"seat": [], "gouge": "0.01 in"}}},
    "seen-mark-yet-clean": {
        "yokes": {"end": {"tips": []}},
        "marks": [{"yoke": "end", "surface": "ear tip", "clock": "12"}],
    },
    "seen-moons-yet-no-marks": {"yokes": {"end": {"tips": ["half-moon"]}}, "marks": []},
    "seen-never-yet-purged": {"history": {"greased": "never", "purged": "not all four"}},
    "seen-purged-yet-not": {
        "history": {"purged": "all four"},
        "caps": {"end_b": {"seen": ["will not purge"]}},
    },
    "seen-dry-and-muddy": {"caps": {"end_b": {"seen": ["dry", "muddy"]}}},
    "seen-nothing-changed-yet": {"history": {"changed": ["nothing", "lift"]}},
    "seen-yoke-and-joint-only": {"history": {"changed": ["yoke", "joint only"]}},
    "seen-first-yet-joint": {"history": {"changed": ["joint only"], "failed_before": 0}},
    "seen-parked-at-a-speed": {"symptoms": {"happened": "parked", "speed": "45 mph"}},
    "seen-parked-yet-driven": {"symptoms": {"happened": ["parked", "highway"]}},
    "seen-stuck-and-loose": {"spline": {"seen": ["stuck", "worn loose"]}},
    "seen-mud-yet-no-water": {
        "history": {"water": "never"},
        "caps": {"end_b": {"seen": ["muddy"]}},
    },
    "seen-worn-at-once": {"history": {"distance": "0 mi"}},
    "seen-not-across": {"caps": {"end_a": {"clock": "12"}, "end_b": {"clock": "9"}}},
    "seen-not-square": {"caps": {"end_a": {"clock": "12"}, "shaft_b": {"clock": "7"}}},
}
OF_A_RIG = {
    "seen-other-rig",  # told by the command, which knows the rig's name
    "seen-which-cross",
    "seen-other-size",
    "seen-strap-on-closed",
    "seen-ball-on-single",
}


def without_none(data: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if value is not None}


@pytest.mark.parametrize("code", EXAMPLES)
def test_each_doubt_is_told_and_no_other(code: str) -> None:
    data = {"schema": 1, "kind": "inspection", "joint": "pinion", "came": "wore", **EXAMPLES[code]}
    found = doubts(inspection_from_data(without_none(data)))
    assert {remark.code for remark in found} == {code}
    for remark in found:
        words = said(remark)
        assert words[0].islower() or words[0].isdigit()
        assert not words.endswith(".")


def test_every_doubt_has_its_example() -> None:
    assert set(EXAMPLES) | OF_A_RIG == set(SEEN)


@pytest.mark.parametrize("file", sorted(DEMOS.glob("*.toml")), ids=lambda file: file.stem)
def test_the_demo_inspections_are_sound(file: Path) -> None:
    seen, rig = load_inspection(file), load_demo(file.stem)
    demand_joint(seen, rig)
    assert doubts(seen, rig) == ()


def test_readings_of_another_size_are_told_with_both_sizes() -> None:
    rig = load_demo(SINGLE)
    cap = {"cap_diameter": ["1.188 in", "1.188 in"]}
    told = odd({"caps": {"shaft_a": cap, "shaft_b": cap}}, rig)
    assert list(told) == ["seen-other-size"]
    assert told["seen-other-size"].startswith("1.188 in (30.18 mm) is the size of another joint")
    assert odd({"caps": {"shaft_a": {"cap_diameter": ["1.062 in"]}}}, rig) == {}


def test_one_odd_reading_of_two_is_no_other_size() -> None:
    """A bore pulled out of round reads wide one way and right the other."""
    told = odd({"caps": {"shaft_a": {"bore": ["1.0625 in", "1.090 in"]}}}, load_demo(SINGLE))
    assert "seen-other-size" not in told
    told = odd({"caps": {"shaft_a": {"bore": ["1.090 in", "1.090 in"]}}}, load_demo(SINGLE))
    assert "seen-other-size" in told


def test_a_cap_of_a_smaller_size_is_told_too() -> None:
    told = odd({"caps": {"end_b": {"bore": ["0.985 in"]}}}, load_demo(SINGLE))
    assert told["seen-other-size"].startswith("0.985 in")


def test_a_press_fit_is_no_doubt() -> None:
    """A bore of closed ears is a little smaller than its cap, which is pressed in."""
    fit = {"bore": ["1.0615 in"], "cap_diameter": ["1.0625 in"]}
    assert odd({"caps": {"shaft_a": fit}}) == {}


def test_straps_are_for_yokes_that_have_them() -> None:
    rig = load_demo(SINGLE)
    assert "seen-strap-on-closed" in odd({"caps": {"shaft_a": {"strap": ["loose"]}}}, rig)
    assert odd({"caps": {"end_a": {"strap": ["loose"]}}}, rig) == {}  # its pinion has a strap yoke
    assert odd({"caps": {"shaft_a": {"strap": []}}}, rig) == {}


def test_a_ball_is_for_a_head() -> None:
    rig = load_demo(SINGLE)
    assert list(odd({"ball": {"seen": ["worn"]}}, rig)) == ["seen-ball-on-single"]
    head = changed(rig, {"shaft.output_end.joint": "double"})
    seen = {"joint": "output", "ball": {"seen": ["worn"]}}
    assert list(odd(seen, head)) == ["seen-which-cross"]
    assert odd(seen | {"head_cross": "inner"}, head) == {}


@pytest.mark.parametrize(
    ("said_", "names"),
    [
        ({"joint": "middle"}, 'joint: came "middle", .* expected output or pinion'),
        ({"joint": "pinion", "head_cross": "outer"}, 'head_cross: came "outer", .* has one cross'),
    ],
)
def test_a_joint_that_the_rig_does_not_have_is_one_clear_line(
    said_: dict[str, Any], names: str
) -> None:
    seen = inspection_from_data({"schema": 1, "kind": "inspection", **said_})
    with pytest.raises(NoSuchJointError, match=names) as fault:
        demand_joint(seen, load_demo(SINGLE), "mine.toml")
    assert str(fault.value).startswith("mine.toml: ")
    assert "\n" not in str(fault.value)


def test_one_cross_of_a_head_has_to_be_one_of_two() -> None:
    head = changed(load_demo(SINGLE), {"shaft.output_end.joint": "double"})
    data = {"schema": 1, "kind": "inspection", "joint": "output", "head_cross": "single"}
    with pytest.raises(NoSuchJointError, match="expected outer or inner"):
        demand_joint(inspection_from_data(data), head)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(INSPECTIONS)
def test_whatever_is_said_can_be_doubted_in_words(data: dict[str, Any]) -> None:
    seen = inspection_from_data(data)
    single = load_demo(SINGLE)
    for rig in (None, single, changed(single, {"shaft.output_end.joint": "double"})):
        try:
            if rig is not None:
                demand_joint(seen, rig)
        except NoSuchJointError:
            continue
        for remark in doubts(seen, rig):
            assert said(remark)


@pytest.mark.slow
def test_an_answer_at_the_counter_states_the_doubt() -> None:
    odd_bore = {"bore": ["1.05 in"], "cap_diameter": ["1.062 in"]}
    data = {"schema": 1, "kind": "inspection", "joint": "pinion", "caps": {"shaft_a": odd_bore}}
    told = told_of(why(load_demo("quarry-hauler"), inspection_from_data(data))).counter
    assert any(line.startswith("Check: the bore of 1.050 in") for line in told)
