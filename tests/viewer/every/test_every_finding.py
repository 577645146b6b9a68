"""Every finding is told by all who tell findings, so that a new one cannot crash one of them."""

import json
from typing import get_args

import pytest

from sim.cures import Cures
from sim.cures.ranking import weights
from sim.findings import Code
from tests.viewer.every.examples import EXAMPLES, found, told
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.test_remarks import named
from tests.viewer.whole_text import check_text
from viewer.check.json import check_data
from viewer.check.picture import check_picture
from viewer.words.cures import NO_NEED, cures_lead
from viewer.words.finding_facts import FACTS
from viewer.words.finding_rows import ROWS
from viewer.words.findings import finding_lines, says
from viewer.words.verdicts import _STOPS, check_word, headline

CODES: tuple[Code, ...] = get_args(Code)

every_code = pytest.mark.parametrize("code", CODES)


def test_every_finding_has_a_rig() -> None:
    assert set(EXAMPLES) == set(CODES)


@every_code
def test_what_can_stop_the_shaft_is_told_in_the_headline(code: Code) -> None:
    assert "touches" not in ROWS[code] or stops(code)


def stops(code: Code) -> bool:
    """Whether the headline has words for it where it stops the shaft."""
    return any(code in codes for _, codes in _STOPS)


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
    assert finding.verdict != "touches" or stops(code)


@pytest.mark.slow
@every_code
def test_its_short_lines_and_those_of_other_verdicts_have_what_they_are_made_of(code: Code) -> None:
    finding = found(code)
    assert all(finding_lines(finding))
    for row in ROWS[code].values():
        assert {name for line in row for name in named(line)} <= {*FACTS, *finding.detail}


@pytest.mark.slow
@every_code
def test_cures_do_not_call_a_rig_that_it_stops_sound(code: Code) -> None:
    result = told(code)
    untried = Cures(result.rig, result.found, "clear", (), weights(), (), ())
    assert result.verdict != "touches" or cures_lead(untried) != NO_NEED


@pytest.mark.slow
@every_code
def test_its_rig_has_a_picture(code: Code) -> None:
    picture = check_picture(told(code))
    stage = RecordingStage(picture.size)
    picture.draw(stage, stage.region)
    assert stage.calls
