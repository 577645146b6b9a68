"""The build ticket on the screen: made, read, copied, saved, and made again."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PyQt6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from sim.rig import load_rig
from tests.viewer.session.at_once import AtOnce
from tests.viewer.session.conftest import RIGS
from tests.viewer.session.conftest import Scripted as ScriptedWorker
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.session.text.order import Order
from viewer.window.ticket_window import AS_IT_WAS, TicketWindow

TICKET = "BUILD TICKET\n  SAW main tube  18 1/2 in"
Making = Callable[..., tuple[TicketWindow, Scripted]]


@pytest.fixture
def make(open_rig: Callable[..., Session], qtbot: QtBot) -> Making:
    def making(*answers: Path | None) -> tuple[TicketWindow, Scripted]:
        asker = Scripted(*answers)
        window = TicketWindow(open_rig(), asker)
        qtbot.addWidget(window)
        window.show()
        return window, asker

    return making


def say(window: TicketWindow, worker: ScriptedWorker, **words: object) -> None:
    worker.others["ticket"].say(**words)
    window.session.tick()


def test_it_is_made_when_it_is_opened_and_again_after_a_change(
    make: Making, worker: ScriptedWorker
) -> None:
    window, _ = make()
    assert "Long-legged trail wagon" in window.windowTitle()
    say(window, worker, what="sweeping", share=0.5)
    assert window.says.text() == "Sweeping ..."
    assert window.progress.value() == 500
    assert not window.save.isEnabled()
    say(window, worker, answer=TICKET)
    assert window.page.toPlainText() == TICKET
    assert window.page.isEnabled()
    assert not window.again.isVisible()
    window.session.document.set({"travel.bump": "3 in"})
    assert window.says.text() == AS_IT_WAS
    assert not window.page.isEnabled()
    window.again.click()
    say(window, worker, answer="another")
    assert window.page.toPlainText() == "another"
    assert window.says.text() == ""
    window.session.document.set({"travel.bump": "three"})
    assert "not right" in window.says.text()
    assert not window.again.isEnabled()


def test_copying_and_saving(make: Making, worker: ScriptedWorker, tmp_path: Path) -> None:
    place = tmp_path / "ticket.txt"
    window, asker = make(place, None, tmp_path / "nowhere" / "ticket.txt")
    say(window, worker, answer=TICKET)
    window.copy.click()
    board = QGuiApplication.clipboard()
    assert board is not None
    assert board.text() == TICKET
    window.save.click()
    assert window.says.text() == "Saved ticket.txt."
    day, *rest = place.read_text("utf-8").splitlines()
    assert day.split()[-1].isdecimal()
    assert rest == TICKET.splitlines()
    assert "long-legged-trail-wagon-rear-shaft-invented-ticket.txt" in asker.asked[0]
    window.save.click()
    window.save.click()
    assert window.says.text().startswith("Not saved: ")


def test_a_fault_is_told_and_closing_stops_the_work(make: Making, worker: ScriptedWorker) -> None:
    window, _ = make()
    say(window, worker, fault="tube: came 0 in, expected more")
    assert window.says.text() == "There is no ticket: tube: came 0 in, expected more."
    window.again.click()
    session = window.session
    assert session.ticket.is_computing
    window.close()
    assert session.ticket.state == "stopped"


@pytest.mark.slow
def test_the_worker_gives_the_ticket_of_the_command_line() -> None:
    from sim.ticket.ticket import build_ticket
    from viewer.ticket.text import build_text

    rig = load_rig(RIGS / "river-bend-hauler.toml")
    worker = AtOnce().other("ticket")
    text = (RIGS / "river-bend-hauler.toml").read_text("utf-8")
    worker.submit(1, Order(text, "river-bend-hauler.toml", RIGS))
    assert worker.poll()[-1].answer == build_text(build_ticket(rig))
