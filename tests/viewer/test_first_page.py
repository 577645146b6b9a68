"""The first page of a check: short, in the shop's words, and what the findings say."""

import re
from collections.abc import Iterator
from dataclasses import replace
from math import radians
from pathlib import Path
from typing import Any, get_args

import numpy as np
import pytest

from sim.check import Check, check
from sim.cures import find_cures
from sim.cures.first_cure import FirstCure, first_cure, keep_first
from sim.findings import Code
from sim.line import line as line_at
from sim.progress import silent
from sim.remark import Remark
from sim.rig import Rig, load_demo, parse_rig
from sim.rig.change import changed
from sim.rig.defaults import DEFAULTS
from sim.rig.demos import demo_names
from sim.ticket.felt_of import felt_of
from sim.turning_over import Turn, TurningOver, turning_over
from tests.kept import kept
from tests.sim.rigs import PHONE_CALL
from tests.sim.test_turning_over import sparse
from tests.viewer.every.examples import EXAMPLES, found, told
from tests.viewer.run_command import run
from tests.viewer.whole_text import check_text
from viewer.bars.asked import how_sure
from viewer.check.json import check_data
from viewer.words.findings import says
from viewer.words.first_page import CAUTION, MOST_LINES, FirstPage, first_page, page_lines
from viewer.words.lines import WIDTH, item
from viewer.words.turning import turn_line

PER_MINUTE = 160
"""Words that are read aloud in a minute (from memory)."""

OF_THE_PROGRAM = (
    *(
        "lead and lag",
        "leads and lags",
        "doses?",
        r"wanted\.\w+",
        "assumed as",
        "neither",
        "verdict",
    ),
    *("needs", "rad", "certified", "margin", "roll", r"\w+_\w+", "nan", "inf"),
)
"""What nobody in a shop would say, as patterns."""

FIX = FirstCure(
    (
        Remark(
            "pinion-turned",
            way="up",
            turn=radians(6.0),
            how=Remark("by-shims", size=radians(6.0), to_front=False),
            up=0.12,
        ),
        Remark("output-dropped", by=76.2, two_piece=False),
    ),
    "clear",
)
"""That of the wagon."""


@kept
def demo(name: str) -> Check:
    return check(load_demo(name))


def lines_of(
    result: Check, turns: TurningOver | None = None, cure: FirstCure | None = None
) -> list[str]:
    """What is printed without `--full`."""
    return check_text(result, turns, cure, "demo:my-truck", full=False).splitlines()


def assert_sound(lines: list[str]) -> None:
    assert len(lines) <= MOST_LINES
    text = " ".join(lines)
    for line in lines:
        assert 0 < len(line) <= WIDTH
        assert line == line.rstrip()
    words = text.lower().replace("demo:my-truck", "")
    assert [each for each in OF_THE_PROGRAM if re.search(rf"\b{each}\b", words)] == []
    assert ".." not in " ".join(lines[1:]), "a long name is cut"
    assert " ." not in text
    assert "{" not in text
    assert CAUTION in text


def seconds(lines: list[str]) -> float:
    """To read them aloud."""
    words = [word for line in lines for word in line.split() if re.search(r"\w", word)]
    return 60.0 * len(words) / PER_MINUTE


@pytest.mark.parametrize("name", demo_names())
def test_the_page_of_every_demo_is_read_aloud_in_half_a_minute(name: str) -> None:
    result = demo(name)
    lines = lines_of(result, turning_over(result))
    assert_sound(lines)
    assert seconds(lines) <= 30.0


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_so_it_is_with_the_fix_that_was_found(name: str) -> None:
    keep_first(find_cures(load_demo(name)))
    result, cure = demo(name), first_cure(load_demo(name))
    assert cure is not None
    lines = lines_of(result, turning_over(result), cure)
    assert_sound(lines)
    assert seconds(lines) <= 30.0
    assert any(line.startswith("Fix: ") for line in lines) == (result.verdict != "clear")


def test_it_says_in_order_what_a_customer_asks() -> None:
    result = demo("long-legged-trail-wagon")
    lines = lines_of(result, turning_over(result), FIX)
    assert lines == [
        "Long-legged trail wagon, rear shaft (invented)",
        "TOUCHES  Pinion joint binds at 3 11/16 in droop, crossed up, nose down.",
        "The strap bolt hits the shaft yoke's throat, 8.4 deg too far at full droop.",
        "Output joint binds too, by 1.9 deg.",
        "Slip: 1 5/16 in to spare.",
        "Fix: 6 deg shims (pinion nose up) + output dropped 3 in.",
        "The yokes are generic: measure their throats.",
        f"{CAUTION} More: --full",
    ]


