"""The words on the travel map: apart, whole, off the lines and marks; grey where it is old."""

from collections.abc import Callable

import pytest
from PyQt6.QtCore import QRectF
from PyQt6.QtGui import QColor
from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted
from viewer.session.session import Session
from viewer.window.kit.theme import colours, em
from viewer.window.map.marks import here_box
from viewer.window.map.view import MapView

Opening = Callable[..., Session]
Showing = Callable[..., MapView]

RIGS = ("long-legged-trail-wagon", "timber-crew-carrier", "goat-path-buggy", "short-tailed-scout")


@pytest.fixture
def showing(qtbot: QtBot, open_rig: Opening) -> Showing:
    """A map of a demo rig at a size, painted."""

    def show(name: str, size: tuple[int, int] = (480, 260)) -> MapView:
        session = open_rig(name)
        session.idle()
        view = MapView(session)
        qtbot.addWidget(view)
        view.resize(*size)
        view.show()
        view.canvas.grab()
        return view

    return show


def layers(view: MapView) -> list[str]:
    return [view.choice.itemData(i) for i in range(view.choice.count())]


@pytest.mark.parametrize("size", [(480, 260), (420, 220), (900, 640)])
@pytest.mark.parametrize("name", RIGS)
def test_words_are_apart_whole_and_off_the_marks(
    showing: Showing, name: str, size: tuple[int, int]
) -> None:
    view = showing(name, size)
    place = view.canvas.place
    assert place is not None
    for layer in layers(view):
        view.choice.setCurrentIndex(view.choice.findData(layer))
        view.canvas.grab()
        words = view.canvas.words
        assert words
        for i, one in enumerate(words):
            assert place.box.contains(one.box), one.words
            for other in words[i + 1 :]:
                assert not one.box.intersects(other.box), (one.words, other.words)
            for mark in view.canvas.marks:
                reach = 0.5 * em(view)
                spot = QRectF(0.0, 0.0, 2.0 * reach, 2.0 * reach)
                spot.moveCenter(mark.point)
                assert not one.box.intersects(spot), (one.words, mark.number)


@pytest.mark.parametrize("name", RIGS)
def test_no_word_stands_on_the_cross_hair_of_the_default_view(showing: Showing, name: str) -> None:
    """At the size of a window of 1400 by 900; a word may only stand there for want of room."""
    view = showing(name)
    place = view.canvas.place
    assert place is not None
    ride = place.point(0.0, 0.0)
    for each in view.canvas.words:
        off = each.box.adjusted(1.0, 1.0, -1.0, -1.0)
        assert not off.left() < ride.x() < off.right(), each.words
        assert not off.top() < ride.y() < off.bottom(), each.words


def test_marks_are_whole_inside_the_map(showing: Showing) -> None:
    for name in RIGS:
        view = showing(name)
        place = view.canvas.place
        assert place is not None
        for mark in view.canvas.marks:
            reach = 0.64 * em(view)
            spot = QRectF(0.0, 0.0, 2.0 * reach, 2.0 * reach)
            spot.moveCenter(mark.point)
            assert place.box.contains(spot), (name, mark.number)


def test_a_word_makes_way_where_the_axle_is(showing: Showing) -> None:
    view = showing("long-legged-trail-wagon")
    place = view.canvas.place
    word = next(each for each in view.canvas.words if each.words == "CLEAR")
    assert place is not None

    def written() -> bool:
        ink, image = colours(view).verdicts["clear"], view.canvas.grab().toImage()
        ratio = view.canvas.devicePixelRatio()
        rows = range(round(word.box.top() * ratio), round(word.box.bottom() * ratio))
        columns = range(round(word.box.left() * ratio), round(word.box.right() * ratio))
        return any(image.pixelColor(x, y).name() == ink for y in rows for x in columns)

    assert written()
    travel, wrap = place.pose(word.box.center())
    view.session.motion.go(travel=travel, wrap=wrap)
    assert here_box(place, view.session.motion.at, em(view)).intersects(word.box)
    assert not written()


def test_a_slip_that_runs_out_is_called_that(showing: Showing) -> None:
    view = showing("goat-path-buggy")
    for layer in ("worst", "slip"):
        view.choice.setCurrentIndex(view.choice.findData(layer))
        view.canvas.grab()
        words = [each.words for each in view.canvas.words]
        assert "RUNS OUT" in words
        assert "TOUCHES" not in words
    assert "runs out" in view.legend.accessibleName()
    assert "touches" not in view.legend.accessibleName()
    view.choice.setCurrentIndex(view.choice.findData("pinion"))
    assert "runs out" not in view.legend.accessibleName()


def test_an_old_answer_is_grey(showing: Showing, worker: Scripted) -> None:
    """Told by pixels: no colour but that of the cross hair."""
    view = showing("long-legged-trail-wagon")

    def colourful() -> int:
        image, accent = view.canvas.grab().toImage(), QColor(colours(view).accent)
        count = 0
        for y in range(0, image.height(), 2):
            for x in range(0, image.width(), 2):
                pixel = image.pixelColor(x, y)
                near = abs(pixel.hslHue() - accent.hslHue()) < 12
                count += pixel.hslSaturation() > 60 and pixel.lightness() < 240 and not near
        return count

    assert colourful() > 300
    view.session.document.set({"travel.droop": "nonsense"})
    assert colourful() == 0
    view.session.document.undo()
    view.session.document.set({"travel.droop": "8 in"})
    assert view.session.answers.state == "computing"
    assert colourful() == 0
    worker.say(answer=view.session.check, share=1.0)
    view.session.tick()
    assert colourful() > 300
