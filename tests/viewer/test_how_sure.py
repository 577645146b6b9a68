"""How sure an answer is, as commands print it: after the plain answer, beside its numbers."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from sim.bars import first_bars
from sim.check import Check, check
from sim.pose import check_pose
from sim.rig import load_demo
from sim.ticket.ticket import Ticket, with_bars
from sim.vehicle import Pose
from tests.kept import kept
from tests.sim.ticket.rigs import demo_ticket
from tests.viewer.run_command import Ran, run
from tests.viewer.test_bars_words import bars, one
from viewer.bars import asked
from viewer.bars.asked import Sure, how_sure
from viewer.check.json import check_data
from viewer.check.picture import check_picture
from viewer.check.text import rest_text
from viewer.commands.pose import posed_data
from viewer.ticket.json import build_data
from viewer.ticket.text import build_text
from viewer.words.first_page import CAUTION
from viewer.words.posed import pose_lines

NAME = "marsh-runner"
Command = Callable[..., Ran]


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words: run(monkeypatch, capsys, *words)


@kept
def checked() -> Check:
    return check(load_demo(NAME))


@kept
def ticket() -> Ticket:
    return with_bars(demo_ticket(NAME))


def sure() -> Sure:
    return how_sure(checked().found, lambda _what, _share: None)


def test_the_plain_answer_is_out_before_anybody_asks_how_sure_it_is(
    command: Command, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before: list[str] = []

    def late(*_: object) -> Sure:
        before.append(capsys.readouterr().out)
        return Sure(bars(0.7, one("joint-bend", 0.7, -1.0, 3.0)))

    monkeypatch.setattr("viewer.commands.check.how_sure", late)
    ran = command("check", f"demo:{NAME}")
    assert before[0].splitlines()[1].startswith("TOUCHES")
    assert CAUTION in before[0]
    assert ran.out == ("How sure: may touch; of trucks that measure like this one 7 in 10 touch.\n")
    assert ran.code == 1, "the plain verdict decides"


def test_sure_draws_whole_trucks_and_any_later_check_has_them(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn = bars(0.31, one("joint-bend", 0.31, -1.0, 3.0), how="full")
    kept_now: list[Any] = []
    monkeypatch.setattr(asked, "kept_bars", lambda *_, **__: kept_now[-1] if kept_now else None)

    def full(*_: object, **__: object) -> Any:
        kept_now.append(drawn)
        return drawn

    monkeypatch.setattr(asked, "bars", full)
    monkeypatch.setattr(asked, "first_bars", lambda *_, **__: bars(0.9, how="first"))
    assert "9 in 10" in command("check", f"demo:{NAME}").out
    assert "3 in 10" in command("check", f"demo:{NAME}", "--sure").out
    assert "3 in 10" in command("check", f"demo:{NAME}").out
    assert len(kept_now) == 1


def test_json_tells_it_at_the_top_and_at_each_finding() -> None:
    result, known = checked(), sure()
    data = check_data(result, NAME, sure=known)
    told = known.bars
    assert told is not None
    assert data["how_sure"]["chance"] == told.chance
    assert data["how_sure"]["says"] == known.says
    assert {each["key"] for each in data["how_sure"]["off"]} >= set(told.keys)
    for finding, each in zip(result.findings, data["findings"], strict=True):
        own = told.of(finding)
        assert each["chance"] == (None if own is None else own.chance)
        if own is not None and own.band is not None:
            assert each["band"] == {
                "low": own.band.low,
                "high": own.band.high,
                "unit": own.band.unit,
            }
            assert each["band"]["unit"] == each["margin"]["unit"]
            assert each["band"]["low"] < each["margin"]["value"] < each["band"]["high"]
    plain = check_data(result, NAME)
    assert plain["how_sure"] is None
    assert {each["chance"] for each in plain["findings"]} == {None}
    assert plain["measure_next"] == []
    assert [each["key"] for each in data["measure_next"]] == [each.key for each in told.again]
    told_apart = ("how_sure", "findings", "measure_next")
    same = [key for key in plain if key not in told_apart]
    assert {key: plain[key] for key in same} == {key: data[key] for key in same}
    json.dumps(data, allow_nan=False)


def test_full_has_a_line_under_each_finding_and_what_was_taken() -> None:
    result, known = checked(), sure()
    text, plain = rest_text(result, known), rest_text(result)
    assert "How sure" not in plain
    lines = [line for line in text.splitlines() if line.startswith("       How sure: ")]
    assert known.bars is not None
    assert len(lines) == sum(known.bars.of(each) is not None for each in result.findings)
    assert "Taken to be off by, 95 readings of 100:" in text
    left = [line for line in text.splitlines() if line in plain.splitlines()]
    assert set(plain.splitlines()) <= set(left)


def test_the_sheet_has_it_as_its_last_line() -> None:
    result, known = checked(), sure()
    assert check_picture(result, sure=known).lines[-1] == known.says
    assert check_picture(result).lines == check_picture(result, sure=known).lines[:-1]


def test_a_ticket_has_bands_in_its_own_columns_and_no_other_line_differs() -> None:
    made, plain = ticket(), build_text(demo_ticket(NAME)).splitlines()
    lines = build_text(made).splitlines()
    more = [line for line in lines if line not in plain]
    assert [line for line in plain if line not in lines] == []
    assert len(more) <= 3 + len(made.found.joints) + len(made.cuts.cuts)
    assert all(len(line) <= 96 for line in more)
    assert any(line.startswith("  How sure: ") for line in more)
    assert sum("95 of 100 trucks" in line for line in more) == len(made.found.joints)
    assert made.sure is not None
    data, without = build_data(made, NAME), build_data(demo_ticket(NAME), NAME)
    json.dumps(data, allow_nan=False)
    assert data["how_sure"]["chance"] == made.sure.bars.chance
    assert without["how_sure"] is None
    for joint, each in data["bends"].items():
        assert each["ride_off_deg"] >= 0.0
        for name, value in (("worst", "worst_deg"), ("certified_clear", "certified_clear_deg")):
            band = each[f"{name}_band"]
            assert band["low"] <= each[value] <= band["high"], (joint, name)


def test_a_pose_says_how_far_off_it_may_be(command: Command) -> None:
    ran = command("pose", f"demo:{NAME}", "--travel", "3 in droop", "--json")
    data = json.loads(ran.out)["how_sure"]
    assert data["likely"] in ("clear", "may-touch", "touches")
    assert set(data["joints"]) == {"output", "pinion"}
    assert data["joints"]["pinion"]["bend_off_deg"] > 0.1
    text = command("pose", f"demo:{NAME}", "--travel", "3 in droop").out.splitlines()
    (line,) = (each for each in text if each.startswith("sure    "))
    assert "give or take: output bend 0." in line
    posed = check_pose(load_demo(NAME), Pose(-76.2), 0.0)
    assert posed_data(posed, NAME)["how_sure"] is None
    assert not any(each.startswith("sure") for each in pose_lines(NAME, posed))


def test_first_bars_are_the_ones_of_the_room() -> None:
    known = sure()
    assert known.bars == first_bars(checked().found)
