"""The window as a whole: its title, what it asks, and that it lets everything go."""

from collections.abc import Callable
from functools import partial
from math import degrees
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from psygnal import Signal
from PyQt6.QtCore import Qt, QTimer
from PyQt6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sim.pose import check_pose
from sim.rig import load_rig
from sim.vehicle import Pose
from tests.viewer.session.conftest import RIGS, checked
from tests.viewer.session.conftest import Scripted as ScriptedWorker
from tests.viewer.window.keys import press
from tests.viewer.window.scripted import Scripted
from tests.viewer.window.whole import CONTROL, RIG, Opening, StubView, panels, wanting
from viewer.session.kept.window_state import WindowState, keep_state
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.app import open_window
from viewer.window.faults import FaultCatcher, FaultMessage
from viewer.window.main.window import MainWindow
from viewer.window.rig.field_row import FieldRow
from viewer.window.view.late_view import LateView
from viewer.words.now import gap_words, now_says
from viewer.words.verdicts import VERDICT_WORDS

# Title, places, files


def test_title_and_mark_follow_the_document(make: Callable[..., MainWindow]) -> None:
    window = make()
    assert window.windowTitle().startswith("Long-legged trail wagon, rear shaft (invented)")
    assert f"({RIG}.toml[*])" in window.windowTitle()
    assert not window.isWindowModified()
    window.session.document.set({"name": "Another"}, "name")
    assert window.windowTitle().startswith("Another (")
    assert window.isWindowModified()
    window.session.document.undo()
    assert not window.isWindowModified()


def test_saving_is_told_and_takes_the_mark_away(
    make: Callable[..., MainWindow], tmp_path: Path
) -> None:
    place = tmp_path / "mine.toml"
    window = make(place)
    wanting(window)
    window.files.save_as()
    assert not window.isWindowModified()
    assert "mine.toml" in window.windowTitle()
    bar = window.statusBar()
    assert bar is not None
    assert bar.currentMessage() == f"Saved {place}."


def test_borders_are_where_they_were_left(make: Callable[..., MainWindow], qtbot: QtBot) -> None:
    window = make()
    window.resize(1400, 900)
    qtbot.wait(1)
    window.rooms.resize_parts({"whole": (350, 700, 340), "middle": (500, 380)})
    left = window.arrangement()
    keep_state(left)
    again = make()
    assert again.size() == window.size()
    for name, sizes in left.splits.items():
        # Shares of another sum, each rounded to a whole pixel.
        assert again.arrangement().splits[name] == pytest.approx(sizes, rel=0, abs=2)
    qtbot.wait(1)


# Closing


def test_closing_asks_when_something_is_not_saved(make: Callable[..., MainWindow]) -> None:
    window = make("back")
    wanting(window)
    assert not window.close()
    assert window.isVisible()
    asker = window.files._ask
    assert isinstance(asker, Scripted)
    assert len(asker.asked) == 1
    window.session.motion.go(travel=-50.0)
    assert "droop" in window.panels.motion.rows["travel"].field.text()  # type: ignore[attr-defined]


def test_closing_lets_everything_go(
    make: Callable[..., MainWindow], worker: ScriptedWorker, open_rig: Opening
) -> None:
    bare = heard(open_rig())
    window = make("throw away")
    session = window.session
    wanting(window)
    session.motion.play(DRIVES["droop"])
    before = worker.cancelled
    assert window.close()
    assert [timer for timer in window.findChildren(QTimer) if timer.isActive()] == []
    assert worker.cancelled > before, "the process that computes"
    assert window.panels.view.was_shut == 1  # type: ignore[attr-defined]
    assert heard(session) == bare
    assert list(window.files.autosave.file.parent.glob("*.json")) == []


def heard(session: Session) -> dict[str, int]:
    """By how many each signal of a session is heard."""
    document, motion, answers = session.document, session.motion, session.answers
    every = [(type(each).__name__, each) for each in (session, document, motion, answers)]
    return {
        f"{kind} {name}": len(getattr(each, name))
        for kind, each in every
        for name, value in vars(type(each)).items()
        if isinstance(value, Signal)
    }


# Another rig


