"""The build ticket on the screen: made, read, copied, saved, and made again."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PyQt6.QtCore import QSize
from PyQt6.QtGui import QGuiApplication
from PyQt6.QtPdf import QPdfDocument
from PyQt6.QtPrintSupport import QPrinter
from PyQt6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sim.rig import load_rig
from tests.viewer.session.at_once import AtOnce
from tests.viewer.session.conftest import RIGS
from tests.viewer.session.conftest import Scripted as ScriptedWorker
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.session.text.order import Order
from viewer.window.kit.painting import pixels
from viewer.window.printing import broken_into_pages, in_parts
from viewer.window.ticket_window import AS_IT_WAS, TicketWindow
from viewer.words.verdicts import CAUTION

TICKET = "BUILD TICKET\n  SAW main tube  18 1/2 in"
Making = Callable[..., tuple[TicketWindow, Scripted]]
Printing = Callable[[str, Path], list[str]]


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
    from sim.ticket.ticket import build_ticket, with_bars
    from viewer.ticket.text import build_text

    rig = load_rig(RIGS / "river-bend-hauler.toml")
    worker = AtOnce().other("ticket")
    text = (RIGS / "river-bend-hauler.toml").read_text("utf-8")
    worker.submit(1, Order(text, "river-bend-hauler.toml", RIGS))
    assert worker.poll()[-1].answer == build_text(with_bars(build_ticket(rig)))


# On paper


def printed(window: TicketWindow, file: Path) -> list[str]:
    """Words of each page, read by the PDF reader of Qt, which is not what wrote it."""
    window.print.click()
    pages = QPdfDocument(window)
    assert pages.load(str(file)) == QPdfDocument.Error.None_
    return [" ".join(pages.getAllText(i).text().split()) for i in range(pages.pageCount())]


def into(file: Path) -> Callable[[QWidget], QPrinter]:
    def chosen(_: QWidget) -> QPrinter:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(file))
        return printer

    return chosen


@pytest.fixture
def on_paper(open_rig: Callable[..., Session], qtbot: QtBot, worker: ScriptedWorker) -> Printing:
    def printing(text: str, file: Path) -> list[str]:
        window = TicketWindow(open_rig(), Scripted(), printer=into(file))
        qtbot.addWidget(window)
        window.show()
        say(window, worker, answer=text)
        return printed(window, file)

    return printing


def test_every_page_has_rig_date_number_and_caution(on_paper: Printing, tmp_path: Path) -> None:
    lines = [f"{number:3d}  CUT tube {number} to 18 {number % 16}/16 in" for number in range(200)]
    pages = on_paper("\n".join(["BUILD TICKET", *lines]), tmp_path / "ticket.pdf")
    assert len(pages) >= 3
    for number, page in enumerate(pages, start=1):
        assert page.startswith("Long-legged trail wagon, rear shaft (invented): build ticket")
        assert f"{date.today():%d %b %Y}" in page
        assert " ".join(CAUTION.split()) in page
        assert f"page {number} of {len(pages)}" in page
    whole = " ".join(pages)
    for line in lines:
        assert whole.count(" ".join(line.split())) == 1


@pytest.mark.slow
def test_the_ticket_of_a_rig_is_on_paper_whole_and_black(
    on_paper: Printing, tmp_path: Path
) -> None:
    name = "long-legged-trail-wagon.toml"
    worker = AtOnce().other("ticket")
    worker.submit(1, Order((RIGS / name).read_text("utf-8"), name, RIGS))
    text = str(worker.poll()[-1].answer)
    file = tmp_path / "ticket.pdf"
    pages = on_paper(text, file)
    whole = "".join("".join(pages).split())
    for line in text.splitlines():
        assert "".join(line.split())[:60] in whole, line
    document = QPdfDocument(None)
    document.load(str(file))
    seen = pixels(document.render(0, QSize(600, 850))).astype(int)
    assert (seen.max(axis=2) - seen.min(axis=2) <= 2).all(), "no colour"


def test_going_back_prints_nothing(
    open_rig: Callable[..., Session], qtbot: QtBot, worker: ScriptedWorker
) -> None:
    window = TicketWindow(open_rig(), Scripted(), printer=lambda _: None)
    qtbot.addWidget(window)
    say(window, worker, answer=TICKET)
    window.print.click()
    assert window.says.text() == ""


@given(st.lists(st.text("ab ", max_size=40), max_size=60), st.integers(4, 30), st.integers(20, 40))
def test_no_line_is_lost_between_pages(lines: list[str], most: int, across: int) -> None:
    pages = broken_into_pages(lines, most)
    assert all(len(page) <= most for page in pages)
    kept = [line for page in pages for line in page if line.strip()]
    assert kept == [line for line in lines if line.strip()]
    for line in lines:
        parts = in_parts(line, across)
        assert all(len(part) <= across for part in parts)
        assert "".join("".join(parts).split()) == "".join(line.split())
