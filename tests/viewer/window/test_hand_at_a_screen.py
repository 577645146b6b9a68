"""The hand at the screen of the tests clicks as one of flesh does."""

import pytest
from PyQt6.QtGui import QGuiApplication

from tests.viewer.window.screen import Screen, screen

pytestmark = pytest.mark.needs_screen


def presses(shown: Screen, x: int, y: int) -> list[int]:
    """When the server says that the two presses of a double click were, ms."""
    from Xlib import X
    from Xlib.display import Display

    link = Display(shown.display)
    try:
        window = link.screen().root.create_window(
            *(0, 0, 200, 200, 0, X.CopyFromParent), event_mask=X.ButtonPressMask
        )
        window.map()
        link.sync()
        shown.double_click(x, y)
        return [link.next_event().time for _ in range(2)]
    finally:
        link.close()


@pytest.mark.usefixtures("qapp")
def test_a_double_click_is_one_to_qt() -> None:
    """Two presses more than 0 and less than its interval apart, by its qguiapplication.cpp."""
    hints = QGuiApplication.styleHints()
    assert hints is not None
    with screen((300, 300)) as shown:
        first, second = presses(shown, 100, 100)
    assert 0 < second - first < hints.mouseDoubleClickInterval()