def test_of_a_slip_it_says_where_it_is_worst_and_from_where_on_it_is_short() -> None:
    """Nearer to ride height no pose of the axle opens it so far, by the line of the shaft."""
    result = demo("goat-path-buggy")
    lines = lines_of(result)
    assert lines[1:3] == [
        "RUNS OUT  Slip is 1 1/4 in short at 8 in droop, nose down.",
        "Runs out from 5 1/4 in droop, nose down.",
    ]
    vehicle = result.found.vehicle
    for travel, is_short in ((-5.2 * 25.4, False), (-5.3 * 25.4, True)):
        far = vehicle.travel.roll_limit(travel)
        down, up = vehicle.travel.wrap_limits(travel)
        roll, wrap = np.meshgrid(np.linspace(-far, far, 21), np.linspace(down, up, 21))
        slip = line_at(vehicle, np.full(roll.shape, travel), roll, wrap).slip
        assert bool((slip > vehicle.slip.opens).any()) == is_short


def test_everything_that_is_hit_and_every_way_the_slip_fails_is_named() -> None:
    typed = {
        "shaft.slip.closes": "3/4 in",
        "surroundings[1].box.at": ["30 in", "0 in", "10.6 in"],
    }
    lines = lines_of(check(changed(load_demo("long-legged-trail-wagon"), typed)))
    assert_sound(lines)
    text = " ".join(" ".join(lines).split())
    assert lines[1].startswith("TOUCHES  Pinion joint binds at ")
    assert "Output joint binds too" in text
    assert re.search(r"Slip bottoms at .* bump, .*, [0-9/ ]+ in short at full bump\.", text)
    assert re.search(r"Tube hits the crossmember too, at .* bump", text)
    assert len(re.findall(r"short", text)) == 1, "told once"


def test_the_full_answer_names_the_same_fix_on_its_first_page() -> None:
    result = demo("long-legged-trail-wagon")
    short, whole = (check_text(result, None, FIX, "wagon.toml", each) for each in (False, True))
    page = short.removesuffix(" More: --full")
    assert "\nFix: 6 deg shims" in page
    assert whole.startswith(f"{page}\n\n")


@pytest.mark.parametrize("page", ["README.md", "docs/guide.md"])
def test_the_pages_print_what_the_program_prints(page: str) -> None:
    """Before `cures` was asked."""
    name = "long-legged-trail-wagon"
    result = demo(name)
    printed = check_text(result, turning_over(result), None, f"demo:{name}", full=False)
    text = (Path(__file__).parents[2] / page).read_text("utf-8")
    sure = "\n".join(item(how_sure(result.found, silent).says))
    assert f"```text\n{printed}\n{sure}\n```" in text


def test_what_could_turn_it_over_is_told_with_what_was_taken() -> None:
    result = demo("marsh-runner")
    (turn,) = turning_over(result).turns
    assert turn_line(turn) == "wrap at full droop (taken as all of it): with none it is CLEAR"
    assert f"Measure first: {turn_line(turn)}." in lines_of(result, turning_over(result))


def test_a_pivot_that_is_tried_above_the_tubes_is_called_higher() -> None:
    taken = ["0 in", "0 in", "0 in"]
    for up, words in (("3 in", "one 3 in higher"), ("-3 in", "one 3 in lower")):
        tried = {"axle.wrap_centre": ["0 in", "0 in", up]}
        turn = Turn("axle.wrap_centre", taken, tried, "close", metal=False, moves=-1.0)
        said = f"(taken as the tube's center): with {words} it is CLOSE"
        assert turn_line(turn) == f"pivot of the axle wrap {said}"


def test_a_shake_is_told_where_the_truck_goes_that_fast_and_the_shaft_turns() -> None:
    """Within a hair of its own speed; of a front shaft with its hubs unlocked nothing."""
    result, drive = demo("heather-moor-scout"), {"axle_ratio": 4.1, "tyre_radius": "16 in"}

    def shake(hubs: str, top: float) -> str:
        values = {"drive": drive | {"top_speed": f"{top:.3f} mph"}, "axle.hubs": hubs}
        return first_page(told_of(changed(result.rig, values))).shake

    def told_of(rig: Rig) -> Check:
        return replace(result, found=replace(result.found, rig=rig))

    speed = felt_of(changed(result.rig, {"drive": drive})).road
    assert speed is not None
    mph = speed * 3600.0 / 1_609_344.0
    assert shake("full-time", mph + 0.01) == f"Shake: felt above {mph:.0f} mph."
    assert shake("full-time", mph - 0.01) == ""
    assert shake("unlock", mph + 0.01) == ""


