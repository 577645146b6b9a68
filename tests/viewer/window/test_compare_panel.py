"""A version put aside is compared line by line with the one being worked on."""

from collections.abc import Callable

from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted, checked
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.compare.line_table import SIGNS, LineTable
from viewer.window.compare.panel import HOW, ComparePanel


def cells(table: LineTable) -> list[list[str]]:
    found = []
    for row in range(table.rowCount()):
        items = [table.item(row, place) for place in range(3)]
        found.append([item.text() if item is not None else "" for item in items])
    return found


def test_putting_aside_changing_swapping_and_dropping(
    open_rig: Callable[..., Session], worker: Scripted, qtbot: QtBot
) -> None:
    session = open_rig()
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    panel.show()
    assert panel.says.text() == HOW
    assert panel.aside.isEnabled()
    assert not panel.swap.isEnabled()
    assert not panel.answers.isVisible()
    panel.aside.click()
    assert session.other is not None
    assert not panel.typed.isVisible()
    assert panel.answers.isVisible()
    session.document.set({"travel.droop": "5 in", "wanted.bend": "3 deg"})
    assert "old" in panel.says.text()
    assert not panel.aside.isEnabled()
    assert cells(panel.typed) == [
        ["Travel from ride height: droop", "9 in", "5 in"],
        ["Room that is wanted: bend reserve", "2 deg (assumed)", "3 deg"],
    ]
    worker.say(answer=checked("marsh-runner"), share=1.0)
    session.tick()
    assert "old" not in panel.says.text()
    lines = {label: now for label, _, now in cells(panel.answers)}
    assert SIGNS["better"] in lines["pinion joint: worst bend"]
    panel.swap.click()
    assert session.document.typed("travel.droop") == "9 in"
    assert [row[1:] for row in cells(panel.typed)] == [
        ["5 in", "9 in"],
        ["3 deg", "2 deg (assumed)"],
    ]
    session.document.undo()
    assert session.document.typed("travel.droop") == "5 in"
    panel.drop.click()
    assert session.other is None
    assert panel.says.text() == HOW


def test_better_and_worse_are_told_by_a_sign_and_a_word() -> None:
    assert len({sign[:1] for sign in SIGNS.values()}) == len(SIGNS)
    assert all(word in sign for word, sign in SIGNS.items())


def test_every_line_is_shown_in_full(open_rig: Callable[..., Session], qtbot: QtBot) -> None:
    session = open_rig()
    panel = ComparePanel(session)
    qtbot.addWidget(panel)
    panel.resize(300, 500)
    panel.show()
    panel.aside.click()
    table = panel.answers
    high = sum(table.rowHeight(row) for row in range(table.rowCount()))
    assert table.height() >= high
    for row in range(table.rowCount()):
        assert table.rowHeight(row) >= table.sizeHintForRow(row)


def test_nothing_can_be_put_aside_before_there_is_an_answer(worker: Scripted, qtbot: QtBot) -> None:
    panel = ComparePanel(Session(Document.demo("marsh-runner"), worker))
    qtbot.addWidget(panel)
    assert not panel.aside.isEnabled()
