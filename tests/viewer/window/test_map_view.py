"""The travel map: shapes, marks, clicks and keys, and maps that have no height or no width."""

from collections.abc import Callable
from dataclasses import replace
from math import radians

import numpy as np
import pytest
from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QImage
from pytestqt.qtbot import QtBot

from sim.findings import ORDER, Verdict
from sim.pose import pose_of
from sim.vehicle import Pose
from tests.viewer.session.conftest import RIGS, Scripted, checked
from tests.viewer.window.whole import shown
from viewer.session.charts.travel_map import TravelMap
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.told.place_words import place_words
from viewer.window.kit.theme import DARK, LIGHT, colours, palette_of
from viewer.window.map.axes import MapPlace
from viewer.window.map.view import MapView
from viewer.words.findings import says
from viewer.words.verdicts import VERDICT_WORDS

Opening = Callable[..., Session]

RIG = "long-legged-trail-wagon"


def finish(session: Session) -> None:
    """Have the map; it comes before the gaps, which take longer and are not needed here."""
    session.idle()


@pytest.fixture
def view(qtbot: QtBot, open_rig: Opening) -> MapView:
    session = open_rig(RIG)
    finish(session)
    return shown(qtbot, MapView(session), 640, 400)


def place(view: MapView) -> MapPlace:
    found = view.canvas.place
    assert found is not None
    return found


def test_place_and_pose_are_each_others_inverse(view: MapView) -> None:
    here = place(view)
    for travel, wrap in ((-100.0, 0.02), (0.0, 0.0), (50.0, -0.03)):
        assert here.pose(here.point(travel, wrap)) == pytest.approx((travel, wrap), abs=1e-9)


def test_a_click_moves_the_axle_there(view: MapView, qtbot: QtBot) -> None:
    point = place(view).box.center().toPoint()
    qtbot.mouseClick(view.canvas, Qt.MouseButton.LeftButton, pos=point)
    travel, wrap = place(view).pose(QPointF(point))
    assert view.session.motion.at.travel == pytest.approx(travel, abs=1e-9)
    assert view.session.motion.at.wrap == pytest.approx(wrap, abs=1e-9)


