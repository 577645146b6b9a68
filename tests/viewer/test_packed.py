"""The packed program: what it is asked to be, and how it starts modules of its own."""

import os
import pickle
import subprocess
import sys
from pathlib import Path

import pytest

from viewer.own_program import CHILD, own_program, own_surroundings
from viewer.packed import CHILDREN, words_of
from viewer.window.yoke.shelf_process import ShelfProcess
from viewer.written.child import REASON, SUBJECT

HOUSE = Path(__file__).parents[2]


def start(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Start what is packed, by Python."""
    path = os.pathsep.join(filter(None, [str(HOUSE), os.environ.get("PYTHONPATH", "")]))
    return subprocess.run(
        [sys.executable, "-m", "viewer.packed", *arguments],
        capture_output=True, text=True, timeout=60, check=False,
        env=os.environ | {"PYTHONPATH": path},
    )  # fmt: skip


@pytest.mark.parametrize("program", ["bindpoint-window", "Bindpoint-Window.exe"])
def test_the_program_for_the_window_opens_it_on_what_is_dropped_on_it(program: str) -> None:
    assert words_of(f"somewhere/{program}", ["truck.toml"]) == ["window", "truck.toml"]


@pytest.mark.parametrize("program", ["bindpoint", "bindpoint.exe", "python3"])
def test_the_other_program_is_the_command_line(program: str) -> None:
    assert words_of(f"somewhere/{program}", ["check", "x.toml"]) == ["check", "x.toml"]


def test_a_packed_program_starts_its_own_file(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    assert own_program(CHILDREN[0]) == (sys.executable, CHILD, CHILDREN[0])
    assert own_surroundings("/somewhere") == {}


def test_python_finds_the_house_from_anywhere(tmp_path: Path) -> None:
    around = os.environ | own_surroundings("")
    told = [*own_program("viewer.start"), "--help"]
    done = subprocess.run(told, cwd=tmp_path, env=around, capture_output=True, check=False)
    assert done.returncode == 0
    assert b"check" in done.stdout


def test_every_module_that_is_started_as_a_program_may_be() -> None:
    from viewer.window.yoke.shelf_process import _drawing
    from viewer.written.picture import COMMAND
    from viewer.yoke.trial import MODULE

    assert ShelfProcess.__init__.__defaults__ == (None, _drawing)
    assert {_drawing("27 x 82")[-2], COMMAND[-1], MODULE} == set(CHILDREN)


@pytest.mark.slow
def test_a_child_draws_and_says_why_it_cannot(tmp_path: Path) -> None:
    (tmp_path / SUBJECT).write_bytes(pickle.dumps(None))
    done = start(CHILD, CHILDREN[0], str(tmp_path))
    assert "AttributeError" in done.stderr, "None is no sheet: the child itself ran, and said so"
    assert not (tmp_path / REASON).exists()


@pytest.mark.slow
def test_no_other_module_can_be_started() -> None:
    done = start(CHILD, "this", "that")
    assert done.returncode == 2
    assert "beautiful" not in done.stdout.lower()
