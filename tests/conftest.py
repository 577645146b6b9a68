"""Shared by all tests: a touch cache and a state folder of their own, and which cases are drawn.

Hypothesis draws the same cases in every run, so that a run says something about the change at
hand. `HYPOTHESIS_PROFILE=exploring` draws new ones each time; what it finds becomes a test.
"""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("fixed", derandomize=True, deadline=None)
settings.register_profile("exploring", deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Keep touch curves of this run apart from those of the user; all workers of it share them."""
    run = tmp_path_factory.getbasetemp()
    folder = (run.parent if "PYTEST_XDIST_WORKER" in os.environ else run) / "touch-cache"
    folder.mkdir(exist_ok=True)
    before = os.environ.get("BINDPOINT_CACHE")
    os.environ["BINDPOINT_CACHE"] = str(folder)
    yield folder
    if before is None:
        del os.environ["BINDPOINT_CACHE"]
    else:
        os.environ["BINDPOINT_CACHE"] = before


@pytest.fixture(autouse=True)
def own_state(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep what a test leaves for the next run apart from what the user left."""
    folder = tmp_path_factory.mktemp("state")
    monkeypatch.setenv("BINDPOINT_STATE", str(folder))
    return folder
