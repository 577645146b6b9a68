"""The panels find room in a window of any size, and nothing is lost on the way."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QApplication, QLabel, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from viewer.window.kit.theme import em
from viewer.window.main.panels import Panels
from viewer.window.main.rooms import ABREAST, FIRST_SIZES, HIGH, MORE, WIDE, Plan, Rooms

NAMES = ("view", "rig", "compare", "cures", "motion", "map", "strip", "state")
LEFT = {"rig", "compare", "cures"}


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
    fit(rooms, 100.0, 60.0)
    rooms.show()
    rooms.activateWindow()
    qtbot.waitUntil(rooms.isActiveWindow)
    return rooms, panels


def fit(rooms: Rooms, width: float, height: float) -> None:
    """Make it so large, in heights of a line."""
    rooms.resize(round(width * em(rooms)), round(height * em(rooms)))
    QApplication.processEvents()


def test_a_room_as_wide_as_a_table_has_everything_at_once(qtbot: QtBot) -> None:
    rooms, panels = furnished(qtbot)
    assert rooms.plan == Plan(is_wide=True, is_abreast=True, is_high=True)
    assert {name for name, panel in panels.items() if panel.isVisible()} == {*NAMES} - {
        "compare",
        "cures",
    }


@pytest.mark.parametrize(
    ("width", "height", "on_sheets", "in_drawer"),
    [
        (WIDE, HIGH, LEFT, set()),
        (WIDE - 1.0, HIGH, LEFT | {"state"}, set()),
        (ABREAST - 1.0, HIGH + MORE, LEFT | {"state"}, {"map", "strip"}),
        (
            ABREAST,
            HIGH + MORE - 1.0,
            LEFT | {"state"},
            {"motion", "map", "strip"},
        ),
        (WIDE, HIGH - 1.0, LEFT, {"motion", "map", "strip"}),
    ],
)
def test_what_has_no_room_is_a_sheet_of_its_own(
    qtbot: QtBot, width: float, height: float, on_sheets: set[str], in_drawer: set[str]
) -> None:
    rooms, _ = furnished(qtbot)
    fit(rooms, width + 0.5, height + 0.5)
    for tabs, there in ((rooms.sheets, on_sheets), (rooms.drawer, in_drawer)):
        pages = [tabs.widget(place) for place in range(tabs.count())]
        assert {page.objectName() for page in pages if page is not None} == there
    assert rooms.drawer.isVisible() == bool(in_drawer)


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
    assert rooms.sheets.count() + rooms.drawer.count() == len(
        [panel for panel in panels.values() if panel.parentWidget() not in _never_tabs(rooms)]
    )
    rooms.close()


def _never_tabs(rooms: Rooms) -> list[QWidget | None]:
    """Parents that are no tabs."""
    return [rooms._stage, rooms._whole, rooms._charts]


@pytest.mark.parametrize("name", ["motion", "map", "strip", "state"])
def test_the_cursor_stays_where_it_is(qtbot: QtBot, name: str) -> None:
    rooms, panels = furnished(qtbot)
    field = panels[name].field
    field.setFocus(Qt.FocusReason.OtherFocusReason)
    field.setText("3 1/4")
    for size in ((50.0, 32.0), (100.0, 60.0), (70.0, 50.0)):
        fit(rooms, *size)
        assert QApplication.focusWidget() is field
        assert field.isVisible()
        assert field.text() == "3 1/4"


def test_borders_of_each_plan_are_kept_for_it(qtbot: QtBot) -> None:
    rooms, _ = furnished(qtbot)
    rooms.resize_parts({"whole": (400, 600, 500)})
    before = rooms.sizes()["whole"]
    fit(rooms, 60.0, 60.0)
    rooms.resize_parts({"narrow": (500, 400)})
    narrow = rooms.sizes()["narrow"]
    fit(rooms, 100.0, 60.0)
    assert rooms.sizes()["whole"] == pytest.approx(before, rel=0, abs=2)
    fit(rooms, 60.0, 60.0)
    assert rooms.sizes()["narrow"] == pytest.approx(narrow, rel=0, abs=2)


def test_sizes_that_make_no_sense_are_left_out(qtbot: QtBot) -> None:
    rooms, _ = furnished(qtbot)
    before = rooms.sizes()
    rooms.resize_parts({"whole": (1, 2), "another": (3, 4)})
    assert rooms.sizes() == before
    assert before.keys() == FIRST_SIZES.keys()