def test_a_drag_moves_the_axle_along_and_stops_at_the_edge(view: MapView, qtbot: QtBot) -> None:
    start = place(view).box.center().toPoint()
    qtbot.mousePress(view.canvas, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(view.canvas, start + QPoint(40, 10))
    qtbot.mouseMove(view.canvas, QPoint(5000, -5000))
    qtbot.mouseRelease(view.canvas, Qt.MouseButton.LeftButton, pos=QPoint(5000, -5000))
    motion = view.session.motion
    assert motion.at.travel == motion.bounds("travel")[1]
    assert motion.at.wrap == motion.bounds("wrap")[1]


def test_the_cross_hair_is_where_the_axle_is(view: MapView) -> None:
    """Told by pixels: the accent colour is met at the pose's row and column, before not."""
    accent = colours(view).accent
    pose = Pose(-80.0, 0.0, radians(4))
    point = place(view).point(pose.travel, pose.wrap).toPoint()
    spot = point + QPoint(60, 0)

    def there() -> bool:
        image: QImage = view.canvas.grab().toImage()
        ratio = view.canvas.devicePixelRatio()
        column = round(spot.x() * ratio)
        rows = range(round((spot.y() - 2) * ratio), round((spot.y() + 3) * ratio))
        return any(image.pixelColor(column, row).name() == accent for row in rows)

    assert not there()
    view.session.motion.go_to(pose)
    assert there()


@pytest.mark.parametrize(
    ("key", "axis", "sign"),
    [
        (Qt.Key.Key_Left, "travel", -1),
        (Qt.Key.Key_Right, "travel", 1),
        (Qt.Key.Key_Up, "wrap", 1),
        (Qt.Key.Key_Down, "wrap", -1),
        (Qt.Key.Key_PageUp, "roll", 1),
        (Qt.Key.Key_PageDown, "roll", -1),
    ],
)
def test_keys_move_the_axle(view: MapView, qtbot: QtBot, key: Qt.Key, axis: str, sign: int) -> None:
    qtbot.keyClick(view.canvas, key)
    one = view.session.motion.value(axis)
    assert one * sign > 0.0
    qtbot.keyClick(view.canvas, key, Qt.KeyboardModifier.ShiftModifier)
    assert view.session.motion.value(axis) == pytest.approx(5 * one, abs=1e-9)
    qtbot.keyClick(view.canvas, Qt.Key.Key_Home)
    assert view.session.motion.value(axis) == 0.0


def test_the_layers_are_those_of_the_shaft(view: MapView) -> None:
    def offered() -> list[str]:
        return [view.choice.itemData(i) for i in range(view.choice.count())]

    assert offered() == ["worst", "output", "pinion", "slip"]
    found = view.session.map
    assert found is not None
    two_piece = {"output": found.room["output"], "middle": found.room["output"], **found.room}
    view.session.map = replace(found, room=two_piece)
    view.refresh()
    assert offered() == ["worst", "output", "middle", "pinion", "slip"]


def test_a_layer_is_painted_when_it_is_chosen(view: MapView, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.canvas.shown, timeout=2000):
        view.choice.setCurrentIndex(view.choice.findData("slip"))
    assert view.canvas.layer == "slip"


def test_moving_the_axle_does_not_paint_the_map_anew(view: MapView) -> None:
    view.canvas.grab()
    painted = []
    view.canvas.shown.connect(lambda: painted.append(1))
    for travel in (-10.0, -20.0, -30.0):
        view.session.motion.go(travel=travel)
        view.canvas.grab()
    assert painted == []
    view.session.motion.go(roll=0.03)
    finish(view.session)
    view.canvas.grab()
    assert painted == [1]


def test_the_title_says_the_roll(view: MapView) -> None:
    assert view.title.text() == "level"
    view.session.motion.go(roll=radians(3))
    finish(view.session)
    assert view.title.text() == "crossed up 3.0 deg (left wheel up)"


def test_findings_are_marked_where_they_are_worst(view: MapView, qtbot: QtBot) -> None:
    check = view.session.check
    assert check is not None
    marks = view.canvas.marks
    assert {mark.number for mark in marks} == {1, 2, 3, 4, 6}
    for mark in marks:
        assert mark.finding is check.findings[mark.number - 1]
    first = marks[0]
    words = view.canvas.words_at(first.point)
    assert words.startswith(f"1. {says(first.finding)}")
    qtbot.mouseClick(view.canvas, Qt.MouseButton.LeftButton, pos=first.point.toPoint())
    assert view.session.motion.at == first.finding.at


def test_marks_do_not_cover_each_other(view: MapView) -> None:
    points = [mark.point for mark in view.canvas.marks]
    for i, one in enumerate(points):
        for other in points[i + 1 :]:
            assert (one - other).manhattanLength() > 8


def test_the_pointer_tells_what_holds_there(view: MapView) -> None:
    point = place(view).point(-60.0, 0.03)
    words = view.canvas.words_at(point)
    travel, wrap = place(view).pose(point)
    at = Pose(travel, 0.0, wrap)
    assert words == place_words(checked(RIG), at)
    now = pose_of(checked(RIG), at, 0.0)
    assert VERDICT_WORDS[now.verdict] in words
    assert "pinion joint bends" in words
    assert view.canvas.words_at(QPointF(1.0, 1.0)) == ""


def test_an_old_answer_is_marked(view: MapView) -> None:
    view.session.document.set({"travel.droop": "nonsense"})
    assert view.title.text() == "old answer: level"
    assert view.canvas.place is not None


@pytest.mark.parametrize(("rows", "columns"), [(1, 97), (49, 1), (1, 1)])
def test_a_map_without_height_or_width_is_drawn(
    view: MapView, qtbot: QtBot, rows: int, columns: int
) -> None:
    found = view.session.map
    assert found is not None
    room = {layer: values[:rows, -columns:] for layer, values in found.room.items()}
    flat = TravelMap(found.travel[-columns:], found.wrap[:rows], 0.0, room, found.reserve)
    view.session.map = flat
    view.refresh()
    assert not view.grab().isNull()
    middle = place(view).at(0.25, 0.25).toPoint()
    qtbot.mouseClick(view.canvas, Qt.MouseButton.LeftButton, pos=middle)
    if columns == 1:
        assert view.session.motion.at.travel == flat.travel[0]
    else:
        assert view.session.motion.at.travel == pytest.approx(
            place(view).pose(QPointF(middle))[0], abs=1e-9
        )


def test_without_an_answer_it_says_so(qtbot: QtBot, worker: Scripted) -> None:
    session = Session(Document.open(RIGS / f"{RIG}.toml"), worker)
    view = MapView(session)
    qtbot.addWidget(view)
    assert view.canvas.place is None
    assert view.canvas.words_at(QPointF(50, 50)) == ""
    assert not view.grab().isNull()
    worker.say(answer=checked(RIG))
    session.tick()
    finish(session)
    assert view.canvas.place is not None
    session.open(Document.open(RIGS / "marsh-runner.toml"))
    assert view.canvas.place is None
    session.close()


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_areas_are_told_apart_without_colour(view: MapView, look: object) -> None:
    """In grey, neither the mean nor the spread of two areas' pixels is nearly the same."""
    view.setPalette(palette_of(look))  # type: ignore[arg-type]
    image = view.canvas.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    ratio = image.width() / view.canvas.width()
    bits = image.constBits()
    assert bits is not None
    grey = np.frombuffer(bits.asstring(image.sizeInBytes()), dtype=np.uint8)
    grey = grey.reshape(image.height(), image.bytesPerLine())[:, : image.width()]
    spots: dict[Verdict, tuple[float, float]] = {
        "touches": (-225.0, radians(-2.0)),
        "clear": (60.0, radians(6.0)),
    }
    seen = {}
    for verdict, (travel, wrap) in spots.items():
        point = place(view).point(travel, wrap) * ratio
        x, y, r = round(point.x()), round(point.y()), round(9 * ratio)
        patch = grey[y - r : y + r, x - r : x + r].astype(float)
        seen[verdict] = patch.mean(), patch.std()
    assert seen["touches"][1] > seen["clear"][1] + 10.0
    assert set(seen) <= set(ORDER)
