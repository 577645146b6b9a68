"""Pictures and clips of the customer view, written while it goes on."""

from datetime import date
from math import radians
from pathlib import Path
from time import perf_counter

import pytest
from PIL import Image as Pictures
from PyQt6.QtCore import QPoint, Qt, QTimer
from pytestqt.qtbot import QtBot

from sim.findings import ORDER
from tests.viewer.window.customer.shown import height, stub, times_of
from tests.viewer.window.scripted import Scripted
from viewer.draw.base import Image
from viewer.draw.verdict_mark import ON_LIGHT
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.customer.recording import shots_of
from viewer.window.customer.view import CustomerView
from viewer.words.now import now_told, now_word
from viewer.words.verdicts import CAUTION
from viewer.written.caption import ink_of
from viewer.written.clip import RESTS


def test_a_picture_is_written_with_its_words(
    view: CustomerView, session: Session, ask: Scripted, tmp_path: Path, qtbot: QtBot
) -> None:
    session.motion.go(travel=-152.4, wrap=0.0)
    ask.answers += [None, tmp_path / "picture"]
    view.picture.click()
    assert "long-legged-trail-wagon-rear-shaft-invented-6-in-droop.png" in ask.asked[0]
    view.picture.click()
    qtbot.waitUntil(lambda: not view.is_busy, timeout=10_000)
    assert view.done_words.text() == "Saved picture.png."
    with Pictures.open(tmp_path / "picture.png") as page:
        assert page.width == 480
        assert page.height > 400
    assert stub(view).shots[0][2] == len(session.now.joints) if session.now else False


def test_the_caption_tells_rig_date_pose_and_caution(view: CustomerView, session: Session) -> None:
    caption = view.caption()
    assert session.now is not None
    today = f"{date.today():%d %b %Y}"
    title = f"Long-legged trail wagon, rear shaft (invented) \N{BULLET} {today}"
    assert caption.title == title
    (side,) = caption.sides
    assert (side.name, side.word, side.says) == ("", now_word(session.now), now_told(session.now))
    assert side.verdict == session.now.verdict == "clear"
    assert (side.whole, side.whole_word) == ("touches", "TOUCHES"), "also where it is clear"
    assert caption.caution == CAUTION
    for verdict in ORDER:
        assert "#{:02x}{:02x}{:02x}".format(*ink_of(verdict)) == ON_LIGHT[verdict]


@pytest.mark.slow
def test_a_clip_is_made_without_holding_anything_up(
    view: CustomerView, session: Session, ask: Scripted, tmp_path: Path, qtbot: QtBot
) -> None:
    at, spin = session.motion.at, session.motion.spin
    shots = shots_of(session, DRIVES["droop"])
    beats = [perf_counter()]
    timer = QTimer()
    timer.setInterval(0)
    timer.timeout.connect(lambda: beats.append(perf_counter()))
    timer.start()
    ask.answers.append(tmp_path / "clip.gif")
    view.film.setCurrentIndex(view.film.findData("droop"))
    view.clip.click()
    assert view.recording is not None
    assert not height(view).isEnabled()
    assert not view.clip.isEnabled()
    assert view.progress.isVisible()
    qtbot.waitUntil(lambda: not view.is_busy, timeout=50_000)
    timer.stop()
    pieces = 1 + len(session.now.joints) if session.now is not None else 0
    assert len(beats) > pieces * len(shots), "events came between the gaps and the drawing"
    assert view.done_words.text() == "Saved clip.gif."
    assert [shot[:2] for shot in stub(view).shots] == [
        (shot.at.travel, shot.spin) for shot in shots
    ]
    assert {shot[2] for shot in stub(view).shots} == {2}, "the gaps are in the picture"
    low, _ = session.motion.bounds("travel")
    assert min(shot[0] for shot in stub(view).shots) == pytest.approx(low, abs=0.5)
    assert (session.motion.at, session.motion.spin) == (at, spin)
    assert height(view).isEnabled()
    with Pictures.open(tmp_path / "clip.gif") as clip:
        length = sum(times_of(clip))
        assert clip.width == 480
    assert length == pytest.approx(1000.0 * DRIVES["droop"].seconds + RESTS, abs=100.0)


