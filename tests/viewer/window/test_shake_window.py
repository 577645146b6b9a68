"""It shakes: the questions, the answer as it comes, and what is asked of the worker."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PyQt6.QtGui import QGuiApplication
from PyQt6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted
from viewer.session.session import Session
from viewer.vibration.asked import Asked
from viewer.vibration.told import Answer, Cure, Paragraph
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.vibration.window import AS_IT_WAS, ShakeWindow

ANSWER = Answer(
    name="A rig",
    asked=("Buzzes at 45 mph.",),
    suspects=(
        Paragraph(
            "Most likely: the joint angles.", ("This rig predicts it.",), (Cure("Turn it."),)
        ),
        Paragraph("Then: a worn U-joint.", ("Swing it.",), ()),
    ),
    rest=("Unlikely: tires.",),
    caution="Consistent with, never proof.",
)


@pytest.fixture
def window(open_rig: Callable[..., Session], qtbot: QtBot) -> ShakeWindow:
    made = ShakeWindow(open_rig())
    qtbot.addWidget(made)
    made.show()
    return made


def choose(box: object, data: object) -> None:
    box.setCurrentIndex(box.findData(data))  # type: ignore[attr-defined]


def say(window: ShakeWindow, worker: Scripted, **words: object) -> None:
    worker.others["shake"].say(**words)
    window.session.tick()


def read(window: ShakeWindow) -> list[str]:
    return [label.text() for label in window._page.findChildren(PlainLabel)]


def test_nothing_is_asked_until_somebody_presses(window: ShakeWindow, worker: Scripted) -> None:
    assert "shake" not in worker.others
    assert not window.copy.isEnabled()
    assert "it shakes" in window.windowTitle()


def test_what_is_answered_goes_to_the_worker(window: ShakeWindow, worker: Scripted) -> None:
    ask = window.questions
    ask.speed.setText("62.5")
    choose(ask.unit, "km/h")
    choose(ask.when, "coast")
    choose(ask.feel, "boom")
    choose(ask.per_turn, 2)
    choose(ask.follows, "road")
    choose(ask.only, "loaded")
    assert ask.asked() == Asked(
        "62.5 km/h", "", "", when="coast", feel="boom", per_turn=2, follows="road", only="loaded"
    )
    window.find_out.click()
    assert worker.others["shake"].jobs[-1][1] == window.session.document.text
    assert not window.find_out.isEnabled()


def test_the_engines_speed_asks_for_its_gear(window: ShakeWindow, worker: Scripted) -> None:
    ask = window.questions
    assert not ask.gear.isVisible()
    choose(ask.unit, "engine")
    assert ask.gear.isVisible()
    ask.speed.setText("2400")
    window.find_out.click()
    assert "--gear" not in window.says.text()
    assert "gear" in window.says.text()
    assert "shake" not in worker.others
    ask.gear.setText("0.75")
    window.find_out.click()
    assert "shake" in worker.others


@pytest.mark.parametrize("typed", ["", "0", "-4", "fast", "4e9"])
def test_a_speed_that_is_none_is_said_beside_it(
    window: ShakeWindow, worker: Scripted, typed: str
) -> None:
    window.questions.speed.setText(typed)
    window.find_out.click()
    assert "speed" in window.says.text()
    assert "--at" not in window.says.text()
    assert "shake" not in worker.others


def test_the_answer_is_read_copied_and_grows_old(window: ShakeWindow, worker: Scripted) -> None:
    window.find_out.click()
    say(window, worker, what="trying what would cure it", share=0.6)
    assert window.says.text() == "Trying what would cure it ..."
    say(window, worker, answer=ANSWER)
    told = read(window)
    assert told[0] == "Buzzes at 45 mph."
    assert "Most likely: the joint angles." in told
    assert told[-1] == ANSWER.caution
    window.copy.click()
    board = QGuiApplication.clipboard()
    assert board is not None
    assert board.text().startswith("A rig\nBuzzes at 45 mph.")
    window.session.document.set({"travel.bump": "3 in"})
    assert window.says.text() == AS_IT_WAS
    assert not window._page.isEnabled()


def test_what_goes_wrong_is_told(window: ShakeWindow, worker: Scripted) -> None:
    window.find_out.click()
    say(window, worker, fault="the suspension does not reach")
    assert window.says.text() == "There is no answer: the suspension does not reach."
    assert window.find_out.isEnabled()


def test_pulling_away_needs_no_speed(window: ShakeWindow, worker: Scripted) -> None:
    window.questions.speed.setText("")
    choose(window.questions.when, "takeoff")
    window.find_out.click()
    assert "shake" in worker.others


def test_a_cure_is_tried_and_taken_back(window: ShakeWindow, worker: Scripted) -> None:
    document = window.session.document
    before = document.text
    after = before.replace('points_up = "1 deg"', 'points_up = "2 deg"')
    assert after != before
    window.find_out.click()
    cure = Cure("Turn the pinion nose up 1.0 deg.", after)
    told = replace(ANSWER, suspects=(replace(ANSWER.suspects[0], cures=(cure,)),))
    say(window, worker, answer=told)
    (press,) = [b for b in window._page.findChildren(QPushButton) if b.text() == "Try it"]
    press.click()
    assert document.text == after
    assert window.says.text() == AS_IT_WAS
    document.undo()
    assert document.text == before
