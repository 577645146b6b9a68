"""State of its own for every test of the window."""

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.viewer.session.conftest import open_rig, worker  # noqa: F401
from tests.viewer.window.hands import Hands
from tests.viewer.window.screen import has_screen, screen
from tests.viewer.window.whole import make  # noqa: F401
from viewer.state_folder import FOLDER_VARIABLE

# Widgets need no screen; a test that wants a real one starts a program of its own on it.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(autouse=True)
def state_here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Keep the state folder of the user out of it."""
    folder = tmp_path / "state"
    monkeypatch.setenv(FOLDER_VARIABLE, str(folder))
    return folder


@pytest.fixture(autouse=True)
def nothing_goes_while_it_is_painted() -> Iterator[None]:
    """Collect cycles between tests alone.

    A widget that a test made and let go of may still be painted by the events that run after it; a
    collection that comes just then takes it away from under its own painter.
    """
    gc.disable()
    yield
    gc.enable()
    gc.collect()


@pytest.fixture
def hands(tmp_path: Path) -> Iterator[Hands]:
    """Hands at a real screen, which keep a picture of each step."""
    shots = Path(os.environ.get("BINDPOINT_SHOTS") or tmp_path / "shots")
    with screen() as shown:
        made = Hands(shown, tmp_path, shots)
        yield made
        made.kill()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what needs a screen where none can be had."""
    if has_screen():
        return
    needing = [item for item in items if item.get_closest_marker("needs_screen")]
    if needing:
        config.hook.pytest_deselected(items=needing)
        items[:] = [item for item in items if item not in needing]
