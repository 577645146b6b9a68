"""`bindpoint cures` as a user types it."""

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

import numpy as np
import pytest

from geometry.errors import ShapeError
from sim.check import check
from sim.cures import Cures, find_cures
from sim.cures.first_cure import first_cure
from sim.kept.answers import FOLDER_VARIABLE
from sim.rig import Rig, load_rig
from sim.rig.change import changed
from sim.rig.demos import load_demo
from sim.rig.document import rig_text
from tests.viewer.run_command import Ran, run
from tests.viewer.session.conftest import checked
from viewer.cures.aim_plot import COLUMNS
from viewer.words.cures import ON_SOME

GOAT = "demo:goat-path-buggy"
FURTHER = {"travel.droop": "8 in", "travel.bump": "5 in"}
Command = Callable[..., Ran]


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words, typed="": run(monkeypatch, capsys, *words, typed=typed)


@pytest.mark.slow
def test_the_cheapest_that_leaves_no_doubt_comes_first_with_its_price(command: Command) -> None:
    """More stroke is cheaper, but leaves the pinion joint as tight as it is."""
    ran = command("cures", GOAT)
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert lines[1].startswith("RUNS OUT")
    first = next(line for line in lines if line.startswith("  1. "))
    assert first == "  1. Limit straps at 3 in droop"
    doubtful = lines.index(f"{ON_SOME}:")
    assert lines[doubtful + 1] == "  3. Sliding yoke with 2 in more stroke"
    assert "Works on at least 9 trucks in 10" in " ".join(lines[doubtful:])
    assert "Works on" not in " ".join(lines[:doubtful])
    assert "All of this is about room." in ran.out
    assert "costs 62% of the droop" in ran.out
    assert "certifies nothing" in ran.out
    assert all(len(line) <= 100 for line in lines)


@pytest.mark.slow
def test_what_a_check_calls_the_fix_is_ranked_by_the_weights_shipped(
    command: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rig = load_demo("marsh-runner")
    found = find_cures(rig)
    monkeypatch.setattr("viewer.commands.cures.find_cures", lambda *_: found)
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    own = tmp_path / "weights.toml"
    own.write_text("hour = 1000.0\n")
    assert command("cures", "demo:marsh-runner", "--weights", str(own)).code == 0
    assert first_cure(rig) is None
    assert command("cures", "demo:marsh-runner").code == 0
    assert first_cure(rig) is not None


@pytest.mark.slow
def test_a_saved_cure_is_a_rig_that_checks_as_promised(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "cured.toml"
    ran = command("cures", GOAT, "--json", "--save", "2", "--to", str(place))
    assert ran.code == 0
    data = json.loads(ran.out)
    cure = data["cures"][1]
    assert cure["works"]
    result = check(load_rig(place))
    assert "checked again as a whole" in ran.err
    assert result.joints["pinion"].margin * 57.29577951308232 == pytest.approx(
        cure["after"]["pinion_margin_deg"], abs=1e-3
    )
    assert "not built yet" in (load_rig(place).note or "")


@pytest.mark.slow
def test_the_aim_is_a_table_or_a_plot(command: Command, tmp_path: Path) -> None:
    table, plot = tmp_path / "aim.csv", tmp_path / "aim.png"
    assert command("cures", GOAT, "--aim", str(table)).code == 0
    rows = list(csv.DictReader(table.read_text("utf-8").splitlines()))
    assert tuple(rows[0]) == COLUMNS
    turns = [float(row["turn_deg"]) for row in rows]
    assert turns == sorted(turns)
    assert min(turns) < -9.0
    assert max(turns) > 9.0
    ran = command("cures", GOAT, "--json", "--aim", str(plot))
    assert plot.read_bytes().startswith(b"\x89PNG")
    assert len(json.loads(ran.out)["aim"]["aims"]) == len(rows)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--save", "0"), "--save: came 0, expected the number of a cure, 1 or more"),
        (("--save", "-3"), "--save: came -3, expected the number of a cure, 1 or more"),
        (("--to", "there.toml"), "--to: came without --save"),
        (("--aim", "aim.pdf"), "expected a name that ends in .csv or .png"),
        (("--weights", "none.toml"), "expected a TOML file of weights"),
        (("--without", "magic"), "--without: came magic, which is no remedy, expected one of"),
    ],
)
def test_bad_input_is_one_line(
    command: Command, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], says: str
) -> None:
    refuse_to_search(monkeypatch)
    ran = command("cures", GOAT, *words)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1
    assert ran.out == ""


