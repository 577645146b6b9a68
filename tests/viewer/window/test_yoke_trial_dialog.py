"""A mesh file is shown before it is taken: its unit is asked, its doubts stand first."""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from pytestqt.qtbot import QtBot

from tests import demo_scans
from tests.viewer.window.keys import press
from viewer.window.yoke.trial import NO_PICTURE, NOTHING, YokeTrial
from viewer.yoke.trial import FOUND, Trial

ASKED = Trial("asks", "which?", sizes={"mm": "mm: 0.177 in long", "in": "inches: 4.49 in long"})
PLACED = Trial(
    "placed", "", "in", dict(ASKED.sizes), (("Bores", "1.060 in across"),), ("a hole", "noise")
)
REFUSED = Trial("refused", "brick.stl: no bores were found")


def telling(**by_unit: Trial | None) -> Callable[[Path, Path, str, str], list[str]]:
    """A program that leaves what a test says for a unit; None leaves nothing."""

    def command(room: Path, _file: Path, unit: str, _cross: str) -> list[str]:
        told = by_unit[unit or "none"]
        write = "import sys, pathlib; pathlib.Path(sys.argv[1]).write_text(sys.argv[2])"
        text = ["-c", write, str(room / FOUND), told.text()] if told else ["-c", ""]
        return [sys.executable, *text]

    return command


def shown(qtbot: QtBot, take: list[str], **by_unit: Trial | None) -> YokeTrial:
    file = Path("yoke.stl")
    dialog = YokeTrial(file, "27 x 82", take.append, command=telling(**by_unit))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.waitUntil(lambda: dialog.found is not None, timeout=20_000)
    return dialog


def test_the_unit_is_asked_with_the_length_in_each_and_the_file_read_again(qtbot: QtBot) -> None:
    taken: list[str] = []
    dialog = shown(qtbot, taken, none=ASKED, **{"in": PLACED})
    assert [each.text() for each in dialog.units.values()] == list(ASKED.sizes.values())
    assert not dialog.take_it.isEnabled()
    dialog.units["in"].click()
    assert not dialog.take_it.isEnabled(), "it is being read"
    qtbot.waitUntil(lambda: dialog.found == PLACED, timeout=20_000)
    assert dialog.units["in"].isChecked()
    assert dialog.doubts.text().splitlines() == ["\N{BULLET} A hole.", "\N{BULLET} Noise."]
    assert dialog.picture.accessibleDescription() == NO_PICTURE
    press(dialog.take_it, Qt.Key.Key_Return)
    assert taken == ["in"]
    assert not dialog.isVisible()


def test_leaving_takes_nothing(qtbot: QtBot) -> None:
    taken: list[str] = []
    dialog = shown(qtbot, taken, none=PLACED)
    press(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    assert not taken


@pytest.mark.parametrize(("told", "says"), [(REFUSED, REFUSED.says), (None, NOTHING)])
def test_what_cannot_be_read_says_why_and_cannot_be_taken(
    qtbot: QtBot, told: Trial | None, says: str
) -> None:
    dialog = shown(qtbot, [], none=told)
    assert dialog.head.text() == says
    assert not dialog.take_it.isEnabled()
    assert not dialog.units
    dialog.close()


@pytest.mark.slow
@pytest.mark.needs_gl
def test_a_real_file_is_read_and_drawn(qtbot: QtBot) -> None:
    taken: list[str] = []
    dialog = YokeTrial(demo_scans.WELD.path, "27 x 82", taken.append)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.waitUntil(lambda: dialog.found is not None, timeout=120_000)
    assert not dialog.picture.accessibleDescription(), "a picture is there"
    dialog.take_it.click()
    assert taken == ["in"]
