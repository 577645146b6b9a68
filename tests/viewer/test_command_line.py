"""The commands as a user types them: answers, exit codes, one clear line for bad input."""

import csv
import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from tests.viewer.run_command import Ran, run
from viewer.check.table import COLUMNS
from viewer.rigs import demo_names

WAGON = "demo:long-legged-trail-wagon"
Command = Callable[..., Ran]


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words, typed="": run(monkeypatch, capsys, *words, typed=typed)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("demo", "code", "verdict", "says"),
    [
        ("quarry-hauler", 0, "clear", "degrees left. It is good for"),
        ("long-legged-trail-wagon", 1, "touches", "droop"),
        ("marsh-runner", 1, "touches", "nose down"),
        ("goat-path-buggy", 1, "touches", "slip runs out"),
    ],
)
def test_the_demo_rigs_give_their_different_answers(
    command: Command, demo: str, code: int, verdict: str, says: str
) -> None:
    ran = command("check", f"demo:{demo}", "--json")
    data = json.loads(ran.out)
    assert ran.code == code
    assert data["verdict"] == verdict
    assert says in " ".join(finding["says"] for finding in data["findings"])
    assert f"demo:{demo}" in [f"demo:{name}" for name in demo_names()]


@pytest.mark.slow
def test_the_nose_down_demo_is_clear_without_wrap(command: Command, tmp_path: Path) -> None:
    text = Path("models/rigs/marsh-runner.toml").read_text("utf-8")
    typed = next(line for line in text.splitlines() if line.startswith("nose_down"))
    mended = tmp_path / "no-wrap.toml"
    mended.write_text(text.replace(typed, 'nose_down = "0 deg"'), encoding="utf-8")
    assert command("check", "models/rigs/marsh-runner.toml").code == 1
    assert command("check", str(mended)).code == 0


@pytest.mark.slow
def test_check_prints_one_object_with_the_promised_keys(command: Command) -> None:
    data = json.loads(command("check", WAGON, "--json").out)
    assert {"rig", "verdict", "assumed", "findings", "joints", "slip", "first_contact"} <= set(data)
    for joint in ("output", "pinion"):
        keys = {"touch_deg", "certified_clear_deg", "worst_bend_deg", "margin_deg", "gap_mm", "at"}
        assert keys | {"surfaces"} <= set(data["joints"][joint])
    assert {"shortest_mm", "longest_mm", "ride_mm", "closes_left_mm", "opens_left_mm"} <= set(
        data["slip"]
    )
    for finding in data["findings"]:
        assert {"code", "verdict", "margin", "limit", "worst", "at", "says"} <= set(finding)
        assert set(finding["margin"]) == {"value", "unit"}
        assert set(finding["at"]) == {"travel_mm", "roll_deg", "wrap_deg"}


@pytest.mark.slow
def test_findings_and_joints_tell_the_same_numbers(command: Command) -> None:
    data = json.loads(command("check", WAGON, "--json").out)
    for finding in data["findings"]:
        if finding["code"] == "joint-bend":
            joint = data["joints"][finding["subject"]]
            assert finding["margin"]["value"] == pytest.approx(joint["margin_deg"], abs=1e-9)
            assert joint["margin_deg"] == pytest.approx(
                joint["certified_clear_deg"] - joint["worst_bend_deg"], abs=1e-9
            )
            assert (finding["verdict"] == "touches") == (joint["margin_deg"] <= 0.0)
            assert (joint["gap_mm"] == 0.0) == (joint["worst_bend_deg"] >= joint["touch_deg"])


@pytest.mark.slow
def test_the_text_says_what_a_shop_would_say(command: Command) -> None:
    text = " ".join(command("check", WAGON, "--full").out.split())
    assert "TOUCHES" in text
    assert "joint binds at" in text
    assert "in droop" in text
    assert "degrees, 8.4 too far," in text
    assert "Assumed, generic: measure yours" in text
    assert "certifies nothing" in text


