"""Every finding has its two lines in the window's list, so that a new one cannot crash it."""

from typing import get_args

import pytest
from pytestqt.qtbot import QtBot

from sim.findings import Code
from tests.viewer.every.examples import found, told
from tests.viewer.session.conftest import Scripted
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.state.panel import StatePanel
from viewer.words.findings import finding_lines


@pytest.mark.slow
@pytest.mark.parametrize("code", get_args(Code))
def test_it_is_told_in_the_window(code: Code, qtbot: QtBot) -> None:
    result, worker = told(code), Scripted()
    session = Session(Document.of(result.rig), worker)
    worker.say(answer=result, share=1.0)
    session.tick()
    panel = StatePanel(session)
    qtbot.addWidget(panel)
    rows = [item.text() for i in range(panel.findings.count()) if (item := panel.findings.item(i))]
    lines = "\n".join(finding_lines(found(code)))
    assert any(row == lines or row.startswith(f"{lines}\n") for row in rows)
    place = next(i for i, each in enumerate(result.findings) if each.code == code)
    panel.findings.setCurrentRow(place)
    session.close()
