"""Cures on their sheet: looked for, read, tried, and said to be old once the rig is another one."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted
from viewer.session.cures.lines import NOT_ENOUGH, CureLine, CureList, Row
from viewer.session.session import Session
from viewer.session.told.cure_words import AS_IT_WAS, HOW, RULED_ANEW
from viewer.window.cures.panel import CuresPanel

SAYS = "Turn the pinion's nose up 4.0 deg: shims on leaf springs, to 2.0 deg up."


def listed(text: str) -> CureList:
    """Two that work and one that does not."""
    rows = (
        Row("pinion joint", "short 9.4 deg", "3.2 deg left"),
        Row("length", "37 3/8 in", "36 13/16 in"),
    )
    cures = tuple(
        CureLine(
            "Limit straps at 6 in droop",
            SAYS,
            "Downside: next to none.",
            "",
            works,
            verdict,
            verdict.upper(),
            rows,
            text.replace('droop = "9 in"', f'droop = "{droop} in"'),
        )
        for droop, works, verdict in ((6, True, "clear"), (5, True, "close"), (4, False, "touches"))
    )
    return CureList(text, "The cheapest first:", cures, ("Tried, no help here: bump stops.",))  # type: ignore[arg-type]


@pytest.fixture
def panel(open_rig: Callable[..., Session], qtbot: QtBot) -> CuresPanel:
    made = CuresPanel(open_rig())
    qtbot.addWidget(made)
    made.resize(330, 700)
    made.show()
    return made


def answer(panel: CuresPanel, worker: Scripted) -> None:
    worker.others["cures"].say(answer=listed(panel.session.document.text))
    panel.session.tick()


def test_looking_shows_how_far_it_is_and_can_be_stopped(
    panel: CuresPanel, worker: Scripted
) -> None:
    assert panel.says.text() == HOW
    assert not panel.stop.isVisible()
    panel.seek.click()
    assert not panel.seek.isVisible()
    worker.others["cures"].say(what="trying an output drop", share=0.25)
    panel.session.tick()
    assert panel.says.text() == "Trying an output drop ..."
    assert panel.progress.value() == 250
    panel.stop.click()
    assert panel.says.text() == f"Stopped. {HOW}"
    assert panel.seek.isVisible()
    panel.look()
    assert panel.session.cures.is_computing
    worker.others["cures"].say(fault="ears overlap", bug=False)
    panel.session.tick()
    assert panel.says.text() == "No cures: ears overlap."


def test_each_cure_is_read_in_full_and_tried_by_a_press(
    panel: CuresPanel, worker: Scripted
) -> None:
    panel.look()
    answer(panel, worker)
    first, second, third = panel.blocks
    assert panel.says.text() == "The cheapest first:"
    assert first.name.text() == "Limit straps at 6 in droop"
    assert not first.says.isVisible()
    first.more.click()
    assert first.says.isVisible()
    assert first.says.text() == SAYS
    read = [each.text() for each in first.findChildren(QLabel) if each.isVisible()]
    assert "short 9.4 deg \N{RIGHTWARDS ARROW} 3.2 deg left" in read
    assert "Downside: next to none." in read
    first.more.click()
    assert not first.says.isVisible()
    assert [each.mark.verdict for each in panel.blocks] == ["clear", "close", "touches"]
    inside = panel.area.widget()
    assert inside is not None
    texts = [each.text() for each in inside.findChildren(QLabel)]
    assert texts.count(NOT_ENOUGH) == 1
    assert "Tried, no help here: bump stops." in texts
    first.button.click()
    assert panel.session.document.typed("travel.droop") == "6 in"
    assert first.state.isVisible()
    assert not first.button.isVisible()
    second.button.click()
    assert panel.session.document.typed("travel.droop") == "5 in"
    assert (first.state.isVisible(), second.state.isVisible()) == (False, True)
    panel.session.document.undo()
    panel.session.document.undo()
    assert not any(each.state.isVisible() for each in panel.blocks)
    assert third.button.isEnabled()


def test_cures_of_the_rig_as_it_was_cannot_be_tried(panel: CuresPanel, worker: Scripted) -> None:
    panel.look()
    answer(panel, worker)
    panel.look()  # they are known: nothing is asked again
    assert not panel.session.cures.is_computing
    panel.session.document.set({"travel.bump": "3 in"})
    assert panel.says.text() == AS_IT_WAS
    assert not any(each.button.isEnabled() for each in panel.blocks)
    panel.look()
    assert panel.session.cures.is_computing
    panel.session.document.set({"travel.bump": "three"})
    assert not panel.seek.isEnabled()


def test_nothing_is_cut_off_at_the_side(panel: CuresPanel, worker: Scripted, qtbot: QtBot) -> None:
    panel.look()
    answer(panel, worker)
    for block in panel.blocks:
        block.more.click()
    qtbot.wait(1)
    port, inside = panel.area.viewport(), panel.area.widget()
    assert port is not None
    assert inside is not None
    assert inside.width() <= port.width()
    for block in panel.blocks:
        for label in block.findChildren(QLabel):
            assert label.width() >= label.minimumSizeHint().width(), label.text()
            if label.wordWrap():
                assert label.height() >= label.heightForWidth(label.width()), label.text()
            assert label.textFormat() == Qt.TextFormat.PlainText or not label.wordWrap()


def test_a_long_name_takes_three_lines_and_is_read_in_full_below(
    panel: CuresPanel, worker: Scripted, qtbot: QtBot
) -> None:
    found = listed(panel.session.document.text)
    long = " + ".join(6 * ["limit straps at 6 1/2 in droop"])
    cures = tuple(replace(cure, name=long) for cure in found.cures)
    panel.look()
    worker.others["cures"].say(answer=replace(found, cures=cures))
    panel.session.tick()
    qtbot.wait(1)
    line = panel.fontMetrics().lineSpacing()
    for block in panel.blocks:
        assert block.name.height() < 3.8 * line
        assert block.name.text().endswith("\N{HORIZONTAL ELLIPSIS}")
        assert block.name.toolTip()
    panel.resize(900, 700)
    qtbot.wait(1)
    assert panel.blocks[0].name.text() == long


def test_four_cures_are_seen_at_once(panel: CuresPanel, worker: Scripted, qtbot: QtBot) -> None:
    """In a panel as wide and high as the one in a window of 1600x1000."""
    found = listed(panel.session.document.text)
    long = " + ".join(4 * ["limit straps at 6 1/2 in droop"])
    cures = tuple(replace(found.cures[0], name=long) for _ in range(6))
    panel.resize(330, 880)
    panel.look()
    worker.others["cures"].say(answer=replace(found, cures=cures))
    panel.session.tick()
    qtbot.wait(1)
    whole = [each for each in panel.blocks if each.visibleRegion().boundingRect() == each.rect()]
    assert len(whole) >= 4


def test_a_remedy_is_ruled_out_by_a_press_and_the_list_says_that_it_is_old(
    panel: CuresPanel, worker: Scripted
) -> None:
    panel.look()
    answer(panel, worker)
    panel.rule_out.fill()
    straps = panel.rule_out.actions_by_code["limit-straps"]
    assert straps.text() == "limit straps"
    straps.trigger()
    assert panel.session.without == ("limit-straps",)
    assert panel.rule_out.text() == "Rule out (1)"
    assert panel.says.text().startswith(RULED_ANEW)
    assert panel.blocks[0].button.isEnabled(), "what was found is a cure still"
    panel.look()
    assert panel.session.cures.is_computing
    assert not panel.rule_out.isEnabled()
    assert worker.others["cures"].without == ("limit-straps",)
    straps.trigger()
    assert panel.session.without == ()
