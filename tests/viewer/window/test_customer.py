"""The customer view shows the pose, breaks nothing, and writes pictures while it goes on."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
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
from sim.pose import pose_of
from sim.vehicle import RIDE, Pose
from tests.viewer.session.conftest import Scripted as Worker
from tests.viewer.session.conftest import checked
from tests.viewer.session.test_beside import strapped
from tests.viewer.window.scripted import Scripted
from viewer.draw.base import Image
from viewer.draw.verdict_mark import ON_LIGHT
from viewer.session.cures.lines import CureLine, CureList
from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.customer.parts import BigSlider, zones_of
from viewer.window.customer.pictures import Heading
from viewer.window.customer.recording import shots_of
from viewer.window.customer.view import TOGETHER, CustomerView
from viewer.window.kit.theme import DARK, palette_of
from viewer.words.assumed import assumed_words
from viewer.words.now import now_told, now_word
from viewer.words.verdicts import CAUTION
from viewer.written.caption import Caption, ink_of
from viewer.written.clip import FRAME_TIME, RESTS

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

    def see_alone(self) -> None:
        self.asked.append("see alone")

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
    # One that has a cure in it asks when it goes.
    qtbot.addWidget(view, before_close_func=lambda _: ask.answers.append("undo"))
    view.resize(1200, 800)
    view.show()
    yield view
    view.close()


def plain(text: str) -> str:
    """A text whose rows may end anywhere."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


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
    assert length == pytest.approx(1000.0 * DRIVES["droop"].seconds + RESTS, abs=100.0)


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


# Before and after, side by side


def cured(session: Session) -> CureLine:
    text = session.document.text.replace('droop = "9 in"', 'droop = "4 in"')
    says = ("Limit straps that end the droop at 4 in.", "Price: droop.", "")
    return CureLine("limit straps at 4 in droop", *says, True, "clear", "CLEAR", (), text)


@pytest.fixture
def offered(view: CustomerView, session: Session, worker: Worker) -> CustomerView:
    """A view whose cures are found."""
    session.look_for(session.cures)
    found = CureList(session.document.text, "The cheapest first:", (cured(session),), ())
    worker.others["cures"].say(answer=found, share=1.0)
    session.tick()
    return view


def try_it(view: CustomerView, session: Session, worker: Worker) -> None:
    """Press what shows the cure, and have its answer."""
    button = next(b for b in view.findChildren(QPushButton) if b.text().startswith("Show it"))
    button.click()
    assert view.pictures.paired.says.text() == "Computing ...", "no old verdict on the cure"
    assert view.pictures.paired.mark.verdict is None
    worker.say(answer=strapped(), share=1.0)
    session.tick()


def pair(view: CustomerView) -> tuple[StubView, StubView]:
    """The views from the left."""
    left, right = view.pictures.views
    assert isinstance(left, StubView)
    assert isinstance(right, StubView)
    return left, right


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


# What it opens on


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


# Show me


def test_show_me_plays_to_the_bind_stops_and_pushes_on(
    view: CustomerView, session: Session
) -> None:
    motion = session.motion
    assert view.show_me.text() == "&Show me"
    view.show_me.click()
    assert motion.playing
    assert view.show_me.text() == "&Stop"
    view.show_me.click()
    assert motion.drive is None
    view.show_me.click()
    while motion.playing:
        motion.advance(0.2)
    assert motion.stands
    assert view.show_me.text() == "Push o&n"
    assert view.told.isVisible()
    assert view.told.text() == motion.said != ""
    assert session.now is not None
    view.show_me.click()
    while motion.playing:
        motion.advance(0.2)
    assert view.show_me.text() == "&Show me"
    assert view.told.text() == motion.said


def test_beside_a_cure_the_drive_is_that_of_the_rig_as_it_is(
    offered: CustomerView, session: Session, worker: Worker, qtbot: QtBot
) -> None:
    try_it(offered, session, worker)
    offered.show_me.click()
    before = offered.stage.motion
    assert before is not session.motion
    assert before.playing
    was = before.at
    qtbot.waitUntil(lambda: before.at != was, timeout=10_000)
    before.advance(60.0)
    assert before.stands
    low, _ = session.motion.bounds("travel")
    assert session.motion.at.travel == max(before.at.travel, low)
    assert offered.told.text() == before.said
    height(offered).setValue(0)
    assert before.drive is None, "a hand on a slider ends the drive"


@pytest.mark.slow
def test_a_clip_of_both_is_the_drive_of_the_left_one(
    offered: CustomerView,
    session: Session,
    worker: Worker,
    ask: Scripted,
    tmp_path: Path,
    qtbot: QtBot,
) -> None:
    try_it(offered, session, worker)
    left, right = pair(offered)
    drive = offered.stage.drives[0]
    shots = shots_of(left.session, drive, 2 * FRAME_TIME)
    written: list[Caption] = []
    made = offered.caption
    offered.caption = lambda: written.append(made()) or written[-1]  # type: ignore[method-assign]
    ask.answers.append(tmp_path / "both.gif")
    offered.clip.click()
    qtbot.waitUntil(lambda: not offered.is_busy, timeout=100_000)
    assert offered.done_words.text() == "Saved both.gif."
    low = -101.6
    assert [shot[0] for shot in left.shots] == [shot.at.travel for shot in shots]
    seen = [shot[0] for shot in right.shots]
    assert seen == pytest.approx([max(low, shot.at.travel) for shot in shots], abs=1e-6)
    assert {caption.sides[0].verdict for caption in written} >= {"clear", "touches"}
    assert len({caption.notes for caption in written}) == 1, "the words stand still"
    with Pictures.open(tmp_path / "both.gif") as clip:
        length = sum(_times(clip))
    frames = sum(shot.times for shot in shots)
    assert length == pytest.approx(2 * FRAME_TIME * frames + RESTS, abs=2.0 * FRAME_TIME)