@pytest.mark.parametrize("code", EXAMPLES)
def test_every_finding_makes_a_sound_page(code: Code) -> None:
    """Alone, and as the first of many; whatever its verdict."""
    result, finding = told(code), found(code)
    assert_sound(lines_of(result))
    for verdict in ("touches", "close"):
        alone = replace(finding, verdict=verdict) if code in BOTH else finding
        if alone.verdict != verdict:
            continue
        one = replace(result, findings=(alone,))
        assert_sound(lines_of(one))
        page = first_page(one)
        assert page.word in ("TOUCHES", "RUNS OUT", "CLOSE")
        assert any(char.isdigit() for line in (page.says, *page.meets, page.slip) for char in line)
        assert_sound(lines_of(replace(result, findings=(alone,) * 7)))


def test_what_will_not_turn_at_ride_height_is_said_once() -> None:
    """With the joint that stops it; of a joint of which nothing else is said, for itself."""
    result = told("joint-bend")
    bend, turn = result.findings[0], replace(found("turns-at-ride"), verdict="touches")
    assert bend.subject == turn.detail["joint"] == "pinion"
    other = replace(turn, detail=dict(turn.detail) | {"joint": "output"})
    for second, times in ((turn, 0), (other, 1)):
        lines = lines_of(replace(result, findings=(bend, second)))
        assert " ".join(lines).count("Will not turn at ride height") == times


BOTH = ("surroundings",)
"""Findings of which a clear one is filled as any other is."""


def _turns(result: Check) -> Iterator[Turn]:
    """Every value that nobody gave, as if each turned the verdict."""
    data = result.rig.typed()
    defaults = {default.key: default for default in DEFAULTS}
    for each in result.rig.assumed:
        for other in defaults[each.key].others:
            tried = other.typed(each.key, data)
            if tried:
                yield Turn(each.key, each.value, tried, "touches", metal=True, moves=-1.0)


def test_every_value_that_is_tried_has_its_words() -> None:
    seen = set()
    texts = {
        "phone": f"schema = 1\n{PHONE_CALL}",
        "coordinates": "schema = 1\n" + PHONE_CALL.replace('snout = "11 in"\n', ""),
    }
    rigs = [parse_rig(text) for text in texts.values()]
    rigs += [load_demo(name) for name in demo_names()]
    for rig in rigs:
        result = demo("quarry-hauler")
        for turn in _turns(replace(result, found=replace(result.found, rig=rig))):
            line = turn_line(turn)
            assert "{" not in line
            assert "[" not in line
            assert len(line) < WIDTH
            assert line.count("(taken as ") == 1
            taken, tried = re.findall(r"taken as (.*?)\): with (.*) it TOUCHES$", line)[0]
            assert taken != tried
            ways = [way for way in ("left", "right") if next(iter(turn.tried)).endswith(way)]
            assert all(tried.endswith(f" {way}") for way in ways), "none the same either side"
            seen.add(turn.key)
    tried = {default.key for default in DEFAULTS if default.others}
    rare = {key for key in tried if key.startswith(("suspension.", "wrap.", "carrier."))}
    assert tried - seen <= rare | {"shaft.output_end.head", "shaft.pinion_end.head"}


def test_many_things_to_measure_are_no_more_than_fit() -> None:
    result = told("slip-not-measured")
    turns = TurningOver(tuple(_turns(result))[:5], None)
    for name in ("x" * 200, "A wagon", "word " * 40):
        rig = changed(result.rig, {"name": name.strip()})
        named = replace(result, found=replace(result.found, rig=rig))
        lines = lines_of(named, turns, FIX)
        assert_sound(lines)
        assert sum(line.startswith("  ") for line in lines) >= 3


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_pages_of_sparse_rigs_are_sound(seed: int) -> None:
    result = check(sparse(seed))
    turns = turning_over(result)
    lines = lines_of(result, turns)
    assert_sound(lines)
    wanted = [turn for turn in turns.turns if not turn.key.startswith("shaft.slip.")]
    assert len([line for line in lines if re.search(r"\((taken as|generic,)", line)]) >= min(
        3, len(wanted)
    )
    assert (len(wanted) < len(turns.turns)) <= ("Slip: measure it" in " ".join(lines))
    assert seconds(lines) < 45.0


