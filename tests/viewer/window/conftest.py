"""State of its own for every test of the window."""

import os
from pathlib import Path

import pytest

from tests.viewer.session.conftest import open_rig, worker  # noqa: F401
from tests.viewer.window.screen import has_screen
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


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what needs a screen where none can be had."""
    if has_screen():
        return
    needing = [item for item in items if item.get_closest_marker("needs_screen")]
    if needing:
        config.hook.pytest_deselected(items=needing)
        items[:] = [item for item in items if item not in needing]