@pytest.mark.slow
def test_another_rig_is_followed_by_every_panel(
    make: Callable[..., MainWindow], worker: ScriptedWorker, qtbot: QtBot
) -> None:
    window = make()
    session = window.session
    old_document = session.document
    session.open(Document.open(RIGS / "quarry-hauler.toml"))
    # The old sheet is gone at once: what is typed on it would go into the other rig.
    assert not window.panels.rig.findChildren(FieldRow)
    qtbot.waitUntil(lambda: bool(window.panels.rig.findChildren(FieldRow)))
    worker.say(answer=checked("quarry-hauler"), share=1.0)
    session.tick()
    while session.idle():
        pass
    for signal in (old_document.changed, old_document.rewritten):
        assert len(signal) == 0
    assert "quarry-hauler" in window.windowTitle()
    assert window.panels.rig.row("travel.droop").field.typed == session.document.typed(
        "travel.droop"
    )  # type: ignore[attr-defined]
    session.motion.go(travel=-30.0)
    assert window.panels.motion.rows["travel"].field.text().endswith("droop")  # type: ignore[attr-defined]
    assert window.panels.state.says.toolTip() == now_says(session.now)  # type: ignore[attr-defined, union-attr]
    verdict = checked("quarry-hauler").verdict
    assert window.panels.head.verdict_says.text().startswith(VERDICT_WORDS[verdict])  # type: ignore[attr-defined]
    assert window.panels.map.canvas.place is not None  # type: ignore[attr-defined]
    old_document.set({"travel.droop": "1 in"}, "late")
    assert "quarry-hauler" in window.windowTitle()
    assert not window.isWindowModified()


# Faults


def test_a_fault_in_a_slot_is_told_and_the_window_lives(
    make: Callable[..., MainWindow],
    qtbot: QtBot,  # noqa: ARG001  takes the hook before the catcher does
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    catcher = FaultCatcher(tmp_path / "log")
    catcher.install()
    try:
        window = make()
        message = FaultMessage(catcher, window)

        def broken(_number: int) -> None:
            raise ZeroDivisionError("out of order")

        monkeypatch.setattr(window.session, "go_to", broken)
        press(window, Qt.Key.Key_B, CONTROL)
        assert message.box is not None
        assert "out of order" in message.box.text()
        message.box.accept()
        window.session.motion.go(travel=-20.0)
        press(window, Qt.Key.Key_0, CONTROL)
        assert window.session.motion.at.travel == 0.0
        assert window.isVisible()
    finally:
        catcher.uninstall()


# Words


@settings(max_examples=6, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    name=st.sampled_from([RIG, "marsh-runner", "goat-path-buggy", "quarry-hauler"]),
    shares=st.tuples(*3 * [st.floats(0.0, 1.0)], st.floats(0.0, 6.28)),
)
@pytest.mark.slow
def test_it_says_what_the_pose_command_says(
    make: Callable[..., MainWindow], name: str, shares: tuple[float, float, float, float]
) -> None:
    window = make(rig=name)
    session, state = window.session, window.panels.state
    bounds = [session.motion.bounds(axis) for axis in ("travel", "roll", "wrap")]
    at = [low + share * (high - low) for share, (low, high) in zip(shares, bounds, strict=False)]
    session.motion.go_to(Pose(*at), shares[3])
    session.choose("pinion")
    while session.idle():
        pass
    told = check_pose(load_rig(RIGS / f"{name}.toml"), session.motion.at, session.motion.spin)
    for joint, block in state.joints.items():  # type: ignore[attr-defined]
        found = told.joints[joint]
        assert block.bend.text().startswith(f"bends {degrees(found.bend):.1f} deg")
        least = checked(name).joints[joint].curve.certified_clear
        assert ("too far" in block.bend.text()) == (found.bend >= least)
        if found.gap.overlaps:
            assert block.room.text() == "at this turn: metal in metal"
        else:
            assert block.room.text() == f"at this turn: gap {gap_words(found.gap.distance)}"
    window.close()


# Starting


def test_it_starts_where_it_was(qtbot: QtBot, worker: ScriptedWorker, tmp_path: Path) -> None:
    catcher = FaultCatcher(tmp_path / "log")
    keep_state(WindowState((10, 20, 780, 560)))
    document = partial(Document.demo, RIG)
    window = open_window(document(), worker, catcher, panels())
    qtbot.addWidget(window)
    window.rooms.resize_parts({"charts": (180, 140)})
    left = window.arrangement()
    window.close()
    again = open_window(document(), worker, catcher, panels())
    qtbot.addWidget(again)
    there = again.arrangement()
    assert there.frame == left.frame
    for name, sizes in left.splits.items():
        # A panel may need a line more or less before its answer is there.
        assert there.splits[name] == pytest.approx(sizes, rel=0, abs=20)
    again.close()
    catcher.uninstall()


def test_the_view_comes_once_and_after_the_window(qtbot: QtBot, open_rig: Opening) -> None:
    made: list[QWidget] = []

    def making(session: Session, parent: QWidget) -> StubView:
        view = StubView(session)
        view.setParent(parent)
        made.append(view)
        return view

    late = LateView(open_rig(), make=making, heavy=("string", "no_such_module"))  # type: ignore[arg-type]
    qtbot.addWidget(late)
    assert late.view is None
    with qtbot.waitSignal(late.came, timeout=5000):
        late.show()
        late.setFocus()
    late.hide()
    late.show()
    qtbot.wait(60)
    assert made == [late.view]
    assert not late.words.isVisible()
    assert late.focusProxy() is late.view
    late.shut()
    assert late.view is None
    assert made[0].was_shut == 1  # type: ignore[attr-defined]
