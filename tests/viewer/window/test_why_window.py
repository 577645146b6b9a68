"""The room for a failed joint, over a stage that only writes down; no OpenGL."""

from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sim.seen import load_inspection
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import Scripted as Worker
from tests.viewer.session.test_why_answer import answer_to
from tests.viewer.window.scripted import Scripted
from viewer.draw.stage import Picked
from viewer.scene.apart import Place, spot_of, yoke_name
from viewer.session.session import Session
from viewer.session.why.room import WhyRoom
from viewer.window.customer.joint import NOT_YET, JointPage
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.theme import enlarged
from viewer.window.main.window import MainWindow
from viewer.window.state.head import StateHead
from viewer.window.view.gl import Drawing
from viewer.window.why.sheet import OneRow, WordsRow
from viewer.window.why.window import MARKS, PARTS, WhyWindow


def fake(parent: QWidget) -> Drawing:
    stage = RecordingStage((1000, 700))
    return Drawing(QWidget(parent), stage, stage.image, nullcontext, stage.close)


Opening = Callable[..., WhyWindow]


@pytest.fixture
def opening(open_rig: Callable[..., Session], qtbot: QtBot) -> Opening:
    def opens(*answers: str | Path | None, rig: str = "long-legged-trail-wagon") -> WhyWindow:
        window = WhyWindow(WhyRoom(open_rig(rig)), asker=Scripted(*answers), factory=fake)
        window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        qtbot.addWidget(window, before_close_func=lambda _: window.shut())
        window.resize(1100, 800)
        window.show()
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        return window

    return opens


def stage_of(window: WhyWindow) -> RecordingStage:
    assert window.view.drawing is not None
    stage = window.view.drawing.stage
    assert isinstance(stage, RecordingStage)
    return stage


def click(window: WhyWindow, qtbot: QtBot, under: Picked | None) -> None:
    stage_of(window).under = under
    qtbot.mouseClick(window.view._widget, Qt.MouseButton.LeftButton, pos=QPoint(50, 50))


def words_row(window: WhyWindow, key: str) -> WordsRow:
    found = window.sheet.rows[key]
    assert isinstance(found, WordsRow)
    return found


def test_a_click_on_a_part_brings_its_words(opening: Opening, qtbot: QtBot) -> None:
    window = opening()
    click(window, qtbot, Picked("trunnion end_b", np.zeros(3)))
    assert window.room.chosen == ("caps.end_b", "trunnion")
    assert window.sheet.tables == ("caps.end_b",)
    assert "chosen trunnion end_b" in stage_of(window).things
    assert window.parts.currentItem().text().endswith("Cap b, pinion yoke: not looked at")


def test_the_words_of_a_part_can_be_clicked_as_soon_as_it_is_chosen(opening: Opening) -> None:
    """On a busy machine the next click is there before anything is laid out later."""
    window = opening()
    for table, word in (("yokes.end", "half-moon"), ("caps.end_a", "dry")):
        window.room.choose(table)
        kind = "tips" if table == "yokes.end" else "seen"
        pressed = words_row(window, f"{table}.{kind}").buttons[word]
        at = pressed.mapTo(window, pressed.rect().center())
        assert window.childAt(at) is pressed


def test_ticking_a_word_shows_in_the_list_in_the_picture_and_in_the_file(
    opening: Opening, qtbot: QtBot
) -> None:
    window = opening()
    window.room.choose("caps.end_a", "seen")
    caps = words_row(window, "caps.end_a.seen")
    assert {made.told for made in caps.buttons.values()} == {"not looked at"}
    qtbot.mouseClick(caps.buttons["dry"], Qt.MouseButton.LeftButton)
    assert caps.buttons["dry"].told == "seen"
    assert caps.buttons["spun"].told == "not there"
    assert words_row(window, "caps.end_a.trunnion").buttons["flakes"].told == "not looked at"
    assert "cap a, pinion yoke\ndry" in stage_of(window).said()
    assert window.parts.currentItem().text().endswith("dry")
    assert window.isWindowModified()
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert caps.buttons["dry"].told == "not looked at"
    assert not window.isWindowModified()


