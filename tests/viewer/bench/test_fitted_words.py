"""What bench readings come to, as it is told, printed and published."""

import json
import re
from dataclasses import replace
from math import degrees, radians
from pathlib import Path

import numpy as np
import pytest

from sim.bench.fitted import Contradiction
from sim.rig import save_rig
from tests.viewer.bench.fitted_rigs import fitted, read
from tests.viewer.run_command import run
from viewer.bench.json import fitted_data
from viewer.words.fitted import answer_lines, fights, fitted_lines

pytestmark = pytest.mark.slow

NAME = "long-legged-trail-wagon"


def numbers(text: str) -> list[float]:
    return [float(each) for each in re.findall(r"\d+\.\d+", text)]


def test_the_answer_has_the_band_before_and_after_and_what_to_read_next() -> None:
    found = fitted(NAME)
    first, *_, last = answer_lines(found)
    told = [round(degrees(each), 1) for each in (*found.lowest, *found.before)]
    assert numbers(first) == told
    assert told[2] < told[0] < told[1] < told[3]
    assert "fitted, not measured" in first
    assert last.startswith(("Read next: ", "No reading more"))


def test_fights_name_the_reading_to_take_again() -> None:
    found = replace(
        fitted(NAME),
        contradictions=(
            Contradiction("readings", (3, 1), (radians(28.0), radians(27.0)), 0.001),
            Contradiction("yoke", (2,), (radians(27.5),), 0.0001),
        ),
    )
    between, of_kind = fights(found)
    assert between.startswith("Readings 1 and 3 do not go together")
    assert "reading 3 would be 28.0 deg, not 26.0 deg" in between
    assert "Reading 2 is 29.5 deg" in of_kind
    assert "27.5 deg at the nearest" in of_kind


def test_only_dimensions_that_the_readings_tell_of_are_listed() -> None:
    found = fitted(NAME)
    lines = list(fitted_lines(found))
    listed = [line for line in lines if " in (" in line and ", from " in line]
    assert any("throat of the pinion yoke" in line for line in listed)
    assert len(listed) < len(found.dimensions)
    rest = next(line for line in lines if "other dimensions" in line)
    assert len(listed) + int(rest.split()[0]) == len(found.dimensions)


def test_the_json_has_the_band_at_every_turn_and_every_dimension() -> None:
    found = fitted(NAME)
    data = fitted_data(found)
    low, high = np.array(data["touch_low_deg"], float), np.array(data["touch_high_deg"], float)
    assert low.shape == high.shape == (len(found.curve.spin),)
    np.testing.assert_allclose(np.radians(low), found.low, atol=1e-12, equal_nan=True)
    assert (low <= high).all()
    assert data["fitted"].keys() == {f"{d.free.yoke}.{d.free.name}" for d in found.dimensions}
    for each in data["fitted"].values():
        assert each["low_mm"] <= each["high_mm"]
        assert {"value_mm", "measured"} < each.keys()
    assert [each["clamped"] for each in data["readings"]] == ["shaft yoke"] * 3


def test_the_command_tells_prints_and_draws_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file, picture = tmp_path / "rig.toml", tmp_path / "curve.png"
    save_rig(read(NAME), file)
    ran = run(monkeypatch, capsys, "joint", str(file), "pinion", "--picture", str(picture))
    assert ran.code == 0
    assert "fitted, not measured" in ran.out
    assert "95 of 100" in ran.out
    assert picture.read_bytes().startswith(b"\x89PNG")
    data = json.loads(run(monkeypatch, capsys, "joint", str(file), "pinion", "--json").out)
    assert data["certified_clear_deg"] <= data["lowest_deg"][1]
    plain = run(monkeypatch, capsys, "joint", f"demo:{NAME}", "pinion", "--json")
    assert "fitted" not in json.loads(plain.out)
