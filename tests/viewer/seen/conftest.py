"""Questions of a talk come in a fixed order."""

import pytest

from viewer.seen import talk


@pytest.fixture(autouse=True)
def in_order(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Questions in a fixed order, which is quicker; what settles most has slow tests of its own."""
    if request.node.get_closest_marker("slow") is None:
        monkeypatch.setattr(talk, "next_questions", lambda *_: ())