def test_three_states_are_told_apart_without_color(opening: Opening) -> None:
    """What is painted of them differs by more than a little in lightness alone, word for word."""
    window = opening()
    window.room.choose("caps.end_a", "seen")
    made = words_row(window, "caps.end_a.seen").buttons["dry"]
    greys = {}
    for told in ("seen", "not there", "not looked at"):
        made.show_told(told)  # type: ignore[arg-type]
        image = made.grab().toImage()
        greys[told] = np.array(
            [
                [image.pixelColor(x, y).lightnessF() for x in range(image.width())]
                for y in range(image.height())
            ]
        )
        assert told in made.accessibleName()
    for one, other in (("seen", "not there"), ("not there", "not looked at")):
        assert np.abs(greys[one] - greys[other]).max() > 0.3


def test_a_measure_is_typed_with_its_unit_and_told_what_is_wrong(
    opening: Opening, qtbot: QtBot
) -> None:
    window = opening()
    window.room.choose("caps.end_a", "seen")
    gouge = window.sheet.rows["caps.end_a.gouge"]
    assert isinstance(gouge, OneRow)
    qtbot.keyClicks(gouge.editors[0], "0.010")
    gouge.flush()
    assert "unit" in gouge.wrong.text()
    qtbot.keyClicks(gouge.editors[0], " in")
    gouge.flush()
    assert gouge.wrong.text().strip("\N{BALLOT X} ") == ""
    assert window.room.file.inspection.cap("end_a").gouge is not None


def test_a_mark_is_put_where_somebody_clicks(opening: Opening, qtbot: QtBot) -> None:
    window = opening()
    apart = window.room.apart
    part = apart.named(yoke_name("end"))
    found = spot_of(apart.yokes["end"], "ear tip", 0.0)
    assert part is not None
    assert found is not None
    at = part.X_CP[:3, :3] @ found[0] + part.X_CP[:3, 3]
    window.tabs.setCurrentIndex(MARKS)
    window.marks.here.click()
    click(window, qtbot, Picked(yoke_name("end"), at))
    (mark,) = window.room.file.inspection.marks or ()
    assert (mark.yoke, mark.surface) == ("end", "ear tip")
    assert "seen 1" in stage_of(window).things
    # Elsewhere a click means the part again.
    window.tabs.setCurrentIndex(PARTS)
    click(window, qtbot, Picked(yoke_name("end"), at))
    assert len(window.room.marks()) == 1
    # That place of the closed outline lies over the open seat of ear a.
    assert window.room.chosen == ("caps.end_a", "seat")


def test_it_is_saved_where_somebody_says_and_opened_again(opening: Opening, tmp_path: Path) -> None:
    place = tmp_path / "seen.toml"
    window = opening(place, "throw away", place)
    window.room.choose("caps.end_a", "seen")
    words_row(window, "caps.end_a.seen").buttons["dry"].click()
    assert window.files.save()
    assert load_inspection(place).cap("end_a").seen == ("dry",)
    words_row(window, "caps.end_a.seen").buttons["spun"].click()
    window.head.open.click()
    assert words_row(window, "caps.end_a.seen").buttons["spun"].told == "not there"
    assert not window.room.file.is_dirty


def test_nothing_is_written_over_a_rig(opening: Opening, tmp_path: Path) -> None:
    rig = tmp_path / "rig.toml"
    text = (Path(__file__).parents[3] / "models/rigs/ridge-crawler.toml").read_text("utf-8")
    rig.write_text(text, "utf-8")
    window = opening(rig)
    window.room.choose("caps.end_a", "seen")
    words_row(window, "caps.end_a.seen").buttons["dry"].click()
    assert not window.files.save()
    assert rig.read_text("utf-8") == text