@pytest.mark.slow
def test_the_table_has_the_promised_columns_and_true_rows(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "poses.csv"
    data = json.loads(command("check", WAGON, "--json", "--table", str(place)).out)
    with place.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert tuple(rows[0]) == COLUMNS
    for row in rows:
        travel, roll = float(row["travel_mm"]), np.radians(float(row["roll_deg"]))
        # Stops 32 in apart: each side between 9 in of droop and 4 in of bump.
        for side in (1.0, -1.0):
            height = travel + side * 16.0 * 25.4 * np.sin(roll)
            assert -9.0 * 25.4 - 1e-4 <= height <= 4.0 * 25.4 + 1e-4
    assert max(abs(float(row["roll_deg"])) for row in rows) == 8.0
    worst = max(float(row["output_bend_deg"]) for row in rows)
    assert worst <= data["joints"]["output"]["worst_bend_deg"] + 1e-6
    assert worst == pytest.approx(data["joints"]["output"]["worst_bend_deg"], abs=0.5)
    ride = min(rows, key=lambda r: sum(abs(float(r[k])) for k in COLUMNS[:3]))
    assert float(ride["slip_mm"]) == pytest.approx(
        float(ride["length_mm"]) - data["slip"]["ride_mm"], abs=1e-5
    )


def test_the_table_tells_every_joint_of_two_pieces_by_its_own_limit(
    command: Command, tmp_path: Path
) -> None:
    """The output joint keeps its bend in every row; the others' largest is that of the sweep."""
    place = tmp_path / "poses.csv"
    told = command("check", "demo:timber-crew-carrier", "--json", "--table", str(place)).out
    joints = json.loads(told)["joints"]
    with place.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert list(joints) == ["output", "middle", "pinion"]
    assert {row["output_bend_deg"] for row in rows} == {f"{joints['output']['worst_bend_deg']:.6f}"}
    for joint, found in joints.items():
        bends = [float(row[f"{joint}_bend_deg"]) for row in rows]
        assert max(bends) == pytest.approx(found["worst_bend_deg"], abs=0.5)
        for row, bend in zip(rows, bends, strict=True):
            left = found["certified_clear_deg"] - bend
            assert float(row[f"{joint}_margin_deg"]) == pytest.approx(left, abs=2e-6)


def test_joint_json_covers_a_whole_turn(command: Command) -> None:
    data = json.loads(command("joint", WAGON, "pinion", "--json").out)
    spin = np.array(data["spin_deg"])
    assert (np.diff(spin) > 0).all()
    assert spin[0] == 0.0
    assert spin[-1] < 360.0
    assert len(data["touch_deg"]) == len(data["surfaces"]) == len(spin)
    touch = np.array([np.nan if t is None else t for t in data["touch_deg"]])
    assert np.nanmin(touch) >= data["touch_min_deg"]
    assert 0.0 < data["touch_min_deg"] - data["certified_clear_deg"] <= 0.05
    assert data["mesh_chord_mm"] <= 0.05


def test_joint_text_names_the_surfaces(command: Command) -> None:
    """The first touch is told with its turn: it may lie between the rows of the table."""
    data = json.loads(command("joint", WAGON, "output", "--json").out)
    first, spin = data["touch_min_deg"], round(data["spin_at_min_deg"]) % 360
    assert f"First touch at {first:.2f} deg, turned {spin} deg: " in (
        command("joint", WAGON, "output").out
    )


@pytest.mark.slow
def test_a_note_is_not_called_ok(command: Command) -> None:
    """Caster and hubs only tell something; a mark would call 2.5 deg of negative caster fine."""
    lines = command("check", "demo:heather-moor-scout", "--full").out.splitlines()
    for says in ("To aim the pinion along the shaft", "With the hubs unlocked"):
        line = next(each for each in lines if says in each)
        assert line.startswith(f"    {says}")
    assert any(line.startswith("  ok ") for line in lines)


@pytest.mark.slow
def test_a_turn_is_told_from_0_to_359_deg(command: Command) -> None:
    """Rounding first and wrapping then: never 360."""
    out = command("pose", "demo:timber-crew-carrier").out
    assert "turned 0 deg" in out
    assert "turned 360 deg" not in out


@pytest.mark.slow
def test_spin_turns_the_output_yoke_of_a_two_piece_shaft(command: Command, tmp_path: Path) -> None:
    """In `pose` and in `poses.json` alike: the yoke turns by just that about its own axis."""
    turned = {}
    for spin in (0.0, 37.0):
        asked = "pose", "demo:timber-crew-carrier", "--spin", f"{spin} deg", "--json"
        told = json.loads(command(*asked, "--export", str(tmp_path)).out)
        poses = json.loads((tmp_path / "poses.json").read_text())
        assert told["spin_deg"] == poses["at"]["spin_deg"] == pytest.approx(spin)
        assert told["joints"]["output"]["spin_deg"] == pytest.approx(spin)
        turned[spin] = np.array(poses["parts"]["output yoke"]["X_CP"])[:3, :3]
    c, s = np.cos(np.radians(37.0)), np.sin(np.radians(37.0))
    about_x = np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])
    np.testing.assert_allclose(turned[0.0].T @ turned[37.0], about_x, rtol=0, atol=1e-9)


