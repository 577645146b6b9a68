"""`bindpoint why` as typed: at the counter, as JSON, on a sheet, and what it refuses."""

import json
from pathlib import Path

import pytest

from sim.rig.demos import load_demo
from sim.seen import inspection_from_data
from sim.seen.demos import demo_names
from sim.why.why import why
from tests.outside.why_cases import ToldCase, told_cases
from tests.viewer.run_command import run
from viewer.endings import BAD_INPUT, CLEAR
from viewer.why.counter import MOST_LINES, TOO_LITTLE, WORTH, counter
from viewer.why.picture import why_picture
from viewer.why.text import counter_lines
from viewer.why.told import told_of
from viewer.words.causes import CAUSES, bar_length, chance_words, percent
from viewer.words.remarks import said
from viewer.words.seen import CAP_CALLED
from viewer.words.signs import SIGN_WORDS
from viewer.words.verdicts import CAUTION

BOUND = "demo:long-legged-trail-wagon"
GUIDE = Path(__file__).parents[2] / "docs" / "guide.md"


def why_run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str
) -> tuple[int, str, str]:
    """Run it; exit code and both streams."""
    ran = run(monkeypatch, capsys, "why", *words)
    return ran.code, ran.out, ran.err


def test_without_an_inspection_it_says_how_to_make_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = why_run(monkeypatch, capsys, BOUND)
    assert (code, out) == (BAD_INPUT, "")
    assert f"bindpoint look {BOUND}" in err


@pytest.mark.slow
def test_a_joint_the_rig_does_not_have_is_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    seen = tmp_path / "seen.toml"
    seen.write_text('schema = 1\nkind = "inspection"\njoint = "middle"\n', encoding="utf-8")
    code, out, err = why_run(monkeypatch, capsys, BOUND, "--seen", str(seen))
    assert (code, out) == (BAD_INPUT, "")
    assert "middle" in err
    assert err.count("\n") == 1


