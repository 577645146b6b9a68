"""The turn strip: what it shows, and the shaft turned by a click, a drag and keys."""

from collections.abc import Callable
from math import degrees, pi, radians, tau

import numpy as np
import pytest
from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from sim.findings import judged
from tests.viewer.session.conftest import RIGS, Scripted, checked
from tests.viewer.window.whole import shown
from viewer.session.charts.turn_strip import Spot, TurnStrip
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.told.strip_words import strip_words
from viewer.window.kit.theme import colours
from viewer.window.strip.view import StripView
from viewer.words.now import gap_words

Opening = Callable[..., Session]

RIG = "long-legged-trail-wagon"


def begin(session: Session) -> None:
    """Work until the strip is there, its gaps not yet."""
    while session.strip is None:
        session.idle()


@pytest.fixture
def view(qtbot: QtBot, open_rig: Opening) -> StripView:
    session = open_rig(RIG)
    begin(session)
    return shown(qtbot, StripView(session), 560, 320)


def strip(view: StripView) -> TurnStrip:
    found = view.session.strip
    assert found is not None
    return found


def spot(view: StripView, spin: float) -> QPoint:
    return QPointF(view.canvas.x_of(spin), view.canvas.box.center().y()).toPoint()


def test_turn_and_place_are_each_others_inverse(view: StripView) -> None:
    for spin in (0.0, 1.0, pi, 6.0):
        assert view.canvas.spin_at(view.canvas.x_of(spin)) == pytest.approx(spin, abs=1e-9)


def test_a_click_turns_the_shaft(view: StripView, qtbot: QtBot) -> None:
    at = view.session.motion.at
    point = spot(view, radians(90))
    qtbot.mouseClick(view.canvas, Qt.MouseButton.LeftButton, pos=point)
    assert view.session.motion.spin == pytest.approx(view.canvas.spin_at(point.x()), abs=1e-12)
    one_px = tau / view.canvas.box.width()
    assert view.session.motion.spin == pytest.approx(radians(90), abs=one_px)
    assert view.session.motion.at == at


def test_a_drag_turns_it_along_and_stops_at_the_ends(view: StripView, qtbot: QtBot) -> None:
    qtbot.mousePress(view.canvas, Qt.MouseButton.LeftButton, pos=spot(view, 1.0))
    qtbot.mouseMove(view.canvas, spot(view, 2.0))
    assert view.session.motion.spin == pytest.approx(2.0, abs=0.05)
    qtbot.mouseMove(view.canvas, QPoint(9000, 50))
    assert degrees(view.session.motion.spin) == pytest.approx(360.0, abs=0.01)
    qtbot.mouseRelease(view.canvas, Qt.MouseButton.LeftButton, pos=QPoint(9000, 50))


def test_keys_turn_the_shaft(view: StripView, qtbot: QtBot) -> None:
    motion = view.session.motion
    qtbot.keyClick(view.canvas, Qt.Key.Key_Right)
    assert degrees(motion.spin) == pytest.approx(5.0, abs=1e-9)
    qtbot.keyClick(view.canvas, Qt.Key.Key_Left)
    qtbot.keyClick(view.canvas, Qt.Key.Key_Left)
    assert degrees(motion.spin) == pytest.approx(355.0, abs=1e-9)
    qtbot.keyClick(view.canvas, Qt.Key.Key_Home)
    assert motion.spin == 0.0


def test_keys_go_round_the_tight_spots(view: StripView, qtbot: QtBot) -> None:
    spots = [spot.spin for spot in strip(view).spots]
    assert spots
    motion, seen = view.session.motion, []
    motion.go(spin=spots[0])
    for _ in spots:
        qtbot.keyClick(view.canvas, Qt.Key.Key_PageDown)
        seen.append(motion.spin)
    assert seen == pytest.approx([*spots[1:], spots[0]], abs=1e-12)
    qtbot.keyClick(view.canvas, Qt.Key.Key_PageUp)
    assert motion.spin == pytest.approx(spots[-1], abs=1e-12)


def test_the_line_stands_where_the_shaft_is_turned(view: StripView) -> None:
    accent = colours(view).accent
    point = spot(view, 2.0)

    def there() -> bool:
        image: QImage = view.canvas.grab().toImage()
        ratio = view.canvas.devicePixelRatio()
        columns = range(round((point.x() - 2) * ratio), round((point.x() + 3) * ratio))
        return any(image.pixelColor(x, round(point.y() * ratio)).name() == accent for x in columns)

    assert not there()
    view.session.motion.go(spin=2.0)
    assert there()


def test_the_band_is_there_before_the_gaps_and_they_come_one_by_one(view: StripView) -> None:
    strip(view).gap[:] = np.nan
    before = view.canvas.grab().toImage()
    strip(view).gap[::8] = 3.0
    some = view.canvas.grab().toImage()
    strip(view).gap[:] = 3.0
    every = view.canvas.grab().toImage()
    assert before != some
    assert some != every


def test_the_joint_is_chosen(view: StripView) -> None:
    offered = [view.choice.itemData(i) for i in range(view.choice.count())]
    assert offered == ["output", "pinion"]
    assert view.choice.currentData() == "pinion"
    view.choice.setCurrentIndex(0)
    assert view.session.strip_joint == "output"
    view.session.idle()
    view.session.idle()
    begin(view.session)
    assert strip(view).joint == "output"


