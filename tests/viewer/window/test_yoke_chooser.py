"""A yoke is chosen by its picture and measured, through the text of the rig file."""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtGui import QColor, QImage
from PyQt6.QtWidgets import QApplication, QDialog, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sim.kept.answers import FOLDER_VARIABLE
from tests.viewer.session.conftest import Scripted
from tests.viewer.window.keys import press, write
from tests.viewer.window.scripted import Scripted as Answering
from viewer.draw.plan import ARROW
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.rig.panel import RigPanel
from viewer.window.yoke.chooser import YokeChooser
from viewer.window.yoke.shelf_process import ShelfProcess
from viewer.yoke.shelf import shelf_place

KEY = "shaft.pinion_end.pinion_yoke"


@pytest.fixture(autouse=True)
def nothing_drawn_yet(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "cache" / "touch"))


def copying(picture: Path) -> Callable[[str], list[str]]:
    """A program that puts a picture where the drawn one would be."""
    copy = "import shutil, sys; shutil.copy(sys.argv[1], sys.argv[2])"

    def command(cross: str) -> list[str]:
        place = shelf_place(cross)
        place.parent.mkdir(parents=True, exist_ok=True)
        return [sys.executable, "-c", copy, str(picture), str(place)]

    return command


@pytest.fixture
def chooser(qtbot: QtBot, worker: Scripted, tmp_path: Path) -> YokeChooser:
    """A chooser whose pictures come from a program that draws nothing but red."""
    red = QImage(1200, 600, QImage.Format.Format_RGB32)
    red.fill(Qt.GlobalColor.red)
    red.save(str(tmp_path / "red.png"))
    session = Session(Document.demo("long-legged-trail-wagon"), worker)
    made = YokeChooser(session, KEY, shelf=ShelfProcess(command=copying(tmp_path / "red.png")))
    qtbot.addWidget(made, before_close_func=lambda dialog: dialog.let_go())
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    made.show()
    return made


