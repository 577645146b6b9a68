"""Every finding is told by all who tell findings, so that a new one cannot crash one of them."""

import json
from typing import get_args

import pytest
from pytestqt.qtbot import QtBot

from sim.findings import Code, Finding
from tests.viewer.every.examples import EXAMPLES, told
from tests.viewer.session.conftest import Scripted
from viewer.check_json import check_data
from viewer.check_picture import check_picture
from viewer.check_text import check_text
from viewer.draw.recording import RecordingCanvas
from viewer.scene.check_scene import draw_check_sheet
from viewer.session.document import Document
from viewer.session.finding_lines import finding_lines
from viewer.session.session import Session
from viewer.window.state_panel import StatePanel
from viewer.words import check_word, headline, says

CODES: tuple[Code, ...] = get_args(Code)

every_code = pytest.mark.parametrize("code", CODES)


def found(code: Code) -> Finding:
    return next(each for each in told(code).findings if each.code == code)


def test_every_finding_has_a_rig() -> None:
    assert set(EXAMPLES) == set(CODES)


@pytest.mark.slow
@every_code
def test_it_is_told_in_text_and_data(code: Code) -> None:
    result, finding = told(code), found(code)
    sentence = says(finding)
    assert sentence[0].isupper()
    assert sentence.endswith(".")
    assert sentence in " ".join(check_text(result).split())
    data = json.loads(json.dumps(check_data(result, result.rig.name)))
    assert sentence in [each["says"] for each in data["findings"] if each["code"] == code]
    assert check_word(result)
    assert headline(result).endswith(".")


@pytest.mark.slow
@every_code
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


@pytest.mark.slow
@every_code
def test_its_rig_has_a_picture(code: Code) -> None:
    canvas = RecordingCanvas()
    draw_check_sheet(check_picture(told(code)), canvas)
    assert canvas.calls