@pytest.mark.slow
def test_a_pose_agrees_with_the_check(command: Command) -> None:
    """At the worst pose of the sweep the pose command finds the same bend and slip."""
    data = json.loads(command("check", WAGON, "--json").out)
    for joint in ("output", "pinion"):
        at = data["joints"][joint]["at"]
        posed = json.loads(
            command(
                "pose",
                WAGON,
                f"--travel={at['travel_mm']!r} mm",
                f"--roll={at['roll_deg']!r} deg",
                f"--wrap={at['wrap_deg']!r} deg",
                "--json",
            ).out
        )
        assert posed["joints"][joint]["bend_deg"] == pytest.approx(
            data["joints"][joint]["worst_bend_deg"], abs=1e-6
        )
        assert posed["joints"][joint]["gap_over_turn_mm"] == pytest.approx(
            data["joints"][joint]["gap_mm"], abs=0.02
        )


@pytest.mark.slow
def test_a_pose_tells_what_the_shaft_comes_near_to_and_hits(
    command: Command, tmp_path: Path
) -> None:
    """Once `pose` knew of nothing around the shaft: clear, with a crossmember through the tube."""
    typed = Path("models/rigs/long-legged-trail-wagon.toml").read_text("utf-8")
    rig = tmp_path / "hit.toml"
    rig.write_text(typed.replace('"30 in", "0 in", "13 in"', '"30 in", "0 in", "8 in"'), "utf-8")
    for name, code in ((WAGON, 0), (str(rig), 1)):
        ran = command("pose", name, "--travel", "ride", "--json")
        (near,) = json.loads(ran.out)["surroundings"]
        assert ran.code == code
        assert (near["gap_mm"] == 0.0) == (code == 1)
        assert near["part"] in ("tube", "sleeve of the slip", "weld behind the slip")
        text = command("pose", name, "--travel", "ride").out
        called = ("" if near["part"].endswith(" the slip") else "shaft's ") + near["part"]
        assert f"{'hit by' if code else 'left, from'} the {called}" in text
        assert "not checked: axle housing, output yoke" in text


@pytest.mark.slow
def test_a_pose_out_of_reach_is_shown_and_called_so(command: Command) -> None:
    """At 8 deg of roll and stops 32 in apart a side hangs 16 in sin 8 deg = 2.2268 in lower."""
    asked = "pose", WAGON, "--travel", "9 in droop", "--roll", "8 deg left up"
    data = json.loads(command(*asked, "--json").out)
    assert data["in_reach"] is False
    (beyond,) = data["out_of_reach"]
    assert beyond["way"] == "right droop"
    assert beyond["asked"] == {"value": pytest.approx(11.22677 * 25.4, abs=1e-3), "unit": "mm"}
    assert beyond["limit"] == {"value": pytest.approx(9 * 25.4), "unit": "mm"}
    assert beyond["says"] == "the right side would hang 11 1/4 in down, droop ends at 9 in"
    assert data["joints"]["pinion"]["bend_deg"] > 0.0
    text = command(*asked).out
    assert f"out of reach: {beyond['says']}\n" in text
    level = json.loads(command("pose", WAGON, "--travel", "9 in droop", "--json").out)
    assert level["in_reach"] is True
    assert level["out_of_reach"] == []


@pytest.mark.slow
def test_poses_are_spoken(command: Command) -> None:
    words = json.loads(
        command(
            "pose", WAGON, "--travel", "6 in droop", "--roll", "3 deg right up",
            "--wrap", "2 deg nose down", "--json",
        ).out
    )  # fmt: skip
    signed = json.loads(
        command("pose", WAGON, "--travel=-6 in", "--roll=-3 deg", "--wrap=-2 deg", "--json").out
    )
    assert words == signed
    assert words["at"] == {
        "travel_mm": pytest.approx(-152.4),
        "roll_deg": pytest.approx(-3.0),
        "wrap_deg": pytest.approx(-2.0),
    }


