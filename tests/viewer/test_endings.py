"""How the program ends: real processes, their exit codes, and what they say on the way out.

1 means that it touches or runs out and nothing else; a wrong wish or an answer that cannot be given
is 2 and one line; Ctrl+C is 130 and one line; never a traceback.
"""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.sim.rigs import PHONE_CALL

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = (sys.executable, "-m", "viewer.start")
CLEAR, BINDS = "demo:quarry-hauler", "demo:long-legged-trail-wagon"


def around(tmp_path: Path, **more: str) -> dict[str, str]:
    """Surroundings of a program that leaves nothing outside its own folder."""
    return os.environ | {
        "PYTHONPATH": str(ROOT),
        "BINDPOINT_STATE": str(tmp_path / "state"),
        "QT_QPA_PLATFORM": "offscreen",
        **more,
    }


def ended(
    tmp_path: Path, *words: str, typed: str = "", cwd: Path | None = None
) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [*PROGRAM, *words],
        capture_output=True,
        text=True,
        input=typed,
        cwd=cwd,
        env=around(tmp_path),
        timeout=300,
        check=False,
    )


def is_one_line(said: str) -> bool:
    return said.startswith("bindpoint: ") and said.count("\n") == 1 and said.endswith("\n")


@pytest.mark.parametrize(
    "words",
    [
        ("chek", CLEAR),
        ("check",),
        ("check", CLEAR, "--tabel", "x.csv"),
        ("check", "nowhere.toml"),
        ("check", "demo:nothing"),
        ("check", "."),
        ("check", "a\nCLEAR  Nothing touches.toml"),
        ("joint", CLEAR, "rear"),
        ("joint", CLEAR, "pinion", "--export", "parts"),
        ("joint", CLEAR, "pinion", "--relief", "1" * 400),
        ("pose", CLEAR, "--travel", "9" * 400 + " in droop"),
        ("pose", CLEAR, "--spin", "1e400 deg"),
        ("cures", CLEAR, "--to", "x.toml"),
        ("cures", CLEAR, "--weights", "nowhere.toml"),
        ("yoke",),
        ("yoke", "nowhere.stl"),
        ("yoke", "nowhere.stl", "--picks", "9" * 400),
        ("yoke", "--measured", "nowhere.toml"),
        ("new",),
        ("build", CLEAR, "--picture", "x.pdf"),
        ("window", "nowhere.toml"),
    ],
    ids=lambda words: " ".join(words)[:40],
)
@pytest.mark.slow
def test_what_cannot_be_done_is_one_line_and_2(words: tuple[str, ...], tmp_path: Path) -> None:
    ran = ended(tmp_path, *words, cwd=tmp_path)
    assert ran.returncode == 2
    assert ran.stdout == ""
    assert is_one_line(ran.stderr), ran.stderr


@pytest.mark.slow
def test_only_what_touches_is_1(tmp_path: Path) -> None:
    assert ended(tmp_path, "check", BINDS).returncode == 1
    assert ended(tmp_path, "check", CLEAR).returncode == 0
    assert ended(tmp_path, "--help").returncode == 0


@pytest.mark.parametrize("keys", ["[drive]\naxle_ratio", "[wanted]\nbend", "extra", "schema"])
def test_an_integer_of_400_digits(keys: str, tmp_path: Path) -> None:
    rig = tmp_path / "rig.toml"
    number = f"{keys} = {'4' * 400}\n"
    text = PHONE_CALL + number if keys.startswith("[") else number + PHONE_CALL
    rig.write_text(text, encoding="utf-8")
    ran = ended(tmp_path, "check", str(rig))
    assert ran.returncode == 2
    assert is_one_line(ran.stderr), ran.stderr


@pytest.mark.slow
@pytest.mark.parametrize("words", [("check", BINDS), ("check", BINDS, "--json"), ("--help",)])
def test_a_full_standard_output(words: tuple[str, ...], tmp_path: Path) -> None:
    run = [sys.executable, "-c", FULL, *words]
    ran = subprocess.run(run, capture_output=True, text=True, env=around(tmp_path), check=False)
    assert ran.returncode == 2
    assert is_one_line(ran.stderr), ran.stderr
    assert "No space left on device" in ran.stderr


FULL = """
import errno, io, os, sys
from pathlib import Path
class Full(io.RawIOBase):
    def writable(self):
        return True
    def write(self, _):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
device = Path("/dev/full")  # what Linux has for this; elsewhere one of our own
raw = device.open("wb", buffering=0) if device.exists() else Full()
if device.exists():
    os.dup2(raw.fileno(), 1)
sys.stdout = io.TextIOWrapper(io.BufferedWriter(raw))
from viewer.start import main
main()
"""


