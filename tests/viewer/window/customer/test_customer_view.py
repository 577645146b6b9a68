"""The customer view shows the pose and the whole travel, and breaks nothing."""

import re
from math import radians

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QLabel, QMainWindow, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sim.vehicle import RIDE, Pose
from tests.viewer.session.conftest import checked
from tests.viewer.window.customer.shown import (
    Opening,
    StubView,
    head,
    height,
    plain,
    stub,
    turn,
)
from tests.viewer.window.scripted import Scripted
from viewer.draw.verdict_mark import ON_LIGHT
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.customer.parts import zones_of
from viewer.window.customer.view import CustomerView
from viewer.window.kit.theme import DARK, palette_of
from viewer.words.now import now_told
from viewer.words.verdicts import CAUTION


def test_it_says_what_holds_here_and_over_the_whole_travel(
    view: CustomerView, session: Session
) -> None:
    for travel, word, verdict in ((0.0, "CLEAR", "clear"), (-1000.0, "TOUCHES", "touches")):
        session.motion.go(travel=travel, wrap=0.0)
        assert session.now is not None
        assert (head(view).word.text(), head(view).mark.verdict) == (word, verdict)
        assert plain(head(view).says.text()) == now_told(session.now)
        assert not head(view).says.text().lower().startswith(word.lower()), "the word is said once"
        assert head(view).whole_mark.verdict == "touches"
        assert head(view).whole.text().startswith("Over the whole travel: touches.")
    assert CAUTION in view.caution.text()


def test_the_whole_travel_is_told_in_one_row_and_no_fraction_is_torn(
    view: CustomerView, session: Session
) -> None:
    session.motion.go(travel=-152.4, wrap=0.0)
    told = head(view).says.text()
    assert re.search(r"\d \d+/\d", told) is None
    assert re.search(r"\d\xa0\d+/\d", told)
    for wide in (1200, 700):
        view.resize(wide, 800)
        whole = head(view).whole
        assert whole.fontMetrics().horizontalAdvance(whole.text()) <= whole.width()
        assert "Metal meets within the travel." in whole.toolTip()


def test_sliders_move_the_axle_and_follow_it(view: CustomerView, session: Session) -> None:
    height(view).setValue(height(view).minimum())
    assert session.motion.at.travel == session.motion.bounds("travel")[0], "all the way down"
    assert view.controls["travel"].says.text() == "9 in droop"
    height(view).setValue(0)
    assert session.motion.at.travel == 0.0
    assert view.controls["travel"].says.text() == "ride height"
    height(view).setValue(-4)
    assert session.motion.at.travel == pytest.approx(-6.35, abs=1e-9)
    turn(view).setValue(900)
    assert session.motion.spin == pytest.approx(radians(90.0), abs=1e-9)
    assert view.controls["spin"].says.text() == "90 deg"
    session.motion.go(travel=25.4, spin=radians(45.0))
    assert (height(view).value(), turn(view).value()) == (16, 450)


def test_keys_move_the_sliders(view: CustomerView, session: Session, qtbot: QtBot) -> None:
    session.motion.go(travel=0.0, spin=0.0)
    qtbot.keyClick(height(view), Qt.Key.Key_Down)
    assert session.motion.at.travel == pytest.approx(-6.35, abs=1e-9)
    qtbot.keyClick(height(view), Qt.Key.Key_End)
    assert session.motion.at.travel in session.motion.bounds("travel")
    qtbot.keyClick(turn(view), Qt.Key.Key_Right)
    assert session.motion.spin == pytest.approx(radians(5.0), abs=1e-9)


def test_nothing_is_changed_and_the_pose_comes_back(
    view: CustomerView, session: Session, qtbot: QtBot
) -> None:
    text, at, spin = session.document.text, session.motion.at, session.motion.spin
    turn(view).setValue(2000)
    height(view).setValue(-60)
    left: list[bool] = []
    view.left.connect(lambda: left.append(True))
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert not view.isVisible()
    assert (session.document.text, session.motion.at, session.motion.spin) == (text, at, spin)
    view.close()
    assert stub(view).was_shut == 1
    assert left == [True]
    session.motion.go(travel=0.0)
    assert view.controls["travel"].says.text() != "ride height", "it listens no more"


