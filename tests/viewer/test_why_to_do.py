"""What to do now, beside the causes: the first sentence at the counter, all of it where asked."""

from functools import cache

import pytest

from sim.rig.demos import load_demo
from sim.seen import demos
from sim.why.why import Why, why
from viewer.why.json import why_data
from viewer.why.to_do import NOT_YET, counter_do, to_do
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
