"""Cures in a session: each is what a plain check of its text says, and one can be tried."""

import re
from collections.abc import Callable
from math import degrees

import pytest

from sim.assessment import Assessor
from sim.check import check
from sim.cures import find_cures
from sim.cures.remedies.two_piece import TwoPiece
from sim.cures.remedy import Dose
from sim.cures.sure import with_chances
from sim.rig import load_demo, parse_rig
from tests.kept import kept
from tests.viewer.session.at_once import AtOnce
from tests.viewer.session.conftest import RIGS, Scripted
from viewer.session.cures.lines import CureLine, CureList
from viewer.session.cures.list import _rows
from viewer.session.session import Session
from viewer.session.text.order import Order
from viewer.session.told.cure_words import AS_IT_WAS, HOW, cures_words
from viewer.session.work.worker import Told
from viewer.words.cures import cure_says

RIG = "marsh-runner"


@kept
def found(name: str = RIG) -> CureList:
    """The cures of a demo rig, as a worker gives them."""
    worker = AtOnce().other("cures")
    text = (RIGS / f"{name}.toml").read_text("utf-8")
    worker.submit(1, Order(text, f"{name}.toml", RIGS))
    told: list[Told] = worker.poll()
    answer = told[-1].answer
    assert isinstance(answer, CureList)
    shares = [each.share for each in told]
    assert shares == sorted(shares)
    assert len(shares) > 5
    return answer


def row(cure: CureLine, label: str) -> tuple[float, float]:
    """A number of degrees before and after."""
    (one,) = (each for each in cure.rows if each.label == label)
    return said(one.before), said(one.after)


def said(words: str) -> float:
    """Degrees of "short 2.6 deg" or "2.3 deg left"."""
    match = re.fullmatch(r"(short )?([0-9.]+) deg( left)?", words)
    assert match is not None
    assert (match[1] is None) != (match[3] is None)
    return float(match[2]) * (1.0 if match[1] is None else -1.0)


@pytest.mark.slow
def test_lines_say_what_the_search_found() -> None:
    listed = found()
    plain = with_chances(find_cures(parse_rig(listed.text, RIG)))
    assert len(listed.cures) == len(plain.cures) > 3
    for line, cure in zip(listed.cures, plain.cures, strict=True):
        assert line.works == cure.works
        assert line.verdict == cure.after.verdict
        before, after = row(line, "pinion joint")
        assert before == pytest.approx(degrees(cure.before.margins["pinion"]), abs=0.051)
        assert after == pytest.approx(degrees(cure.after.margins["pinion"]), abs=0.051)
        for says in cure_says(cure):
            assert says in line.says


@pytest.mark.slow
def test_the_text_of_each_cure_is_checked_to_be_as_it_says() -> None:
    """A plain check of the file that a cure writes finds the same margin."""
    for line in found().cures[:3]:
        result = check(parse_rig(line.text, RIG))
        margin = degrees(result.joints["pinion"].margin)
        assert row(line, "pinion joint")[1] == pytest.approx(margin, abs=0.06)
        assert (result.verdict == "clear") == (line.verdict == "clear")


@pytest.mark.slow
def test_a_joint_that_a_cure_adds_is_a_row_of_its_own() -> None:
    """Two pieces in place of one: once the numbers before and after could not be put together."""
    rig, remedy, assessor = load_demo(RIG), TwoPiece(), Assessor()
    before = assessor.assess(rig)
    after = assessor.assess(remedy.applied(rig, Dose(0.5, "0.5")))
    rows = list(_rows(before, after))
    assert [row.label for row in rows][:2] == ["output joint", "middle joint"]
    (middle,) = (row for row in rows if row.label == "middle joint")
    assert middle.before == "no joint"
    assert said(middle.after) == pytest.approx(degrees(after.margins["middle"]), abs=0.051)


def _droops(text: str, inches: int) -> str:
    return text.replace('"7 in"', f'"{inches} in"')


def test_a_cure_is_tried_on_the_rig_and_taken_back(
    open_rig: Callable[[str], Session], worker: Scripted
) -> None:
    session = open_rig(RIG)
    text, before = session.document.text, session.check
    session.look_for(session.cures)
    other = worker.others["cures"]
    assert other.jobs[-1][1] == text
    other.say(what="trying limit straps", share=0.1)
    session.tick()
    assert cures_words(session.cures, session.document) == "Trying limit straps ..."
    lines = tuple(
        CureLine(f"Cure {n}", f"cure {n}", "", "", True, "clear", "CLEAR", (), made)
        for n in (3, 4)
        for made in [text.replace('"7 in"', f'"{n} in"')]
    )
    other.say(answer=CureList(text, "the cheapest first:", lines, ()))
    session.tick()
    answer = session.cures.answer
    assert answer is not None
    assert cures_words(session.cures, session.document) == "the cheapest first:"
    session.try_cure(0)
    assert session.document.text == lines[0].text
    assert session.document.undo_name == "cure 1"
    assert session.other is not None
    assert (session.other.text, session.other.check) == (text, before)
    assert answer.tried(session.document.text) == 0
    session.try_cure(1)
    assert answer.tried(session.document.text) == 1
    assert session.other.text == text
    session.document.set({"travel.bump": "1 in"})
    assert not answer.is_of(session.document.text)
    assert cures_words(session.cures, session.document) == AS_IT_WAS
    for _ in range(3):
        session.document.undo()
    assert session.document.text == text
    assert answer.is_of(text)
    assert answer.tried(text) is None


@pytest.mark.slow
def test_a_change_stops_the_search_and_another_rig_forgets_it(
    open_rig: Callable[[str], Session], worker: Scripted
) -> None:
    session = open_rig(RIG)
    assert cures_words(session.cures, session.document) == HOW
    session.look_for(session.cures)
    session.document.set({"travel.bump": "1 in"})
    assert session.cures.state == "stopped"
    assert worker.others["cures"].cancelled == 1
    session.document.set({"travel.bump": "one"})
    session.look_for(session.cures)
    assert session.cures.state == "stopped"
    session.open(open_rig("river-bend-hauler").document)
    assert session.cures.state == "none"
