"""`joint --relief`: what it prints, and that the ground parts really are free."""

import json
from pathlib import Path

import numpy as np
import pytest
import trimesh

from tests.viewer.run_command import run

WAGON = "demo:long-legged-trail-wagon"


@pytest.mark.slow
def test_relief_tells_what_is_gained_and_why_it_stops(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    ran = run(
        monkeypatch, capsys, "joint", WAGON, "output", "--relief", "29 deg", "--json",
        "--export", str(tmp_path),
    )  # fmt: skip
    data = json.loads(ran.out)
    assert ran.code == (0 if data["enough"] else 1)
    assert data["nothing_to_grind"] is None
    assert {plan["way"] for plan in data["plans"]} == {"driving", "driven", "shared"}
    for plan in data["plans"]:
        assert plan["reached_deg"] >= data["before_deg"] - 1e-9
        assert plan["gained_deg"] == pytest.approx(plan["reached_deg"] - data["before_deg"])
        assert (plan["stop"] is None) == (plan["reached_deg"] >= data["wanted_deg"] - 1e-6)
        for cut in plan["cuts"].values():
            assert cut["depth_mm"] > 0.0
            assert (cut["wall_mm"] is None) == (cut["limit_mm"] is None)
            if cut["wall_mm"] is not None:
                assert cut["wall_mm"] >= cut["limit_mm"] - 0.2
                assert cut["limit_mm"] <= data["least_wall_mm"]
                assert len(cut["thinnest_mm"]) == 3
    for place in tmp_path.glob("*-chips.stl"):
        assert trimesh.load_mesh(place).volume > 0.0
    assert (tmp_path / "poses.json").exists()
    assert np.isfinite(data["before_deg"])


@pytest.mark.slow
@pytest.mark.parametrize(("wanted", "short"), [("20 deg", False), ("25.9 deg", True)])
def test_a_joint_that_is_clear_already_needs_no_grinding(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    wanted: str,
    short: bool,
) -> None:
    asked = ("joint", WAGON, "output", "--relief", wanted)
    told = run(monkeypatch, capsys, *asked, "--export", str(tmp_path / "ground"))
    assert told.code == 0
    says = told.out.splitlines()[0]
    assert "Nothing to grind at the output joint: it is good for 26.0 deg as it is" in says
    assert f"{float(wanted.split(maxsplit=1)[0]):.1f} deg is wanted" in says
    assert ("less than the 0.031 in (0.8 mm)" in says) == short
    assert "Grinding" not in told.out
    assert "+0.0" not in told.out
    assert "nothing is ground" in told.err
    assert not (tmp_path / "ground").exists()
    data = json.loads(run(monkeypatch, capsys, *asked, "--json").out)
    assert data["enough"] is True
    assert data["plans"] == []
    assert data["nothing_to_grind"] in says


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((WAGON, "output", "--relief", "29"), "unit"),
        ((WAGON, "output", "--relief", "95 deg"), "wanted"),
        (("demo:short-tailed-scout", "output", "--relief", "34 deg"), "single joints only"),
    ],
)
def test_relief_that_cannot_be_planned_is_one_line(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
    says: str,
) -> None:
    ran = run(monkeypatch, capsys, "joint", *words)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1
