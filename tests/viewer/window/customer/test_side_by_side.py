"""A cure beside the rig as it is, in the customer view."""

from dataclasses import replace
from datetime import date
from math import radians
from pathlib import Path

import numpy as np
import pytest
from PIL import Image as Pictures
from PyQt6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sim.pose import pose_of
from sim.vehicle import RIDE
from tests.viewer.session.conftest import Scripted as Worker
from tests.viewer.session.test_beside import strapped
from tests.viewer.window.customer.shown import StubView, cured, height, pair, plain, try_it
from tests.viewer.window.scripted import Scripted
from viewer.session.cures.lines import CureList
from viewer.session.session import Session
from viewer.window.customer.view import TOGETHER, CustomerView
from viewer.words.assumed import assumed_words
from viewer.words.now import now_told, now_word
from viewer.words.verdicts import CAUTION


def test_cures_are_found_on_a_press_with_progress(
    view: CustomerView, session: Session, worker: Worker
) -> None:
    assert view.stack.currentIndex() == 0
    view.cures.click()
    assert view.stack.currentWidget() is view.offers
    assert view.offers.seek.isVisible()
    view.offers.seek.click()
    assert view.offers.progress.isVisible()
    assert not view.offers.seek.isVisible()
    worker.others["cures"].say(what="trying limit straps", share=0.25)
    session.tick()
    assert view.offers.says.text() == "Trying limit straps ..."
    assert view.offers.progress.value() == 250
    found = CureList(session.document.text, "", 5 * (cured(session),), ())
    worker.others["cures"].say(answer=found, share=1.0)
    session.tick()
    names = [each.text() for each in view.offers.findChildren(QLabel) if "straps" in each.text()]
    assert names == 3 * ["Limit straps at 4 in droop"], "the first three, by name"
    view.cures.click()
    assert view.stack.currentIndex() == 0


def test_a_cure_is_shown_beside_the_rig_as_it_is(
    offered: CustomerView, session: Session, worker: Worker
) -> None:
    session.motion.go(travel=-152.4, wrap=0.0)
    before = session.check
    try_it(offered, session, worker)
    left, right = pair(offered)
    assert left.session.check is before
    assert right.session is session
    assert session.check is strapped()
    assert left.asked[-1] is right, "it looks with the eye of the other"
    for (name, shown), heading in zip(
        offered.sides, (offered.pictures.other_heading, offered.pictures.paired), strict=True
    ):
        own = pose_of(shown.check, shown.motion.at, shown.motion.spin)
        assert heading is not None
        assert heading.isVisible()
        assert heading.name.text() == name
        assert heading.mark.verdict == own.verdict
        assert heading.word.text() == now_word(own)
        assert plain(heading.says.text()) == now_told(own)
        assert heading.whole_mark.verdict == shown.check.verdict
    assert [name for name, _ in offered.sides] == ["As it is", "With the cure"]
    assert not offered.pictures.single.isVisible()


def test_the_controls_move_both_each_as_far_as_it_goes(
    offered: CustomerView, session: Session, worker: Worker
) -> None:
    session.motion.go(travel=-152.4, wrap=0.0)
    try_it(offered, session, worker)
    left, right = (each.session.motion for each in pair(offered))
    assert left.at.travel == -152.4, "the position is that in which it binds"
    assert right.at.travel == pytest.approx(-101.6, abs=1e-9)
    assert offered.controls["travel"].says.text() == "6 in droop"
    assert offered.apart.isVisible()
    assert "as it is at 6 in droop" in offered.apart.text()
    assert "with the cure at 4 in droop" in offered.apart.text()
    height(offered).setValue(-32)
    assert left.at.travel == right.at.travel == pytest.approx(-50.8, abs=1e-9)
    assert not offered.apart.isVisible()
    for axis, way in (("roll", 30), ("wrap", -20), ("spin", 900)):
        offered.controls[axis].slider.setValue(way)
        assert left.value(axis) == right.value(axis) == pytest.approx(radians(way / 10.0))
    offered.ride.click()
    assert left.at == right.at == RIDE
    height(offered).setValue(height(offered).minimum())
    assert left.at.travel == pytest.approx(-228.6, abs=1e-9), "all that either can reach"


@pytest.mark.parametrize("way", ["button", "leaving", "kept"])
def test_a_cure_goes_again_unless_it_is_kept(
    offered: CustomerView, session: Session, worker: Worker, ask: Scripted, way: str
) -> None:
    text, was = session.document.text, offered._before
    try_it(offered, session, worker)
    assert session.document.text != text
    assert offered.undo.isVisible()
    if way == "kept":
        offered.keep.click()
        assert not offered.undo.isVisible()
        offered.close()
        assert session.document.text == cured(session).text
        assert session.other is not None, "so that the window can compare them"
        return
    if way == "button":
        offered.undo.click()
        assert offered.twins is None
        assert offered.pictures.single.isVisible()
    else:
        ask.answers.append("undo")
        offered.close()
        assert "Keep the cure?" in ask.asked[0]
    assert session.document.text == text
    assert session.other is None
    assert session.document.undo_name is None
    if way == "leaving":
        assert (session.motion.at, session.motion.spin) == was