def test_a_rig_in_place_of_an_inspection_is_told_apart(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    wrong = tmp_path / "rig.toml"
    wrong.write_text('schema = 1\n[output]\npoints_down = "3 deg"\n', encoding="utf-8")
    code, _, err = why_run(monkeypatch, capsys, BOUND, "--seen", str(wrong))
    assert code == BAD_INPUT
    assert "a rig file" in err


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_each_demo_is_told_with_its_caution(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    demo = f"demo:{name}"
    code, out, _ = why_run(monkeypatch, capsys, demo, "--seen", demo)
    assert code == CLEAR
    words = " ".join(out.split())
    assert CAUTION in words
    assert "never proof" in words
    assert "proves" not in words
    counter = out.split("\n\n")[0].splitlines()
    assert len(counter) <= 1 + MOST_LINES
    full = why_run(monkeypatch, capsys, demo, "--seen", demo, "--full")[1]
    assert full.startswith(out.split("\n\n")[0])
    assert "What to do now" in full
    if demo == BOUND:
        assert out.split("\n\n")[0] in GUIDE.read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("case", told_cases(), ids=lambda case: case.name)
def test_what_is_said_at_the_counter_fits_ten_lines(case: ToldCase) -> None:
    found = why(load_demo(case.rig), inspection_from_data(case.inspection, case.name))
    lines = counter_lines(told_of(found, case.rig))
    assert len(lines) <= 1 + MOST_LINES
    first = found.causes[0]
    if found.too_little:
        assert TOO_LITTLE in " ".join(lines)
        return
    assert CAUSES[first.code].it in " ".join(" ".join(lines).split())
    assert percent(first.chance) in " ".join(lines)


@pytest.mark.slow
def test_json_has_the_keys_that_programs_rely_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    data = json.loads(why_run(monkeypatch, capsys, BOUND, "--seen", BOUND, "--json")[1])
    assert data["story"] == "broke"
    odds = [each["odds"] for each in data["causes"]]
    assert odds == sorted(odds, reverse=True)
    first = data["causes"][0]
    assert first["code"] == "bound"
    assert {"speaks_for", "speaks_against", "not_looked_at", "settle"} <= first.keys()
    assert {"what", "tool"} <= first["settle"][0].keys()
    mark = {"part", "surface", "clock_deg", "depth_mm", "pair", "from_pose"}
    assert all(mark <= each.keys() for each in data["marks"])
    cap = {"tilt_mrad", "corner_ratio", "corners", "peak_mpa", "life_ratio"}
    assert all(cap <= each.keys() for each in data["caps"].values())
    assert {"what", "tool"} <= data["next"][0].keys()


@pytest.mark.slow
def test_a_shops_own_joints_are_told_openly(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    own = tmp_path / "settled.toml"
    joint = '[[joints]]\ncauses = ["frozen-slip"]\n'
    own.write_text(f'schema = 1\nkind = "confirmed causes"\n{20 * joint}', encoding="utf-8")
    name = "demo:heather-moor-scout"
    asked = (name, "--seen", name, "--json")
    plain = json.loads(why_run(monkeypatch, capsys, *asked)[1])
    shifted = json.loads(why_run(monkeypatch, capsys, *asked, "--confirmed", str(own))[1])
    before, after = (
        next(each["odds"] for each in data["causes"] if each["code"] == "frozen-slip")
        for data in (plain, shifted)
    )
    assert after > before
    assert plain["confirmed"] == []
    assert any("20" in line for line in shifted["confirmed"])


@pytest.mark.needs_gl
@pytest.mark.slow
def test_the_sheet_is_drawn(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    place = tmp_path / "why.png"
    code, _, err = why_run(monkeypatch, capsys, BOUND, "--seen", BOUND, "--picture", str(place))
    assert code == CLEAR
    assert f"drew {place}" in err
    assert place.read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.999, "very likely (over 95 %)"),
        (0.951, "very likely (over 95 %)"),
        (0.92, "very likely (92 %)"),
        (0.6, "likely (60 %)"),
        (0.3, "possible (30 %)"),
        (0.1, "unlikely, but not ruled out (10 %)"),
        (0.05, "unlikely, but not ruled out (5 %)"),
        (0.001, "hardly (under 5 %)"),
    ],
)
def test_odds_are_never_for_certain(chance: float, words: str) -> None:
    assert chance_words(chance) == words
    assert bar_length(chance) == min(chance, 0.95)


@pytest.mark.slow
def test_where_one_cause_is_very_likely_a_look_is_told_that_tells_of_it() -> None:
    """Or of the next one that stands; and none where none tells."""
    for case in told_cases():
        told = why(load_demo(case.rig), inspection_from_data(case.inspection, case.name))
        line = [each for each in counter(told, "demo") if each.startswith("Not looked at")]
        if not told.causes[0].chance >= 0.85 or not line:
            continue
        kept = [each.unseen for each in told.causes if each.chance >= 0.2]
        first = next(unseen for unseen in kept if any(bits >= WORTH for _, bits in unseen))
        asks = {SIGN_WORDS[sign].asks for sign, bits in first if bits >= WORTH}
        assert any(each in line[0] for each in asks)


def test_text_and_picture_name_the_same_crooked_cap() -> None:
    """The one whose corner carries most, the first of those alike; that there are more is said."""
    both = {cap: {"tilt": "0.3 deg"} for cap in ("end_a", "end_b")}
    data = {"schema": 1, "kind": "inspection", "joint": "pinion", "caps": both}
    told = why(load_demo("timber-crew-carrier"), inspection_from_data(data))
    pressed = why_picture(told, "demo").pressed
    found = told.computed_of("cap-cocked")
    assert pressed is not None
    assert found is not None
    assert told.asked.cocked.worst == "end_a"
    assert CAP_CALLED["end_a"] in pressed.headline
    assert CAP_CALLED["end_a"] in said(found.why)
    assert CAP_CALLED["end_b"] in " ".join(pressed.lines)