@pytest.mark.slow
def test_a_pose_without_a_direction_tells_which_one_was_taken(command: Command) -> None:
    asked = "pose", WAGON, "--json", "--travel"
    ran = command(*asked, "3 in")
    assert ran.err == (
        'bindpoint: --travel "3 in" has no direction and was taken as "3 in bump"; for the other '
        'one say "3 in droop"\n'
    )
    spoken = command(*asked, "3 in bump")
    assert (spoken.code, spoken.out, spoken.err) == (ran.code, ran.out, "")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("check", "nowhere.toml"), "nowhere.toml: no such file, expected a rig file"),
        (("check", "demo:nowhere"), "expected one of goat-path-buggy"),
        (("check", "."), ".: a folder, expected a rig file"),
        (("joint", "nowhere.toml", "pinion"), "no such file"),
        (("pose", WAGON, "--travel", "6"), "--travel"),
        (("pose", WAGON, "--travel", "6 deg droop"), "--travel"),
        (("pose", WAGON, "--travel", "-6 in droop"), "both a minus and a word"),
        (("pose", WAGON, "--wrap", "nan deg"), "--wrap"),
        (("new",), "new: no file named"),
    ],
)
def test_bad_input_is_one_line_and_exit_code_2(
    command: Command, words: tuple[str, ...], says: str
) -> None:
    ran = command(*words)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1
    assert "Traceback" not in ran.err + ran.out


def test_a_joint_that_is_not_there_is_refused(command: Command) -> None:
    ran = command("joint", WAGON, "middle")
    assert ran.code == 2
    assert "Traceback" not in ran.err


@pytest.mark.slow
def test_an_unwritable_table_keeps_the_verdict(command: Command, tmp_path: Path) -> None:
    ran = command("check", WAGON, "--table", str(tmp_path / "no" / "such" / "folder.csv"))
    assert ran.code == 2
    assert "TOUCHES" in ran.out
    assert len(ran.err.strip().splitlines()) == 1


def test_clashing_shapes_say_which_dimensions_clash(command: Command, tmp_path: Path) -> None:
    """Ears too long for the other yoke's throat are an error, not a verdict."""
    text = Path("models/rigs/quarry-hauler.toml").read_text("utf-8")
    yoke = 'shaft_yoke = "weld yoke"'
    long_eared = (
        'shaft_yoke = { kind = "weld yoke", ear_radius = "44 mm", ear_root_width = "88 mm" }'
    )
    rig = tmp_path / "clash.toml"
    rig.write_text(text.replace(yoke, long_eared), encoding="utf-8")
    ran = command("check", str(rig))
    assert ran.code == 2
    assert "overlap before the joint bends" in ran.err
    assert "ear" in ran.err
    assert "Traceback" not in ran.err


def test_new_writes_a_json_schema(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "schema.json"
    assert command("new", "--json-schema", str(place)).code == 0
    assert json.loads(place.read_text("utf-8"))["title"] == "Bindpoint rig file"


def test_new_ends_early_without_a_file(command: Command, tmp_path: Path) -> None:
    ran = command("new", str(tmp_path / "mine.toml"), typed="My truck\n")
    assert ran.code == 2
    assert not (tmp_path / "mine.toml").exists()


def test_help_imports_nothing_heavy() -> None:
    """The help answers at once because numpy, scipy, VTK and pydantic stay unread."""
    code = (
        "import sys\nfrom viewer.start import main\n"
        "sys.argv = ['bindpoint', '--help']\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'scipy', 'pydantic', 'vtkmodules', 'pyvista', 'fcl'}\n"
        "sys.exit(str(sorted(heavy & set(sys.modules)) or 0) if heavy & set(sys.modules) else 0)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "check" in done.stdout


@pytest.mark.slow
def test_the_path_of_the_pinion_is_a_table_or_a_plot(command: Command, tmp_path: Path) -> None:
    table, plot = tmp_path / "path.csv", tmp_path / "path.png"
    assert command("check", "demo:ridge-crawler", "--path", str(table)).code == 0
    with table.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    level = [row for row in rows if abs(float(row["roll_deg"])) < 1e-9]
    assert max(abs(float(row["side_shift_mm"])) for row in level) < 1e-6
    assert max(abs(float(row["yaw_deg"])) for row in level) < 1e-6
    assert command("check", "demo:ridge-crawler", "--path", str(plot)).code == 0
    assert plot.read_bytes()[:4] == b"\x89PNG"
    ran = command("check", "demo:ridge-crawler", "--path", str(tmp_path / "path.pdf"))
    assert ran.code == 2
    assert "expected a name ending in" in ran.err
