"""How a window ends when it is not closed: by Ctrl+C in its terminal, or with its display."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import qWarning
from pytestqt.qtbot import QtBot

from tests.viewer.window.facts_file import FACTS_VARIABLE
from tests.viewer.window.hands import ROOT
from tests.viewer.window.screen import PATIENCE
from viewer.session.kept.recovery import lost_work
from viewer.window import app
from viewer.window.faults import FaultCatcher
from viewer.window.main.window import MainWindow


def test_what_is_not_saved_is_kept(make: Callable[..., MainWindow]) -> None:
    window = make()
    window.session.document.set({"travel.droop": "5 1/2 in"})
    app._keep(window)
    kept = window.files.autosave.file
    assert "5 1/2 in" in kept.read_text("utf-8")
    assert lost_work() == [], "this one is alive"


def test_the_end_of_a_display_is_heard(qtbot: QtBot, tmp_path: Path) -> None:  # noqa: ARG001
    # The words of Qt's own sources: QXcbConnection, QWaylandDisplay.
    catcher = FaultCatcher(tmp_path)
    catcher.install()
    heard: list[bool] = []
    catcher.display_lost.connect(lambda: heard.append(True))
    for text in (
        "The X11 connection broke (error 1). Did the X11 server die?",
        "The Wayland connection broke. Did the Wayland compositor die?",
        "QFont::setPointSizeF: Point size <= 0",
    ):
        qWarning(text.encode())
    assert heard == [True, True]
    catcher.uninstall()


@pytest.fixture
def server() -> "Iterator[tuple[subprocess.Popen[bytes], str]]":
    """A screen that a test may take away."""
    ear, mouth = os.pipe()
    words = ["Xvfb", "-displayfd", str(mouth), "-screen", "0", "1280x800x24", "-nolisten", "tcp"]
    process = subprocess.Popen(words, pass_fds=(mouth,), stderr=subprocess.DEVNULL)
    os.close(mouth)
    with os.fdopen(ear, encoding="ascii") as told:
        number = told.readline().strip()  # it comes in two pieces
    yield process, f":{number}"
    process.terminate()
    process.wait(PATIENCE)


@pytest.mark.slow
@pytest.mark.needs_screen
@pytest.mark.parametrize(
    ("what", "code", "says"),
    [
        ("Ctrl+C", 130, "bindpoint: stopped\n"),
        ("display", 2, "bindpoint: the window lost its display; what was not saved is offered at "
         "the next start\n"),
    ],
)  # fmt: skip
def test_a_window_on_a_screen_ends_in_one_line(
    server: "tuple[subprocess.Popen[bytes], str]", what: str, code: int, says: str, tmp_path: Path
) -> None:
    screen, display = server
    facts = tmp_path / "facts.json"
    around = os.environ | {
        "DISPLAY": display,
        "QT_QPA_PLATFORM": "xcb",
        "PYTHONPATH": str(ROOT),
        FACTS_VARIABLE: str(facts),
    }
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.viewer.window.told_program", "window", "demo:marsh-runner"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=around,
        start_new_session=True,
    )
    end = time.monotonic() + 120.0
    while not facts.exists() and process.poll() is None and time.monotonic() < end:
        time.sleep(0.2)
    assert facts.exists(), "the window did not come up"
    if what == "display":
        screen.terminate()
    else:
        os.killpg(process.pid, signal.SIGINT)
    _, said = process.communicate(timeout=60)
    assert process.returncode == code
    assert said == says