def test_a_clear_shaft_has_nothing_to_fix() -> None:
    page = first_page(demo("quarry-hauler"), None, FIX)
    assert page.fix == ""
    assert not page.unfixed
    assert "cures" not in " ".join(page_lines(page, "bindpoint cures x"))


def test_the_fix_is_named_once_it_is_known() -> None:
    result = demo("marsh-runner")
    assert "What would fix it: bindpoint cures demo:my-truck" in lines_of(result)
    assert "Fix: output dropped 3 in." in lines_of(
        result, None, FirstCure((Remark("output-dropped", by=76.2, two_piece=False),), "clear")
    )
    close = FirstCure((Remark("output-dropped", by=76.2, two_piece=False),), "close")
    assert "Fix: output dropped 3 in, which leaves it CLOSE." in lines_of(result, None, close)
    none = lines_of(result, None, FirstCure((), "touches"))
    assert "Fix: nothing that was tried is enough." in none


def test_the_slip_is_told_either_way_where_it_is_short_or_nobody_measured_it() -> None:
    assert first_page(demo("quarry-hauler")).slip == "Slip: 1 1/8 in to spare."
    short = "Slip: 7/8 in left to close."
    assert first_page(demo("goat-path-buggy")).slip == short
    near = "Slip: 1 3/8 in left to close."
    assert first_page(demo("heather-moor-scout")).slip == near
    asked = "Slip: measure it; the travel takes 7/8 in to close, 3 1/8 in to open."
    assert first_page(told("slip-not-measured")).slip == asked
    half = changed(load_demo("quarry-hauler"), {"shaft.slip": {"at": "shaft", "opens": "4 in"}})
    one = "Slip: 3 3/8 in left to open. Measure it; the travel takes 5/8 in to close."
    assert first_page(check(half)).slip == one, "one way to spare is not both"
    page = first_page(told("slip-comes-apart"))
    assert "comes apart" in " ".join((page.says, *page.meets, page.slip))
    wanted = "3/4 in wanted (usual reserve)"
    assert " ".join(first_page(demo("heather-moor-scout")).meets).count(wanted) == 1


def test_a_fix_that_works_on_some_trucks_only_says_on_how_many() -> None:
    page = first_page(demo("long-legged-trail-wagon"), None, replace(FIX, chance=0.32))
    assert page.fix.endswith(", on at least 6 trucks in 10.")
    assert " trucks" not in first_page(demo("long-legged-trail-wagon"), None, FIX).fix


def test_full_begins_with_the_page_and_tells_all_the_rest(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    name = "demo:marsh-runner"
    short = run(monkeypatch, capsys, "check", name)
    full = run(monkeypatch, capsys, "check", name, "--full")
    assert short.code == full.code == 1
    page, sure = short.out.split(f"{CAUTION} More: --full\n")
    assert full.out.startswith(f"{page}{CAUTION}\n{sure}\n")
    assert sure.startswith("How sure: ")
    assert sure.count(".") == 1, "one sentence more than before"
    plain = " ".join(full.out.split())
    for finding in demo("marsh-runner").findings:
        assert says(finding) in plain
        assert says(finding) not in " ".join(short.out.split())


def test_json_has_the_page_and_what_turns_it_over() -> None:
    result = demo("marsh-runner")
    turns = turning_over(result)
    data: dict[str, Any] = check_data(result, "x", turns, FIX)
    assert data["first_page"] == page_lines(first_page(result, turns, FIX))
    (turn,) = data["turned_over_by"]
    assert turn == {
        "key": "travel.wrap_at_droop",
        "assumed": "100 %",
        "tried": {"travel.wrap_at_droop": "0 %"},
        "verdict": "clear",
        "says": "wrap at full droop (taken as all of it): with none it is CLEAR",
    }
    assert check_data(result, "x")["turned_over_by"] == []


def test_each_part_of_the_page_is_one_line_of_text() -> None:
    page = first_page(demo("long-legged-trail-wagon"))
    assert isinstance(page, FirstPage)
    for line in (page.says, *page.meets, page.slip):
        assert line.endswith(".")
        assert line[0].isupper() or line[0].isdigit()
    assert len(get_args(Code)) == len(EXAMPLES)
