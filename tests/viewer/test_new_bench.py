"""`bindpoint new` asks for bench readings at its end, when the rig file is safe."""

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.rig import Rig, load_rig
from sim.rig.demos import demo_text
from sim.vehicle import Joint
from tests.viewer.run_command import Ran, run
from viewer.bench.told import BenchTold
from viewer.bench.whether import joint_on_the_bench
from viewer.commands import bench as bench_command
from viewer.commands import new

ANSWERS = ["A wagon", "", "", "no", "", "", "", "", "", "3 deg down", "", "", "36 5/16 in",
           "14 deg down", "", "1 deg up", "", "11 in", "4 in", "8 in"]  # fmt: skip
"""Up to the heights; Enter takes what is usual for all that comes after."""
QUESTION = "Did you bend a joint on the bench?"
WHICH = "Which joint, output or pinion?"

Typed = Callable[..., Ran]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "mine.toml"


@pytest.fixture
def typed(file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Typed:
    """Runs the command; all questions of the rig are as if they were answered already."""

    def written(*_: object, **__: object) -> Rig:
        file.write_text(demo_text("long-legged-trail-wagon"), encoding="utf-8")
        return load_rig(file)

    # What the readings come to is told elsewhere, and takes its time.
    monkeypatch.setattr(bench_command, "bench_told", nothing_told)

    def command(*lines: str) -> Ran:
        monkeypatch.setattr(new, "new_rig_file", written)
        return run(monkeypatch, capsys, "new", str(file), typed="".join(f"{x}\n" for x in lines))

    return command


def nothing_told(_rig: Rig, joint: Joint, _tell: object) -> BenchTold:
    return BenchTold(joint, None, None, ("Told.",))


def bench(file: Path) -> dict[str, list[dict[str, str]]]:
    """The readings in the file, by joint."""
    shaft = load_rig(file).shaft
    ends = {"output": shaft.output_end, "pinion": shaft.pinion_end}
    return {
        name: [each.model_dump(mode="json", exclude_none=True) for each in end.bench]
        for name, end in ends.items()
        if end.bench
    }


def test_it_is_the_last_question_of_all(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = "\n".join([*ANSWERS, *[""] * 40])
    ran = run(monkeypatch, capsys, "new", str(file), typed=typed)
    assert ran.code == 0
    assert ran.out.rstrip().endswith(f"{QUESTION} [no]")
    assert bench(file) == {}


@pytest.mark.parametrize("said", [("",), ("no",), ("N",), ()])
def test_enter_or_no_skips_it(typed: Typed, file: Path, said: tuple[str, ...]) -> None:
    ran = typed(*said)
    assert ran.code == 0
    assert WHICH not in ran.out
    assert bench(file) == {}


@pytest.mark.parametrize(("which", "joint"), [("", "pinion"), ("out", "output"), ("P", "pinion")])
def test_after_a_yes_a_reading_goes_into_the_file(
    typed: Typed, file: Path, which: str, joint: str
) -> None:
    ran = typed("yes", which, "maker", "30 deg", "done", "yes")
    assert ran.code == 0
    assert ran.out.index(QUESTION) < ran.out.index(WHICH) < ran.out.index("Reading 1")
    assert bench(file) == {joint: [{"maker_says": "30 deg"}]}


@pytest.mark.parametrize(
    "left", [("back", "quit"), ("quit",), ("maker", "quit"), ("maker", "30 deg", "", "no"), ()]
)
def test_whoever_leaves_it_keeps_the_rig(typed: Typed, file: Path, left: tuple[str, ...]) -> None:
    ran = typed("y", "", *left)
    assert ran.code == 0
    assert bench(file) == {}


def test_a_joint_that_is_not_there_is_asked_again(typed: Typed, file: Path) -> None:
    ran = typed("yes", "middle", "output", "maker", "30 deg", "", "yes")
    assert "expected one of output, pinion" in " ".join(ran.out.split())
    assert bench(file).keys() == {"output"}


def test_it_tells_what_is_meant_goes_back_and_may_be_left(typed: Typed, file: Path) -> None:
    ran = typed("?", "yes", "back", "perhaps", "", "", "quit")
    told = " ".join(ran.out.split())
    assert "no: they are as you named them, or generic" in told
    assert "You said yes" in told
    assert "expected one of yes, no" in told
    assert ran.code == 0
    assert bench(file) == {}


def test_a_shaft_of_two_heads_has_no_joint_for_the_bench() -> None:
    assert joint_on_the_bench(never, never, []) is None


def test_one_joint_is_not_asked_for() -> None:
    answers = iter(["yes"])
    assert joint_on_the_bench(lambda _: next(answers), str, ["pinion"]) == "pinion"


def never(_: str) -> str:
    raise AssertionError("asked or told")