def test_all_cures_that_were_tried_go_on_one_press(
    view: CustomerView, session: Session, worker: Worker
) -> None:
    text, first = session.document.text, cured(session)
    other = replace(first, name="longer", text=text.replace('droop = "9 in"', 'droop = "5 in"'))
    session.look_for(session.cures)
    worker.others["cures"].say(answer=CureList(text, "", (first, other), ()), share=1.0)
    session.tick()
    for each in (first, other):
        view.offers.wanted.emit((first, other).index(each))
        worker.say(answer=strapped(), share=1.0)
        session.tick()
        assert session.document.text == each.text
    view.undo.click()
    assert session.document.text == text
    assert session.document.undo_name is None


def test_of_a_cure_that_is_shown_alone_it_tells_what_was_measured_before_it(
    offered: CustomerView, session: Session, worker: Worker
) -> None:
    try_it(offered, session, worker)
    offered.beside.click()
    assert offered.twins is None
    (side,) = offered.caption().sides
    assert side.whole == strapped().verdict, "what is seen is the cure"
    cure, measured, *_ = offered.caption().notes
    assert cure.startswith("The cure, by calculation, not yet built: ")
    assert "9 in of droop" in measured
    assert "4 in of droop" not in measured


def test_leaving_shuts_both_and_the_pose_is_as_it_was(
    offered: CustomerView, session: Session, worker: Worker, ask: Scripted
) -> None:
    at, spin, chosen = session.motion.at, session.motion.spin, session.chosen
    try_it(offered, session, worker)
    left, right = pair(offered)
    offered.controls["roll"].slider.setValue(20)
    ask.answers.append("keep")
    offered.close()
    assert (left.was_shut, right.was_shut) == (1, 1)
    assert session.motion.at.roll == at.roll
    assert (session.motion.spin, session.chosen) == (spin, chosen)


def test_the_caption_of_both_tells_each_and_what_it_rests_on(
    offered: CustomerView, session: Session, worker: Worker
) -> None:
    session.motion.go(travel=-152.4, wrap=0.0)
    first = session.check
    try_it(offered, session, worker)
    caption = offered.caption()
    assert [side.name for side in caption.sides] == ["As it is", "With the cure"]
    found = [pose_of(each.check, each.motion.at, each.motion.spin) for _, each in offered.sides]
    assert [side.verdict for side in caption.sides] == [now.verdict for now in found]
    assert [side.says for side in caption.sides] == [now_told(now) for now in found]
    assert [side.whole for side in caption.sides] == ["touches", strapped().verdict]
    cure, apart, measured, parts, assumed = caption.notes
    assert cure == (
        "The cure, by calculation, not yet built: Limit straps that end the droop at 4 in."
    )
    assert apart == TOGETHER
    assert measured.startswith("Measured: output 3 deg down, pinion 1 deg up")
    assert "9 in of droop" in measured, "what the cure would change was not measured"
    assert parts.startswith("Parts at the pinion joint, as named: 27 x 82 cross")
    assert first is not None
    assert assumed == assumed_words(first.findings[0])
    assert f"{date.today():%d %b %Y}" in caption.title
    assert caption.caution == CAUTION


def test_a_picture_of_both_is_two_pictures_wide(
    offered: CustomerView,
    session: Session,
    worker: Worker,
    ask: Scripted,
    tmp_path: Path,
    qtbot: QtBot,
) -> None:
    session.motion.go(travel=-152.4, wrap=0.0)
    try_it(offered, session, worker)
    ask.answers.append(tmp_path / "both.png")
    offered.picture.click()
    qtbot.waitUntil(lambda: not offered.is_busy, timeout=10_000)
    assert "before-and-after-6-in-droop.png" in ask.asked[0]
    with Pictures.open(tmp_path / "both.png") as page:
        assert 2 * 480 < page.width < 2 * 480 + 10
        shades = np.asarray(page.convert("L"))[10]
    left, right = pair(offered)
    assert (shades[5], shades[-5]) == (left.last_shade, right.last_shade)
    assert left.last_shade != right.last_shade, "the straps hold one of them up"
    frame = offered.pictures.snapshot()  # of a clip
    assert (frame[10, 5, 0], frame[10, -5, 0]) == (left.last_shade, right.last_shade)


def test_two_versions_of_any_other_change_are_before_and_now(
    view: CustomerView, session: Session, worker: Worker
) -> None:
    assert not view.beside.isVisible()
    session.put_aside()
    session.document.set({"travel.droop": "4 in"})
    worker.say(answer=strapped(), share=1.0)
    session.tick()
    assert view.beside.isVisible()
    view.beside.click()
    assert [name for name, _ in view.sides] == ["Before", "Now"]
    view.beside.click()
    assert view.twins is None
    assert [name for name, _ in view.sides] == [""]
    assert len(view.pictures.views) == 1


def test_it_opens_on_both_where_the_one_before_was_worst(
    session: Session, worker: Worker, qtbot: QtBot
) -> None:
    session.motion.go_home()
    session.put_aside()
    worst = session.check.findings[0] if session.check is not None else None
    session.document.set({"travel.droop": "4 in"})
    worker.say(answer=strapped(), share=1.0)
    session.tick()
    view = CustomerView(session, None, StubView, Scripted(), both=True)
    qtbot.addWidget(view)
    assert worst is not None
    left, _ = pair(view)
    assert left.session.motion.at == worst.at
    assert left.session.chosen == session.chosen == worst.subject
    view.close()
    assert session.motion.at == RIDE