def colour(chooser: YokeChooser, row: int = 0) -> str:
    item = chooser.tiles.item(row)
    assert item is not None
    size = chooser.tiles.iconSize()
    image = item.icon().pixmap(size).toImage()
    return image.pixelColor(size.width() // 2, size.height() // 20 + 1).name()


def test_an_outline_stands_in_until_the_picture_is_there(
    chooser: YokeChooser, qtbot: QtBot
) -> None:
    assert colour(chooser) == "#ffffff"
    with qtbot.waitSignal(chooser._shelf.ready, timeout=20_000) as there:
        pass
    assert there.args == ["27 x 82"]
    assert [colour(chooser, row) for row in range(chooser.tiles.count())] == ["#ff0000"] * 6


def test_pictures_that_cannot_be_drawn_leave_the_outlines(qtbot: QtBot, worker: Scripted) -> None:
    session = Session(Document.demo("long-legged-trail-wagon"), worker)
    shelf = ShelfProcess(command=lambda _: ["no-such-program-anywhere"])
    with qtbot.waitSignal(shelf.failed):
        made = YokeChooser(session, KEY, shelf=shelf)
        made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        qtbot.addWidget(made)
    assert colour(made) == "#ffffff"


def test_a_kind_is_chosen_with_the_keyboard_and_taken_at_once(chooser: YokeChooser) -> None:
    document = chooser.pick._document
    current = chooser.tiles.currentItem()
    assert current is not None
    assert current.text() == "strap yoke"
    press(chooser.tiles, Qt.Key.Key_Left)
    assert document.typed(KEY) == "flange yoke"
    document.undo()
    current = chooser.tiles.currentItem()
    assert current is not None
    assert current.text() == "strap yoke"


def test_own_dimensions_are_typed_beside_the_generic_ones(chooser: YokeChooser) -> None:
    document = chooser.pick._document
    line = chooser.line("throat_depth")
    assert line.text() == ""
    assert "in (" in line.placeholderText()
    write(line, "1 3/8 in")
    press(line, Qt.Key.Key_Return)
    assert document.typed(KEY) == {"kind": "strap yoke", "throat_depth": "1 3/8 in"}
    assert line is chooser.line("throat_depth")
    line.selectAll()
    write(line, "deep")
    chooser.flush()
    wrong = chooser._lines["throat_depth"][1]
    assert wrong.isVisible()
    assert "deep" in wrong.text()
    document.undo()
    document.undo()
    assert not wrong.isVisible()
    assert document.typed(KEY) == "strap yoke"
    assert line.text() == ""


def test_another_cross_is_for_both_yokes(chooser: YokeChooser) -> None:
    place = chooser.cross.findData("30 x 92")
    assert "1350" in chooser.cross.itemText(place)
    chooser.cross.setCurrentIndex(place)
    chooser.cross.activated.emit(place)
    assert chooser.pick._document.typed("shaft.pinion_end.cross") == "30 x 92"


class Looked(QDialog):
    """Stands for the trial of a mesh file; the test takes the yoke."""

    def __init__(
        self, file: Path, cross: str, take: Callable[[str], object], parent: QWidget, unit: str
    ) -> None:
        super().__init__(parent)
        self.asked, self.take = (file.name, cross, unit), take


def test_a_yoke_of_ones_own_is_looked_at_before_it_is_taken(chooser: YokeChooser) -> None:
    """The row that names it can be typed over, and no kind of the catalogue is marked."""
    chooser._try, chooser._ask = Looked, Answering(Path("no-such-scan.stl"))
    chooser.scan.click()
    looked = chooser.trial
    assert isinstance(looked, Looked)
    assert looked.asked == ("no-such-scan.stl", "27 x 82", "")
    assert chooser.pick.kind == "strap yoke", "nothing is taken yet"
    looked.take("in")
    assert chooser.line("file").text().endswith("no-such-scan.stl")
    assert chooser.line("unit").text() == "in"
    assert not chooser.tiles.selectedItems()
    chooser.placed.click()
    again = chooser.trial
    assert isinstance(again, Looked)
    assert again.asked == ("no-such-scan.stl", "27 x 82", "in")
    chooser.pick._document.undo()
    assert [item.text() for item in chooser.tiles.selectedItems()] == ["strap yoke"]
    assert chooser.placed.isHidden()


def test_another_unit_keeps_what_was_typed_of_the_same_file(chooser: YokeChooser) -> None:
    chooser.pick.take_file(Path("scan.stl"), "mm")
    chooser.pick.measure("weld_land", "2 3/8 in")
    chooser.pick.take_file(Path("scan.stl"), "in")
    own = chooser.pick._document.typed(KEY)
    assert (own["unit"], own["weld_land"]) == ("in", "2 3/8 in")
    chooser.pick.take_file(Path("other.stl"), "in")
    assert "weld_land" not in chooser.pick._document.typed(KEY)


def test_a_closed_chooser_hears_nothing(chooser: YokeChooser) -> None:
    write(chooser.line("throat_depth"), "1 3/8 in")
    chooser.close()
    document = chooser.pick._document
    assert document.typed(KEY) == {"kind": "strap yoke", "throat_depth": "1 3/8 in"}
    document.undo()
    assert chooser.line("throat_depth").text() == "1 3/8 in"


def test_the_sheet_opens_it(
    qtbot: QtBot, worker: Scripted, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ShelfProcess, "want", lambda _self, _cross: None)
    panel = RigPanel(Session(Document.demo("long-legged-trail-wagon"), worker))
    qtbot.addWidget(panel)
    panel.show()
    buttons = panel.row(KEY).findChildren(QPushButton)
    next(each for each in buttons if "pictures" in each.accessibleName()).click()
    assert panel._chooser.isVisible()
    assert panel._chooser.pick.key == KEY
    panel._chooser.close()


def test_the_line_with_the_focus_is_drawn(chooser: YokeChooser) -> None:
    def inked() -> QImage:
        return chooser.plan.grab().toImage()

    first = inked()
    assert "throat depth" in chooser.how.text()
    chooser.line("saddle_width").setFocus()
    QApplication.processEvents()
    assert "saddle width" in chooser.how.text()
    assert Qt.mightBeRichText(chooser.how.text())
    assert chooser.how.textFormat() == Qt.TextFormat.RichText, "its marks are not shown as letters"
    assert inked() != first
    red = QColor(ARROW).rgb()
    image = inked()
    shown = {image.pixel(x, y) for x in range(image.width()) for y in range(image.height())}
    assert red in shown, "the arrow"
    chooser.line("bore").setFocus()
    QApplication.processEvents()
    assert not chooser.plan.isVisible()
    assert "bore" in chooser.how.text()
