"""What to do now, beside the causes: the first sentence at the counter, all of it where asked."""

from functools import cache

import pytest

from sim.rig.demos import load_demo
from sim.seen import demos, inspection_from_data
from sim.why.why import Why, why
from viewer.why.counter import TOO_LITTLE, counter
from viewer.why.json import why_data
from viewer.why.to_do import NOT_YET, counter_do, mended, to_do
from viewer.why.told import told_of


@cache
def of(name: str) -> Why:
    return why(load_demo(name), demos.load_demo(name))


@pytest.mark.slow
def test_too_small_a_joint_is_replaced_by_a_larger_one_and_the_build_is_one_command_away() -> None:
    found = of("goat-path-buggy")
    (counter,) = counter_do(found, "my truck.toml")
    parts = "a joint one size up, a new yoke with it, the mating yoke too, new straps and bolts"
    assert counter.startswith(f"Do now: put in {parts}. ")
    assert counter.endswith('Then: bindpoint build "my truck.toml"')
    ((title, lines),) = to_do(found, "my truck.toml")
    assert title == "What to do now: joint too small"
    assert lines[-2].endswith(': bindpoint build "my truck.toml"')
    assert any(line.startswith("Prove it: ") for line in lines)
    detail = [section.title for section in told_of(found, "my truck.toml").detail]
    assert title in detail
    assert "What it gets, and what it holds" in detail


@pytest.mark.slow
def test_where_nothing_is_likely_nothing_is_replaced() -> None:
    found = of("heather-moor-scout")
    assert not any(line.startswith("Do now") for line in told_of(found).counter)
    assert list(to_do(found, "x.toml")) == [("What to do now", (NOT_YET,))]
    assert why_data(found, "x.toml")["do"] == []


@pytest.mark.slow
def test_grease_is_planned_by_use_and_water() -> None:
    """Quarry hauler: it tows, and never goes through water."""
    data = why_data(of("quarry-hauler"), "demo:quarry-hauler")
    (first,) = [each for each in data["do"] if each["cause"] == "dry-cap"]
    assert first["greasing"][0].startswith("Grease it every 3,000 miles or every 3 months")
    assert not any("same day" in line for line in first["greasing"])
    assert data["overload"]["peak_nm"]["estimate"] > 0.0


def test_no_joint_that_is_too_small_is_called_the_right_size() -> None:
    """Whatever comes first: where a pull without shock passes it, a larger one goes in."""
    small = of("goat-path-buggy")
    assert small.too_small
    assert not small.right_size
    told = told_of(small)
    lines = [*told.counter, *(line for part in told.detail for line in part.entries)]
    assert not any("right size" in line for line in lines)
    assert mended(small, "overload") == "undersized"
    assert mended(of("quarry-hauler"), "overload") == "overload"


def test_with_next_to_nothing_seen_no_cause_is_first_in_line() -> None:
    data = {"schema": 1, "kind": "inspection", "came": "runs", "symptoms": {"noise": ["clunk"]}}
    lines = counter(why(load_demo("ridge-crawler"), inspection_from_data(data)), "RIG")
    assert TOO_LITTLE in lines[0]
    assert not any("first in line" in line for line in lines)
    assert any(line.startswith("The rig alone") for line in lines)
    assert lines[-1].startswith("Look first: ")