def test_what_is_not_saved_is_asked_about(opening: Opening) -> None:
    window = opening("back", "throw away")
    window.room.choose("caps.end_a", "seen")
    words_row(window, "caps.end_a.seen").buttons["dry"].click()
    window.close()
    assert window.isVisible()
    assert window.room.file.is_dirty
    window.close()
    assert not window.isVisible()


def test_one_yoke_is_looked_into_with_nothing_else_in_sight(opening: Opening) -> None:
    window = opening()
    stage = stage_of(window)
    window.bench.looks["end"].click()
    assert yoke_name("end") in stage.seen()
    assert not [name for name in stage.seen() if name.startswith(("cap", "yoke shaft", "cross"))]
    window.bench.looks["all"].click()
    assert "cap end_a" in stage.seen()


def test_the_answer_follows_and_stands_in_gray_until_the_new_one(
    opening: Opening, worker: Worker
) -> None:
    window = opening()
    window.room.choose("caps.end_a", "seen")
    caps = words_row(window, "caps.end_a.seen")
    caps.buttons["dry"].click()
    asked = worker.others["why"]
    assert "..." in window.answer.state.text()
    asked.say(answer=answer_to(window.room))
    window.room.poll()
    assert window.answer.head.text() == "It wore out."
    (bar,) = window.answer.bars
    assert bar.accessibleName() == "one dry cap: very likely (80 %)"
    assert not bar.is_old
    caps.buttons["spun"].click()
    assert bar.is_old
    assert window.answer.head.text() == "It wore out."
    asked.say(answer=answer_to(window.room))
    window.room.poll()
    assert not window.answer.bars[0].is_old


def test_a_bar_is_as_long_as_its_odds_in_any_light(opening: Opening, worker: Worker) -> None:
    window = opening()
    window.room.tick(window.room.rows("cross")[0], "cracked")
    worker.others["why"].say(answer=answer_to(window.room))
    window.room.poll()
    (bar,) = window.answer.bars
    image = bar.grab().toImage()
    row = round(image.height() * 0.76)
    dark = [image.pixelColor(x, row).lightnessF() < 0.6 for x in range(image.width())]
    assert sum(dark) / image.width() == pytest.approx(bar.cause.chance, abs=0.02)


def test_a_press_on_what_to_look_at_next_brings_the_part(opening: Opening, worker: Worker) -> None:
    window = opening()
    window.room.tick(window.room.rows("cross")[0], "cracked")
    worker.others["why"].say(answer=answer_to(window.room))
    window.room.poll()
    (press,) = [
        each for each in window.answer.findChildren(QPushButton) if each.text() == "Show me"
    ]
    press.click()
    assert window.room.chosen == ("caps.shaft_a", "seen")
    assert window.sheet.tables == ("caps.shaft_a",)


def test_a_press_on_a_bar_tells_what_speaks_for_it(opening: Opening, worker: Worker) -> None:
    window = opening()
    window.room.tick(window.room.rows("cross")[0], "cracked")
    worker.others["why"].say(answer=answer_to(window.room))
    window.room.poll()
    window.answer.bars[0].click()
    assert "For it: it is dry." in [
        label.text() for label in window.answer.findChildren(PlainLabel) if not label.isHidden()
    ]


def test_the_customer_reads_what_was_seen_and_takes_it_home(
    opening: Opening, worker: Worker, tmp_path: Path
) -> None:
    place = tmp_path / "joint.png"
    window = opening(place)
    window.room.tick(window.room.rows("caps.end_a")[0], "dry")
    window.room.add_mark(Place("shaft", "throat", 0.0))
    worker.others["why"].say(answer=answer_to(window.room))
    window.room.poll()
    worker.others["why"].say(answer=answer_to(window.room))
    window.room.poll()
    page = JointPage(window.room, window, Scripted(place), fake)
    told = dict(page.told)
    assert told["What we saw"].split("\n") == [
        "Cap a, pinion yoke: dry.",
        "Mark: shaft yoke, throat, 12 o'clock.",
    ]
    assert told["Where the metal meets"] == "It binds at droop."
    assert told["What that means"] == "It wore out."
    page.picture.click()
    assert place.read_bytes().startswith(b"\x89PNG")
    assert page.done.text() == "Saved joint.png."
    page.close()