def test_the_pointer_tells_the_place(view: StripView) -> None:
    found = strip(view)
    place = 12
    found.gap[place] = 2.54
    words = view.canvas.words_at(QPointF(view.canvas.x_of(float(found.spin[place])), 0.0))
    assert words == strip_words(found, place)
    assert "turned 90.0 deg" in words
    assert "0.100 in (2.5 mm)" in words
    assert view.canvas.words_at(QPointF(0.0, 0.0)) == ""


def test_words_of_a_gap() -> None:
    assert gap_words(float("nan")) == "gap not found yet"
    assert gap_words(0.0) == "metal in metal"
    assert gap_words(0.3) == "0.012 in (0.3 mm)"


def test_the_title_says_the_gap_of_this_turn(view: StripView) -> None:
    session = view.session
    session.motion.go(spin=radians(30))
    assert view.title.text() == "turned 30.0 deg"
    while "pinion" not in session.gaps:
        session.idle()
    assert view.title.text() == f"turned 30.0 deg: {gap_words(session.gaps['pinion'].distance)}"


def test_verdicts_are_those_of_the_check() -> None:
    wanted = checked(RIG).rig.wanted.bend.rad
    for left in (-0.1, 0.0, 0.5 * wanted, wanted, 1.0):
        assert Spot(0.0, left, left - wanted).verdict == judged(left, wanted)


def test_metal_in_metal_is_drawn(view: StripView) -> None:
    view.session.go_to(checked(RIG).findings[0])
    while view.session.strip is None or view.session.strip.at != view.session.motion.at:
        view.session.idle()
    assert (strip(view).left <= 0.0).any()
    strip(view).gap[:] = 0.0
    assert not view.grab().isNull()


def test_an_old_answer_is_marked(view: StripView) -> None:
    view.session.document.set({"travel.droop": "nonsense"})
    assert view.title.text().startswith("old answer: turned 0.0 deg")


def test_without_an_answer_it_says_so(qtbot: QtBot, worker: Scripted) -> None:
    session = Session(Document.open(RIGS / f"{RIG}.toml"), worker)
    view = StripView(session)
    qtbot.addWidget(view)
    assert session.strip is None
    assert not view.choice.isEnabled()
    assert view.canvas.words_at(QPointF(100.0, 0.0)) == ""
    assert not view.grab().isNull()
    worker.say(answer=checked(RIG))
    session.tick()
    assert view.choice.isEnabled()
    session.close()


@pytest.mark.parametrize(("width", "height"), [(220, 150), (400, 600), (1200, 200)])
def test_it_draws_at_any_size(view: StripView, width: int, height: int) -> None:
    view.resize(width, height)
    assert not view.grab().isNull()


def test_an_old_answer_is_grey(view: StripView) -> None:
    """Told by pixels: no colour but that of the line where the shaft is turned."""
    while view.session.idle():
        pass

    def colourful() -> int:
        image, accent = view.canvas.grab().toImage(), QColor(colours(view).accent)
        pixels = [
            image.pixelColor(x, y)
            for y in range(0, image.height(), 2)
            for x in range(0, image.width(), 2)
        ]
        return sum(
            pixel.hslSaturation() > 60
            and pixel.lightness() < 240
            and abs(pixel.hslHue() - accent.hslHue()) > 12
            for pixel in pixels
        )

    assert colourful() > 100
    view.session.document.set({"travel.droop": "nonsense"})
    assert colourful() == 0
    assert view.title.text().startswith("old answer")


def test_the_scale_stays_while_gaps_are_found_anew(view: StripView) -> None:
    """Told by pixels: with the same gap found again at one turn, its point is where it was."""
    found = strip(view)
    found.left[:] = radians(20)
    found.gap[:] = 5.0
    found.gap[12] = 2.0

    def rows() -> list[int]:
        image = view.canvas.grab().toImage()
        ratio = view.canvas.devicePixelRatio()
        x, box = round(view.canvas.x_of(float(found.spin[12])) * ratio), view.canvas.box
        inks = (colours(view).ink, colours(view).quiet)
        inside = range(round((box.top() + 4) * ratio), round((box.bottom() - 4) * ratio))
        return [y for y in inside if image.pixelColor(x, y).name() in inks]

    before = rows()
    found.gap[:] = np.nan
    found.gap[12] = 2.0
    after = rows()
    assert before
    assert after
    assert abs(max(before) - max(after)) < 4, "the tip of the dip and the point"


def test_gaps_found_by_halves_are_points_and_no_line(view: StripView) -> None:
    """Between two points found far apart there may be a dip: nothing is drawn there."""
    found = strip(view)
    found.left[:] = radians(20)  # no columns of metal in metal
    found.gap[:] = np.nan
    found.gap[::12] = [5.0, 3.0, 3.0, 3.0]

    def inked(spin: float) -> bool:
        image = view.canvas.grab().toImage()
        ratio = view.canvas.devicePixelRatio()
        x, box = round(view.canvas.x_of(spin) * ratio), view.canvas.box
        inks = (colours(view).ink, colours(view).quiet)
        rows = range(round((box.top() + 4) * ratio), round((box.bottom() - 4) * ratio))
        return any(image.pixelColor(x, y).name() in inks for y in rows)

    there, between = float(found.spin[12]), float(found.spin[6])
    assert inked(there)
    assert not inked(between)
    found.gap[:] = np.where(found.spin == 0.0, 5.0, 3.0)
    assert inked(between)
