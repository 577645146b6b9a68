"""`bindpoint vibration` as a user types it, and its answer read as a shop would."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from sim.derive import vehicle_of
from sim.rig import load_demo, parse_rig, save_rig
from sim.rig.demos import demo_text
from sim.speed import felt
from sim.vibration import Symptom, find_vibration
from tests.sim.vibration.rigs import flat
from tests.viewer.run_command import Ran, run
from viewer.endings import BAD_INPUT, CLEAR
from viewer.session.cures.text import mended_text
from viewer.vibration.asked import Asked, symptom_of
from viewer.words.lines import WIDTH
from viewer.words.verdicts import CAUTION
from viewer.words.vibration import CHECKS, NAMES, mend_name
from viewer.written.files import AskedError

WAGON, HAULER, SCOUT = (
    "demo:long-legged-trail-wagon",
    "demo:quarry-hauler",
    "demo:heather-moor-scout",
)
Command = Callable[..., Ran]


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words: run(monkeypatch, capsys, "vibration", *words)


def one(text: str) -> str:
    """The text on one line."""
    return " ".join(text.split())


@pytest.mark.slow
def test_buzzes_at_45_under_power(command: Command) -> None:
    ran = command(WAGON, "--at", "45 mph", "--when", "power", "--feel", "buzz")
    assert ran.code == CLEAR
    told = one(ran.out)
    assert "Buzzes at 45 mph (72 km/h) under power: shaft 2,090 rpm, 35 Hz once a turn" in told
    assert "Most likely: the joint angles (twice a turn, 70 Hz). This rig predicts it" in told
    assert "felt under power above 33 mph (53 km/h), shaft 1,520 rpm" in told
    assert "Felt above 33 mph now, above 75 mph then." in told
    assert "Aim alone does not cure it: the output joint is bent too much by itself." in told
    assert told.index("Most likely") < told.index("Then: a worn") < told.index("Less likely")
    assert one(CAUTION) in told
    assert max(map(len, ran.out.splitlines())) <= WIDTH


@pytest.mark.slow
def test_shakes_at_any_time_says_tires_and_balance(command: Command) -> None:
    told = one(command(HAULER, "--at", "65 mph", "--when", "any").out)
    assert "are as likely. First the cheapest to check: a tire" in told
    assert "One ounce at one inch pulls 13 lb at that speed." in told
    assert "Balance it to G16 at 2,695 rpm, which leaves: shaft 0.7" in told


@pytest.mark.slow
def test_a_rig_without_gears_is_asked_for_them_in_one_line(command: Command) -> None:
    told = command(SCOUT, "--at", "60 mph", "--only", "4wd").out
    assert "axle ratio (axle_ratio) and tire radius (tyre_radius)" in one(told)
    by_shaft = command(SCOUT, "--at", "2500 rpm", "--only", "4wd", "--when", "power").out
    assert "42 Hz once a turn and 83 twice" in one(by_shaft)
    assert "mph" not in by_shaft


@pytest.mark.slow
def test_hubs_unlocked_the_shaft_is_not_blamed(command: Command) -> None:
    told = one(command(SCOUT, "--at", "60 mph").out)
    assert "With the hubs unlocked this shaft stands still on the road" in told


@pytest.mark.slow
def test_json_has_all_of_it(command: Command) -> None:
    ran = command(HAULER, "--at", "60 mph", "--when", "coast", "--json")
    data = json.loads(ran.out)
    assert data["symptom"]["when"] == "coast"
    assert data["speeds"]["shaft_rpm"] == pytest.approx(2487.4, abs=0.1)
    assert data["hz"]["shaft"] == pytest.approx(data["speeds"]["shaft_rpm"] / 60.0)
    codes = [each["code"] for each in data["suspects"]]
    assert codes[0] == "joint-angles"
    assert set(codes) <= set(NAMES)
    for each in data["suspects"]:
        assert each["points"] == sum(reason["points"] for reason in each["reasons"])
        assert each["check"] == CHECKS[each["code"]]
        assert each["source"]
    for mend in data["mends"]:
        assert mend["after"]["speed_rpm"] > mend["before"]["speed_rpm"]
    assert data["felt"]["road_kmh"] == pytest.approx(
        data["speeds"]["road_kmh"] * data["felt"]["speed_rpm"] / data["speeds"]["shaft_rpm"]
    )


@pytest.mark.slow
def test_no_cure_is_told_of_a_shaft_that_runs_smoothly(command: Command, tmp_path: Path) -> None:
    save_rig(flat(1.0, 1.0), tmp_path / "smooth.toml")
    told = one(command(str(tmp_path / "smooth.toml"), "--at", "45 mph", "--when", "power").out)
    assert "now, above" not in told
    assert "The joint angles: this rig does not predict it" in told


@pytest.mark.slow
@pytest.mark.parametrize("name", ["quarry-hauler", "timber-crew-carrier"])
def test_a_cured_rig_file_is_felt_from_where_it_was_told(name: str) -> None:
    """Typed into the rig's own file, read again, and asked anew."""
    rig, text = load_demo(name), demo_text(name)
    found = find_vibration(rig, Symptom(road=26_822.4, when="coast"))
    assert len(found.mends) > 1
    for mend in found.mends:
        made = mended_text(rig, text, mend.cured, mend_name(mend))
        assert "# Demo rig" in made
        again = felt(vehicle_of(parse_rig(made)), load="coast")
        assert again.speed == pytest.approx(mend.after.speed, rel=2e-3)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "speed: nothing typed, expected a road speed"),
        (("--at", "fast"), "speed: came fast, expected a road speed"),
        (("--at", "0 mph"), "above zero"),
        (("--at", "99999 rpm"), "speed: 99999 rpm is too fast, expected at most 28,648 rpm"),
        (("--at", "400 mph"), "400 mph is too fast, expected at most 224 mph (360 km/h)"),
        (("--engine", "2400 rpm"), "without a gear"),
        (("--engine", "2400 rpm", "--gear", "none"), "gear: came none, expected a ratio"),
        (("--at", "45 mph", "--engine", "2400 rpm"), "expected one"),
        (("--at", "45 mph", "--when", "never"), "never"),
        (("--at", "45 mph", "--per-turn", "3"), "times a turn: got 3, expected 1 or 2"),
        (("--at", "20000 rpm"), "expected at most 10,000 rpm"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(
    command: Command, words: tuple[str, ...], says: str
) -> None:
    ran = command(HAULER, *words)
    assert ran.code == BAD_INPUT
    assert says in one(ran.err)
    assert not ran.out


@pytest.mark.parametrize(
    ("typed", "road", "shaft"),
    [("45 mph", 20116.8, None), ("70 km/h", 70e6 / 3600.0, None), ("2100 rpm", None, 219.9115)],
)
def test_a_speed_is_of_the_road_or_of_the_shaft(
    typed: str, road: float | None, shaft: float | None
) -> None:
    symptom = symptom_of(Asked(at=typed))
    assert symptom.road == (None if road is None else pytest.approx(road))
    assert symptom.shaft == (None if shaft is None else pytest.approx(shaft, rel=1e-6))


def test_pulling_away_needs_no_speed() -> None:
    assert symptom_of(Asked(when="takeoff")).road is None
    with pytest.raises(AskedError, match="speed"):
        symptom_of(Asked(when="power"))


def test_every_suspect_has_its_words() -> None:
    assert set(NAMES) == set(CHECKS)