@pytest.mark.slow
@pytest.mark.parametrize("words", [("check", BINDS), ("build", CLEAR), ("--help",)])
def test_a_closed_pipe(words: tuple[str, ...], tmp_path: Path) -> None:
    reads, writes = os.pipe()
    os.close(reads)
    ran = subprocess.run(
        [*PROGRAM, *words],
        stdout=writes,
        stderr=subprocess.PIPE,
        text=True,
        env=around(tmp_path),
        check=False,
    )
    os.close(writes)
    assert ran.returncode == 2
    assert is_one_line(ran.stderr), ran.stderr


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("check", CLEAR), 0),
        (("check", "rig.toml"), 2),
        (("check", CLEAR, "--table", "x.csv"), 2),
        (("new", "x.toml"), 2),
        (("cures", CLEAR, "--aim", "x.csv"), 2),
    ],
    ids=lambda each: " ".join(each) if isinstance(each, tuple) else None,
)
@pytest.mark.slow
def test_a_folder_that_was_deleted(words: tuple[str, ...], code: int, tmp_path: Path) -> None:
    folder = tmp_path / "gone"
    folder.mkdir()
    process = subprocess.Popen(
        [sys.executable, "-c", WAITS, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=folder,
        env=around(tmp_path),
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    folder.rmdir()
    _, said = process.communicate("go\n")
    assert process.returncode == code
    assert said == "" if code == 0 else is_one_line(said), said


WAITS = """
import sys
print("ready", flush=True)
sys.stdin.readline()
from viewer.start import main
main()
"""


@pytest.mark.parametrize("words", [("check", BINDS), ("cures", BINDS), ("window",)])
@pytest.mark.parametrize("after", [0.0, 0.15, 0.4, 0.8, 1.6])
@pytest.mark.slow
def test_ctrl_c_at_any_moment(words: tuple[str, ...], after: float, tmp_path: Path) -> None:
    """From the moment that the program's own first file is read: before that it is the language's.

    A terminal sends Ctrl+C to every process of the group.
    """
    process = subprocess.Popen(
        [sys.executable, "-c", STARTS, *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env=around(tmp_path, BINDPOINT_CACHE=str(tmp_path / "cache")),
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "started\n"
    time.sleep(after)
    os.killpg(process.pid, signal.SIGINT)
    _, said = process.communicate(timeout=60)
    assert process.returncode == 130
    assert said == "bindpoint: stopped\n"


@pytest.mark.parametrize("moment", ["signal.signal", "start._open_all", "start.answered"])
def test_ctrl_c_before_a_command_runs(moment: str, tmp_path: Path) -> None:
    """However early: at once when it can be heard, while streams are made ready, before a command.

    Where nobody caught it, the language would end the process by the signal: -2, not 130.
    """
    ran = subprocess.run(
        [sys.executable, "-c", PRESSES.replace("MOMENT", moment), "--help"],
        capture_output=True,
        text=True,
        env=around(tmp_path),
        check=False,
    )
    assert ran.returncode == 130
    assert ran.stderr == "bindpoint: stopped\n"


PRESSES = """
import signal
from viewer import start
real = MOMENT
def pressed(*given):
    global real
    before, real = real(*given), None
    signal.raise_signal(signal.SIGINT)
    return before
MOMENT = pressed
start.main()
"""

STARTS = """
import signal, sys
from viewer import start
told = signal.signal
def heard(*given):
    before = told(*given)
    signal.signal = told
    print("started", flush=True)
    return before
signal.signal = heard
start.main()
"""


@pytest.mark.needs_screen
@pytest.mark.parametrize("display", ["", ":77"])
@pytest.mark.slow
def test_a_window_without_a_display(display: str, tmp_path: Path) -> None:
    bare = around(tmp_path)
    for name in ("QT_QPA_PLATFORM", "WAYLAND_DISPLAY", "DISPLAY"):
        bare.pop(name, None)
    if display:
        bare["DISPLAY"] = display
    ran = subprocess.run(
        [*PROGRAM, "window"], capture_output=True, text=True, env=bare, check=False, timeout=120
    )
    assert ran.returncode == 2
    assert is_one_line(ran.stderr), ran.stderr


def test_a_fault_of_the_program_is_no_verdict(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from viewer import start
    from viewer.commands import check

    def broken(*_: object) -> None:
        raise KeyError("a\nCLEAR")

    monkeypatch.setattr(check, "named_rig", broken)
    monkeypatch.setenv("BINDPOINT_STATE", str(tmp_path))
    assert start.answered(["check", CLEAR]) == 2
    said = capsys.readouterr().err
    assert is_one_line(said)
    assert str(tmp_path) in said
    assert "Traceback" in (tmp_path / "log" / "bindpoint.log").read_text("utf-8")
