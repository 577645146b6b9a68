"""Yokes that bench readings made are called fitted wherever they are named, shown or exported."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from geometry.cross import CrossShape
from sim.check import check
from sim.hardware import joint as hardware
from sim.hardware.joint import JointHardware, joint_hardware
from sim.pose import check_pose
from sim.remark import Remark
from sim.rig import Rig, changed, load_rig, save_rig
from sim.ticket.ticket import build_ticket
from sim.vehicle import RIDE, Joint
from tests.viewer.bench.fitted_rigs import read
from tests.viewer.run_command import Ran, run
from tests.viewer.subjects import cube
from viewer.check.json import check_data
from viewer.scene.parts import PosedPart
from viewer.words.bench import FITTED
from viewer.words.build import picture_note
from viewer.words.captions import posed_lines, tightest_headline
from viewer.words.first_page import first_page, page_lines
from viewer.written.export import stl

SAYS = f"The pinion joint's yokes are {FITTED}."


def told_fitted(rig: Rig, joint: Joint, held: CrossShape) -> JointHardware:
    """The catalogue's own yokes, said to be fitted: what is asked here is what is said of them."""
    del held
    note = Remark("fitted", joint=joint, count=3, low=0.44, high=0.47)
    plain = changed(rig, {f"shaft.{joint}_end.bench": []})
    return replace(joint_hardware(plain, joint), notes=(note,))


class Command:
    def __init__(
        self, tmp: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        self.file = tmp / "wagon.toml"
        save_rig(read(), self.file)
        self._monkeypatch, self._capsys = monkeypatch, capsys
        monkeypatch.setattr(hardware, "_fitted", told_fitted)

    def __call__(self, name: str, *words: str) -> Ran:
        return run(self._monkeypatch, self._capsys, name, str(self.file), *words)

    def data(self, name: str, *words: str) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self(name, *words, "--json").out)
        return found


@pytest.fixture
def command(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Command:
    return Command(tmp_path, monkeypatch, capsys)


def test_check_says_it_on_its_first_page_and_of_each_finding(command: Command) -> None:
    result = check(load_rig(command.file))
    page = "\n".join(page_lines(first_page(result)))
    assert "inion joint (fitted)" in page
    findings = check_data(result, "A wagon")["findings"]
    assert {each["subject"] for each in findings if each["fitted"]} - {"axle"} == {"pinion"}
    bends = {each["subject"]: each["says"] for each in findings if each["code"] == "joint-bend"}
    assert bends["pinion"].startswith(f"With yokes {FITTED}, the pinion joint ")
    assert FITTED not in bends["output"]


def test_pose_says_it_in_words_and_data(command: Command) -> None:
    assert SAYS in command("pose").out.splitlines()
    joints = command.data("pose")["joints"]
    assert {name: each["fitted"] for name, each in joints.items()} == {
        "output": False,
        "pinion": True,
    }


def test_exported_parts_say_it_in_their_own_files(command: Command, tmp_path: Path) -> None:
    command("pose", "--export", str(tmp_path / "parts"))
    parts = json.loads((tmp_path / "parts" / "poses.json").read_text(encoding="utf-8"))["parts"]
    yokes = {"pinion yoke", "pinion shaft yoke"}
    assert {name for name, part in parts.items() if part["fitted"]} == yokes
    for name, part in parts.items():
        head = (tmp_path / "parts" / part["file"]).read_bytes()[:80].decode("ascii").rstrip()
        assert head == f"Unit mm. Part: {name}{f' ({FITTED})' if name in yokes else ''}"
    # Its own files are replaced unasked, those that say so too.
    assert command("pose", "--export", str(tmp_path / "parts")).code in (0, 1)


def test_a_long_name_leaves_room_for_it() -> None:
    head = stl(PosedPart("a" * 100, "brass", cube(), fitted=True))[:80].decode("ascii")
    assert head.startswith("Unit mm. Part: aaa")
    assert head.endswith(f" ({FITTED})")


@pytest.mark.slow
def test_grinding_says_it_before_anybody_grinds(command: Command) -> None:
    ran = command("joint", "pinion", "--relief", "30 deg")
    told = " ".join(ran.out.split())
    assert f"{SAYS} Measure them before you grind." in told
    data = command.data("joint", "pinion", "--relief", "30 deg")
    assert data["fitted"] is True


def test_pictures_say_it(command: Command) -> None:
    rig = load_rig(command.file)
    result = check(rig)
    assert result.tightest == "pinion"
    assert tightest_headline(result).startswith(f"With yokes {FITTED}, the pinion joint")
    assert SAYS in posed_lines(check_pose(rig, RIDE, 0.0))


@pytest.mark.slow
def test_the_ticket_says_it_on_paper_and_in_data(command: Command) -> None:
    """In its table of joints, under its drawing, and in its data."""
    rows = command("build").out.splitlines()
    table = rows[rows.index("JOINTS") :]
    row = next(number for number, each in enumerate(table) if each.startswith("  pinion "))
    assert FITTED in " ".join(" ".join(table[row : row + 2]).split())
    bends = command.data("build")["bends"]
    assert {joint: each["fitted"] for joint, each in bends.items()} == {
        "output": False,
        "pinion": True,
    }
    ticket = build_ticket(load_rig(command.file))
    assert SAYS in picture_note(ticket)


def test_a_joint_that_nothing_was_fitted_of_says_nothing(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(hardware, "_fitted", lambda *_: None)
    assert "fitted" not in command("pose").out
    result = check(load_rig(command.file))
    assert not any(each["fitted"] for each in check_data(result, "A wagon")["findings"])