def test_the_strip_shows_where_it_binds(view: CustomerView, session: Session) -> None:
    session.motion.go(wrap=0.0)
    while session.idle():
        pass
    zones = zones_of(session)
    assert (zones[0][0], zones[-1][1]) == session.motion.bounds("travel")
    assert [verdict for *_, verdict in zones] == ["touches", "close", "clear"]
    for low, high, verdict in zones:
        session.motion.go(travel=0.5 * (low + high))
        assert session.now is not None
        assert session.now.verdict == verdict
    view.grab()


def test_a_stale_answer_is_told_and_not_given_away(view: CustomerView, session: Session) -> None:
    assert view.picture.isEnabled()
    assert not view.note.isVisible()
    session.document.set({"travel.droop": "8 in"})
    assert "not the newest" in view.note.text()
    assert view.note.isVisible()
    assert not view.picture.isEnabled()
    assert not view.clip.isEnabled()
    assert head(view).mark.is_old
    assert head(view).whole_mark.is_old
    for label in (head(view).says, head(view).whole):
        assert label.text().startswith("OLD ANSWER. ")
    assert ON_LIGHT["clear"] not in head(view).word.styleSheet(), "no big green word"


def test_it_starts_with_the_drive_that_was_playing(session: Session, qtbot: QtBot) -> None:
    session.motion.play(DRIVES["launch"])
    view = CustomerView(session, None, StubView, Scripted())
    qtbot.addWidget(view)
    assert session.motion.drive is None
    assert view.film.currentData() == "launch"
    view.close()


def test_what_it_covers_rests_meanwhile(session: Session, qtbot: QtBot) -> None:
    window, inside = QMainWindow(), QWidget()
    qtbot.addWidget(window)
    window.setCentralWidget(inside)
    window.show()
    view = CustomerView(session, window, StubView, Scripted())
    view.show()
    assert view.isWindow()
    assert view.updatesEnabled()
    assert not inside.updatesEnabled()
    with qtbot.waitSignal(view.destroyed):
        view.close()
    assert inside.updatesEnabled()


def test_it_can_be_opened_before_there_is_an_answer(qtbot: QtBot, open_rig: Opening) -> None:
    session = open_rig("quarry-hauler")
    session.answers.answer, session.now = None, None
    view = CustomerView(session, None, StubView, Scripted())
    qtbot.addWidget(view)
    assert head(view).mark.verdict is None
    assert not view.picture.isEnabled()
    view.grab()
    view.close()


def test_everything_has_a_name_and_a_key(view: CustomerView) -> None:
    letters = []
    for each in (*view.findChildren(QPushButton), *view.findChildren(QLabel)):
        text = each.text()
        if "&" in text:
            letters.append(text[text.index("&") + 1].lower())
    assert sorted(letters) == sorted(set(letters))
    for button in view.findChildren(QPushButton):
        assert button.toolTip().endswith(".")
        assert "&" in button.text()
    for named in (
        height(view),
        turn(view),
        view.film,
        view.progress,
        head(view).mark,
    ):
        assert named.accessibleName()


def test_it_takes_on_a_dark_palette(view: CustomerView, session: Session) -> None:
    session.motion.go(travel=0.0, wrap=0.0)
    view.setPalette(palette_of(DARK))
    assert DARK.verdicts["clear"] in head(view).word.styleSheet()
    assert DARK.accent in turn(view).styleSheet()
    view.grab()


def test_it_opens_on_what_is_worst(open_rig: Opening, qtbot: QtBot) -> None:
    for rig, look in (("long-legged-trail-wagon", "pinion"), ("goat-path-buggy", "slip")):
        session = open_rig(rig)
        worst = checked(rig).findings[0]
        view = CustomerView(session, None, StubView, Scripted())
        qtbot.addWidget(view)
        assert session.motion.at == worst.at
        assert stub(view).asked == ["fill", look]
        view.close()
        assert session.motion.at == RIDE
        assert session.chosen == "worst"


def test_an_axle_that_was_moved_stays_there(session: Session, view: CustomerView) -> None:
    assert session.motion.at == Pose(-50.0, 0.0, radians(2.0))
    assert stub(view).asked == ["fill", session.strip_joint]
    assert session.strip_joint in session.gaps, "so that the eye knows where to look from"
