"""`bindpoint truck` as a user types it, and its answer as a shop reads it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from sim.rig.demos import demo_text
from tests.viewer.run_command import Ran, run
from viewer.endings import BAD_INPUT, CLEAR
from viewer.words.lines import WIDTH
from viewer.words.verdicts import CAUTION

Command = Callable[..., Ran]

SEEN = """
[[seen_on_truck]]
at = "6 in droop"
joint = "pinion"
turned = "free"
[[seen_on_truck]]
at = "9 in droop"
slip_opened = "1 1/2 in"
[[seen_on_truck]]
paint_ran = "1 in"
"""
VISITS = """
[[visits]]
when = "2025-04-11"
state = "ride"
length = "38 in"
shaft_points_down = "16 deg"
frame_to_axle = "8 1/2 in"
[[visits]]
when = "2026-03-11"
state = "ride"
length = "37 5/8 in"
shaft_points_down = "14 deg"
frame_to_axle = "7 1/2 in"
"""


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words: run(monkeypatch, capsys, "truck", *words)


@pytest.fixture
def file(tmp_path: Path) -> Callable[[str], str]:
    def write(more: str) -> str:
        path = tmp_path / "rig.toml"
        path.write_text(demo_text("long-legged-trail-wagon") + more, encoding="utf-8")
        return str(path)

    return write


def one(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_the_text_tells_what_agrees_what_does_not_and_what_would_have_to_be(
    command: Command, file: Callable[[str], str]
) -> None:
    ran = command(file(SEEN + VISITS))
    assert ran.code == CLEAR
    told = one(ran.out)
    assert "1 6 in droop, turned by hand: the pinion joint is free. Computed: 1.7 deg" in told
    assert "2 9 in droop: the slip stands 1 1/2 in open of ride height. Computed: 11/16 in" in told
    assert told.count("Disagrees.") == 1
    assert told.count("Agrees.") == 2
    assert "What would have to be wrong, by itself, the least unlikely first:" in told
    assert re.search(r"- The .* would have to be .* in instead of .*: \w+ times what", told)
    assert "At ride height, 2025-04-11 to 2026-03-11 (334 days)" in told
    assert "frame to axle: 8 1/2 in, then 7 1/2 in: moved by 1 in, 99.9 % sure" in told
    assert "Looks like: the springs have settled by 1 in (common practice, no source)." in told
    assert "the springs have settled" in told.partition("The file against the last visit")[2]
    assert one(CAUTION) in told
    assert max(map(len, ran.out.splitlines())) <= WIDTH


def test_the_json_has_the_same(command: Command, file: Callable[[str], str]) -> None:
    data = json.loads(command(file(SEEN + VISITS), "--json").out)
    assert [each["agrees"] for each in data["seen"]] == [True, False, True]
    assert data["agrees"] is False
    first = data["alone"][0]
    assert first["explains"]
    assert abs(first["would_be"]["value"] - first["value"]["value"]) == pytest.approx(
        abs(first["deviations"]) * first["off"]["value"] / 1.959964, rel=1e-6
    )
    assert data["together"]["squares"] <= first["deviations"] ** 2 + 1e-6
    assert data["visits"][0]["looks"][0]["code"] == "springs-settled"
    assert data["against_rig"]["settled_mm"] > 0.0


def test_every_key_of_the_json_is_explained(command: Command, file: Callable[[str], str]) -> None:
    page = (Path(__file__).parents[2] / "docs" / "json.md").read_text("utf-8")
    part = page.partition("## truck --json")[2].partition("\n## ")[0]
    data = json.loads(command(file(SEEN + VISITS), "--json").out)

    def keys(held: object) -> set[str]:
        if isinstance(held, dict):
            return set(held) | {key for value in held.values() for key in keys(value)}
        if isinstance(held, list):
            return {key for value in held for key in keys(value)}
        return set()

    named = set(re.findall(r"[a-z_]+", " ".join(re.findall(r"`([^`]+)`", page))))
    assert keys(data) <= named
    assert {"contradictions", "alone", "together", "put_in"} <= set(re.findall(r"\w+", part))


def test_all_that_agrees_is_one_sentence(command: Command, file: Callable[[str], str]) -> None:
    ran = command(file('[[seen_on_truck]]\nat = "ride"\nturned = "free"\n'))
    assert "All that was seen agrees with what is computed." in ran.out
    assert "would have to be" not in ran.out


def test_only_suspects_near_the_least_unlikely_are_named(
    command: Command, file: Callable[[str], str]
) -> None:
    """A slip read 3/4 in wrong: by springs it would take 13 times what a tape is off."""
    seen = '[[seen_on_truck]]\nat = "8 in droop"\nslip_opened = "1 1/2 in"\n'
    told = one(command(file(seen)).out)
    named = told.partition("the least unlikely first:")[2].partition("Or several at once")[0]
    assert named.count("would have to be") == 1
    assert "The reading of number 1 would have to be" in named
    assert "other numbers could explain it too, but less likely." in named


def test_a_contradiction_is_said_plainly(command: Command, file: Callable[[str], str]) -> None:
    seen = """
[[seen_on_truck]]
at = "6 in droop"
joint = "pinion"
turned = "touches"
[[seen_on_truck]]
at = "8 in droop"
joint = "pinion"
turned = "free"
"""
    told = one(command(file(seen)).out)
    assert "1 and 2 contradict each other, whatever the rig is" in told
    assert "bent farther at 8 in droop, where it is free, than at 6 in droop" in told
    assert "would have to be" not in told


def test_a_rig_with_nothing_to_hold_says_what_to_put_in(command: Command) -> None:
    ran = command("demo:long-legged-trail-wagon")
    assert ran.code == BAD_INPUT
    assert "[[seen_on_truck]]" in ran.err
    assert "[[visits]]" in ran.err
