"""The customer view shows the pose, breaks nothing, and writes pictures while it goes on."""

from collections.abc import Callable, Iterator
from datetime import date
from math import radians
from pathlib import Path
from time import perf_counter

import numpy as np
import pytest
from PIL import Image as Pictures
from psygnal import Signal
from PyQt6.QtCore import QPoint, Qt, QTimer
from PyQt6.QtWidgets import QLabel, QMainWindow, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sim.findings import ORDER
from tests.viewer.window.scripted import Scripted
from viewer.draw.base import Image
from viewer.draw.verdict_mark import ON_LIGHT
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.customer.parts import BigSlider, zones_of
from viewer.window.customer.pictures import Heading
from viewer.window.customer.recording import shots_of
from viewer.window.customer.view import CustomerView
from viewer.window.kit.theme import DARK, palette_of
from viewer.words.now import now_told, now_word
from viewer.words.verdicts import CAUTION
from viewer.written.caption import ink_of

Opening = Callable[[str], Session]


class StubView(QWidget):
    """A view that remembers what it was asked."""

    aimed = Signal()

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.session = session
        self.bar = QWidget(self)
        self.asked: list[object] = []
        self.shots: list[tuple[float, float, int]] = []
        self.was_shut = 0
        self.last_shade = -1

    def snapshot(self) -> Image:
        motion = self.session.motion
        self.shots.append((motion.at.travel, motion.spin, len(self.session.gaps)))
        shade = int(np.interp(motion.at.travel, motion.bounds("travel"), (0, 255)))
        self.last_shade = shade
        return np.full((300, 480, 3), shade, dtype=np.uint8)

    def finely(self) -> Iterator[Image | None]:
        yield None
        yield self.snapshot()

    def fill(self) -> None:
        self.asked.append("fill")

    def look_at(self, view: str) -> None:
        self.asked.append(view)

    def see_with(self, other: "StubView") -> None:
        self.asked.append(other)

    def see_again(self) -> None:
        self.asked.append("see again")

    def shut(self) -> None:
        self.was_shut += 1


@pytest.fixture
def session(open_rig: Opening) -> Session:
    session = open_rig("long-legged-trail-wagon")
    session.motion.go(travel=-50.0, wrap=radians(2.0), spin=1.0)
    return session


@pytest.fixture
def ask() -> Scripted:
    return Scripted()


@pytest.fixture
def view(qtbot: QtBot, session: Session, ask: Scripted) -> Iterator[CustomerView]:
    view = CustomerView(session, None, StubView, ask)
    qtbot.addWidget(view)
    view.resize(1200, 800)
    view.show()
    yield view
    view.close()


def head(view: CustomerView) -> Heading:
    return view.pictures.heading


def height(view: CustomerView) -> BigSlider:
    return view.controls["travel"].slider


def turn(view: CustomerView) -> BigSlider:
    return view.controls["spin"].slider


def stub(view: CustomerView) -> StubView:
    assert isinstance(view.view, StubView)
    return view.view


def test_it_says_what_holds_here_and_over_the_whole_travel(
    view: CustomerView, session: Session
) -> None:
    for travel, word, verdict in ((0.0, "CLEAR", "clear"), (-1000.0, "TOUCHES", "touches")):
        session.motion.go(travel=travel, wrap=0.0)
        assert session.now is not None
        assert (head(view).word.text(), head(view).mark.verdict) == (word, verdict)
        assert head(view).says.text() == now_told(session.now)
        assert not head(view).says.text().lower().startswith(word.lower()), "the word is said once"
        assert head(view).whole_mark.verdict == "touches"
        assert head(view).whole.text().startswith("Over the whole travel: touches.")
    assert CAUTION in view.caution.text()


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
        length = sum(_times(clip))
        assert clip.width == 480
    assert length == pytest.approx(1000.0 * DRIVES["droop"].seconds, abs=100.0)


def _times(clip: Pictures.Image) -> list[int]:
    times = []
    for number in range(getattr(clip, "n_frames", 1)):
        clip.seek(number)
        times.append(int(clip.info["duration"]))
    return times


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
