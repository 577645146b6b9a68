"""The customer view opens over the whole window with every part in it, as often as asked."""

import pytest

from tests.viewer.window.gl_program import seen_by


@pytest.mark.needs_gl
@pytest.mark.slow
def test_it_is_seen_whole_each_time_it_is_asked_for() -> None:
    """How long that takes is measured by the benchmark."""
    assert len(seen_by("gl_opening_child")["seconds"]) == 3
