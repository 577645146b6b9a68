"""Shared by all tests: a touch cache of their own, kept for one run."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Keep touch curves of this run apart from those of the user."""
    folder = tmp_path_factory.mktemp("touch-cache")
    before = os.environ.get("BINDPOINT_CACHE")
    os.environ["BINDPOINT_CACHE"] = str(folder)
    yield folder
    if before is None:
        del os.environ["BINDPOINT_CACHE"]
    else:
        os.environ["BINDPOINT_CACHE"] = before
