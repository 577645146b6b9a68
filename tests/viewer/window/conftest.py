"""State of its own for every test of the window."""

from pathlib import Path

import pytest

from tests.viewer.session.conftest import open_rig, worker  # noqa: F401
from viewer.session.state_folder import FOLDER_VARIABLE


@pytest.fixture(autouse=True)
def state_here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Keep the state folder of the user out of it."""
    folder = tmp_path / "state"
    monkeypatch.setenv(FOLDER_VARIABLE, str(folder))
    return folder