def test_a_word_is_no_number_of_a_cure(command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    refuse_to_search(monkeypatch)
    ran = command("cures", GOAT, "--save", "first")
    assert ran.code == 2
    assert "--save" in ran.err


@pytest.mark.slow
def test_a_number_past_the_last_loses_no_list(
    command: Command, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """How many there are is known once they are found: the list is printed, nothing written."""
    monkeypatch.chdir(tmp_path)
    ran = command("cures", GOAT, "--save", "99")
    assert ran.code == 2
    numbers = [line for line in ran.out.splitlines() if line[:3].strip().isdigit()]
    assert f"--save: came 99, expected a number from 1 to {len(numbers)}, as listed" in ran.err
    assert len(ran.err.strip().splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_saving_searches_once(
    command: Command, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    calls: list[str] = []

    def counted(rig: Rig, *rest: Any) -> Cures:
        calls.append(rig.name)
        return find_cures(rig, *rest)

    monkeypatch.setattr("viewer.commands.cures.find_cures", counted)
    monkeypatch.chdir(tmp_path)
    assert command("cures", GOAT, "--save", "1").code == 0
    assert len(calls) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["cured-1.toml"]
    ran = command("cures", GOAT, "--save", "1")
    assert ran.code == 2
    assert "which is there already" in ran.err
    assert len(calls) == 1


def refuse_to_search(monkeypatch: pytest.MonkeyPatch) -> None:
    def searched(*_: Any) -> Cures:
        raise AssertionError("what can be told at once is told before anything is tried")

    monkeypatch.setattr("viewer.commands.cures.find_cures", searched)


@pytest.mark.slow
def test_what_is_beyond_the_readings_is_said(command: Command, tmp_path: Path) -> None:
    """In the text under each cure that rests on it; the verdict is that of the check."""
    rig, place = changed(load_demo("marsh-runner"), FURTHER), tmp_path / "further.toml"
    place.write_text(rig_text(rig), "utf-8")
    ran = command("cures", str(place))
    assert "Measure it at 8 in" in " ".join(ran.out.split())
    each, _, _ = ran.out.partition("Best pinion aim")  # that has a downside of its own
    assert each.count("Rests on what was not measured") == each.count("Downside:")
    data = json.loads(command("cures", str(place), "--json").out)
    assert data["before"]["beyond_readings_mm"] == pytest.approx(25.4, abs=1e-6)
    assert all(cure["after"]["verdict"] != "clear" for cure in data["cures"])


def test_nothing_that_is_there_is_overwritten(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "mine.toml"
    place.write_text("precious", "utf-8")
    ran = command("cures", GOAT, "--save", "1", "--to", str(place))
    assert ran.code == 2
    assert "which is there already" in ran.err
    assert place.read_text("utf-8") == "precious"


@pytest.mark.slow
def test_what_is_ruled_out_is_not_tried_and_is_told(command: Command) -> None:
    ran = command("cures", GOAT, "--json", "--without", "straps", "--without", "Longer slip")
    data = json.loads(ran.out)
    assert data["without"] == ["limit-straps", "longer-slip"]
    codes = {remedy["code"] for cure in data["cures"] for remedy in cure["remedies"]}
    assert codes
    assert not codes & {"limit-straps", "longer-slip"}
    best = data["best_that_costs_no_travel"]
    assert not data["cures"][best - 1]["takes_travel"]


def test_a_clear_rig_says_so(command: Command) -> None:
    ran = command("cures", "demo:quarry-hauler")
    assert ran.code == 0
    assert "It needs no cure" in ran.out


@pytest.mark.slow
def test_a_shaft_that_hits_what_is_near_it_is_not_said_to_need_nothing(
    command: Command, tmp_path: Path
) -> None:
    """Once it was: `check` said that it touches, `cures` that nothing does."""
    bar = {"at": ["40 in", "0 in", "5 in"], "size": ["2 in", "20 in", "2 in"]}
    rig = changed(load_demo("quarry-hauler"), {"surroundings": [{"name": "bar", "box": bar}]})
    place = tmp_path / "hits.toml"
    place.write_text(rig_text(rig), encoding="utf-8")
    ran = command("cures", str(place))
    assert ran.code == 1
    assert "TOUCHES (the bar)  as it is" in ran.out
    assert "As it is, the tube hits the bar. No cure here takes care of that" in ran.out
    assert "Nothing touches" not in ran.out
    data = json.loads(command("cures", str(place), "--json").out)
    assert [(each["name"], each["touches"]) for each in data["near"]] == [("bar", True)]


@pytest.mark.slow
def test_grinding_is_planned_only_where_it_makes_sense(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For the bend that is met and the reserve, handed on to the planning of relief."""
    asked: list[float] = []

    def planned(
        _driving: object, _driven: object, _cross: object, wanted: float, **_: object
    ) -> NoReturn:
        asked.append(wanted)
        raise ShapeError("nothing to grind with")

    monkeypatch.setattr("sim.cures.grinding.relief", planned)
    data = json.loads(command("cures", "demo:marsh-runner", "--json", "--grind").out)
    (ground,) = data["grinding"]
    assert (ground["joint"], ground["why_not"]) == ("pinion", "nothing to grind with")
    result = checked("marsh-runner").joints["pinion"]
    assert asked == [pytest.approx(result.sweep.most.value + np.radians(2.0), abs=1e-9)]