def test_a_view_that_draws_slowly_rests_while_a_clip_is_made(
    view: CustomerView,
    ask: Scripted,
    tmp_path: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("viewer.window.customer.view.SLOW", -1.0)
    ask.answers.append(tmp_path / "clip.gif")
    view.clip.click()
    qtbot.waitUntil(lambda: len(stub(view).shots) > 2, timeout=10_000)
    assert not stub(view).updatesEnabled()
    assert view.still.isVisible(), "the last frame is seen instead"
    over, below = view.still.geometry(), stub(view).geometry()
    below.moveTopLeft(stub(view).mapTo(view, QPoint()))
    assert (over.left(), over.right(), over.bottom()) == (
        below.left(), below.right(), below.bottom()
    )  # fmt: skip
    shade = view.still.grab().toImage().pixelColor(5, 5).red()
    assert shade == stub(view).last_shade
    bar = view.progress
    bar.setMaximum(1000)
    bar.setValue(888)
    assert bar.fontMetrics().horizontalAdvance(bar.text()) < bar.width(), "it is read whole"
    view.stop.click()
    qtbot.waitUntil(lambda: not view.is_busy, timeout=10_000)
    assert stub(view).updatesEnabled()
    assert not view.still.isVisible()


@pytest.mark.parametrize("what", ["picture", "clip"])
def test_a_fault_of_drawing_ends_it_and_nothing_is_written(
    view: CustomerView,
    ask: Scripted,
    tmp_path: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    what: str,
) -> None:
    def fails(*_: object) -> Image:
        raise ZeroDivisionError("no picture")

    monkeypatch.setattr(stub(view), "snapshot", fails)
    monkeypatch.setattr(stub(view), "finely", fails)
    ask.answers.append(tmp_path / "made")
    with qtbot.captureExceptions() as faults:
        getattr(view, what).click()
        qtbot.waitUntil(lambda: not view.is_busy, timeout=10_000)
    assert [kind for kind, *_ in faults] == [ZeroDivisionError]
    assert view.done_words.text() == "Stopped; nothing is written."
    assert list(tmp_path.glob("made*")) == []
    assert view.picture.isEnabled()


def test_nothing_moves_while_a_clip_is_made(view: CustomerView, session: Session) -> None:
    places = set()
    for travel in (0.0, -3.0, -100.0, -1000.0):
        for roll, wrap in ((0.0, 0.0), (0.1, 0.05)):
            session.motion.go(travel=travel, roll=roll, wrap=wrap)
            layout = view.layout()
            assert layout is not None
            layout.activate()
            places.add(stub(view).geometry().getRect())
    assert len(places) == 1, "frames of one size, and a view that stays"


def test_the_bar_says_for_which_roll_and_wrap_it_is(view: CustomerView, session: Session) -> None:
    session.motion.go(travel=-50.0, roll=0.0, wrap=0.0)
    assert view.zones_words.text() == "colors: level, no wrap"
    session.motion.go(roll=radians(3.0), wrap=radians(-2.0))
    said = "colors: crossed up 3.0 deg (left wheel up), 2.0 deg nose down"
    assert view.zones_words.text() == said
    session.motion.go(roll=0.0)
    assert view.zones_words.text() == "colors: level, 2.0 deg nose down"
    view.grab()
    assert view.zones_words.width() > 0


@pytest.mark.parametrize("way", ["button", "escape", "leaving"])
def test_a_clip_can_be_stopped_and_leaves_nothing(
    view: CustomerView, session: Session, ask: Scripted, tmp_path: Path, qtbot: QtBot, way: str
) -> None:
    at, spin = session.motion.at, session.motion.spin
    ask.answers.append(tmp_path / "clip.gif")
    view.clip.click()
    qtbot.waitUntil(lambda: len(stub(view).shots) > 3, timeout=10_000)
    if way == "button":
        view.stop.click()
    elif way == "escape":
        qtbot.keyClick(view, Qt.Key.Key_Escape)
        assert view.isVisible(), "Escape stops the clip first"
    else:
        view.close()
    if way != "leaving":
        qtbot.waitUntil(lambda: not view.is_busy, timeout=10_000)
        assert "nothing is written" in view.done_words.text()
    assert (session.motion.at, session.motion.spin) == (at, spin)
    assert not (tmp_path / "clip.gif").exists()


def test_a_place_that_cannot_be_written_is_told(
    view: CustomerView, ask: Scripted, tmp_path: Path, qtbot: QtBot
) -> None:
    ask.answers.append(tmp_path / "no" / "picture.png")
    view.picture.click()
    qtbot.waitUntil(lambda: not view.is_busy, timeout=10_000)
    assert "could not be written" in view.done_words.text()
