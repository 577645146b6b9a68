"""The view: mouse, keys, bar and menu over a stage that only writes down; no OpenGL."""

from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import replace

import numpy as np
import pytest
from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QContextMenuEvent, QWheelEvent
from PyQt6.QtWidgets import QApplication, QWidget

from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS
from viewer.draw.stage import Picked
from viewer.live.sight import PLAIN, TITLES, views
from viewer.session.text.document import Document
from viewer.window.view.bar import FAINT, HIDDEN, SEEN
from viewer.window.view.gl import Drawing
from viewer.window.view.view3d import View3D
from viewer.words.now import now_says


def fake(parent):
    """A plain widget over a stage that writes down."""
    stage = RecordingStage((1600, 1200))
    return Drawing(QWidget(parent), stage, stage.image, nullcontext, stage.close)


@pytest.fixture
def view(qtbot, open_rig):
    session = open_rig()
    made = View3D(session, factory=fake)
    qtbot.addWidget(made)
    made.resize(800, 640)
    made.show()
    qtbot.waitUntil(lambda: not made.scene.has_work)
    qtbot.waitUntil(lambda: made.drawing.stage.drawn > 0)
    yield made
    made.shut()


def stage_of(view):
    return view.drawing.stage


def middle(view):
    return view.drawing.widget.rect().center()


def test_everything_is_there_once_the_events_are_done(view) -> None:
    assert {"pinion yoke", "output yoke", "tube", "housing"} <= set(stage_of(view).seen())
    assert view.drawing.widget.accessibleName() == "Shaft in 3D"
    assert view.drawing.widget.accessibleDescription() == now_says(view.session.now)


def test_many_moves_are_one_drawing(view, qtbot) -> None:
    QApplication.processEvents()
    before = stage_of(view).drawn
    for step in range(1, 20):
        view.session.motion.go(travel=-2.0 * step)
    assert stage_of(view).drawn == before
    qtbot.waitUntil(lambda: stage_of(view).drawn == before + 1)
    X_CA = view.session.now.state.X_C["housing"]
    np.testing.assert_allclose(view.scene.frames["housing"], X_CA, rtol=0.0, atol=0.0)


def test_a_view_that_is_covered_rests_and_then_catches_up(view, qtbot) -> None:
    session, was = view.session, view.scene.frames["housing"]
    camera = stage_of(view).camera
    view.cover(True)
    session.motion.go(travel=-60.0)
    session.choose("output")
    while session.idle():
        pass
    QApplication.processEvents()
    np.testing.assert_array_equal(view.scene.frames["housing"], was)
    assert stage_of(view).camera is camera
    view.cover(False)
    X_CA = session.now.state.X_C["housing"]
    np.testing.assert_array_equal(view.scene.frames["housing"], X_CA)
    before = stage_of(view).drawn
    qtbot.waitUntil(lambda: stage_of(view).drawn > before)
    assert view.scene.marks["pinion"].gap is session.gaps["pinion"]


