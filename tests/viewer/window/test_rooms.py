"""The panels find room in a window of any size, and nothing is lost on the way."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtWidgets import QApplication, QLabel, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from viewer.window.kit.theme import em
from viewer.window.main.folding import FoldingTabs
from viewer.window.main.panels import Panels
from viewer.window.main.rooms import CHARTS, FIRST_SIZES, OPEN, SHEETS, SIDE, WIDE, Rooms

NAMES = ("view", "rig", "compare", "cures", "motion", "map", "strip", "head", "state")
LEFT = {"rig", "compare", "cures"}
DRAWER = {"motion", "map", "strip"}


class Panel(QWidget):
    """A panel with a field."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setObjectName(name)
        self.field = QLineEdit(self)
        column = QVBoxLayout(self)
        column.addWidget(QLabel(name))
        column.addWidget(self.field)


def furnished(qtbot: QtBot) -> tuple[Rooms, dict[str, Panel]]:
    panels = {name: Panel(name) for name in NAMES}
    rooms = Rooms(Panels(**panels))
    qtbot.addWidget(rooms)
    fit(rooms, 120.0, 60.0)
    rooms.show()
    rooms.activateWindow()
    qtbot.waitUntil(rooms.isActiveWindow)
    return rooms, panels


def fit(rooms: Rooms, width: float, height: float) -> None:
    """Make it so large, in heights of a line."""
    rooms.resize(round(width * em(rooms)), round(height * em(rooms)))
    QApplication.processEvents()


def seen(panels: dict[str, Panel]) -> set[str]:
    return {name for name, panel in panels.items() if panel.isVisible()}


def test_a_large_room_has_measurements_picture_verdict_and_sliders(qtbot: QtBot) -> None:
    _, panels = furnished(qtbot)
    assert seen(panels) == {"view", "rig", "motion", "head", "state"}


@pytest.mark.parametrize(
    ("width", "on_sheets", "is_folded"),
    [
        (OPEN, LEFT, False),
        (OPEN - 1.0, LEFT, True),
        (WIDE, LEFT, True),
        (WIDE - 1.0, LEFT | {"state"}, False),
    ],
)
def test_what_has_no_room_takes_turns(
    qtbot: QtBot, width: float, on_sheets: set[str], is_folded: bool
) -> None:
    rooms, panels = furnished(qtbot)
    fit(rooms, width + 0.5, 50.0)
    for tabs, there in ((rooms.sheets, on_sheets), (rooms.drawer, DRAWER)):
        pages = [tabs.widget(place) for place in range(tabs.count())]
        assert {page.objectName() for page in pages if page is not None} == there
    assert rooms.sheets.is_folded == is_folded
    assert rooms.drawer.isVisible()
    rooms.bring(panels["cures"])
    assert panels["head"].isVisible(), "whatever is open, the verdict stays"


def tab_middle(tabs: FoldingTabs, place: int) -> QPoint:
    bar = tabs.tabBar()
    assert bar is not None
    return bar.tabRect(place).center()


@pytest.mark.parametrize("name", [SHEETS, CHARTS])
def test_a_click_on_the_open_tab_folds_and_on_any_brings_back(qtbot: QtBot, name: str) -> None:
    rooms, panels = furnished(qtbot)
    tabs = rooms.sheets if name == SHEETS else rooms.drawer
    bar, picture = tabs.tabBar(), panels["view"].width()
    qtbot.mouseClick(bar, Qt.MouseButton.LeftButton, pos=tab_middle(tabs, 0))
    assert rooms.wanted() == {name: True}
    assert tabs.isVisible()  # its tabs are there to bring it back
    QApplication.processEvents()
    thick = tabs.width() if name == SHEETS else tabs.height()
    assert thick < 3.0 * em(rooms)
    if name == SHEETS:
        assert panels["view"].width() > picture
    qtbot.mouseClick(bar, Qt.MouseButton.LeftButton, pos=tab_middle(tabs, 1))
    assert rooms.wanted() == {name: False}
    assert tabs.currentIndex() == 1
    page = tabs.currentWidget()
    assert page is not None
    assert page.isVisible()