def test_a_mark_where_the_yokes_do_not_meet_is_said_to_the_customer(
    opening: Opening, worker: Worker
) -> None:
    window = opening()
    window.room.tick(window.room.rows("caps.end_a")[0], "dry")
    strays = "But a mark lies elsewhere."
    met = "It binds from 3 11/16 in droop."
    worker.others["why"].say(answer=replace(answer_to(window.room), strays=strays, meets=met))
    window.room.poll()
    page = JointPage(window.room, window, Scripted(), fake)
    assert dict(page.told)["Where the metal meets"] == f"{met}\n{strays}"
    shown = [each.text() for each in page.findChildren(PlainLabel)]
    assert any("3\N{NO-BREAK SPACE}11/16\N{NO-BREAK SPACE}in droop" in each for each in shown)
    assert any(f"{date.today():%d %b %Y}" in each for each in shown)
    page.close()


def test_an_old_answer_is_not_shown_to_a_customer(opening: Opening, worker: Worker) -> None:
    window = opening()
    window.room.tick(window.room.rows("caps.end_a")[0], "dry")
    worker.others["why"].say(answer=answer_to(window.room))
    window.room.poll()
    window.room.tick(window.room.rows("caps.end_a")[0], "spun")
    page = JointPage(window.room, window, Scripted(), fake)
    assert dict(page.told)["Where the metal meets"] == NOT_YET
    assert "What that means" not in dict(page.told)
    page.close()


def test_it_fits_a_small_screen_with_large_type(
    opening: Opening, worker: Worker, qtbot: QtBot
) -> None:
    """1024 x 700 with type half as large again: nothing asks for more, and no press is cut off."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    before = app.font()
    app.setFont(enlarged(before, 1.5))
    try:
        window = opening()
        window.resize(1024, 700)
        window.room.tick(window.room.rows("cross")[0], "cracked")
        worker.others["why"].say(answer=answer_to(window.room))
        window.room.poll()
        window.room.choose("caps.end_a", "seen")
        qtbot.waitUntil(lambda: window.tabs.width() < 0.5 * window.width())
        QApplication.processEvents()
        assert (window.width(), window.height()) == (1024, 700)
        for table in ("caps.end_a", "yokes.shaft", "fracture"):
            window.room.choose(table, "")
            QApplication.processEvents()
            for row in window.sheet.rows.values():
                for each in row.findChildren(QPushButton):
                    right = each.mapTo(window.sheet, each.rect().topRight()).x()
                    assert right <= window.sheet.width(), (table, each.text())
    finally:
        app.setFont(before)


def test_the_first_screen_leads_to_the_room(open_rig: Callable[..., Session], qtbot: QtBot) -> None:
    head = StateHead(open_rig("long-legged-trail-wagon"))
    qtbot.addWidget(head)
    with qtbot.waitSignal(head.why_wanted):
        head.broke.click()
    for rig in ("long-legged-trail-wagon", "short-tailed-scout"):
        other = StateHead(open_rig(rig))
        qtbot.addWidget(other)
        assert not other.broke.isHidden()


class Offered(QWidget):
    """A customer's screen that is offered the joint."""

    def offer_joint(self, shows: Callable[[], object]) -> None:
        self.shows = shows


def test_the_customers_screen_offers_the_joint_that_lies_on_the_bench(
    make: Callable[..., MainWindow],
) -> None:
    screens = [Offered(), Offered()]
    given = iter(screens)
    window = make(make_customer=lambda *_: next(given))
    window._show_customer()
    assert not hasattr(screens[0], "shows")
    window._why = SimpleNamespace()  # type: ignore[assignment]
    window._show_customer()
    assert screens[1].shows == window._show_joint
    window._why = None
    for each in screens:
        each.close()