def test_the_left_button_turns_and_others_move(view, qtbot) -> None:
    widget, before = view.drawing.widget, stage_of(view).camera
    start = middle(view)
    qtbot.mousePress(widget, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(widget, start + QPoint(60, 20))
    qtbot.mouseRelease(widget, Qt.MouseButton.LeftButton, pos=start + QPoint(60, 20))
    turned = stage_of(view).camera
    assert not np.allclose(turned.toward, before.toward)
    np.testing.assert_array_equal(turned.focus, before.focus)
    for button in (Qt.MouseButton.MiddleButton, Qt.MouseButton.RightButton):
        here = stage_of(view).camera
        qtbot.mousePress(widget, button, pos=start)
        qtbot.mouseMove(widget, start + QPoint(0, 40))
        qtbot.mouseRelease(widget, button, pos=start + QPoint(0, 40))
        there = stage_of(view).camera
        np.testing.assert_array_equal(there.toward, here.toward)
        moved = (there.focus - here.focus) @ here.R_VC[1]
        assert moved == pytest.approx(here.span * 40.0 / widget.height(), rel=1e-9)


def test_the_wheel_goes_nearer_to_what_is_under_the_mouse(view) -> None:
    widget, before = view.drawing.widget, stage_of(view).camera
    place = QPointF(middle(view)) + QPointF(-90.0, -70.0)
    event = QWheelEvent(
        place,
        widget.mapToGlobal(place),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)
    after = stage_of(view).camera
    assert after.span < before.span
    stage = stage_of(view)
    # The shaft is seen in a part of the stage only, beside its close-up.
    shares = place.x() / widget.width(), 1.0 - place.y() / widget.height()
    region, at = stage.region, np.array(shares) * stage.size
    x, y = (at - region.middle) / region.height
    under = before.focus + before.span * (x * before.R_VC[0] + y * before.R_VC[1])
    np.testing.assert_allclose(before.project(under, region), at, rtol=0.0, atol=1e-6)
    np.testing.assert_allclose(
        after.project(under, region), before.project(under, region), rtol=0.0, atol=1e-6
    )


@pytest.mark.parametrize(
    ("key", "changed"),
    [
        (Qt.Key.Key_Left, "toward"),
        (Qt.Key.Key_Up, "toward"),
        (Qt.Key.Key_Plus, "span"),
        (Qt.Key.Key_Minus, "span"),
    ],
)
def test_keys_do_what_the_mouse_does(view, qtbot, key, changed) -> None:
    before = getattr(stage_of(view).camera, changed)
    qtbot.keyClick(view.drawing.widget, key)
    assert not np.allclose(getattr(stage_of(view).camera, changed), before)


def test_number_keys_choose_the_views_and_the_bar_shows_which(view, qtbot) -> None:
    there = [each for each in views(view.scene.vehicle) if each not in PLAIN]
    assert list(view.bar.buttons) == there
    for number, name in enumerate(there):
        qtbot.keyClick(view.drawing.widget, Qt.Key(Qt.Key.Key_1 + number))
        on = [each for each, button in view.bar.buttons.items() if button.isChecked()]
        assert on == [name]
    qtbot.keyClick(view.drawing.widget, Qt.Key.Key_Left)
    assert not any(button.isChecked() for button in view.bar.buttons.values())


def test_buttons_choose_the_views_too(view, qtbot) -> None:
    qtbot.mouseClick(view.bar.buttons["pinion"], Qt.MouseButton.LeftButton)
    assert view.scene.sight.on == "pinion"
    assert view.bar.turning.isEnabled()
    view.bar.turning.click()
    assert view.scene.sight.turning
    assert all(button.accessibleName() for button in view.bar.buttons.values())
    assert set(view.bar.buttons) <= set(TITLES)


def test_a_click_tells_what_is_under_it_at_any_density(view, qtbot) -> None:
    stage, widget = stage_of(view), view.drawing.widget
    stage.under = Picked("pinion yoke", np.zeros(3))
    place = QPoint(widget.width() // 4, widget.height() // 4)
    with qtbot.waitSignal(view.picked) as told:
        qtbot.mouseClick(widget, Qt.MouseButton.LeftButton, pos=place)
    name, facts = told.args
    assert name == "pinion yoke"
    assert facts.title == "pinion yoke"
    assert view.card.isVisible()
    assert view.card.title.text() == "Pinion yoke: strap yoke"
    assert "1 1/16 in (27.0 mm)" in view.card.rows.text()
    assert view.rect().contains(view.card.geometry())
    x, y = stage.of("pick")[-1].told["at"]
    # The stage has its own px, however many the widget counts.
    assert x / stage.size[0] == pytest.approx(place.x() / widget.width(), abs=1e-9)
    assert 1.0 - y / stage.size[1] == pytest.approx(place.y() / widget.height(), abs=1e-9)
    stage.under = None
    with qtbot.waitSignal(view.picked) as told:
        qtbot.mouseClick(widget, Qt.MouseButton.LeftButton, pos=place)
    assert told.args == ["", None]
    assert not view.card.isVisible()


def test_a_drag_is_no_click(view, qtbot) -> None:
    widget, start = view.drawing.widget, middle(view)
    qtbot.mousePress(widget, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(widget, start + QPoint(30, 0))
    qtbot.mouseRelease(widget, Qt.MouseButton.LeftButton, pos=start + QPoint(30, 0))
    assert not stage_of(view).of("pick")


def test_parts_are_hidden_and_seen_again_from_the_menu(view) -> None:
    view.bar.set_part("tube", HIDDEN)
    assert "tube" not in stage_of(view).seen()
    view.bar.set_part("tube", FAINT)
    assert 0.0 < stage_of(view).things["tube"].opacity < 0.5
    view.bar.set_part("tube", SEEN)
    assert stage_of(view).things["tube"].opacity == 1.0
    view.bar.set_part("housing", HIDDEN)
    view.bar.show_everything()
    assert "housing" in stage_of(view).seen()
    titles = [menu.title() for menu in view.bar.menu.findChildren(type(view.bar.menu))]
    assert "Pinion yoke" in titles


def right_click(view, qtbot, name):
    """Click with the right button where a part is seen; the words of the menu and what they do."""
    widget = view.drawing.widget
    stage_of(view).under = Picked(name, np.zeros(3)) if name else None
    qtbot.mouseClick(widget, Qt.MouseButton.RightButton, pos=middle(view))
    assert view.menu.isVisible()
    acts = {action.text().partition("\t")[0].replace("&", ""): action for action in menu_of(view)}
    view.menu.close()
    return acts


def menu_of(view):
    return [action for action in view.menu.actions() if not action.isSeparator()]


def test_a_right_click_hides_makes_glass_and_brings_back(view, qtbot) -> None:
    right_click(view, qtbot, "tube")["Hide it"].trigger()
    assert "tube" not in stage_of(view).seen()
    right_click(view, qtbot, "housing")["Make it glass"].trigger()
    assert 0.0 < stage_of(view).things["housing"].opacity < 0.5
    assert "Hide it" not in right_click(view, qtbot, "")
    right_click(view, qtbot, "")["Bring all back"].trigger()
    assert {"tube", "housing"} <= set(stage_of(view).seen())
    assert stage_of(view).things["housing"].opacity == 1.0
    right_click(view, qtbot, "pinion yoke")["What it is"].trigger()
    assert view.card.title.text() == "Pinion yoke: strap yoke"


def test_a_right_drag_opens_no_menu(view, qtbot) -> None:
    widget, start = view.drawing.widget, middle(view)
    qtbot.mousePress(widget, Qt.MouseButton.RightButton, pos=start)
    qtbot.mouseMove(widget, start + QPoint(30, 0))
    qtbot.mouseRelease(widget, Qt.MouseButton.RightButton, pos=start + QPoint(30, 0))
    assert not hasattr(view, "menu")


def test_keys_go_from_part_to_part_and_hide_them(view, qtbot) -> None:
    widget = view.drawing.widget
    names = [part.name for part, _ in view.scene.bodies.listed()]
    for name in (*names, names[0]):
        qtbot.keyClick(widget, Qt.Key.Key_N)
        assert view.scene.bodies.chosen == name
        assert view.card.isVisible()
    qtbot.keyClick(widget, Qt.Key.Key_N, Qt.KeyboardModifier.ShiftModifier)
    last = names[-1]
    assert view.scene.bodies.chosen == last
    qtbot.keyClick(widget, Qt.Key.Key_G)
    assert 0.0 < stage_of(view).things[last].opacity < 0.5
    qtbot.keyClick(widget, Qt.Key.Key_H)
    assert last not in stage_of(view).seen()
    qtbot.keyClick(widget, Qt.Key.Key_A)
    assert last in stage_of(view).seen()


def test_the_menu_key_offers_the_part_that_is_meant(view, qtbot) -> None:
    widget = view.drawing.widget
    qtbot.keyClick(widget, Qt.Key.Key_N)
    title = view.card.title.text().partition(":")[0]
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, middle(view))
    QApplication.sendEvent(widget, event)
    assert view.menu.isVisible()
    assert title in [action.text() for action in view.menu.actions()]
    view.menu.close()


def test_home_goes_back_to_the_whole_and_the_bar_has_six_straight_views(view, qtbot) -> None:
    offered = [action.text() for action in view.bar.plain.menu().actions()]
    assert [text.partition("\t")[0] for text in offered] == [TITLES[each] for each in PLAIN]
    for action, plain in zip(view.bar.plain.menu().actions(), PLAIN, strict=True):
        action.trigger()
        assert view.scene.sight.view == plain
        assert view.bar.plain.text() == TITLES[plain]
        assert view.bar.plain.isChecked()
    qtbot.keyClick(view.drawing.widget, Qt.Key.Key_Home)
    assert view.scene.sight.view == "whole"
    assert not view.bar.plain.isChecked()


def test_another_rig_brings_its_own_parts_and_views(view, qtbot, worker) -> None:
    from tests.viewer.session.conftest import checked

    view.bar.set_part("tube", HIDDEN)
    view.session.open(Document.open(RIGS / "timber-crew-carrier.toml"))
    worker.say(answer=checked("timber-crew-carrier"), share=1.0)
    view.session.tick()
    qtbot.waitUntil(lambda: not view.scene.has_work)
    assert {"carrier bearing", "middle yoke", "tube"} <= set(stage_of(view).seen())
    assert "middle" in view.bar.buttons
    before = stage_of(view).drawn
    view.session.motion.go(travel=-20.0)
    qtbot.waitUntil(lambda: stage_of(view).drawn > before)


def test_a_picture_holds_what_is_due(view) -> None:
    view.session.motion.go(travel=-30.0)
    image = view.snapshot()
    assert image.shape == (1200, 1600, 3)
    assert not view.scene.has_work


def test_after_shutting_nothing_is_drawn_and_the_session_goes_on(view, qtbot) -> None:
    stage = stage_of(view)
    view.shut()
    view.shut()
    drawn = stage.drawn
    view.session.motion.go(travel=-10.0)
    view.session.idle()
    qtbot.wait(20)
    assert stage.closed
    assert stage.drawn == drawn
    with pytest.raises(RuntimeError, match="closed"):
        view.snapshot()


def test_a_dark_palette_is_taken_on(view, qtbot) -> None:
    palette = view.palette()
    palette.setColor(palette.ColorRole.Window, Qt.GlobalColor.black)
    palette.setColor(palette.ColorRole.WindowText, Qt.GlobalColor.white)
    view.setPalette(palette)
    qtbot.waitUntil(lambda: not view.scene.has_work)
    top = stage_of(view).of("backdrop")[-1].told["top"]
    assert max(top) < 0.4


def test_escape_puts_the_card_away_and_the_chosen_part_goes_along(view, qtbot) -> None:
    stage = stage_of(view)
    stage.under = Picked("pinion yoke", np.zeros(3))
    qtbot.mouseClick(view.drawing.widget, Qt.MouseButton.LeftButton, pos=middle(view))
    view.session.motion.go(travel=-45.0, spin=0.4)
    chosen, part = stage.things["chosen part"], stage.things["pinion yoke"]
    np.testing.assert_array_equal(chosen.X_CP, part.X_CP)
    qtbot.keyClick(view.drawing.widget, Qt.Key.Key_Escape)
    assert not view.card.isVisible()
    assert "chosen part" not in stage.things


def test_a_fine_picture_is_taken_in_steps_and_leaves_edges_as_they_were(view: View3D) -> None:
    held: list[bool] = []

    @contextmanager
    def finest() -> Iterator[None]:
        held.append(True)
        yield
        held.append(False)

    assert view.drawing is not None
    view.drawing = replace(view.drawing, finest=finest)
    steps = view.finely()
    assert [next(steps), next(steps)] == [None, None]
    assert held == [True], "drawn between the events, while it is held"
    image = next(steps)
    assert image is not None
    assert list(steps) == []
    assert held == [True, False]


def in_closeup(view):
    """A place of the widget that shows the close-up, on the right of it."""
    return QPoint(round(0.9 * view.drawing.widget.width()), view.drawing.widget.height() // 2)


def test_the_mouse_in_the_close_up_moves_nothing_of_the_shaft(view, qtbot) -> None:
    widget, place = view.drawing.widget, in_closeup(view)
    before, second = stage_of(view).camera, stage_of(view).second.camera
    qtbot.mousePress(widget, Qt.MouseButton.LeftButton, pos=place)
    qtbot.mouseMove(widget, place + QPoint(20, 30))
    qtbot.mouseRelease(widget, Qt.MouseButton.LeftButton, pos=place + QPoint(20, 30))
    assert stage_of(view).camera is before
    at = QPointF(place)
    event = QWheelEvent(
        at,
        widget.mapToGlobal(at),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)
    assert stage_of(view).camera is before
    assert stage_of(view).second.camera.span < second.span
    assert not stage_of(view).of("pick")


def test_a_click_on_the_close_up_looks_at_its_joint(view, qtbot) -> None:
    qtbot.mouseClick(view.drawing.widget, Qt.MouseButton.LeftButton, pos=in_closeup(view))
    assert view.scene.sight.on == view.session.strip_joint


def test_a_stage_that_grows_late_is_shared_anew_before_it_is_drawn(view, qtbot) -> None:
    stage = stage_of(view)
    stage._size = (900, 700)
    view.redraw()
    qtbot.waitUntil(lambda: view.scene.closeup.fits)
    assert stage.region.height == 700.0
    assert stage.region.width + stage.of("inset")[-1].told["region"].width == 900.0