def test_keys_on_the_tabs_fold_and_bring_back(qtbot: QtBot) -> None:
    rooms, panels = furnished(qtbot)
    bar = rooms.drawer.tabBar()
    assert bar is not None
    bar.setFocus()
    qtbot.keyClick(bar, Qt.Key.Key_Space)
    assert not panels["motion"].isVisible()
    qtbot.keyClick(bar, Qt.Key.Key_Return)
    assert panels["motion"].isVisible()


def test_the_picture_alone_has_all_of_the_room(qtbot: QtBot) -> None:
    rooms, panels = furnished(qtbot)
    rooms.fold({SHEETS: True, SIDE: True})
    QApplication.processEvents()
    assert panels["view"].width() > rooms.width() - 4.0 * em(rooms)
    rooms.bring(panels["map"])
    assert panels["map"].isVisible()
    assert rooms.is_away(SHEETS)


def test_what_the_user_folded_stays_so_in_a_room_of_any_size(qtbot: QtBot) -> None:
    rooms, panels = furnished(qtbot)
    rooms.fold({SHEETS: True})
    fit(rooms, 60.0, 50.0)
    assert panels["state"].isVisible()  # the verdict is among the sheets there
    fit(rooms, 130.0, 60.0)
    assert rooms.is_away(SHEETS)
    rooms.fold({SHEETS: False})
    fit(rooms, WIDE + 1.0, 60.0)
    assert not rooms.is_away(SHEETS)


def test_the_verdict_folded_in_a_narrow_window_folds_nothing_in_a_wide_one(qtbot: QtBot) -> None:
    rooms, panels = furnished(qtbot)
    fit(rooms, 60.0, 50.0)
    bar = rooms.sheets.tabBar()
    qtbot.mouseClick(bar, Qt.MouseButton.LeftButton, pos=tab_middle(rooms.sheets, 0))
    assert not panels["state"].isVisible()
    assert rooms.wanted() == {}
    fit(rooms, 120.0, 60.0)
    assert seen(panels) == {"view", "rig", "motion", "head", "state"}


@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.lists(st.tuples(st.floats(46.0, 120.0), st.floats(30.0, 70.0)), min_size=1, max_size=6))
def test_every_panel_can_be_brought_whatever_the_sizes_were(
    qtbot: QtBot, sizes: list[tuple[float, float]]
) -> None:
    rooms, panels = furnished(qtbot)
    stage = panels["view"].parentWidget()
    for size in sizes:
        fit(rooms, *size)
    for panel in panels.values():
        rooms.bring(panel)
        assert panel.isVisible()
        assert panel.width() > 0
        assert panel.height() > 0
    # OpenGL would begin anew in other hands.
    assert panels["view"].parentWidget() is stage
    assert rooms.sheets.count() + rooms.drawer.count() + 2 + bool(rooms.is_wide) == len(panels)
    rooms.close()


@pytest.mark.parametrize("name", ["motion", "map", "strip", "state"])
def test_the_cursor_stays_where_it_is(qtbot: QtBot, name: str) -> None:
    rooms, panels = furnished(qtbot)
    field = panels[name].field
    rooms.bring(panels[name])
    field.setFocus(Qt.FocusReason.OtherFocusReason)
    field.setText("3 1/4")
    for size in ((50.0, 32.0), (120.0, 60.0), (70.0, 50.0)):
        fit(rooms, *size)
        assert QApplication.focusWidget() is field
        assert field.isVisible()
        assert field.text() == "3 1/4"


def test_borders_of_each_plan_are_kept_for_it(qtbot: QtBot) -> None:
    rooms, _ = furnished(qtbot)
    rooms.resize_parts({"three": (400, 600, 500)})
    before = rooms.sizes()["three"]
    fit(rooms, 60.0, 60.0)
    rooms.resize_parts({"narrow": (500, 400)})
    narrow = rooms.sizes()["narrow"]
    fit(rooms, 120.0, 60.0)
    assert rooms.sizes()["three"] == pytest.approx(before, rel=0, abs=2)
    fit(rooms, 60.0, 60.0)
    assert rooms.sizes()["narrow"] == pytest.approx(narrow, rel=0, abs=2)


def test_sizes_that_make_no_sense_are_left_out(qtbot: QtBot) -> None:
    rooms, _ = furnished(qtbot)
    before = rooms.sizes()
    rooms.resize_parts({"three": (1, 2), "another": (3, 4)})
    assert rooms.sizes() == before
    assert before.keys() == FIRST_SIZES.keys()
