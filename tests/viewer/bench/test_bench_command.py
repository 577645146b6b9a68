"""`bindpoint yoke RIG --bench JOINT`, as typed."""

from pathlib import Path

import pytest

from sim.progress import Progress
from sim.rig import Rig, load_rig
from sim.rig.demos import demo_text
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint
from tests.viewer.run_command import Ran, run
from viewer.bench.told import BenchTold, bench_told
from viewer.commands import bench

pytestmark = pytest.mark.slow

NAME = "long-legged-trail-wagon"


class Typed:
    """Runs the command on a file of its own."""

    def __init__(
        self, tmp: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        self.file = tmp / "my-truck.toml"
        # What readings come to takes its time: the last test here asks for it, and no other.
        self.fits = False
        monkeypatch.setattr(bench, "bench_told", self._told)
        self.text = f"# My own remark.\n{demo_text(NAME)}"
        self.file.write_text(self.text, encoding="utf-8")
        self._monkeypatch, self._capsys = monkeypatch, capsys

    def __call__(self, *lines: str, options: tuple[str, ...] = (), rig: str = "") -> Ran:
        words = ("yoke", rig or str(self.file), "--bench", "pinion", *options)
        return run(self._monkeypatch, self._capsys, *words, typed="\n".join([*lines, ""]))

    def _told(self, rig: Rig, joint: Joint, tell: Progress) -> BenchTold:
        if self.fits:
            return bench_told(rig, joint, tell)
        count = len(typed_joint(rig, joint).typed.bench)
        return BenchTold(joint, None, None, (f"Told of {count}.",))

    @property
    def readings(self) -> list[dict[str, str]]:
        read = load_rig(self.file).shaft.pinion_end.bench
        return [each.model_dump(mode="json", exclude_none=True) for each in read]


@pytest.fixture
def typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Typed:
    return Typed(tmp_path, monkeypatch, capsys)


def test_readings_go_into_the_file_after_a_yes_and_its_remarks_stay(typed: Typed) -> None:
    ran = typed("", "", "24 1/2 deg", "across", "pinion yoke", "27", "yes", "done", "yes")
    assert ran.code == 0
    assert ran.out.index("Told of 1.") < ran.out.index("Reading 2") < ran.out.index("Told of 2.")
    assert typed.readings == [
        {"clamped": "shaft yoke", "ears": "in line", "touches_at": "24 1/2 deg"},
        {"clamped": "pinion yoke", "ears": "across", "touches_at": "27 deg"},
    ]
    text = typed.file.read_text(encoding="utf-8")
    assert [line for line in typed.text.splitlines() if line not in text.splitlines()] == [
        line for line in typed.text.splitlines() if line.startswith("pinion_end")
    ]


def test_no_leaves_the_file_and_shows_the_lines(typed: Typed) -> None:
    ran = typed("whole turn", "24 1/2 deg", "", "no")
    assert typed.file.read_text(encoding="utf-8") == typed.text
    assert '[[shaft.pinion_end.bench]]\nears = "any"\ntouches_at = "24 1/2 deg"' in ran.out


@pytest.mark.parametrize("lines", [("quit",), ("", "", "quit"), ("", "", "24 1/2 deg"), ()])
def test_an_early_end_writes_nothing(typed: Typed, lines: tuple[str, ...]) -> None:
    ran = typed(*lines)
    assert ran.code == 2
    assert "nothing was written" in ran.out
    assert typed.file.read_text(encoding="utf-8") == typed.text


def test_back_changes_an_answer_and_help_tells_how(typed: Typed) -> None:
    ran = typed("", "", "?", "24 deg", "back", "25 deg", "done", "")
    assert "+- 1/2 deg behind the value" in " ".join(ran.out.split())
    assert "You said 24 deg" in ran.out
    assert [each["touches_at"] for each in typed.readings] == ["25 deg"]


def test_not_touched_the_vehicle_and_the_maker(typed: Typed) -> None:
    typed(
        *("between", "", "clear to 20 deg", "vehicle", "6 1/2 in", "droop"),
        *("maker", "30 deg", "", ""),
    )
    assert typed.readings == [
        {"clamped": "shaft yoke", "ears": "between", "clear_to": "20 deg"},
        {"catches_at": "6 1/2 in droop"},
        {"maker_says": "30 deg"},
    ]


@pytest.mark.parametrize(
    ("said", "reading"),
    [
        (("24 1/2 deg +- 1/2 deg",), {"touches_at": "24 1/2 deg +- 1/2 deg"}),
        (("24.5 deg by digital level",), {"touches_at": "24.5 deg by digital level"}),
        (("24 1/2 +- 1/2", "yes"), {"touches_at": "24 1/2 deg +- 1/2 deg"}),
        (("24 1/2 +- 1/2 deg", ""), {"touches_at": "24 1/2 deg +- 1/2 deg"}),
        (("24.5 by digital level", ""), {"touches_at": "24.5 deg by digital level"}),
        (("clear to 28", ""), {"clear_to": "28 deg"}),
        (("Clear up to 28 +- 1", "yes"), {"clear_to": "28 deg +- 1 deg"}),
    ],
)
def test_how_far_off_a_reading_is_stays_as_typed(
    typed: Typed, said: tuple[str, ...], reading: dict[str, str]
) -> None:
    typed("whole turn", *said, "", "yes")
    assert typed.readings == [{"ears": "any", **reading}]


def test_a_tool_that_nobody_knows_is_said_at_once(typed: Typed) -> None:
    ran = typed("whole turn", "24 deg by sextant", "back", "24 deg", "", "yes")
    told = " ".join(ran.out.split())
    assert "sextant" in told
    assert "Type back and say it again." in told
    assert typed.readings == [{"ears": "any", "touches_at": "24 deg"}]


def test_write_names_another_file_or_the_rigs_own(typed: Typed, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    typed("maker", "30 deg", "", options=("--write", str(other)))
    assert load_rig(other).shaft.pinion_end.bench
    assert typed.file.read_text(encoding="utf-8") == typed.text
    ran = typed("maker", "30 deg", "", options=("--write", str(other)))
    assert ran.code == 2
    assert "is there already" in ran.err
    typed("maker", "30 deg", "", options=("--write", str(typed.file)))
    assert typed.readings == [{"maker_says": "30 deg"}]


def test_a_demo_is_never_written(typed: Typed) -> None:
    ran = typed("maker", "30 deg", "", rig=f"demo:{NAME}")
    assert ran.code == 0
    assert "[[shaft.pinion_end.bench]]" in ran.out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("yoke", "--bench", "pinion"), "no rig named"),
        (("yoke", f"demo:{NAME}", "--bench", "middle"), "without a carrier bearing"),
        (("yoke", "demo:short-tailed-scout", "--bench", "output"), "double-Cardan head"),
        (("yoke", f"demo:{NAME}", "--bench", "pinion", "--json"), "goes with one yoke only"),
        (("yoke", "gone.toml", "--bench", "pinion"), "gone.toml"),
    ],
)
def test_what_cannot_be_asked_is_one_line(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
    says: str,
) -> None:
    ran = run(monkeypatch, capsys, *words)
    assert ran.code == 2
    assert says in ran.err
    assert ran.err.count("\n") == 1


@pytest.mark.slow
def test_drawings_go_into_their_folder(typed: Typed, tmp_path: Path) -> None:
    ran = typed("", "pinion yoke", "24 deg", "", "", options=("--drawings", str(tmp_path / "d")))
    names = sorted(path.name for path in (tmp_path / "d").iterdir())
    assert "sheet.html" in names
    assert "01-in-line-pinion-yoke.png" in names
    assert sum(name.endswith(".png") for name in names) == 7
    assert "Drawing: " in ran.out


@pytest.mark.slow
def test_a_reading_is_answered_by_what_it_says_of_the_joint(typed: Typed) -> None:
    typed.fits = True
    told = " ".join(typed("", "", "24 1/2 deg +- 1/2 deg", "", "no").out.split())
    assert "This joint first touches at" in told
    assert "before any reading" in told
    assert "fitted, not measured" in told
