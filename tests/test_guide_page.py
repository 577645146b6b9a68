"""docs/json.md explains every key, code, column and exit code that programs may read."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from typer.main import get_group

from geometry.relief import Plan, Relief, Stop
from sim.check import check
from sim.findings import Code, Verdict
from sim.hardware.joint import joint_hardware
from sim.pose import check_pose
from sim.seen.demos import load_demo
from sim.vehicle import RIDE
from sim.vibration import Symptom, find_vibration
from sim.why.why import why
from tests.demo_scans import WELD
from tests.sim.ticket.rigs import demo_ticket
from tests.viewer.bench.fitted_rigs import fitted
from tests.viewer.run_command import run
from tests.viewer.test_relief_picture import cut
from viewer.check.json import check_data
from viewer.check.table import COLUMNS
from viewer.command_line import app
from viewer.commands.joint import joint_data
from viewer.commands.pose import posed_data
from viewer.endings import BAD_INPUT, CLEAR, STOPPED, TOUCHES
from viewer.relief.json import relief_data
from viewer.rigs import DEMO, demo_names, named_rig
from viewer.ticket.json import build_data
from viewer.vibration.json import vibration_data
from viewer.why.json import why_data

DOCS = Path(__file__).parents[1] / "docs"
GUIDE, PAGE = ((DOCS / name).read_text("utf-8") for name in ("guide.md", "json.md"))
NAMES = re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", PAGE, flags=re.DOTALL))
WORDS = set(re.findall(r"[a-z_]+(?:-[a-z]+)*", " ".join(NAMES)))


def keys(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        yield from data
        for value in data.values():
            yield from keys(value)
    elif isinstance(data, list):
        for value in data:
            yield from keys(value)


@pytest.mark.slow
def test_every_key_of_the_json_is_explained() -> None:
    rig = named_rig("demo:long-legged-trail-wagon")
    result = check(rig)
    found = result.joints["pinion"]
    answers = [
        check_data(result, rig.name),
        joint_data(found.hardware, found.curve, fitted("long-legged-trail-wagon")),
        posed_data(check_pose(rig, RIDE, 0.0), rig.name),
    ]
    assert answers[0]["first_contact"] is not None
    for answer in answers:
        # A dimension is called by its yoke and its name in the rig file.
        assert {key for key in keys(answer) if "_yoke." not in key} <= WORDS


def test_every_key_of_a_build_ticket_is_explained() -> None:
    for name in ("timber-crew-carrier", "goat-path-buggy"):
        data = build_data(demo_ticket(name), name)
        data["strength"]["smallest_that_fits"] = {}
        assert set(keys(data)) <= WORDS


@pytest.mark.slow
def test_every_key_and_suspect_of_a_shake_is_explained() -> None:
    found = find_vibration(named_rig("demo:quarry-hauler"), Symptom(road=26_822.4, when="coast"))
    data = vibration_data(found, "quarry-hauler")
    assert data["mends"]
    assert set(keys(data)) <= WORDS
    for option in ("at", "engine", "gear", "when", "feel", "per-turn", "follows", "only"):
        assert f"`--{option}`" in GUIDE


@pytest.mark.slow
def test_every_key_of_why_is_explained() -> None:
    name = "long-legged-trail-wagon"
    data = why_data(why(named_rig(f"demo:{name}"), load_demo(name)), name)
    assert data["marks"]
    assert data["seen_marks"]
    assert data["overload"]["bind"]
    assert data["do"]
    assert set(keys(data | {"story_odds": {}})) - set(data["caps"]) <= WORDS


@pytest.mark.slow
def test_every_key_of_a_yoke_is_explained(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    readings = tmp_path / "readings.toml"
    readings.write_text('kind = "weld yoke"\ncross = "27 x 82"\n', encoding="utf-8")
    for words in ((str(WELD.path),), (str(readings), "--measured")):
        told = json.loads(run(monkeypatch, capsys, "yoke", *words, "--json").out)
        assert set(keys({**told, "dimensions": {}, "readings_mm": {}})) <= WORDS


def test_every_option_of_a_yoke_is_explained() -> None:
    page = (DOCS / "own-yokes.md").read_text("utf-8")
    options = [name for item in get_group(app).commands["yoke"].params for name in item.opts]
    assert len([name for name in options if name.startswith("--")]) >= 8
    assert [name for name in options if name.startswith("--") and name not in page] == []


def test_the_readings_of_the_page_are_taken(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    page = (DOCS / "own-yokes.md").read_text("utf-8")
    (text,) = re.findall(r"```toml\n(kind = .*?)```", page, flags=re.DOTALL)
    (tmp_path / "readings.toml").write_text(text, encoding="utf-8")
    ran = run(monkeypatch, capsys, "yoke", str(tmp_path / "readings.toml"), "--measured")
    assert ran.code == 0
    assert "2 of 11 readings taken" in ran.out


def test_every_key_of_a_relief_is_explained() -> None:
    hardware = joint_hardware(named_rig("demo:long-legged-trail-wagon"), "pinion")
    stop = Stop("wall", "driving", "", 0.5)
    plan = Plan("driving", 0.4, 0.45, {"driving": cut()}, 0.8, stop)
    data = relief_data(hardware, Relief(0.5, 0.8, 4.8, 0.4, (plan,)))
    said = set(keys(data)) - {hardware.yoke_name("driving")}
    assert said <= WORDS | {name.strip() for name in NAMES}


def test_every_code_verdict_and_column_is_explained() -> None:
    assert {*get_args(Code), *get_args(Verdict), *COLUMNS} <= WORDS


def test_exit_codes_are_those_of_the_page() -> None:
    table = PAGE[PAGE.index("Every command has these exit codes") :]
    rows = dict(re.findall(r"^\| (\d+) \| (.+) \|$", table, re.MULTILINE))
    assert rows[str(CLEAR)].startswith("it was done; nothing touches")
    assert rows[str(TOUCHES)].startswith("it touches or runs out")
    assert rows[str(BAD_INPUT)].startswith("the input cannot be used")
    assert rows[str(STOPPED)].startswith("stopped by Ctrl+C")


def test_every_demo_rig_is_named_and_no_other() -> None:
    assert set(re.findall(rf"`{DEMO}([a-z-]+)`", GUIDE)) == set(demo_names())
